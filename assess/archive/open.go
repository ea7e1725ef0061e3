package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/gofrs/flock"

	"fettlebook/assess/record"
)

// The names in an archive's folder.
const (
	databaseName  = "archive.db"
	lockName      = "writer.lock"
	recordsName   = "records"
	originalsName = "originals"
	viewsName     = "views"
	settingsName  = "settings"
)

// folder is the engine that keeps an archive in one folder: an SQLite database
// for the change log and the register, and files by hash for the originals.
type folder struct {
	dir  string
	mode Mode
	lock *flock.Flock // nil for a reader

	// write is the one connection that writes, nil for a reader. turn holds one
	// token: who has it may write. A channel, so that waiting ends with a context.
	write *sql.DB
	turn  chan struct{}
	read  *sql.DB

	// The next transaction keeps what these hold; see keepNotes.
	notes     sync.Mutex
	originals []Blob
	written   []record.ID
	noted     struct{ written, originals int }

	placing  sync.Mutex // one original gets its name at a time
	watchers watchers
	ending   sync.Once
	ended    chan struct{}
	endErr   error
}

// Open opens the archive in a folder. In Write mode it makes one where the
// folder is empty or absent; a folder that holds other things is refused and
// left as it is. In Read mode a folder without one gives ErrNoArchive.
//
// Errors to act on: ErrInUse, ErrNetwork, ErrNoWrite, ErrDamaged, ErrNewer,
// ErrFull, ErrNoArchive.
func Open(ctx context.Context, dir string, mode Mode) (Archive, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("find the folder %s: %w", dir, err)
	}
	f := &folder{dir: dir, mode: mode, turn: make(chan struct{}, 1), ended: make(chan struct{})}
	f.turn <- struct{}{}
	if mode == Read {
		err = f.openForReading(ctx)
	} else {
		err = f.openForWriting(ctx)
	}
	if err != nil {
		f.release()
		return nil, explain(dir, "open the archive", err)
	}
	return f, nil
}

func (f *folder) openForWriting(ctx context.Context) error {
	if err := refuseNetwork(f.dir); err != nil {
		return err
	}
	if _, err := f.look(); err != nil {
		return err // before anything is written
	}
	if err := os.MkdirAll(f.dir, 0o777); err != nil {
		return err
	}
	if err := f.takeLock(); err != nil {
		return err
	}
	found, err := f.look()
	if err != nil {
		return err
	}
	if f.write, err = openDatabase(f.path(databaseName), "rw", found == nothing); err != nil {
		return err
	}
	if err := f.prepare(ctx); err != nil {
		return err
	}
	if f.read, err = openDatabase(f.path(databaseName), "ro", false); err != nil {
		return err
	}
	return f.mend(ctx)
}

// prepare brings the database to the newest form.
func (f *folder) prepare(ctx context.Context) error {
	version, err := versionOf(ctx, f.write)
	if err != nil {
		return err
	}
	if version == 0 && f.holdsEvidence() {
		return ErrDamaged // records without a database: never start afresh over them
	}
	var journal string
	if err := f.write.QueryRowContext(ctx, `PRAGMA journal_mode = WAL`).Scan(&journal); err != nil {
		return err
	}
	if journal != "wal" {
		return fmt.Errorf("the database can't be shared with readers on this disk (journal mode is %q)", journal)
	}
	return stepUp(ctx, f.write, version)
}

// mend finishes what a crash has interrupted.
func (f *folder) mend(ctx context.Context) error {
	for _, name := range []string{recordsName, originalsName, viewsName, settingsName} {
		if err := os.MkdirAll(f.path(name), 0o777); err != nil {
			return err
		}
		if err := clearDrafts(f.path(name)); err != nil {
			return err
		}
	}
	if err := syncFolder(f.dir); err != nil {
		return err
	}
	if err := f.writeAllBeside(ctx); err != nil {
		return err
	}
	return f.writeSettingsBeside(ctx)
}

func (f *folder) openForReading(ctx context.Context) error {
	found, err := f.look()
	if err != nil {
		return err
	}
	if found == nothing {
		return ErrNoArchive
	}
	access, err := f.readAccess()
	if err != nil {
		return err
	}
	if f.read, err = openDatabase(f.path(databaseName), access, false); err != nil {
		return err
	}
	version, err := versionOf(ctx, f.read)
	switch {
	case codeOf(err) == cantOpen, codeOf(err) == readOnly:
		// The error itself is not handed on: it stands for writing that was refused.
		return fmt.Errorf("this user can't write to the folder, and what readers share (%s-wal, %s-shm) is missing: copy the folder to where you can write, or have its owner open it once (%v)", databaseName, databaseName, err)
	case err != nil:
		return err
	case version == 0 && f.holdsEvidence():
		return ErrDamaged
	case version == 0:
		return ErrNoArchive
	case version < len(steps):
		return fmt.Errorf("it has form %d, and this program reads form %d: open it once for writing, which brings it up to date", version, len(steps))
	}
	return nil
}

// readAccess tells how a reader may open the database.
//
// A working archive on a network drive is refused to readers too: its newest
// changes stand in a log whose locks and shared memory hold on one machine
// only, so a reader elsewhere could see half a change. A backup has no such log
// (its header says so) and nobody writes to it: it is read from anywhere, as a
// file that does not change.
func (f *folder) readAccess() (string, error) {
	kind, err := networkKind(f.dir)
	if err != nil || kind == "" {
		return "ro", err
	}
	if logged, err := usesLog(f.path(databaseName)); err != nil {
		return "", err
	} else if logged {
		return "", fmt.Errorf("%s (%s): %w", f.dir, kind, ErrNetwork)
	}
	return "ro&immutable=1", nil
}

// usesLog reads from a database's header whether it keeps a write-ahead log. It
// must not be called for a database that this process has open: on some systems
// closing the file would drop the locks of the other opening.
func usesLog(path string) (bool, error) {
	file, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer file.Close()
	var version [1]byte
	if _, err := file.ReadAt(version[:], 18); err != nil {
		return false, fmt.Errorf("%w: its header is cut short", ErrDamaged)
	}
	return version[0] != 1, nil
}

// What look finds in a folder.
type found int

const (
	nothing found = iota
	database
)

// Names that file managers leave in any folder.
var clutter = map[string]bool{
	".DS_Store": true, ".localized": true, ".directory": true, ".Spotlight-V100": true, ".Trashes": true, ".fseventsd": true,
	"Thumbs.db": true, "desktop.ini": true, "lost+found": true, "System Volume Information": true, "$RECYCLE.BIN": true,
}

// look says what stands in the folder, without opening or writing anything.
func (f *folder) look() (found, error) {
	entries, err := os.ReadDir(f.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nothing, nil
	}
	if err != nil {
		return nothing, err
	}
	var other string
	for _, e := range entries {
		switch name := e.Name(); {
		case name == databaseName:
			return database, nil
		case name == lockName, name == incoming, name == recordsName, name == originalsName, name == viewsName, name == settingsName:
		case clutter[name], strings.HasPrefix(name, "._"), strings.HasPrefix(name, databaseName):
		default:
			other = name
		}
	}
	switch {
	case f.holdsEvidence():
		return nothing, ErrDamaged
	case other != "" && f.mode == Write:
		return nothing, fmt.Errorf("%w, and it holds other things (such as %q): choose an empty folder for a new archive", ErrNoArchive, other)
	}
	return nothing, nil
}

// holdsEvidence reports whether records or originals stand in the folder.
func (f *folder) holdsEvidence() bool {
	for _, name := range []string{recordsName, originalsName} {
		entries, _ := os.ReadDir(f.path(name))
		for _, e := range entries {
			if e.Name() != incoming && !clutter[e.Name()] {
				return true
			}
		}
	}
	return false
}

func (f *folder) path(names ...string) string {
	return filepath.Join(append([]string{f.dir}, names...)...)
}

func (f *folder) takeLock() error {
	lock := flock.New(f.path(lockName), flock.SetPermissions(0o666))
	ok, err := lock.TryLock()
	if err != nil {
		return err
	}
	if !ok {
		return ErrInUse
	}
	f.lock = lock
	return nil
}

// ReadOnly reports whether the archive was opened for reading.
func (f *folder) ReadOnly() bool { return f.mode == Read }

// Close waits for the write that is under way and closes the archive.
func (f *folder) Close() error {
	f.ending.Do(func() {
		close(f.ended)
		<-f.turn // for ever: nobody writes after this
		if f.mode == Write {
			f.endErr = explain(f.dir, "close the archive", f.settle())
		}
		f.endErr = errors.Join(f.endErr, f.release())
	})
	return f.endErr
}

// settle leaves the folder tidy: the notes are kept, and the log is in the
// database. Nothing is lost where it fails.
func (f *folder) settle() error {
	ctx := context.Background()
	if err := f.writeAllBeside(ctx); err != nil {
		return err
	}
	if err := inTransaction(ctx, f.write, func(tx *sql.Tx) error { return f.keepNotes(ctx, tx) }); err != nil {
		return err
	}
	_ = f.read.Close() // else the log could not be emptied
	var busy, pages, moved int
	return f.write.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &pages, &moved)
}

func (f *folder) release() error {
	var errs []error
	for _, db := range []*sql.DB{f.read, f.write} {
		if db != nil {
			errs = append(errs, db.Close())
		}
	}
	if f.lock != nil {
		errs = append(errs, f.lock.Close())
	}
	return errors.Join(errs...)
}

// takeTurn waits until nobody else writes. The caller gives the turn back.
func (f *folder) takeTurn(ctx context.Context) error {
	if f.mode == Read {
		return ErrReadOnly
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case <-f.ended:
		return ErrClosed
	default:
	}
	select {
	case <-f.turn:
		return nil
	case <-f.ended:
		return ErrClosed
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (f *folder) giveTurn() { f.turn <- struct{}{} }
