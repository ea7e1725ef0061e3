//go:build unix

package photo_test

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fettlebook/assess/photo"
)

// unreadablePath tells a child of this test which file to try.
const unreadablePath = "FETTLEBOOK_UNREADABLE_PHOTO"

// TestUnreadableFile takes in a file that its user may not read. Root may
// read every file, so as root the test runs again as nobody, from a copy of
// the test program that nobody can reach. It fails, and never skips, where
// that cannot be done.
func TestUnreadableFile(t *testing.T) {
	if path := os.Getenv(unreadablePath); path != "" {
		if os.Geteuid() == 0 {
			t.Fatal("the child still runs as root")
		}
		checkRefusal(t, take(t.Context(), path), filepath.Base(path), photo.Unreadable,
			"the file may not be read (permission denied); allow your user to read it")
		return
	}
	dir, err := os.MkdirTemp("", "photo unreadable ")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	locked := filepath.Join(dir, "locked.jpg")
	if err := os.WriteFile(locked, smallPhoto(t), 0o000); err != nil {
		t.Fatal(err)
	}
	closed := filepath.Join(dir, "closed")
	inside := filepath.Join(closed, "inside.jpg")
	if err := os.Mkdir(closed, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(inside, smallPhoto(t), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(closed, 0o000); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(closed, 0o700) })
	for _, path := range []string{locked, inside} {
		if os.Geteuid() != 0 {
			checkRefusal(t, take(t.Context(), path), filepath.Base(path), photo.Unreadable, "may not be read")
			continue
		}
		runAsNobody(t, dir, path)
	}
}

func runAsNobody(t *testing.T, dir, path string) {
	t.Helper()
	program := filepath.Join(dir, "photo.test")
	if err := copyProgram(program); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "-test.run=^TestUnreadableFile$", "-test.v")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), unreadablePath+"="+path)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("as nobody: %v\n%s", err, out)
	}
	if !strings.Contains(string(out), "--- PASS: TestUnreadableFile") {
		t.Fatalf("the child tested nothing:\n%s", out)
	}
}

func copyProgram(to string) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	in, err := os.Open(self)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o755)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if cerr := out.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return fmt.Errorf("copy of the test program: %w", err)
	}
	return os.Chmod(to, 0o755) // whatever the umask made of it
}

func TestPipeIsNotWaitedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.jpg")
	if err := syscall.Mkfifo(path, 0o644); err != nil {
		t.Fatal(err)
	}
	checkRefusal(t, take(t.Context(), path), "pipe.jpg", photo.NotAPhoto, "not a file")
	checkRefusal(t, take(t.Context(), os.DevNull), filepath.Base(os.DevNull), photo.NotAPhoto, "device")
}
