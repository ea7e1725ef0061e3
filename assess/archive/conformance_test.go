package archive_test

import (
	"context"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
)

// open opens an archive and closes it when the test ends.
func open(t testing.TB, dir string, mode archive.Mode) archive.Archive {
	t.Helper()
	a, err := archive.Open(context.Background(), dir, mode)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := a.Close(); err != nil {
			t.Error(err)
		}
	})
	return a
}

func TestTheFolderEngineConforms(t *testing.T) {
	conformance.Run(t, func(t *testing.T) archive.Archive { return open(t, t.TempDir(), archive.Write) })
}
