//go:build linux

package archive_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

// childDoes names what a child process of the test does, and childDir where.
const (
	childDoes = "FETTLEBOOK_TEST_CHILD"
	childDir  = "FETTLEBOOK_TEST_DIR"
)

// TestMain lets the test binary be its own child.
func TestMain(m *testing.M) {
	does, ok := children[os.Getenv(childDoes)]
	if !ok {
		os.Exit(m.Run())
	}
	if err := does(os.Getenv(childDir)); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
}

var children = map[string]func(dir string) error{
	"open": func(dir string) error {
		a, err := archive.Open(context.Background(), dir, archive.Write)
		if err != nil {
			return err
		}
		return a.Close()
	},
	"read":            readAll,
	"append for ever": appendForEver,
	"fill the disk":   fillDisk,
}

// child runs the test binary as another process.
func child(t *testing.T, does, dir string, attr *syscall.SysProcAttr) *exec.Cmd {
	t.Helper()
	// The binary is copied to where another user can read it.
	bin := filepath.Join(open755(t), "child")
	whole, err := os.ReadFile(os.Args[0])
	if err == nil {
		err = os.WriteFile(bin, whole, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), bin)
	cmd.Env = append(os.Environ(), childDoes+"="+does, childDir+"="+dir, "HOME="+os.TempDir())
	cmd.SysProcAttr = attr
	return cmd
}

// open755 is a folder that every user can enter.
func open755(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "archive-trouble-")
	if err == nil {
		err = os.Chmod(dir, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

func begun(t *testing.T, a archive.Archive) *conformance.Bench {
	t.Helper()
	return conformance.Begin(t, a, record.Unit{Type: "four-speed", Serial: "40117"}, conformance.Began)
}

func TestAFolderThatThisUserCantWriteTo(t *testing.T) {
	dir := filepath.Join(open755(t), "archive")
	a, err := archive.Open(t.Context(), dir, archive.Write)
	if err != nil {
		t.Fatal(err)
	}
	begun(t, a)
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	var attr *syscall.SysProcAttr
	if os.Getuid() == 0 {
		attr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	} else if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	out, err := child(t, "open", dir, attr).CombinedOutput()
	if err == nil {
		t.Fatalf("an archive that can't be written to was opened for writing: %s", out)
	}
	for _, want := range []string{dir, archive.ErrNoWrite.Error()} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the message %q does not say %q", out, want)
		}
	}
}

func TestOneWriterAtATime(t *testing.T) {
	dir := t.TempDir()
	a := open(t, dir, archive.Write)
	begun(t, a)
	out, err := child(t, "open", dir, nil).CombinedOutput()
	if err == nil || !strings.Contains(string(out), archive.ErrInUse.Error()) {
		t.Errorf("a second writer in another process gets %v: %s", err, out)
	}
}

// What was acknowledged is there after the program was killed at any moment.
func TestAKilledWriterLosesNothingThatItAcknowledged(t *testing.T) {
	dir := t.TempDir()
	cmd := child(t, "append for ever", dir, nil)
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	var id record.ID
	acknowledged := 0
	for lines := bufio.NewScanner(out); lines.Scan() && acknowledged < 40; {
		if _, err := fmt.Sscanf(lines.Text(), "%s %d", &id, &acknowledged); err != nil {
			t.Fatalf("the child said %q", lines.Text())
		}
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait() // it was killed
	a := open(t, dir, archive.Write)
	stored, err := a.Load(t.Context(), id, 0)
	if err != nil || int(stored.Revision) < acknowledged {
		t.Errorf("revision %d (%v), acknowledged were %d", stored.Revision, err, acknowledged)
	}
	damages, err := a.Verify(t.Context(), nil)
	if err != nil || len(damages) > 0 {
		t.Errorf("after the kill: %v, %v", damages, err)
	}
}

// loud ends the child where a test would end.
type loud struct{}

func (loud) Helper()                   {}
func (loud) Fatal(args ...any)         { fmt.Println(args...); os.Exit(1) }
func (loud) Fatalf(f string, a ...any) { fmt.Printf(f+"\n", a...); os.Exit(1) }

func appendForEver(dir string) error {
	a, err := archive.Open(context.Background(), dir, archive.Write)
	if err != nil {
		return err
	}
	b := conformance.Begin(loud{}, a, record.Unit{Type: "four-speed"}, conformance.Began)
	for i := 2; ; i++ {
		if err := b.Keep(b.Complain(fmt.Sprintf("complaint %d", i))); err != nil {
			return err
		}
		fmt.Println(b.ID(), int(b.Base()))
	}
}

// A full disk is made with a small file system in memory, in a child that has
// mounts of its own.
func TestAFullDiskLosesNothing(t *testing.T) {
	attr := &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNS}
	if os.Getuid() != 0 {
		attr.Cloneflags |= syscall.CLONE_NEWUSER
		attr.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}}
		attr.GidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}
	}
	if out, err := child(t, "fill the disk", t.TempDir(), attr).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

func fillDisk(dir string) error {
	ctx := context.Background()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=12m"); err != nil {
		return fmt.Errorf("mount a small file system: %w", err)
	}
	a, err := archive.Open(ctx, filepath.Join(dir, "archive"), archive.Write)
	if err != nil {
		return err
	}
	b := conformance.Begin(loud{}, a, record.Unit{Type: "four-speed"}, conformance.Began)
	filler := filepath.Join(dir, "filler")
	if err := fillUp(filler); err != nil {
		return err
	}
	if _, err := a.Put(ctx, strings.NewReader(strings.Repeat("photo", 20_000))); !errors.Is(err, archive.ErrFull) {
		return fmt.Errorf("a photo on a full disk gives %w", err)
	}
	step := b.Complain(strings.Repeat("long complaint ", 20_000))
	if err := b.Keep(step); !errors.Is(err, archive.ErrFull) {
		return fmt.Errorf("a change on a full disk gives %w", err)
	}
	if err := os.Remove(filler); err != nil {
		return err
	}
	if err := b.Keep(step); err != nil {
		return fmt.Errorf("with room made, the change gives %w", err)
	}
	if damages, err := a.Verify(ctx, nil); err != nil || len(damages) > 0 {
		return fmt.Errorf("afterwards: %v, %w", damages, err)
	}
	return a.Close()
}

// fillUp writes a file until nothing more fits.
func fillUp(path string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, size := range []int{64 << 10, 1 << 10, 1} {
		for piece := make([]byte, size); ; {
			if _, err := f.Write(piece); errors.Is(err, syscall.ENOSPC) {
				break
			} else if err != nil && !errors.Is(err, io.ErrShortWrite) {
				return err
			}
		}
	}
	return nil
}
