//go:build linux

package archive_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

// readAll prints every record of an archive with its newest revision.
func readAll(dir string) error {
	ctx := context.Background()
	a, err := archive.Open(ctx, dir, archive.Read)
	if err != nil {
		return err
	}
	page, err := a.Find(ctx, archive.Query{})
	if err != nil {
		return err
	}
	for _, row := range page.Rows {
		stored, err := a.Load(ctx, row.Record, 0)
		if err != nil {
			return err
		}
		fmt.Println(row.Record, int(stored.Revision))
	}
	return a.Close()
}

// stranger is a user who may read the folder and not write to it.
func stranger(t *testing.T, dir string) *syscall.SysProcAttr {
	t.Helper()
	if os.Getuid() == 0 {
		return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
	return nil
}

func readBy(t *testing.T, dir string, attr *syscall.SysProcAttr, want *conformance.Bench) {
	t.Helper()
	out, err := child(t, "read", dir, attr).CombinedOutput()
	line := fmt.Sprintln(want.ID(), int(want.Base()))
	if err != nil || string(out) != line {
		t.Errorf("the reader says %q, %v; want %q", out, err, line)
	}
}

func TestReadersInOtherProcessesSeeEachCommit(t *testing.T) {
	dir := filepath.Join(open755(t), "archive")
	a := open(t, dir, archive.Write)
	b := begun(t, a)
	for _, text := range []string{"howls", "rattles"} {
		b.MustKeep(b.Complain(text))
		readBy(t, dir, nil, b)
		readBy(t, dir, stranger(t, dir), b)
	}
}

// A user who can't write reads an archive that nobody has open: what readers
// share was left in place for that.
func TestAnArchiveThatWasClosedIsReadWithoutTheRightToWrite(t *testing.T) {
	dir := filepath.Join(open755(t), "archive")
	a := open(t, dir, archive.Write)
	b := begun(t, a)
	b.MustKeep(b.Complain("howls"))
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	readBy(t, dir, stranger(t, dir), b)
	for _, name := range []string{"archive.db-wal", "archive.db-shm"} {
		if err := os.Remove(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	out, err := child(t, "read", dir, stranger(t, dir)).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "archive.db-shm") || !strings.Contains(string(out), dir) {
		t.Errorf("without them the reader says %q, %v", out, err)
	}
}

func TestAReaderIsToldWhatAnotherProcessKeeps(t *testing.T) {
	s := newShop(t)
	a := open(t, s.dir, archive.Read)
	told, err := a.Watch(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	cmd := child(t, "append for ever", s.dir, nil)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait() // it was killed
	}()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	id, _, _ := strings.Cut(line, " ")
	conformance.Heard(t, told, record.ID(id))
}
