package archive

import (
	"bytes"
	"compress/flate"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"

	"fettlebook/assess/record"
)

// anchorEvery is how many revisions lie between two that are kept whole.
//
// A record of 200 kB with 500 changes would take 100 MB if every revision were
// kept, and seconds to open at an old one if none were. The change log leads to
// every revision anyway, forwards and with its hashes checked on the way, so
// every 16th is kept, compressed (to a fifth): such a record takes 1.3 MB more,
// and any revision is at most 15 entries away.
const anchorEvery = 16

// Append keeps one change. It refuses a change that does not continue the
// record's history: entry number, hash of the entry before, and a patch that
// leads to the record that is handed in. A row must be that of the record.
func (f *folder) Append(ctx context.Context, id record.ID, base Revision, c Commit) (Revision, error) {
	what := fmt.Sprintf("keep a change of record %s", id)
	if err := f.takeTurn(ctx); err != nil {
		return 0, f.explain(what, err)
	}
	defer f.giveTurn()
	// From here on the change is kept or refused, whatever becomes of the caller:
	// a commit that is broken off half-way would leave in doubt which of the two.
	ctx = context.WithoutCancel(ctx)
	var next record.State
	err := inTransaction(ctx, f.write, func(tx *sql.Tx) error {
		before, err := newest(ctx, tx, id)
		if err != nil && !errors.Is(err, ErrNotFound) {
			return err
		}
		if Revision(before.Number) != base {
			return &StaleError{Record: id, Base: base, Newest: Revision(before.Number)}
		}
		if next, err = follow(before, id, c); err != nil {
			return err
		}
		return f.keep(ctx, tx, next, c)
	})
	if err != nil {
		return 0, f.explain(what, err)
	}
	f.keptNotes()
	f.writeBeside(id, c.Record)
	f.watchers.tell(id)
	return Revision(next.Number), nil
}

// follow checks that a change continues the history and leads to its record.
func follow(before record.State, id record.ID, c Commit) (record.State, error) {
	next, err := before.Follow(c.Entry)
	if err != nil {
		return next, err
	}
	entry, err := record.ReadEntry(c.Entry)
	if err != nil {
		return next, err
	}
	switch {
	case entry.Record != id || next.Record.ID != id:
		return next, fmt.Errorf("the change is one of record %s", entry.Record)
	case !bytes.Equal(next.Bytes, c.Record):
		return next, errors.New("the entry does not lead to the record that came with it")
	case c.Row.Record != id:
		return next, fmt.Errorf("the register row is that of record %q", c.Row.Record)
	}
	return next, nil
}

// keep writes all that a change leads to.
func (f *folder) keep(ctx context.Context, tx *sql.Tx, next record.State, c Commit) error {
	if err := f.keepNotes(ctx, tx); err != nil {
		return err
	}
	if err := keepHistory(ctx, tx, next, c); err != nil {
		return err
	}
	return keepRow(ctx, tx, c.Row)
}

// keepHistory writes the entry and the record after it.
func keepHistory(ctx context.Context, tx *sql.Tx, next record.State, c Commit) error {
	id := next.Record.ID
	_, err := tx.ExecContext(ctx, `INSERT INTO entry (record, number, hash, bytes) VALUES (?, ?, ?, ?)`, id, next.Number, next.Entry, c.Entry)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO record (id, revision, entry, bytes) VALUES (?, ?, ?, ?)
		ON CONFLICT (id) DO UPDATE SET revision = excluded.revision, entry = excluded.entry, bytes = excluded.bytes`,
		id, next.Number, next.Entry, c.Record)
	if err != nil {
		return err
	}
	if next.Number%anchorEvery == 0 {
		packed, err := pack(c.Record)
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO anchor (record, revision, entry, packed) VALUES (?, ?, ?, ?)`, id, next.Number, next.Entry, packed)
		if err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `INSERT OR IGNORE INTO unwritten (record) VALUES (?)`, id)
	return err
}

// asker is a database or a transaction on it.
type asker interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// newest returns the state at the end of a history. Its Record is nil: nobody
// needs to parse what is only handed on.
func newest(ctx context.Context, db asker, id record.ID) (record.State, error) {
	var s record.State
	err := db.QueryRowContext(ctx, `SELECT revision, entry, bytes FROM record WHERE id = ?`, id).Scan(&s.Number, &s.Entry, &s.Bytes)
	if errors.Is(err, sql.ErrNoRows) {
		return s, fmt.Errorf("record %s %w", id, ErrNotFound)
	}
	return s, err
}

// Load returns a record at a revision, 0 for the newest.
func (f *folder) Load(ctx context.Context, id record.ID, at Revision) (Stored, error) {
	what := fmt.Sprintf("load record %s", id)
	var s record.State
	tx, err := f.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return Stored{}, f.explain(what, err)
	}
	defer tx.Rollback()
	s, err = newest(ctx, tx, id)
	switch {
	case err != nil:
	case at < 0 || at > Revision(s.Number):
		err = fmt.Errorf("revision %d %w; the newest is %d", at, ErrNotFound, s.Number)
	case at != 0 && at != Revision(s.Number):
		s, err = older(ctx, tx, id, int(at))
	}
	if err != nil {
		return Stored{}, f.explain(what, err)
	}
	return Stored{Revision: Revision(s.Number), Record: s.Bytes, Entry: s.Entry}, nil
}

// older rebuilds a record at a revision that is not the newest: the anchor
// before it, and the entries from there, each with its hashes checked.
func older(ctx context.Context, db asker, id record.ID, at int) (record.State, error) {
	var s record.State
	var packed []byte
	err := db.QueryRowContext(ctx, `SELECT revision, entry, packed FROM anchor WHERE record = ? AND revision <= ? ORDER BY revision DESC LIMIT 1`, id, at).
		Scan(&s.Number, &s.Entry, &packed)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return s, err
	}
	if err == nil {
		if s.Bytes, err = unpack(packed); err != nil {
			return s, fmt.Errorf("revision %d: %w", s.Number, err)
		}
	}
	entries, err := entriesOf(ctx, db, id, s.Number, at)
	if err != nil {
		return s, err
	}
	for _, e := range entries {
		if s, err = s.Follow(e); err != nil {
			return s, fmt.Errorf("%w: %w", ErrDamaged, err)
		}
	}
	if s.Number != at {
		return s, fmt.Errorf("%w: history entry %d is missing", ErrDamaged, s.Number+1)
	}
	return s, nil
}

// entriesOf returns the entries with after < number <= until, oldest first.
func entriesOf(ctx context.Context, db asker, id record.ID, after, until int) ([][]byte, error) {
	rows, err := db.QueryContext(ctx, `SELECT bytes FROM entry WHERE record = ? AND number > ? AND number <= ? ORDER BY number`, id, after, until)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	entries := [][]byte{}
	for rows.Next() {
		var b []byte
		if err := rows.Scan(&b); err != nil {
			return nil, err
		}
		entries = append(entries, b)
	}
	return entries, rows.Err()
}

// History returns the entries of a record after a revision, oldest first. A
// record that is not there gives ErrNotFound.
func (f *folder) History(ctx context.Context, id record.ID, after Revision) ([][]byte, error) {
	what := fmt.Sprintf("read the history of record %s", id)
	last, err := newest(ctx, f.read, id)
	if err != nil {
		return nil, f.explain(what, err)
	}
	entries, err := entriesOf(ctx, f.read, id, int(after), last.Number)
	return entries, f.explain(what, err)
}

func pack(b []byte) ([]byte, error) {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestSpeed)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(b); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// maxUnpacked bounds what a damaged anchor can ask for.
const maxUnpacked = 256 << 20

func unpack(packed []byte) ([]byte, error) {
	b, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), maxUnpacked))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return b, nil
}
