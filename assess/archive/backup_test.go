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
)

func backUp(t *testing.T, dir, to string) {
	t.Helper()
	last, all := 0, 0
	if err := archive.Backup(context.Background(), dir, to, func(done, total int) { last, all = done, total }); err != nil {
		t.Fatal(err)
	}
	if last != all || all == 0 {
		t.Errorf("progress ended at %d of %d", last, all)
	}
	if got := kindsOf(t, to, archive.Read); len(got) != 0 {
		t.Errorf("verify finds %q in the backup, want nothing", got)
	}
}

func TestABackupHoldsAllThatTheArchiveHolds(t *testing.T) {
	s, to := newShop(t), filepath.Join(t.TempDir(), "backup")
	ctx := context.Background()
	a := open(t, s.dir, archive.Write) // work goes on
	if _, err := a.SetSetting(ctx, "shop", 0, []byte(`{"name":"Quillan"}`)); err != nil {
		t.Fatal(err)
	}
	backUp(t, s.dir, to)
	b := s.records[1].On(a)
	b.MustKeep(b.Photograph([]byte("one more")))
	if _, err := a.SetSetting(ctx, "shop", 1, []byte(`{"name":"Quillan Gear Shop"}`)); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(to, strings.TrimPrefix(s.original(0), s.dir)))
	s.must(err)
	backUp(t, s.dir, to) // on top of the earlier one
	again, err := os.Stat(filepath.Join(to, strings.TrimPrefix(s.original(0), s.dir)))
	s.must(err)
	if !os.SameFile(info, again) {
		t.Error("an original that the backup had was copied once more")
	}

	// A backup is read from a network drive, and worked on on a disk.
	back := archive.OnNetwork("nfs")
	r := open(t, to, archive.Read)
	b.On(r).Check()
	s.records[0].On(r).Check()
	if value, at, err := r.Setting(ctx, "shop"); err != nil || at != 2 || string(value) != `{"name":"Quillan Gear Shop"}` {
		t.Errorf("the setting is %s at %d, %v", value, at, err)
	}
	back()
	s.must(r.Close())
	w := open(t, to, archive.Write)
	c := b.On(w)
	c.MustKeep(c.Complain("rattles"))
	c.Check()
	if err := archive.Backup(ctx, s.dir, to, nil); err == nil || !strings.Contains(err.Error(), "choose another folder") {
		t.Errorf("an archive that is worked with was backed up over: %v", err)
	}
}

func TestABackupRefusesOtherFolders(t *testing.T) {
	s, other := newShop(t), newShop(t)
	earlier, letters := t.TempDir(), t.TempDir()
	backUp(t, other.dir, earlier)
	s.must(os.WriteFile(filepath.Join(letters, "letter.txt"), nil, 0o644))
	for _, to := range []string{earlier, letters, s.dir, other.dir, filepath.Join(s.dir, "backup"), filepath.Dir(s.dir)} {
		if err := archive.Backup(context.Background(), s.dir, to, nil); err == nil || !strings.Contains(err.Error(), to) {
			t.Errorf("into %s: %v", to, err)
		}
	}
	if err := archive.Backup(context.Background(), letters, filepath.Join(t.TempDir(), "x"), nil); !errors.Is(err, archive.ErrNoArchive) {
		t.Errorf("from a folder without an archive: %v, want ErrNoArchive", err)
	}
}

func TestABackupIsCompletedWithoutADamagedOriginal(t *testing.T) {
	s, to := newShop(t), t.TempDir()
	s.flip(s.original(1), 1)
	err := archive.Backup(context.Background(), s.dir, to, nil)
	if err == nil || !strings.Contains(err.Error(), string(s.photos[1])) {
		t.Errorf("got %v, want it to name the damaged original", err)
	}
	if got := kindsOf(t, to, archive.Read); !slices.Equal(got, []string{archive.DamageOriginalMissing}) {
		t.Errorf("verify finds %q in the backup, want one original missing", got)
	}
}

// A backup that was broken off is none; the next one completes it.
func TestABackupThatIsBrokenOffIsNone(t *testing.T) {
	s, to := newShop(t), t.TempDir()
	ctx, stop := context.WithCancel(context.Background())
	err := archive.Backup(ctx, s.dir, to, func(done, _ int) {
		if done == 2 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v, want that it was cancelled", err)
	}
	if _, err := archive.Open(context.Background(), to, archive.Read); err == nil {
		t.Error("half a backup was opened")
	}
	backUp(t, s.dir, to)
}

func TestABackupWhileChangesAreKept(t *testing.T) {
	s, to := newShop(t), t.TempDir()
	a := open(t, s.dir, archive.Write)
	b := s.records[0].On(a)
	failed := make(chan error, 1)
	go func() {
		for i := range 60 {
			if err := b.Keep(b.Complain(fmt.Sprint("while it runs ", i))); err != nil {
				failed <- err
				return
			}
		}
		failed <- nil
	}()
	for range 3 {
		backUp(t, s.dir, to)
	}
	s.must(<-failed)
	conformance.Begin(t, a, conformance.Unit, conformance.Began)
	backUp(t, s.dir, to)
}
