package archive

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"fettlebook/assess/record"
)

// The kinds of damage. Only what is below originals and the change log can't be
// made again; the rest follows from these two.
const (
	// DamageDatabase is a database that contradicts itself or can't be read.
	DamageDatabase = "database"
	// DamageEntryChanged and DamageEntryMissing are faults of the change log.
	DamageEntryChanged = "entry changed"
	DamageEntryMissing = "entry missing"
	// DamageRecord is a stored record that its history does not lead to.
	DamageRecord = "record changed"
	// DamageRegister is a record that the register does not show.
	DamageRegister = "register"
	// DamageCopyMissing and DamageCopyChanged are faults of records/….json.
	DamageCopyMissing = "copy missing"
	DamageCopyChanged = "copy changed"
	// DamageOriginalMissing and DamageOriginalChanged are faults of originals/….
	DamageOriginalMissing = "original missing"
	DamageOriginalChanged = "original changed"
	// DamageUnknown is a file among records or originals that belongs to none.
	DamageUnknown = "unknown file"
)

// Verify reads everything and reports all that is damaged: each fault once, at
// the place where it is. It may take minutes, and work goes on meanwhile.
// progress may be nil; done and total count records and originals.
func (f *folder) Verify(ctx context.Context, progress func(done, total int)) ([]Damage, error) {
	if err := f.readable(ctx); err != nil {
		return nil, f.explain("verify the archive", err)
	}
	v := &verifier{f: f, progress: progress, wanted: map[record.Hash]record.ID{}}
	if err := v.run(ctx); err != nil {
		return v.found, f.explain("verify the archive", err)
	}
	return v.found, nil
}

type verifier struct {
	f           *folder
	progress    func(done, total int)
	done, total int
	found       []Damage
	// wanted are the originals that must be there, with a record that shows each.
	wanted map[record.Hash]record.ID
}

func (v *verifier) report(d Damage, format string, args ...any) {
	d.Text = fmt.Sprintf(format, args...)
	v.found = append(v.found, d)
}

func (v *verifier) step() {
	v.done++
	if v.progress != nil {
		v.progress(v.done, v.total)
	}
}

func (v *verifier) run(ctx context.Context) error {
	if err := v.database(ctx); err != nil {
		return err
	}
	ids, err := column[record.ID](ctx, v.f.read, `SELECT id FROM record UNION SELECT record FROM entry`)
	if err := v.tolerate(ctx, err); err != nil {
		return err
	}
	files, err := v.originalFiles()
	if err != nil {
		return err
	}
	v.total = len(ids) + len(files)
	known := map[string]bool{}
	for _, id := range ids {
		known[fileOf(id)] = true
		if err := v.tolerate(ctx, v.record(ctx, id)); err != nil {
			return err
		}
		v.step()
	}
	if err := v.unknownCopies(known); err != nil {
		return err
	}
	return v.originals(ctx, files)
}

// tolerate lets verifying go on where only the database can't be read: the rest
// is then all the more worth knowing.
func (v *verifier) tolerate(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if isDamage(err) {
		v.report(Damage{Kind: DamageDatabase}, "the database can't be read: %v", err)
		return nil
	}
	return err
}

// database asks SQLite to check its own file, the index of words among it.
func (v *verifier) database(ctx context.Context) error {
	lines, err := column[string](ctx, v.f.read, `PRAGMA integrity_check(20)`)
	if err != nil {
		return v.tolerate(ctx, err)
	}
	if len(lines) != 1 || lines[0] != "ok" {
		v.report(Damage{Kind: DamageDatabase}, "the database contradicts itself: %s", strings.Join(lines, "; "))
	}
	return nil
}

// unknownCopies finds files of records that the database does not know: it may
// be older than they are.
func (v *verifier) unknownCopies(known map[string]bool) error {
	entries, err := os.ReadDir(v.f.path(recordsName))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, e := range entries {
		name := e.Name()
		if known[name] || name == incoming || clutter[name] || strings.HasPrefix(name, "._") {
			continue
		}
		id, isRecord := strings.CutSuffix(name, ".json")
		if _, err := record.ParseID(id); err != nil || !isRecord {
			v.report(Damage{Kind: DamageUnknown}, "%s/%s is not the file of a record", recordsName, name)
			continue
		}
		if _, err := newest(context.Background(), v.f.read, record.ID(id)); err == nil {
			continue // it was begun while we looked
		}
		v.report(Damage{Kind: DamageUnknown, Record: record.ID(id)}, "%s/%s is that of a record which the database does not know", recordsName, name)
	}
	return nil
}
