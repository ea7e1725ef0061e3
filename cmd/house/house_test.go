// Package house_test keeps the house as DEVELOPERS.md describes it. It reads the
// tables there and holds the source against them, so that the page is the rule
// and not a memory of it. Each gate is also tried on a small bad example, since a
// gate that never shuts looks just like a clean house.
package house_test

import (
	"os"
	"path/filepath"
	"testing"
)

// A gate looks at a module and returns its complaints: one line each, the place
// first.
type gate struct {
	name  string
	check func(*module) []string
}

var gates = []gate{
	{"every package has a room", checkRooms},
	{"imports", checkImports},
	{"libraries", checkLibraries},
	{"test aids", checkTestAids},
	{"writing files", checkWriting},
	{"package names", checkPackageNames},
	{"package comments", checkPackageComments},
	{"doc comments", checkDocComments},
	{"length", checkLength},
	{"toolchain", checkToolchain},
	{"paths in files", checkPathsInFiles},
	{"paths in commits", checkPathsInCommits},
	{"go list agrees", checkListed},
	{"headless", checkHeadless},
}

func TestHouse(t *testing.T) {
	m := loadModule(t, moduleRoot(t))
	if len(m.files) == 0 {
		t.Fatal("found no source")
	}
	for _, g := range gates {
		t.Run(g.name, func(t *testing.T) {
			for _, complaint := range g.check(m) {
				t.Error(complaint)
			}
		})
	}
}

// moduleRoot is the nearest folder upwards that holds a go.mod.
func moduleRoot(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod in any folder above")
		}
		dir = up
	}
}
