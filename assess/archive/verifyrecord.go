package archive

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"time"

	"fettlebook/assess/record"
)

// line is one row of the change log.
type line struct {
	number int
	hash   record.Hash // as it was when the entry was kept
	bytes  []byte
}

// history is all that the database holds of one record.
type history struct {
	id      record.ID
	lines   []line
	newest  record.State // Number 0 where the row is missing
	anchors map[int]record.State
	listed  bool // the register and its words know the record
}

// record checks one record: its entries, what was made of them, and the file
// beside the database.
func (v *verifier) record(ctx context.Context, id record.ID) error {
	h, err := v.read(ctx, id)
	if err != nil {
		return err
	}
	last := v.chain(h)
	if !h.listed {
		v.report(Damage{Kind: DamageRegister, Record: id}, "record %s is not in the register", id)
	}
	// The hash of what the newest bytes must be, as far as it is known.
	want := record.HashOf(h.newest.Bytes)
	if last.After != "" {
		switch {
		case h.newest.Number != last.Number:
			v.report(Damage{Kind: DamageRecord, Record: id}, "record %s is stored at revision %d, its history ends at %d", id, h.newest.Number, last.Number)
		case want != last.After:
			v.report(Damage{Kind: DamageRecord, Record: id}, "the newest bytes of record %s are not those that its history names", id)
		}
		want = last.After
	}
	return v.copy(ctx, id, want)
}

func (v *verifier) read(ctx context.Context, id record.ID) (history, error) {
	h := history{id: id, anchors: map[int]record.State{}}
	tx, err := v.f.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return h, err
	}
	defer tx.Rollback()
	if h.newest, err = newest(ctx, tx, id); err != nil && !errors.Is(err, ErrNotFound) {
		return h, err
	}
	if h.lines, err = linesOf(ctx, tx, id); err != nil {
		return h, err
	}
	if h.anchors, err = anchorsOf(ctx, tx, id); err != nil {
		return h, err
	}
	err = tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM register r JOIN words w ON w.rowid = r.place WHERE r.record = ?)`, id).Scan(&h.listed)
	return h, err
}

func linesOf(ctx context.Context, db asker, id record.ID) ([]line, error) {
	rows, err := db.QueryContext(ctx, `SELECT number, hash, bytes FROM entry WHERE record = ? ORDER BY number`, id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var lines []line
	for rows.Next() {
		var l line
		if err := rows.Scan(&l.number, &l.hash, &l.bytes); err != nil {
			return lines, err
		}
		lines = append(lines, l)
	}
	return lines, rows.Err()
}

func anchorsOf(ctx context.Context, db asker, id record.ID) (map[int]record.State, error) {
	anchors := map[int]record.State{}
	rows, err := db.QueryContext(ctx, `SELECT revision, entry, packed FROM anchor WHERE record = ?`, id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var s record.State
		var packed []byte
		if err := rows.Scan(&s.Number, &s.Entry, &packed); err != nil {
			return nil, err
		}
		s.Bytes, _ = unpack(packed) // what can't be unpacked fails the comparison
		anchors[s.Number] = s
	}
	return anchors, rows.Err()
}

// chain follows a record's entries and reports each fault once. It returns the
// last entry, empty where that one is missing or changed.
//
// An entry is judged by its own hash first, which was noted when it was kept,
// so a fault is found in the entry that has it and not in the next one. Behind
// a fault the state of the record is not known until the next anchor; up to
// there the entries are only held against each other.
func (v *verifier) chain(h history) record.Entry {
	var state record.State
	var last record.Entry
	var before record.Hash
	known, linked, next := true, true, 1
	for _, l := range h.lines {
		if l.number > next {
			v.gap(h.id, next, l.number-1)
			known, linked = false, false
		}
		next = l.number + 1
		e, fault := judge(l, h.id, before, linked)
		last, before = e, l.hash
		// An entry from elsewhere says nothing of what must come next.
		linked = e.Record == "" || e.Record == h.id && e.Number == l.number
		if fault == "" && known {
			var err error
			if state, err = state.Follow(l.bytes); err != nil {
				fault = err.Error()
			}
		}
		if fault != "" {
			v.report(Damage{Kind: DamageEntryChanged, Record: h.id, Hash: l.hash}, "entry %d of record %s: %s", l.number, h.id, fault)
			known = false
			last = record.Entry{}
		}
		known = v.anchor(h, l, e, &state, known)
		if known {
			v.want(state.Record)
		}
	}
	if end := h.newest.Number; end >= next {
		v.gap(h.id, next, end)
		return record.Entry{}
	}
	return last
}

// judge holds an entry against its own hash and the entry before it.
func judge(l line, id record.ID, before record.Hash, linked bool) (record.Entry, string) {
	if record.HashOf(l.bytes) != l.hash {
		return record.Entry{}, "it was changed since it was kept"
	}
	e, err := record.ReadEntry(l.bytes)
	switch {
	case err != nil:
		return e, err.Error()
	case e.Number != l.number || e.Record != id:
		return e, "it belongs to another place"
	case linked && e.Before != before:
		return e, "it does not follow the entry before it: one of the two was changed"
	}
	return e, ""
}

func (v *verifier) gap(id record.ID, from, to int) {
	if from == to {
		v.report(Damage{Kind: DamageEntryMissing, Record: id}, "entry %d of record %s is missing", from, id)
		return
	}
	v.report(Damage{Kind: DamageEntryMissing, Record: id}, "entries %d to %d of record %s are missing", from, to, id)
}

// anchor holds a revision that is kept whole against the history, and takes up
// the state again from a sound one. It tells whether the state is known.
func (v *verifier) anchor(h history, l line, e record.Entry, state *record.State, known bool) bool {
	if l.number%anchorEvery != 0 {
		return known
	}
	a, there := h.anchors[l.number]
	intact := there && e.After != "" && record.HashOf(a.Bytes) == e.After && a.Entry == l.hash
	switch {
	case !intact && (e.After != "" || !there):
		v.report(Damage{Kind: DamageRecord, Record: h.id}, "revision %d of record %s is not stored as its history names it", l.number, h.id)
	case intact && !known:
		r, err := record.Read(a.Bytes)
		if err != nil {
			return false
		}
		a.Record = r
		*state = a
		return true
	}
	return known
}

// want notes the originals that a record shows.
func (v *verifier) want(r *record.Record) {
	for _, p := range r.Photos {
		v.wanted[record.Hash(p.File)] = r.ID
	}
}

// copyTries is how often a reader looks at a file that does not fit: the writer
// may be between its commit and the file.
const copyTries = 10

// copy checks the file of a record beside the database.
func (v *verifier) copy(ctx context.Context, id record.ID, want record.Hash) error {
	path := v.f.path(recordsName, fileOf(id))
	for try := 1; ; try++ {
		beside, err := v.besideOf(ctx, id, path, &want)
		switch {
		case err != nil:
			return err
		case beside != nil && record.HashOf(beside) == want:
			return nil
		case try < copyTries && v.f.mode == Read:
			if err := pause(ctx, 50*time.Millisecond); err != nil {
				return err
			}
			continue
		case beside == nil:
			v.report(Damage{Kind: DamageCopyMissing, Record: id}, "%s/%s is missing", recordsName, fileOf(id))
		default:
			v.report(Damage{Kind: DamageCopyChanged, Record: id, Hash: want}, "%s/%s is not the newest of the record", recordsName, fileOf(id))
		}
		return nil
	}
}

// besideOf reads the file of a record, and follows the record if it has moved
// on since. The writer looks when no change is under way.
func (v *verifier) besideOf(ctx context.Context, id record.ID, path string, want *record.Hash) ([]byte, error) {
	if v.f.mode == Write {
		if err := v.f.takeTurn(ctx); err != nil {
			return nil, err
		}
		defer v.f.giveTurn()
	}
	beside, err := readWhole(path)
	if err != nil {
		return nil, err
	}
	if beside != nil && record.HashOf(beside) == *want {
		return beside, nil
	}
	now, err := newest(ctx, v.f.read, id)
	if err == nil && bytes.Equal(now.Bytes, beside) && v.moved(ctx, id, now, *want) {
		*want = record.HashOf(now.Bytes)
	}
	return beside, nil
}

// moved reports whether a record was changed since its history was checked.
func (v *verifier) moved(ctx context.Context, id record.ID, now record.State, want record.Hash) bool {
	entries, err := entriesOf(ctx, v.f.read, id, now.Number-1, now.Number)
	if err != nil || len(entries) != 1 {
		return false
	}
	e, err := record.ReadEntry(entries[0])
	return err == nil && e.After != want && e.After == record.HashOf(now.Bytes)
}

func pause(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
