package archive_test

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
)

// names lists a folder.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

// refused opens an archive that must not open.
func refused(t *testing.T, dir string, mode archive.Mode, want error, says ...string) {
	t.Helper()
	a, err := archive.Open(context.Background(), dir, mode)
	if err == nil {
		a.Close()
		t.Fatalf("%s was opened", dir)
	}
	if want != nil && !errors.Is(err, want) {
		t.Errorf("got %q, want it to be %q", err, want)
	}
	for _, s := range append(says, dir) {
		if !strings.Contains(err.Error(), s) {
			t.Errorf("got %q, want it to say %q", err, s)
		}
	}
}

func TestOpeningMakesAnArchiveWhereNothingIs(t *testing.T) {
	for name, prepare := range map[string]func(dir string) string{
		"an empty folder":                      func(dir string) string { return dir },
		"no folder":                            func(dir string) string { return filepath.Join(dir, "two", "levels") },
		"a name with spaces, quotes and marks": func(dir string) string { return filepath.Join(dir, `Edda's "100%" #1? 歯車 🔧&mode=ro`) },
		"a file manager's leavings": func(dir string) string {
			for _, name := range []string{".DS_Store", "Thumbs.db", "._x"} {
				if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			return dir
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := prepare(t.TempDir())
			if _, err := archive.Open(context.Background(), dir, archive.Read); !errors.Is(err, archive.ErrNoArchive) {
				t.Errorf("a reader gets %v, want ErrNoArchive", err)
			}
			a := open(t, dir, archive.Write)
			b := conformance.Begin(t, a, conformance.Unit, conformance.Began)
			if err := a.Close(); err != nil {
				t.Fatal(err)
			}
			r := open(t, dir, archive.Read)
			if got, err := r.Load(context.Background(), b.ID(), 0); err != nil || string(got.Record) != string(b.Last().Bytes) {
				t.Errorf("a reader gets %s, %v", got.Record, err)
			}
			if !slices.Contains(names(t, dir), "archive.db") {
				t.Errorf("the folder holds %v", names(t, dir))
			}
		})
	}
}

func TestAFolderWithOtherThingsIsLeftAsItIs(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "letters.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	refused(t, dir, archive.Write, archive.ErrNoArchive, "letters.txt")
	refused(t, dir, archive.Read, archive.ErrNoArchive)
	if got := names(t, dir); !slices.Equal(got, []string{"letters.txt"}) {
		t.Errorf("the folder now holds %v", got)
	}
	file := filepath.Join(dir, "letters.txt")
	refused(t, file, archive.Write, nil)
	refused(t, file, archive.Read, nil)
}

func TestADatabaseThatIsNotWellIsNamed(t *testing.T) {
	database := func(s *shop) string { return filepath.Join(s.dir, "archive.db") }
	for _, c := range []struct {
		name  string
		spoil func(*shop)
		want  error
		says  string
	}{
		{"missing", func(s *shop) { s.must(os.Remove(database(s))) }, archive.ErrDamaged, "fettlebook archive rebuild"},
		{"empty", func(s *shop) { s.must(os.Truncate(database(s), 0)) }, archive.ErrDamaged, "fettlebook archive rebuild"},
		{"a text", func(s *shop) { s.must(os.WriteFile(database(s), []byte(strings.Repeat("no database ", 1000)), 0o644)) }, archive.ErrDamaged, "fettlebook archive rebuild"},
		{"cut short", func(s *shop) { s.must(os.Truncate(database(s), 4096*3)) }, archive.ErrDamaged, "fettlebook archive rebuild"},
		{"cut in its header", func(s *shop) { s.must(os.Truncate(database(s), 60)) }, archive.ErrDamaged, "fettlebook archive rebuild"},
		{"of a newer program", func(s *shop) { s.sql0(`PRAGMA user_version = 99`) }, archive.ErrNewer, "99"},
		{"of another program", func(s *shop) { s.sql0(`PRAGMA application_id = 7`) }, nil, "another program"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := newShop(t)
			c.spoil(s)
			refused(t, s.dir, archive.Read, c.want, c.says)
			refused(t, s.dir, archive.Write, c.want, c.says)
			if _, err := os.Stat(s.copyOf(0)); err != nil {
				t.Errorf("the record's file: %v", err)
			}
		})
	}
}

// sql0 runs a statement that reports no rows.
func (s *shop) sql0(statement string) {
	s.t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(s.dir, "archive.db"))
	s.must(err)
	defer db.Close()
	_, err = db.Exec(statement)
	s.must(err)
}

func TestANetworkFolderIsRefused(t *testing.T) {
	s := newShop(t)
	defer archive.OnNetwork("nfs")()
	refused(t, s.dir, archive.Write, archive.ErrNetwork, "nfs")
	refused(t, s.dir, archive.Read, archive.ErrNetwork, "nfs")
	fresh := filepath.Join(t.TempDir(), "new")
	refused(t, fresh, archive.Write, archive.ErrNetwork, "nfs")
	if _, err := os.Stat(fresh); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the refused folder was made (%v)", err)
	}
}

func TestAReaderIsRefusedEveryWrite(t *testing.T) {
	s := newShop(t)
	ctx, a := context.Background(), open(t, s.dir, archive.Read)
	step := s.records[0].Complain("howls")
	for name, call := range map[string]func() error{
		"Append": func() error {
			_, err := a.Append(ctx, step.Record.ID, s.records[0].Base(), conformance.Commit(step))
			return err
		},
		"Put":        func() error { _, err := a.Put(ctx, strings.NewReader("x")); return err },
		"PutView":    func() error { return a.PutView(ctx, s.photos[0], archive.Preview, []byte("\xff\xd8\xff\xd9")) },
		"SetSetting": func() error { _, err := a.SetSetting(ctx, "shop", 0, []byte("{}")); return err },
	} {
		if err := call(); !errors.Is(err, archive.ErrReadOnly) {
			t.Errorf("%s gives %v, want ErrReadOnly", name, err)
		}
	}
	if !a.ReadOnly() {
		t.Error("the archive does not say that it is read-only")
	}
}

func TestWhatACrashLeftBehindIsMended(t *testing.T) {
	s := newShop(t)
	draft := filepath.Join(s.dir, "originals", ".incoming", "half")
	s.must(os.WriteFile(draft, []byte("half a photo"), 0o644))
	// As if the program had died between the commit and the file.
	s.must(os.WriteFile(s.copyOf(0), []byte("{}"), 0o644))
	s.sql(`INSERT INTO unwritten VALUES ('` + string(s.records[0].ID()) + `')`)
	s.must(open(t, s.dir, archive.Write).Close())
	if _, err := os.Stat(draft); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the half-written original is still there (%v)", err)
	}
	if got := kindsOf(t, s.dir, archive.Read); len(got) != 0 {
		t.Errorf("verify finds %q, want nothing", got)
	}
}

func TestARecordsFileThatCannotBeWrittenLosesNothing(t *testing.T) {
	s := newShop(t)
	a := open(t, s.dir, archive.Write)
	s.must(os.Remove(s.copyOf(0)))
	s.must(os.Mkdir(s.copyOf(0), 0o755)) // no file can take this name
	s.must(os.WriteFile(filepath.Join(s.copyOf(0), "x"), nil, 0o644))
	b := s.records[0].On(a)
	b.MustKeep(b.Complain("rattles"))
	b.Check()
	s.must(os.RemoveAll(s.copyOf(0)))
	s.must(a.Close())
	if got := kindsOf(t, s.dir, archive.Read); len(got) != 0 {
		t.Errorf("verify finds %q, want nothing", got)
	}
}

func TestAnOriginalIsReadOnlyAndADamagedOneIsPutRight(t *testing.T) {
	s := newShop(t)
	info, err := os.Stat(s.original(0))
	s.must(err)
	if info.Mode()&0o222 != 0 {
		t.Errorf("an original has the rights %v, want none to write", info.Mode())
	}
	s.flip(s.original(0), 2)
	a := open(t, s.dir, archive.Write)
	if _, err := a.Put(context.Background(), strings.NewReader("photo 0 of record 0")); err != nil {
		t.Fatal(err)
	}
	if damage, err := a.Verify(context.Background(), nil); err != nil || len(damage) != 0 {
		t.Errorf("verify finds %v, %v; want nothing", damage, err)
	}
	if left := names(t, filepath.Join(s.dir, "originals", ".incoming")); len(left) != 0 {
		t.Errorf("drafts are left: %v", left)
	}
}
