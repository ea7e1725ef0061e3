package archive

import (
	"context"
	"database/sql"

	"fettlebook/assess/record"
)

// The newest JSON of a record is written beside the database, after the commit.
// The order is this: the transaction that keeps a change also lists the record
// in unwritten; then the file is written; then, with the next transaction, the
// record leaves the list. Whatever fails or crashes in between, the change is
// kept, and what is still listed is written when the archive closes or is next
// opened for writing.

// writeBeside writes one record's file. A failure leaves it listed.
func (f *folder) writeBeside(id record.ID, content []byte) {
	if err := writeWhole(f.path(recordsName), fileOf(id), content); err != nil {
		return
	}
	f.notes.Lock()
	defer f.notes.Unlock()
	f.written = append(f.written, id)
}

func fileOf(id record.ID) string { return string(id) + ".json" }

// writeAllBeside writes the files of all records that are listed.
func (f *folder) writeAllBeside(ctx context.Context) error {
	if err := f.dropWritten(ctx); err != nil {
		return err
	}
	ids, err := column[record.ID](ctx, f.write, `SELECT record FROM unwritten`)
	if err != nil {
		return err
	}
	for _, id := range ids {
		s, err := newest(ctx, f.write, id)
		if err != nil {
			return err
		}
		f.writeBeside(id, s.Bytes)
	}
	return f.dropWritten(ctx)
}

// dropWritten takes off the list what was written.
func (f *folder) dropWritten(ctx context.Context) error {
	f.notes.Lock()
	none := len(f.written) == 0
	f.notes.Unlock()
	if none {
		return nil
	}
	err := inTransaction(ctx, f.write, func(tx *sql.Tx) error { return f.keepNotes(ctx, tx) })
	if err == nil {
		f.keptNotes()
	}
	return err
}

// keepNotes keeps what can wait for the next transaction: which files were
// written, and which originals came in. They wait on until keptNotes is called.
func (f *folder) keepNotes(ctx context.Context, tx *sql.Tx) error {
	f.notes.Lock()
	defer f.notes.Unlock()
	for _, id := range f.written {
		if _, err := tx.ExecContext(ctx, `DELETE FROM unwritten WHERE record = ?`, id); err != nil {
			return err
		}
	}
	for _, b := range f.originals {
		if _, err := tx.ExecContext(ctx, `INSERT OR IGNORE INTO original (hash, size) VALUES (?, ?)`, b.Hash, b.Size); err != nil {
			return err
		}
	}
	f.noted.written, f.noted.originals = len(f.written), len(f.originals)
	return nil
}

// keptNotes drops what keepNotes has kept, after the commit. Only who has the
// turn calls the two; others may have added to the notes in between.
func (f *folder) keptNotes() {
	f.notes.Lock()
	defer f.notes.Unlock()
	f.written = f.written[f.noted.written:]
	f.originals = f.originals[f.noted.originals:]
	f.noted.written, f.noted.originals = 0, 0
}

// column reads one column of a query.
func column[T any](ctx context.Context, db asker, query string, args ...any) ([]T, error) {
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []T
	for rows.Next() {
		var one T
		if err := rows.Scan(&one); err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}
