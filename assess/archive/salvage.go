package archive

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/record"
)

// salvage reads what can be read of a database that may be damaged, and of the
// files beside it. What can't be read is left out: every method goes as far as
// it comes.
type salvage struct {
	f  *folder
	db *sql.DB // nil where there is none that can be read
}

// open opens the old database. One of a newer program or another one is an
// error: it is not damaged.
func (s *salvage) open(ctx context.Context) error {
	db, err := openDatabase(s.f.path(databaseName), "rw", false) // its log must be played in first
	if err != nil {
		return err
	}
	version, err := versionOf(ctx, db)
	if isDamage(err) || err == nil && version == 0 {
		return db.Close()
	}
	if err != nil {
		return errors.Join(err, db.Close())
	}
	s.db = db
	return nil
}

func (s *salvage) close() {
	if s.db != nil {
		_ = s.db.Close() // it was only read
	}
	s.db = nil
}

func (s *salvage) id(ctx context.Context) string {
	if s.db == nil {
		return ""
	}
	id, err := idOf(ctx, s.db)
	if err != nil {
		return ""
	}
	return id
}

// records lists all records that anything is left of.
func (s *salvage) records(ctx context.Context) ([]record.ID, error) {
	ids := map[record.ID]bool{}
	if s.db != nil {
		for _, query := range []string{`SELECT id FROM record`, `SELECT DISTINCT record FROM entry`, `SELECT record FROM register`} {
			some, _ := column[record.ID](ctx, s.db, query)
			for _, id := range some {
				ids[id] = true
			}
		}
	}
	files, err := os.ReadDir(s.f.path(recordsName))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	for _, file := range files {
		name, isRecord := strings.CutSuffix(file.Name(), ".json")
		if id, err := record.ParseID(name); err == nil && isRecord {
			ids[id] = true
		}
	}
	return slices.Sorted(maps.Keys(ids)), nil
}

// remains is what is left of one record's history: the entries that hold
// together and the state to which they lead, and the newest bytes where these go
// further. lost is how many entries more there were, as far as it is known.
type remains struct {
	sound  [][]byte
	state  record.State
	passed map[record.Hash]bool // the states on the way
	newest []byte
	lost   int
}

func (s *salvage) history(ctx context.Context, id record.ID) remains {
	h := remains{passed: map[record.Hash]bool{}}
	var stored record.State
	if s.db != nil {
		lines, _ := linesOf(ctx, s.db, id)
		stored, _ = newest(ctx, s.db, id)
		for _, l := range lines {
			next, err := h.state.Follow(l.bytes)
			if err != nil || next.Record.ID != id {
				break
			}
			h.state, h.sound = next, append(h.sound, l.bytes)
			h.passed[record.HashOf(next.Bytes)] = true
		}
		last := stored.Number
		if n := len(lines); n > 0 {
			last = max(last, lines[n-1].number)
		}
		h.lost = last - len(h.sound)
	}
	beside, _ := readWhole(s.f.path(recordsName, fileOf(id)))
	// The database knows best what is newest, as far as it can be read. The file
	// counts where it does not, unless it shows a state of before.
	switch {
	case stored.Number > len(h.sound) && readable(stored.Bytes, id):
		h.newest = stored.Bytes
	case h.lost == 0 && len(h.sound) > 0:
	case readable(beside, id):
		h.newest = beside
	}
	if h.passed[record.HashOf(h.newest)] {
		h.newest = nil
	}
	return h
}

func readable(b []byte, id record.ID) bool {
	r, err := record.Read(b)
	return err == nil && r.ID == id
}

// row gives a record's old row; its Record is empty where there is none.
func (s *salvage) row(ctx context.Context, id record.ID) Row {
	var row Row
	var content []byte
	if s.db == nil {
		return row
	}
	if err := s.db.QueryRowContext(ctx, `SELECT row FROM register WHERE record = ?`, id).Scan(&content); err != nil {
		return Row{}
	}
	if err := json.Unmarshal(content, &row); err != nil {
		return Row{}
	}
	return row
}

// eachSetting gives all revisions of the settings, or what stands beside the
// database.
func (s *salvage) eachSetting(ctx context.Context, do func(name string, at int, value []byte) error) error {
	seen := map[string]bool{}
	if s.db != nil {
		names, _ := column[string](ctx, s.db, `SELECT DISTINCT name FROM setting`)
		for _, name := range names {
			values, _ := column[[]byte](ctx, s.db, `SELECT value FROM setting WHERE name = ? ORDER BY revision`, name)
			for i, value := range values {
				seen[name] = true
				if err := do(name, i+1, value); err != nil {
					return err
				}
			}
		}
	}
	files, err := os.ReadDir(s.f.path(settingsName))
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	for _, file := range files {
		name, isSetting := strings.CutSuffix(file.Name(), ".json")
		if !isSetting || seen[name] || !settingForm.MatchString(name) {
			continue
		}
		if value, err := readWhole(s.f.path(settingsName, file.Name())); err == nil && jsontext.Value(value).IsValid() {
			if err := do(name, 1, value); err != nil {
				return err
			}
		}
	}
	return nil
}

// originals lists what was ever taken in.
func (s *salvage) originals(ctx context.Context) []Blob {
	var all []Blob
	if s.db == nil {
		return nil
	}
	hashes, _ := column[record.Hash](ctx, s.db, `SELECT hash FROM original`)
	for _, hash := range hashes {
		var size int64
		if err := s.db.QueryRowContext(ctx, `SELECT size FROM original WHERE hash = ?`, hash).Scan(&size); err == nil {
			all = append(all, Blob{Hash: hash, Size: size})
		}
	}
	return all
}

// blobsOf names the originals among files.
func blobsOf(files []string) []Blob {
	var all []Blob
	for _, path := range files {
		hash := record.Hash(filepath.Base(path))
		if info, err := os.Stat(path); err == nil && isHash(hash) {
			all = append(all, Blob{Hash: hash, Size: info.Size()})
		}
	}
	return all
}
