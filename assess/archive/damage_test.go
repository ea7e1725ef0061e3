package archive_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	_ "modernc.org/sqlite"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

// shop is an archive that was worked on and closed.
type shop struct {
	t       testing.TB
	dir     string
	records []*conformance.Bench
	photos  []record.Hash
}

// newShop lays out two records with 20 changes and two photos each.
func newShop(t testing.TB) *shop {
	t.Helper()
	s := &shop{t: t, dir: t.TempDir()}
	a, err := archive.Open(context.Background(), s.dir, archive.Write)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 2 {
		b := conformance.Begin(t, a, conformance.Unit, conformance.Began)
		for i := range 20 {
			b.MustKeep(b.Complain(fmt.Sprintf("complaint %d", i)))
		}
		for i := range 2 {
			photo := fmt.Appendf(nil, "photo %d of record %d", i, n)
			b.MustKeep(b.Photograph(photo))
			s.photos = append(s.photos, record.HashOf(photo))
		}
		s.records = append(s.records, b)
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *shop) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

func (s *shop) original(n int) string {
	hash := string(s.photos[n])
	return filepath.Join(s.dir, "originals", hash[:2], hash)
}

func (s *shop) copyOf(n int) string {
	return filepath.Join(s.dir, "records", string(s.records[n].ID())+".json")
}

// sql changes the database behind the archive's back.
func (s *shop) sql(statements ...string) {
	s.t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(s.dir, "archive.db"))
	s.must(err)
	defer db.Close()
	for _, statement := range statements {
		result, err := db.Exec(statement)
		s.must(err)
		if n, _ := result.RowsAffected(); n == 0 && statement[:4] != "DROP" {
			s.t.Fatalf("%s: changes nothing", statement)
		}
	}
}

// entry changes entries of the change log, which the database itself refuses.
func (s *shop) entry(statement string) {
	s.t.Helper()
	s.sql(`DROP TRIGGER entry_stays`, `DROP TRIGGER entry_remains`, statement)
}

// flip changes one bit of a file.
func (s *shop) flip(path string, at int) {
	s.t.Helper()
	b, err := os.ReadFile(path)
	s.must(err)
	b[at] ^= 1
	s.must(os.Chmod(path, 0o644))
	s.must(os.WriteFile(path, b, 0o644))
}

func (s *shop) swap(a, b string) {
	s.t.Helper()
	s.must(os.Rename(a, a+".x"))
	s.must(os.Rename(b, a))
	s.must(os.Rename(a+".x", b))
}

// of names record n in a statement.
func (s *shop) of(n int) string { return fmt.Sprintf("record = '%s'", s.records[n].ID()) }

// flipEntry flips a bit in a word of an entry, leaving its JSON sound.
func (s *shop) flipEntry(n, number int, from, to string) {
	s.t.Helper()
	s.entry(fmt.Sprintf(`UPDATE entry SET bytes = CAST(replace(CAST(bytes AS TEXT), '%s', '%s') AS BLOB) WHERE number = %d AND %s`, from, to, number, s.of(n)))
}

// forge changes an entry and its own hash with it.
func (s *shop) forge(n, number int) {
	s.t.Helper()
	e, err := record.ReadEntry(entryOf(s, n, number))
	s.must(err)
	e.Who = "Nobody"
	forged, err := e.Marshal()
	s.must(err)
	s.entry(fmt.Sprintf(`UPDATE entry SET bytes = x'%x', hash = '%s' WHERE number = %d AND %s`, forged, record.HashOf(forged), number, s.of(n)))
}

var faults = []struct {
	name string
	do   func(*shop)
	want []string
}{
	{"nothing", func(*shop) {}, nil},
	{"a bit of an original", func(s *shop) { s.flip(s.original(0), 3) }, []string{archive.DamageOriginalChanged}},
	{"an original cut short", func(s *shop) { s.must(os.Truncate(s.original(1), 4)) }, []string{archive.DamageOriginalChanged}},
	{"an empty original", func(s *shop) { s.must(os.Truncate(s.original(1), 0)) }, []string{archive.DamageOriginalChanged}},
	{"a lost original", func(s *shop) { s.must(os.Remove(s.original(2))) }, []string{archive.DamageOriginalMissing}},
	{"two originals swapped", func(s *shop) { s.swap(s.original(0), s.original(3)) }, []string{archive.DamageOriginalChanged, archive.DamageOriginalChanged}},
	{"an original in another's folder", func(s *shop) {
		s.must(os.Mkdir(filepath.Join(s.dir, "originals", "zz"), 0o755))
		s.must(os.Rename(s.original(0), filepath.Join(s.dir, "originals", "zz", string(s.photos[0]))))
	}, []string{archive.DamageOriginalMissing, archive.DamageUnknown}},
	{"three originals", func(s *shop) {
		s.flip(s.original(0), 0)
		s.must(os.Truncate(s.original(1), 1))
		s.must(os.Remove(s.original(2)))
	}, []string{archive.DamageOriginalChanged, archive.DamageOriginalChanged, archive.DamageOriginalMissing}},
	{"a lost record file", func(s *shop) { s.must(os.Remove(s.copyOf(0))) }, []string{archive.DamageCopyMissing}},
	{"a bit of a record file", func(s *shop) { s.flip(s.copyOf(1), 40) }, []string{archive.DamageCopyChanged}},
	{"a file among the records", func(s *shop) {
		s.must(os.WriteFile(filepath.Join(s.dir, "records", "list.txt"), nil, 0o644))
	}, []string{archive.DamageUnknown}},
	{"what a file manager leaves", func(s *shop) {
		s.must(os.WriteFile(filepath.Join(s.dir, "records", ".DS_Store"), nil, 0o644))
		s.must(os.WriteFile(filepath.Join(s.dir, "originals", "Thumbs.db"), nil, 0o644))
	}, nil},
	{"a word of an entry", func(s *shop) { s.flipEntry(0, 5, "Edda", "Edds") }, []string{archive.DamageEntryChanged}},
	{"a word of the first entry", func(s *shop) { s.flipEntry(0, 1, "Edda", "Edds") }, []string{archive.DamageEntryChanged}},
	{"a word of the last entry", func(s *shop) { s.flipEntry(0, 23, "Edda", "Edds") }, []string{archive.DamageEntryChanged}},
	{"a patch in an entry", func(s *shop) { s.flipEntry(1, 7, `"value":"complaint`, `"value":"comp1aint`) }, []string{archive.DamageEntryChanged}},
	{"the link of an entry", func(s *shop) { s.flipEntry(1, 16, `"before":"`, `"before":"0`) }, []string{archive.DamageEntryChanged}},
	{"an entry that is no JSON", func(s *shop) { s.flipEntry(1, 9, `{`, `[`) }, []string{archive.DamageEntryChanged}},
	{"an entry forged with its hash", func(s *shop) { s.forge(0, 6) }, []string{archive.DamageEntryChanged}},
	{"an entry forged behind a lost one", func(s *shop) {
		s.forge(0, 8)
		s.sql(`DELETE FROM entry WHERE number = 5 AND ` + s.of(0))
	}, []string{archive.DamageEntryChanged, archive.DamageEntryMissing}},
	{"a lost entry", func(s *shop) { s.entry(`DELETE FROM entry WHERE number = 5 AND ` + s.of(0)) }, []string{archive.DamageEntryMissing}},
	{"the first entry lost", func(s *shop) { s.entry(`DELETE FROM entry WHERE number = 1 AND ` + s.of(0)) }, []string{archive.DamageEntryMissing}},
	{"the last entry lost", func(s *shop) { s.entry(`DELETE FROM entry WHERE number = 23 AND ` + s.of(0)) }, []string{archive.DamageEntryMissing}},
	{"a whole history lost", func(s *shop) { s.entry(`DELETE FROM entry WHERE ` + s.of(1)) }, []string{archive.DamageEntryMissing}},
	{"two entries swapped", func(s *shop) {
		s.entry(`UPDATE entry SET number = 99 WHERE number = 4 AND ` + s.of(0))
		s.sql(`UPDATE entry SET number = 4 WHERE number = 5 AND `+s.of(0), `UPDATE entry SET number = 5 WHERE number = 99 AND `+s.of(0))
	}, []string{archive.DamageEntryChanged, archive.DamageEntryChanged}},
	{"the newest bytes of a record", func(s *shop) {
		s.sql(fmt.Sprintf(`UPDATE record SET bytes = CAST(replace(CAST(bytes AS TEXT), 'road', 'yard') AS BLOB) WHERE id = '%s'`, s.records[0].ID()))
	}, []string{archive.DamageRecord}},
	{"the bytes of an older revision", func(s *shop) {
		s.sql(`UPDATE anchor SET packed = zeroblob(40) WHERE revision = 16 AND ` + s.of(0))
	}, []string{archive.DamageRecord}},
	{"an older revision lost", func(s *shop) { s.sql(`DELETE FROM anchor WHERE revision = 16 AND ` + s.of(0)) }, []string{archive.DamageRecord}},
	{"a row of the register lost", func(s *shop) { s.sql(`DELETE FROM register WHERE ` + s.of(1)) }, []string{archive.DamageRegister}},
	{"the words of the register lost", func(s *shop) {
		s.sql(`DELETE FROM words WHERE rowid = (SELECT place FROM register WHERE ` + s.of(1) + `)`)
	}, []string{archive.DamageRegister}},
	{"one of each", func(s *shop) {
		s.flip(s.original(0), 0)
		s.must(os.Remove(s.copyOf(0)))
		s.entry(`DELETE FROM entry WHERE number = 5 AND ` + s.of(0))
		s.sql(`DELETE FROM register WHERE ` + s.of(1))
	}, []string{archive.DamageCopyMissing, archive.DamageEntryMissing, archive.DamageOriginalChanged, archive.DamageRegister}},
}

func entryOf(s *shop, n, number int) []byte {
	s.t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(s.dir, "archive.db"))
	s.must(err)
	defer db.Close()
	var b []byte
	s.must(db.QueryRow(`SELECT bytes FROM entry WHERE number = ? AND record = ?`, number, s.records[n].ID()).Scan(&b))
	return b
}

func TestVerifyFindsEachFaultOnce(t *testing.T) {
	for _, c := range faults {
		t.Run(c.name, func(t *testing.T) {
			s := newShop(t)
			c.do(s)
			if got := kindsOf(t, s.dir, archive.Read); !slices.Equal(got, c.want) {
				t.Errorf("a reader finds %q, want %q", got, c.want)
			}
			if got := kindsOf(t, s.dir, archive.Write); !slices.Equal(got, c.want) {
				t.Errorf("the writer finds %q, want %q", got, c.want)
			}
		})
	}
}

// kindsOf verifies an archive and gives the kinds of what is damaged, sorted.
func kindsOf(t *testing.T, dir string, mode archive.Mode) []string {
	t.Helper()
	a, err := archive.Open(context.Background(), dir, mode)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Close()
	damage, err := a.Verify(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for _, d := range damage {
		t.Logf("%+v", d)
		kinds = append(kinds, d.Kind)
	}
	slices.Sort(kinds)
	return kinds
}
