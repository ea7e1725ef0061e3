package spec_test

import (
	"os"
	"testing"

	"fettlebook/assess/spec"
)

const (
	ownFolder  = "../../assets/specs"
	demoFolder = "../../assets/demo/specs"
)

// own loads the program's own specs.
func own(tb testing.TB) *spec.Set {
	tb.Helper()
	set, problems, err := spec.Load(os.DirFS(ownFolder), nil)
	if err != nil {
		tb.Fatalf("%v\n%v", err, problems)
	}
	return set
}
