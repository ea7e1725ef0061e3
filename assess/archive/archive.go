// Package archive keeps records, their histories and the original photos. It
// computes nothing: it stores bytes and gives the same bytes back.
//
// [Archive] is the interface that any engine must serve; [Open] opens the
// engine that keeps one folder: an SQLite database for the change log and the
// register, and files by hash for the originals. The truth is the change log
// and the originals. The newest JSON of each record is written beside them, so
// that all else can be rebuilt, even by hand.
package archive

import (
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"

	"fettlebook/assess/record"
)

// Revision is the number of the last entry in a record's history; 0 is that of
// a record that does not exist yet.
type Revision int

// Row is what the register shows and searches of one record. It is handed to
// the archive with each change and can be made again from the record.
type Row struct {
	Record record.ID `json:"record"`
	// Unit, Serial, Owner and Outcome are shown; Words is what is searched besides.
	Unit    string `json:"unit"`
	Serial  string `json:"serial"`
	Owner   string `json:"owner"`
	Outcome string `json:"outcome"`
	Words   string `json:"words"`
	// Received is the day as YYYY-MM-DD; Changed is the moment of the last change
	// in UTC, RFC 3339 with milliseconds. The register is ordered by Changed.
	Received string `json:"received"`
	Changed  string `json:"changed"`
	// Photo is the hash of the photo that stands for the record, if any.
	Photo record.Hash `json:"photo,omitzero"`
	// Orientation and Turned say how that photo is turned upright, as its entry in the
	// record does; views are kept as the file is stored.
	Orientation int `json:"orientation,omitzero"`
	Turned      int `json:"turned,omitzero"`
}

// Query asks for a page of the register, newest first.
type Query struct {
	// Words must all occur (as beginnings of words, in any case); none asks for all.
	Words []string
	// After is the cursor of the page before, empty for the first page.
	After string
	// Limit is how many rows a page holds; 0 means 100.
	Limit int
}

// Page is one page of the register. Next is the cursor of the next page, empty
// at the end.
type Page struct {
	Rows []Row
	Next string
}

// Stored is one revision of a record: its canonical JSON, byte for byte as it
// was appended, and the hash of the history entry that led to it.
type Stored struct {
	Revision Revision
	Record   []byte
	Entry    record.Hash
}

// Commit is one change to be kept: in one transaction, or not at all.
type Commit struct {
	// Entry is the history entry and Record the record after it, as bytes.
	Entry  []byte
	Record []byte
	Row    Row
}

// Blob describes a stored original.
type Blob struct {
	Hash record.Hash
	Size int64
}

// View names a rebuildable smaller picture of an original.
type View string

// The views that are kept.
const (
	Preview   View = "preview"
	Thumbnail View = "thumbnail"
)

// Tile names the view that is one tile of a picture cut up: on level 0 the whole
// picture has its own size, on each further level half as much. Levels, columns and
// rows count from 0. The single tile of the last level is put last: where it is
// there, all are, unless a power cut spoilt one.
func Tile(level, column, row int) View {
	return View(fmt.Sprintf("tile-%d-%d-%d", level, column, row))
}

var tileForm = regexp.MustCompile(`^tile-(0|[1-9]\d?)-(0|[1-9]\d{0,3})-(0|[1-9]\d{0,3})$`)

// Known tells whether it is a view that an archive keeps.
func (v View) Known() bool {
	return v == Preview || v == Thumbnail || tileForm.MatchString(string(v))
}

// Archive keeps records and originals. All methods may be called by many at
// once. An archive that was opened for reading answers writes with ErrReadOnly.
type Archive interface {
	// Find returns a page of the register.
	Find(ctx context.Context, q Query) (Page, error)
	// Load returns a record at a revision, 0 for the newest. A record that is
	// not there gives ErrNotFound.
	Load(ctx context.Context, id record.ID, at Revision) (Stored, error)
	// Append keeps one change that was made to the base revision, and returns the
	// new one. A base that is not the newest is a *StaleError.
	Append(ctx context.Context, id record.ID, base Revision, c Commit) (Revision, error)
	// History returns the stored entries of a record after a revision, oldest
	// first. A record that is not there gives ErrNotFound.
	History(ctx context.Context, id record.ID, after Revision) ([][]byte, error)
	// Watch tells the ids of records that change, until ctx ends. A slow reader
	// is told each changed record at least once.
	Watch(ctx context.Context) (<-chan record.ID, error)

	// Put stores an original byte for byte and returns its hash; it counts only
	// once it is on the disk. An original that is there already is kept as it is.
	Put(ctx context.Context, original io.Reader) (Blob, error)
	// Get opens an original. One that is not there gives ErrNotFound.
	Get(ctx context.Context, hash record.Hash) (io.ReadSeekCloser, error)
	// PutView and GetView keep and give a rebuildable view of an original.
	PutView(ctx context.Context, hash record.Hash, view View, jpeg []byte) error
	GetView(ctx context.Context, hash record.Hash, view View) ([]byte, error)

	// Setting and SetSetting keep what reports print (shop, people, instruments)
	// as JSON under a name (a-z, 0-9 and hyphens), each with its own revisions. A
	// setting that was never set gives ErrNotFound and is set from base 0.
	Setting(ctx context.Context, name string) (value []byte, at Revision, err error)
	SetSetting(ctx context.Context, name string, base Revision, value []byte) (Revision, error)

	// Verify reads everything and reports all that is damaged.
	Verify(ctx context.Context, progress func(done, total int)) ([]Damage, error)
	// ReadOnly reports whether the archive was opened for reading.
	ReadOnly() bool
	// Close gives the archive up. What was appended stays.
	Close() error
}

// Damage is one thing that Verify found wrong. Kind is one of a closed set.
type Damage struct {
	Kind   string
	Record record.ID
	Hash   record.Hash
	Text   string
}

// Errors that a caller can act on.
var (
	ErrNotFound = errors.New("is not in the archive")
	ErrReadOnly = errors.New("the archive is open for reading only")
	// ErrInUse says that another program writes to the archive.
	ErrInUse = errors.New("the archive is open for writing elsewhere; close it there, or open it for reading")
	// ErrNoArchive says that a folder holds none.
	ErrNoArchive = errors.New("there is no archive in this folder")
	// ErrNetwork says that the folder lies on a network drive, where the change
	// log is not safe.
	ErrNetwork = errors.New("the archive lies on a network folder, where a lost connection can damage it; keep it on this machine's own disk and back it up to the network")
	// ErrFull says that the disk has no room left; nothing of the change was kept.
	ErrFull = errors.New("the disk is full; make room and try again: nothing of this change was kept")
)

// StaleError says that a change was made to a revision that is not the newest.
type StaleError struct {
	// Record is the record, or Setting the setting, that has changed since.
	Record  record.ID
	Setting string
	Base    Revision
	Newest  Revision
}

func (e *StaleError) Error() string {
	if e.Setting != "" {
		return fmt.Sprintf("the setting %q has changed since: the change is for revision %d, the newest is %d", e.Setting, e.Base, e.Newest)
	}
	return fmt.Sprintf("record %s has changed since: the change is for revision %d, the newest is %d", e.Record, e.Base, e.Newest)
}

// Mode is how an archive is opened.
type Mode int

// The modes. Read needs no lock and never writes.
const (
	Write Mode = iota
	Read
)
