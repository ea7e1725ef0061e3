package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"fettlebook/assess/record"
)

// ownMark stands in the database's header and says that it is an archive.
const ownMark = 0x4665744c

// steps bring a database from each version of its form to the next. A step that
// was released is never changed. Only this form is stepped up; the stored bytes
// of records and entries never are.
var steps = []string{versionOne}

// The change log is append-only, and the database holds to it by itself.
//
//   - entry is the truth: every history entry, in the order in which it was kept.
//   - record holds the newest bytes of each record, anchor older ones (see
//     anchorEvery); both can be made again from entry.
//   - register holds the rows as they were handed in, at a place that grows with
//     the moment of the last change; words is what they are searched by, under
//     the same places. Newest first is then the order in which the index itself
//     is read, backwards, and a page costs what it shows. A changed record moves
//     by leaving its old place and taking a new one. Beginnings of up to ten
//     letters have lists of their own: without one, a beginning that half the
//     register has is gathered from all its words before the first row is known.
//   - unwritten names the records whose newest JSON may not stand in records/ yet.
//   - original names every original that was ever taken in, so that a lost one
//     is missed even if no record shows it any more.
const versionOne = `
CREATE TABLE entry (
	seq INTEGER PRIMARY KEY AUTOINCREMENT,
	record TEXT NOT NULL,
	number INTEGER NOT NULL CHECK (number > 0),
	hash TEXT NOT NULL,
	bytes BLOB NOT NULL,
	UNIQUE (record, number)
) STRICT;
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT raise(ABORT, 'the change log is only added to'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry BEGIN SELECT raise(ABORT, 'the change log is only added to'); END;
CREATE TABLE record (
	id TEXT PRIMARY KEY,
	revision INTEGER NOT NULL,
	entry TEXT NOT NULL,
	bytes BLOB NOT NULL
) STRICT;
CREATE TABLE anchor (
	record TEXT NOT NULL REFERENCES record (id),
	revision INTEGER NOT NULL,
	entry TEXT NOT NULL,
	packed BLOB NOT NULL,
	UNIQUE (record, revision)
) STRICT;
CREATE TABLE register (
	place INTEGER PRIMARY KEY,
	record TEXT NOT NULL UNIQUE REFERENCES record (id),
	row BLOB NOT NULL
) STRICT;
CREATE VIRTUAL TABLE words USING fts5 (
	text, content='', contentless_delete=1, prefix='1 2 3 4 5 6 7 8 9 10', tokenize='unicode61 remove_diacritics 2'
);
CREATE TABLE unwritten (record TEXT PRIMARY KEY REFERENCES record (id)) STRICT;
CREATE TABLE original (hash TEXT PRIMARY KEY, size INTEGER NOT NULL) STRICT;
CREATE TABLE setting (
	name TEXT NOT NULL,
	revision INTEGER NOT NULL CHECK (revision > 0),
	value BLOB NOT NULL,
	PRIMARY KEY (name, revision)
) STRICT;
CREATE TRIGGER setting_stays BEFORE UPDATE ON setting BEGIN SELECT raise(ABORT, 'settings are only added to'); END;
CREATE TRIGGER setting_remains BEFORE DELETE ON setting BEGIN SELECT raise(ABORT, 'settings are only added to'); END;
CREATE TABLE about (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
`

// versionOf tells the version of a database's form: 0 for an empty one. One that
// is not an archive, or is of a newer program, is an error.
func versionOf(ctx context.Context, db *sql.DB) (int, error) {
	var mark, version, tables int
	row := db.QueryRowContext(ctx, `SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM sqlite_schema)`)
	if err := row.Scan(&mark, &version, &tables); err != nil {
		return 0, err
	}
	switch {
	case tables == 0 && version == 0:
		return 0, nil
	case mark != ownMark:
		return 0, errors.New("its database is that of another program")
	case version > len(steps):
		return 0, fmt.Errorf("%w: it has form %d, this program knows %d", ErrNewer, version, len(steps))
	}
	return version, nil
}

// stepUp brings a database to the newest form, in one transaction.
func stepUp(ctx context.Context, db *sql.DB, version int) error {
	if version == len(steps) {
		return nil
	}
	return inTransaction(ctx, db, func(tx *sql.Tx) error {
		for _, step := range steps[version:] {
			if _, err := tx.ExecContext(ctx, step); err != nil {
				return err
			}
		}
		if version == 0 {
			if _, err := tx.ExecContext(ctx, `INSERT INTO about VALUES ('id', ?)`, record.NewID()); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, fmt.Sprintf(`PRAGMA application_id = %d; PRAGMA user_version = %d`, ownMark, len(steps)))
		return err
	})
}

// inTransaction runs do in one transaction: all of it is kept, or nothing.
func inTransaction(ctx context.Context, db *sql.DB, do func(*sql.Tx) error) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // does nothing after Commit
	if err := do(tx); err != nil {
		return err
	}
	return tx.Commit()
}
