package archive

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"fettlebook/assess/record"
)

// Names of a database that is being rebuilt, and of one that is whole and only
// needs to take the old one's place.
const (
	rebuildingName = databaseName + ".rebuilding"
	rebuiltName    = databaseName + ".rebuilt"
)

// Rebuild makes the database of an archive again from what is left: each
// history as far as it can be read and holds together, else the newest JSON of
// the record. Where both are there and the JSON goes further, it is added to the
// history as one entry by meta, which says so. The old database stays in the
// folder as archive.db.old-….
//
// row makes a record's register row; nil makes a plain one. Record and Changed
// are filled in here. What could not be brought over is returned, as damage.
func Rebuild(ctx context.Context, dir string, meta record.Meta, row func(*record.Record) Row) ([]Damage, error) {
	f := &folder{dir: dir, mode: Write, turn: make(chan struct{}, 1), ended: make(chan struct{})}
	if row == nil {
		row = plainRow
	}
	r := &rebuild{f: f, meta: meta, row: row}
	err := r.run(ctx)
	err = errors.Join(err, f.release())
	if err != nil {
		return r.lost, explain(dir, "rebuild the archive", err)
	}
	return r.lost, r.finish(ctx)
}

type rebuild struct {
	f    *folder
	meta record.Meta
	row  func(*record.Record) Row
	lost []Damage
}

func (r *rebuild) lose(d Damage, format string, args ...any) {
	d.Text = fmt.Sprintf(format, args...)
	r.lost = append(r.lost, d)
}

// plainRow is a row made from the record alone.
func plainRow(r *record.Record) Row {
	row := Row{Unit: r.Unit.Says(), Serial: r.Unit.Serial, Owner: r.Owner.Name, Received: r.Dates.Received}
	row.Words = strings.Join([]string{r.Complaint, r.Owner.Claim, r.Unit.Variant, r.Unit.Service}, " ")
	for _, p := range record.InOrder(r.Photos) {
		row.Photo, row.Orientation, row.Turned = record.Hash(p.File), p.Orientation, p.Turned
		break
	}
	return row
}

func (r *rebuild) run(ctx context.Context) error {
	f := r.f
	if err := refuseNetwork(f.dir); err != nil {
		return err
	}
	there, err := f.look()
	if err != nil && !errors.Is(err, ErrDamaged) {
		return err
	}
	if there == nothing && err == nil {
		return ErrNoArchive
	}
	if err := f.takeLock(); err != nil {
		return err
	}
	if _, err := os.Stat(f.path(rebuiltName)); err == nil && there == nothing {
		return r.swap() // the last rebuilding was broken off between its two steps
	}
	old := salvage{f: f}
	if there == database {
		if err := old.open(ctx); err != nil {
			return err
		}
		defer old.close()
	}
	for _, rest := range []string{"", "-wal", "-shm", "-journal"} {
		if err := removeIfThere(f.path(rebuildingName + rest)); err != nil {
			return err
		}
	}
	if f.write, err = openDatabase(f.path(rebuildingName), "rw", true); err != nil {
		return err
	}
	if err := stepUp(ctx, f.write, 0); err != nil {
		return err
	}
	if err := inTransaction(ctx, f.write, func(tx *sql.Tx) error { return r.fill(ctx, tx, &old) }); err != nil {
		return err
	}
	err = f.write.Close()
	f.write = nil
	old.close()
	if err != nil {
		return err
	}
	if err := replace(f.path(rebuildingName), f.path(rebuiltName)); err != nil {
		return err
	}
	if err := syncFolder(f.dir); err != nil {
		return err
	}
	return r.swap()
}

// swap puts the new database in the place of the old one. The old one steps
// aside first, with its log: a log beside a database that it does not belong to
// would be played into it.
func (r *rebuild) swap() error {
	f := r.f
	aside := databaseName + ".old-" + time.Now().UTC().Format("20060102-150405.000")
	for _, rest := range []string{"-shm", "-wal", ""} {
		err := replace(f.path(databaseName+rest), f.path(aside+rest))
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	if err := replace(f.path(rebuiltName), f.path(databaseName)); err != nil {
		return err
	}
	return syncFolder(f.dir)
}

// finish opens the archive once, which writes the records' files where they
// differ.
func (r *rebuild) finish(ctx context.Context) error {
	a, err := Open(ctx, r.f.dir, Write)
	if err != nil {
		return err
	}
	return a.Close()
}

func removeIfThere(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}

// fill brings everything over.
func (r *rebuild) fill(ctx context.Context, tx *sql.Tx, old *salvage) error {
	if id := old.id(ctx); id != "" {
		if _, err := tx.ExecContext(ctx, `UPDATE about SET value = ? WHERE name = 'id'`, id); err != nil {
			return err
		}
	}
	ids, err := old.records(ctx)
	if err != nil {
		return err
	}
	for _, id := range ids {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := r.bring(ctx, tx, old, id); err != nil {
			return err
		}
	}
	if err := old.eachSetting(ctx, func(name string, at int, value []byte) error {
		_, err := tx.ExecContext(ctx, `INSERT OR IGNORE INTO setting (name, revision, value) VALUES (?, ?, ?)`, name, at, value)
		return err
	}); err != nil {
		return err
	}
	return r.originals(ctx, tx, old)
}

// originals names what was ever taken in, and what stands there.
func (r *rebuild) originals(ctx context.Context, tx *sql.Tx, old *salvage) error {
	files, err := (&verifier{f: r.f}).originalFiles()
	if err != nil {
		return err
	}
	for _, b := range append(old.originals(ctx), blobsOf(files)...) {
		if _, err := tx.ExecContext(ctx, `INSERT OR IGNORE INTO original (hash, size) VALUES (?, ?)`, b.Hash, b.Size); err != nil {
			return err
		}
	}
	return nil
}

// bring brings one record over.
func (r *rebuild) bring(ctx context.Context, tx *sql.Tx, old *salvage, id record.ID) error {
	left := old.history(ctx, id)
	var state record.State
	for _, entry := range left.sound {
		var err error
		if state, err = state.Follow(entry); err != nil {
			return err // it did follow a moment ago
		}
		if err := keepHistory(ctx, tx, state, Commit{Entry: entry, Record: state.Bytes}); err != nil {
			return err
		}
	}
	row := old.row(ctx, id)
	if left.newest != nil {
		step, err := r.addNewest(state, left.newest)
		if err != nil {
			return fmt.Errorf("the newest state of record %s: %w", id, err)
		}
		if err := keepHistory(ctx, tx, step.State, Commit{Entry: step.EntryBytes, Record: step.Bytes}); err != nil {
			return err
		}
		state, row = step.State, Row{}
	}
	r.tell(left, id)
	if state.Number == 0 {
		return nil
	}
	if row.Record != id || left.lost > 0 {
		last, err := entriesOf(ctx, tx, id, state.Number-1, state.Number)
		if err != nil {
			return err
		}
		e, err := record.ReadEntry(last[0])
		if err != nil {
			return err
		}
		row = r.row(state.Record)
		row.Record, row.Changed = id, e.At.UTC
	}
	return keepRow(ctx, tx, row)
}

// tell says what of a record's history could not be brought over.
func (r *rebuild) tell(left remains, id record.ID) {
	d := Damage{Kind: DamageEntryMissing, Record: id}
	n := len(left.sound)
	switch {
	case n == 0 && left.newest == nil:
		r.lose(Damage{Kind: DamageRecord, Record: id}, "nothing of record %s can be read", id)
	case n == 0:
		r.lose(d, "the history of record %s is lost; it begins anew with its newest state", id)
	case left.newest != nil:
		r.lose(d, "the history of record %s is lost after entry %d; its newest state follows as one entry", id, n)
	case left.lost > 0:
		r.lose(d, "entries %d to %d of record %s are lost, and so is what they changed", n+1, n+left.lost, id)
	}
}

// addNewest makes the entry that leads from what is left of a history to the
// newest state that is known.
func (r *rebuild) addNewest(state record.State, bytes []byte) (record.Step, error) {
	newest, err := record.Read(bytes)
	if err != nil {
		return record.Step{}, err
	}
	if state.Number == 0 {
		return record.Create(newest, r.meta)
	}
	says := fmt.Sprintf("archive rebuilt: the history after entry %d was lost, and this is the newest state that was kept", state.Number)
	return state.Make(record.Gesture{Says: says, Apply: func(r *record.Record) error { *r = *newest; return nil }}, r.meta)
}
