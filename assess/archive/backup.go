package archive

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"fettlebook/assess/record"
)

// Backup copies the archive in a folder to another, as it stands at one moment;
// work goes on meanwhile. The other folder is empty, absent, or holds an earlier
// backup of the same archive, of which only what is new is written. It may lie
// on a network drive. progress counts the originals; nil for none.
//
// Each original is hashed on its way. A damaged one is not copied; the backup is
// completed without it, and the error names it. What an earlier backup has is
// told by name and size; [Archive.Verify] reads a backup like any archive.
func Backup(ctx context.Context, dir, to string, progress func(done, total int)) error {
	source, err := Open(ctx, dir, Read)
	if err != nil {
		return err
	}
	defer source.Close()
	to, err = filepath.Abs(to)
	if err != nil {
		return fmt.Errorf("find the folder %s: %w", to, err)
	}
	b := &backup{from: source.(*folder), progress: progress}
	b.to = &folder{dir: to, mode: Write, ended: make(chan struct{})}
	defer b.to.release()
	return explain(to, fmt.Sprintf("back up %s", b.from.dir), b.run(ctx))
}

type backup struct {
	from, to *folder
	progress func(done, total int)
}

func (b *backup) run(ctx context.Context) error {
	if within(b.from.dir, b.to.dir) || within(b.to.dir, b.from.dir) {
		return errors.New("the backup would lie in the archive itself, or the archive in it: choose another folder")
	}
	if err := b.checkTarget(ctx); err != nil {
		return err
	}
	if err := os.MkdirAll(b.to.dir, 0o777); err != nil {
		return err
	}
	if err := b.to.takeLock(); err != nil {
		return err
	}
	// The database comes first: every original that it names is there by now.
	// It gets its name last: a backup that was broken off is none, or the old one.
	draft, err := newDraft(b.to.dir, 0o666)
	if err != nil {
		return err
	}
	defer draft.drop()
	if _, err := b.from.read.ExecContext(ctx, `VACUUM INTO ?`, draft.Name()); err != nil {
		return err
	}
	damaged, err := b.originals(ctx)
	if err != nil {
		return err
	}
	if err := b.beside(ctx, draft.Name()); err != nil {
		return err
	}
	if err := draft.keep(b.to.path(databaseName)); err != nil {
		return err
	}
	_ = os.Remove(b.to.path(incoming))
	return damaged
}

func within(inner, outer string) bool {
	way, err := filepath.Rel(outer, inner)
	return err == nil && way != ".." && !strings.HasPrefix(way, ".."+string(filepath.Separator))
}

// checkTarget refuses a folder that holds anything but an earlier backup of the
// same archive.
func (b *backup) checkTarget(ctx context.Context) error {
	there, err := b.to.look()
	if err != nil && !errors.Is(err, ErrDamaged) { // damaged: a first backup that was broken off
		return err
	}
	if there == nothing {
		return nil
	}
	logged, err := usesLog(b.to.path(databaseName))
	if err != nil {
		return err
	}
	if logged {
		return errors.New("somebody works with the archive in that folder, so it is no backup: choose another folder")
	}
	earlier, err := openDatabase(b.to.path(databaseName), "ro&immutable=1", false)
	if err != nil {
		return err
	}
	defer earlier.Close()
	if _, err := versionOf(ctx, earlier); err != nil {
		return err
	}
	one, err := idOf(ctx, earlier)
	if err != nil {
		return err
	}
	other, err := idOf(ctx, b.from.read)
	if err == nil && one != other {
		err = errors.New("that folder holds the backup of another archive: choose another folder")
	}
	return err
}

// idOf gives the id by which an archive is told from another.
func idOf(ctx context.Context, db asker) (id string, err error) {
	err = db.QueryRowContext(ctx, `SELECT value FROM about WHERE name = 'id'`).Scan(&id)
	return id, err
}

// originals copies the originals that the backup does not have. Those that are
// damaged are returned as one error, apart from one that ends the backup.
func (b *backup) originals(ctx context.Context) (damaged, err error) {
	files, err := (&verifier{f: b.from}).originalFiles()
	if err != nil {
		return nil, err
	}
	for i, path := range files {
		hash := record.Hash(filepath.Base(path))
		if isHash(hash) && path == originalPath(b.from.dir, hash) {
			err := b.original(ctx, path, hash)
			if errors.Is(err, errOtherBytes) {
				damaged = errors.Join(damaged, fmt.Errorf("original %s %w", hash, err))
			} else if err != nil {
				return nil, err
			}
		}
		if b.progress != nil {
			b.progress(i+1, len(files))
		}
	}
	return damaged, nil
}

var errOtherBytes = errors.New("is damaged and was not copied")

func (b *backup) original(ctx context.Context, path string, hash record.Hash) error {
	from, err := os.Open(path)
	if err != nil {
		return err
	}
	defer from.Close()
	info, err := from.Stat()
	if err != nil {
		return err
	}
	target := originalPath(b.to.dir, hash)
	if there, err := os.Stat(target); err == nil && there.Size() == info.Size() {
		return nil
	}
	d, err := newDraft(b.to.path(originalsName), 0o444)
	if err != nil {
		return err
	}
	defer d.drop()
	sum := newSum()
	if _, err := io.Copy(io.MultiWriter(d, sum), until(ctx, from)); err != nil {
		return err
	}
	if sum.hash() != hash {
		return errOtherBytes
	}
	return d.keep(target)
}

// beside writes the records and settings beside the backup's database, as they
// stand in it.
func (b *backup) beside(ctx context.Context, copied string) error {
	db, err := openDatabase(copied, "ro&immutable=1", false)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := b.writeEach(ctx, db, recordsName, `SELECT id, bytes FROM record`); err != nil {
		return err
	}
	return b.writeEach(ctx, db, settingsName, `SELECT name, value FROM setting AS s
		WHERE revision = (SELECT max(revision) FROM setting WHERE name = s.name)`)
}

// writeEach writes a file for each name and content of a query, unless it is
// there.
func (b *backup) writeEach(ctx context.Context, db *sql.DB, folder, query string) error {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		var content []byte
		if err := rows.Scan(&name, &content); err != nil {
			return err
		}
		there, err := readWhole(b.to.path(folder, name+".json"))
		if err == nil && there != nil && bytes.Equal(there, content) {
			continue
		}
		if err := writeWhole(b.to.path(folder), name+".json", content); err != nil {
			return err
		}
	}
	return rows.Err()
}
