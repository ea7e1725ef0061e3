//go:build unix

package spec_test

import (
	"os"
	"syscall"
	"testing"

	"fettlebook/assess/spec"
)

// A pipe would be waited on for ever.
func TestAPipeIsNotRead(t *testing.T) {
	folder := t.TempDir()
	if err := syscall.Mkfifo(folder+"/pipe.toml", 0o600); err != nil {
		t.Fatal(err)
	}
	set, problems, err := spec.Load(os.DirFS(ownFolder), os.DirFS(folder))
	if err != nil || set == nil || len(problems) != 1 || problems[0].File != "pipe.toml" {
		t.Errorf("%v %v", problems, err)
	}
}
