package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// More errors that a caller can act on.
var (
	// ErrDamaged says that the database of an archive can't be read, or is gone.
	// The originals and the newest JSON of each record stand beside it.
	ErrDamaged = errors.New("the archive's database is damaged or missing; the photos and records beside it are not touched: make the database again with \"fettlebook archive rebuild\"")
	// ErrNoWrite says that this user can't write to the folder.
	ErrNoWrite = errors.New("this user can't write there; open the archive for reading, or get the right to write to the folder")
	// ErrNewer says that a newer program has brought the archive to a form that
	// this one does not know.
	ErrNewer = errors.New("the archive was kept by a newer version of this program; update the program on this machine")
	// ErrClosed says that the archive was closed.
	ErrClosed = errors.New("the archive is closed")
)

// explain turns what the database or the file system says into what happened,
// where, and what can be done about it. what names the attempt.
func (f *folder) explain(what string, err error) error { return explain(f.dir, what, err) }

func explain(dir, what string, err error) error {
	if err == nil {
		return nil
	}
	if sentinel := sentinelOf(err); sentinel != nil {
		return fmt.Errorf("%s in %s: %w (%v)", what, dir, sentinel, err)
	}
	return fmt.Errorf("%s in %s: %w", what, dir, err)
}

// sentinelOf finds the error of this package that stands for err, nil for none
// or where err carries one already.
func sentinelOf(err error) error {
	for _, known := range []error{ErrNotFound, ErrReadOnly, ErrFull, ErrDamaged, ErrClosed, ErrNewer, ErrInUse, ErrNoWrite,
		context.Canceled, context.DeadlineExceeded} {
		if errors.Is(err, known) {
			return nil
		}
	}
	var sqliteErr *sqlite.Error
	if errors.As(err, &sqliteErr) {
		return sentinelOfCode(sqliteErr.Code())
	}
	switch {
	case isFull(err):
		return ErrFull
	case errors.Is(err, fs.ErrPermission), isReadOnlyDisk(err):
		return ErrNoWrite
	case errors.Is(err, sql.ErrConnDone), errors.Is(err, fs.ErrClosed), err.Error() == "sql: database is closed":
		return ErrClosed
	}
	return nil
}

func sentinelOfCode(code int) error {
	if code == sqlite3.SQLITE_IOERR_SHMSIZE {
		return ErrFull // the file that readers and writer share could not grow
	}
	switch code & 0xff {
	case sqlite3.SQLITE_FULL:
		return ErrFull
	case sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT:
		return ErrDamaged
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
		return ErrNoWrite
	}
	return nil
}

// codeOf returns the primary code of an error of the database, 0 for another.
func codeOf(err error) int {
	var sqliteErr *sqlite.Error
	if errors.As(err, &sqliteErr) {
		return sqliteErr.Code() & 0xff
	}
	return 0
}

// isDamage reports whether an error says that the database can't be read.
func isDamage(err error) bool {
	return err != nil && (errors.Is(err, ErrDamaged) || errors.Is(sentinelOf(err), ErrDamaged))
}
