package archive_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

var rebuilder = record.Meta{At: record.StampOf(conformance.Began.AddDate(0, 1, 0)), Who: "Wren Aldous", Bench: "bench 2"}

func TestRebuildingBringsBackWhatIsLeft(t *testing.T) {
	whole := func(s *shop, a archive.Archive) {
		for _, b := range s.records {
			b.On(a).Check()
		}
	}
	// newest checks the first record's newest state, and how many entries led to it.
	newest := func(entries int) func(*shop, archive.Archive) {
		return func(s *shop, a archive.Archive) {
			s.t.Helper()
			got, err := a.Load(context.Background(), s.records[0].ID(), 0)
			s.must(err)
			if string(got.Record) != string(s.records[0].Last().Bytes) || int(got.Revision) != entries {
				s.t.Errorf("revision %d is\n%s\nwant revision %d\n%s", got.Revision, got.Record, entries, s.records[0].Last().Bytes)
			}
			s.records[1].On(a).Check()
		}
	}
	for _, c := range []struct {
		name  string
		spoil func(*shop)
		lost  []string
		check func(*shop, archive.Archive)
	}{
		{"nothing", func(*shop) {}, nil, whole},
		{"the records' files", func(s *shop) { s.must(os.RemoveAll(filepath.Join(s.dir, "records"))) }, nil, whole},
		{"what is made of the log", func(s *shop) {
			s.sql(`DELETE FROM register`, `DELETE FROM anchor`, `DELETE FROM unwritten WHERE 1=1 OR record IN (SELECT 1)`)
		}, nil, whole},
		{"an entry in the middle", func(s *shop) { s.entry(`DELETE FROM entry WHERE number = 9 AND ` + s.of(0)) },
			[]string{archive.DamageEntryMissing}, newest(9)},
		{"a bit of the last entry", func(s *shop) { s.flipEntry(0, 23, `"number":23`, `"number":24`) },
			[]string{archive.DamageEntryMissing}, newest(23)},
		{"a whole history", func(s *shop) { s.entry(`DELETE FROM entry WHERE ` + s.of(0)) },
			[]string{archive.DamageEntryMissing}, newest(1)},
		{"a history and its stored record", func(s *shop) {
			s.entry(`DELETE FROM entry WHERE number > 20 AND ` + s.of(0))
			s.sql(fmt.Sprintf(`UPDATE record SET bytes = x'7b7d' WHERE id = '%s'`, s.records[0].ID()))
		}, []string{archive.DamageEntryMissing}, newest(21)},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newShop(t)
			if strings.HasPrefix(c.name, "what is made") {
				s.sql(fmt.Sprintf(`INSERT INTO unwritten VALUES ('%s')`, s.records[0].ID()))
			}
			c.spoil(s)
			if got := rebuild(t, s.dir); !slices.Equal(got, c.lost) {
				t.Errorf("lost is %q, want %q", got, c.lost)
			}
			a := open(t, s.dir, archive.Read)
			c.check(s, a)
			if damage, err := a.Verify(context.Background(), nil); err != nil || len(damage) != 0 {
				t.Errorf("afterwards verify finds %v, %v; want nothing", damage, err)
			}
			page, err := a.Find(context.Background(), archive.Query{Words: []string{"tarnw"}})
			if err != nil || len(page.Rows) != 2 {
				t.Errorf("the register finds %v, %v; want two records", page.Rows, err)
			}
		})
	}
}

func rebuild(t *testing.T, dir string) []string {
	t.Helper()
	lost, err := archive.Rebuild(context.Background(), dir, rebuilder, nil)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for _, d := range lost {
		t.Logf("%+v", d)
		kinds = append(kinds, d.Kind)
	}
	return kinds
}

// Without a readable database each record begins anew from its file.
func TestRebuildingFromTheFilesAlone(t *testing.T) {
	for name, spoil := range map[string]func(*shop){
		"no database":          func(s *shop) { s.must(os.Remove(filepath.Join(s.dir, "archive.db"))) },
		"a database of zeros":  func(s *shop) { s.must(os.WriteFile(filepath.Join(s.dir, "archive.db"), make([]byte, 40960), 0o644)) },
		"an empty database":    func(s *shop) { s.must(os.Truncate(filepath.Join(s.dir, "archive.db"), 0)) },
		"a database cut short": func(s *shop) { s.must(os.Truncate(filepath.Join(s.dir, "archive.db"), 8192)) },
	} {
		t.Run(name, func(t *testing.T) {
			s := newShop(t)
			ctx := context.Background()
			a := open(t, s.dir, archive.Write)
			_, err := a.SetSetting(ctx, "shop", 0, []byte(`{"name":"Quillan"}`))
			s.must(err)
			s.must(a.Close())
			spoil(s)
			if got := rebuild(t, s.dir); len(got) != 2 {
				t.Errorf("lost is %q, want two histories", got)
			}
			a = open(t, s.dir, archive.Write)
			for _, b := range s.records {
				got, err := a.Load(ctx, b.ID(), 0)
				if err != nil || string(got.Record) != string(b.Last().Bytes) || got.Revision != 1 {
					t.Errorf("record %s is %s at %d, %v", b.ID(), got.Record, got.Revision, err)
				}
				entries, err := a.History(ctx, b.ID(), 0)
				s.must(err)
				if e, err := record.ReadEntry(entries[0]); err != nil || e.Who != "Wren Aldous" {
					t.Errorf("the entry is by %q, %v; want who rebuilt the archive", e.Who, err)
				}
			}
			if value, _, err := a.Setting(ctx, "shop"); err != nil || string(value) != `{"name":"Quillan"}` {
				t.Errorf("the setting is %s, %v", value, err)
			}
			if damage, err := a.Verify(ctx, nil); err != nil || len(damage) != 0 {
				t.Errorf("afterwards verify finds %v, %v; want nothing", damage, err)
			}
		})
	}
}

func TestRebuildingKeepsTheOldDatabase(t *testing.T) {
	s := newShop(t)
	rebuild(t, s.dir)
	old, err := filepath.Glob(filepath.Join(s.dir, "archive.db.old-*"))
	if err != nil || len(old) == 0 {
		t.Errorf("the old database is not in %v", names(t, s.dir))
	}
}

// A rebuilding that stopped between its two last steps is completed.
func TestRebuildingThatWasBrokenOffIsCompleted(t *testing.T) {
	s := newShop(t)
	s.must(os.Rename(filepath.Join(s.dir, "archive.db"), filepath.Join(s.dir, "archive.db.rebuilt")))
	refused(t, s.dir, archive.Write, archive.ErrDamaged)
	if got := rebuild(t, s.dir); len(got) != 0 {
		t.Errorf("lost is %q, want nothing", got)
	}
	a := open(t, s.dir, archive.Read)
	for _, b := range s.records {
		b.On(a).Check()
	}
}

func TestRebuildingIsRefused(t *testing.T) {
	s := newShop(t)
	a := open(t, s.dir, archive.Write)
	if _, err := archive.Rebuild(context.Background(), s.dir, rebuilder, nil); !errors.Is(err, archive.ErrInUse) {
		t.Errorf("while it is open elsewhere: %v, want ErrInUse", err)
	}
	s.must(a.Close())
	if _, err := archive.Rebuild(context.Background(), t.TempDir(), rebuilder, nil); !errors.Is(err, archive.ErrNoArchive) {
		t.Errorf("in an empty folder: %v, want ErrNoArchive", err)
	}
	defer archive.OnNetwork("nfs")()
	if _, err := archive.Rebuild(context.Background(), s.dir, rebuilder, nil); !errors.Is(err, archive.ErrNetwork) {
		t.Errorf("on a network drive: %v, want ErrNetwork", err)
	}
}
