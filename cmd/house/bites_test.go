package house_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// sound is a small house in good order. Every bad example is this one with a few
// files laid over it, so that nothing else can be what its gate complains of.
const sound = `
-- go.mod --
module fettlebook

go 1.26.0

toolchain go1.26.8

require fyne.io/fyne/v2 v2.0.0

replace fyne.io/fyne/v2 => ./stub/fyne
-- stub/fyne/go.mod --
module fyne.io/fyne/v2

go 1.26.0
-- stub/fyne/fyne.go --
package fyne
-- stub/fyne/test/test.go --
package test
-- assess/term/term.go --
// Package term is here for the gates.
package term

// Crack is a word.
const Crack = "crack"

// A Word is a word.
type Word string

// String is the word.
func (w Word) String() string { return string(w) }

func (w Word) Error() string { return "" }
-- assess/spec/spec.go --
// Package spec may import term and the standard library.
package spec

import (
	"os"

	"fettlebook/assess/term"
)

var word, _ = os.ReadFile(term.Crack)
-- assess/spec/spec_test.go --
package spec_test

import (
	_ "testing"

	_ "fettlebook/assess/spec"
	_ "fettlebook/assets"
)
-- assess/archive/archive.go --
// Package archive may write.
package archive

import "os"

var file, _ = os.Create("")
-- assets/assets.go --
// Package assets holds bytes.
package assets
-- ui/ui.go --
// Package ui is the window.
package ui

import _ "fyne.io/fyne/v2"
-- ui/ui_test.go --
package ui_test

import _ "fyne.io/fyne/v2/test"
-- cmd/fettlebook/main.go --
// Command fettlebook is here for the gates.
package main

import _ "fettlebook/assess/archive"

func main() {}
-- cmd/fettlebook/window.go --
//go:build !headless

package main

import _ "fettlebook/ui"
`

// bad examples: the gate that must complain, a piece of its complaint, the files.
var bad = []struct{ name, gate, complaint, files string }{
	{"a new room", "every package has a room", "assess/cellar/cellar.go: this package is in no room",
		"-- assess/cellar/cellar.go --\npackage cellar\n"},
	{"a new command", "every package has a room", "cmd/other/main.go",
		"-- cmd/other/main.go --\npackage main\n"},
	{"source at the top", "every package has a room", "x.go",
		"-- x.go --\npackage fettlebook\n"},
	{"upwards", "imports", "assess/term/x.go:3: assess/term may not import assess/spec",
		"-- assess/term/x.go --\npackage term\n\nimport _ \"fettlebook/assess/spec\"\n"},
	{"on another system only", "imports", "assess/term may not import assess/archive",
		"-- assess/term/x_windows.go --\npackage term\n\nimport _ \"fettlebook/assess/archive\"\n"},
	{"in the headless program only", "imports", "assess/term may not import assess/archive",
		"-- assess/term/x.go --\n//go:build headless\n\npackage term\n\nimport _ \"fettlebook/assess/archive\"\n"},
	{"the window past inspection", "imports", "ui may not import assess/archive",
		"-- ui/x.go --\npackage ui\n\nimport _ \"fettlebook/assess/archive\"\n"},
	{"from a folder below a room", "imports", "assess/spec may not import assess/archive",
		"-- assess/spec/inner/x.go --\npackage inner\n\nimport _ \"fettlebook/assess/archive\"\n"},
	{"in a test", "imports", "assess/term may not import assess/spec",
		"-- assess/term/x_test.go --\npackage term_test\n\nimport _ \"fettlebook/assess/spec\"\n"},
	{"assets in an inner test", "imports", "assess/spec may not import assets",
		"-- assess/spec/x_test.go --\npackage spec\n\nimport _ \"fettlebook/assets\"\n"},
	{"a room that is not there", "imports", "imports assess/cellar, which is in no room",
		"-- assess/spec/x.go --\npackage spec\n\nimport _ \"fettlebook/assess/cellar\"\n"},
	{"Fyne below the window", "libraries", "assess/term/x.go:3: imports fyne.io/fyne/v2/canvas",
		"-- assess/term/x.go --\npackage term\n\nimport _ \"fyne.io/fyne/v2/canvas\"\n"},
	{"Fyne in the command", "libraries", "cmd/fettlebook/x.go:3: imports fyne.io/fyne/v2/app",
		"-- cmd/fettlebook/x.go --\npackage main\n\nimport _ \"fyne.io/fyne/v2/app\"\n"},
	{"SQLite outside the archive", "libraries", "imports modernc.org/sqlite",
		"-- assess/inspection/x.go --\npackage inspection\n\nimport _ \"modernc.org/sqlite\"\n"},
	{"SQL outside the archive", "libraries", "imports database/sql",
		"-- cmd/fettlebook/x_test.go --\npackage main_test\n\nimport _ \"database/sql\"\n"},
	{"gofpdf outside its room", "libraries", "imports github.com/jung-kurt/gofpdf",
		"-- report/x.go --\npackage report\n\nimport _ \"github.com/jung-kurt/gofpdf\"\n"},
	{"Fyne's test driver in the window", "test aids", "ui/x.go:3: imports fyne.io/fyne/v2/test outside tests",
		"-- ui/x.go --\npackage ui\n\nimport _ \"fyne.io/fyne/v2/test\"\n"},
	{"testing in the program", "test aids", "imports testing/fstest outside tests",
		"-- assess/spec/x.go --\npackage spec\n\nimport _ \"testing/fstest\"\n"},
	{"a test suite that the program uses", "test aids", "assess/archive/archivetest/x.go:3: imports testing",
		"-- assess/archive/archivetest/x.go --\npackage archivetest\n\nimport _ \"testing\"\n" +
			"-- assess/archive/x.go --\npackage archive\n\nimport _ \"fettlebook/assess/archive/archivetest\"\n"},
	{"a file written", "writing files", "assess/spec/x.go:5: os.WriteFile",
		"-- assess/spec/x.go --\npackage spec\n\nimport \"os\"\n\nvar err = os.WriteFile(\"\", nil, 0)\n"},
	{"a file written by another name", "writing files", "os.OpenFile",
		"-- ui/x.go --\npackage ui\n\nimport disk \"os\"\n\nvar open = disk.OpenFile\n"},
	{"an empty name", "package names", "assess/spec/util/x.go",
		"-- assess/spec/util/x.go --\npackage util\n"},
	{"an empty name of a folder only", "package names", "ui/common/x.go",
		"-- ui/common/x.go --\npackage pieces\n"},
	{"no package comment", "package comments", "assess/term: 0 package comments",
		"-- assess/term/term.go --\npackage term\n"},
	{"two package comments", "package comments", "assess/term: 2 package comments",
		"-- assess/term/x.go --\n// Package term once more.\npackage term\n"},
	{"a build tag is no package comment", "package comments", "assess/term: 0 package comments",
		"-- assess/term/term.go --\n//go:build linux\npackage term\n"},
	{"a function", "doc comments", "assess/term/x.go:3: Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\nfunc Bare() {}\n"},
	{"a type", "doc comments", "Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\ntype Bare int\n"},
	{"a type in a group", "doc comments", "Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\n// All of them.\ntype (\n\tBare int\n)\n"},
	{"an alias", "doc comments", "Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\ntype (\n\tBare = int\n)\n"},
	{"a method", "doc comments", "Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\nfunc (w *Word) Bare() {}\n"},
	{"a method of an interface", "doc comments", "x.go:4: Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\n// A Face has one.\ntype Face interface{ Bare() }\n"},
	{"a method beside one that is told of", "doc comments", "x.go:7: Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\n// A Face has some.\ntype Face interface {\n\t// Put and Get are told of.\n\tPut()\n\tBare()\n\tGet()\n}\n"},
	{"a constant", "doc comments", "Bare has no comment",
		"-- assess/term/x.go --\npackage term\n\nconst (\n\t// Told is told of.\n\tTold = 1\n\tBare = 2\n)\n"},
	{"a long file", "length", "assess/term/x.go: 501 lines",
		"-- assess/term/x.go --\npackage term\n" + strings.Repeat("\n", 500)},
	{"a long function", "length", "assess/term/x.go:3: long has 121 lines",
		"-- assess/term/x.go --\npackage term\n\nfunc long() {" + strings.Repeat("\n", 120) + "}\n"},
	{"any toolchain", "toolchain", "no toolchain line",
		"-- go.mod --\nmodule fettlebook\n\ngo 1.26\n"},
	{"a path in source", "paths in files", "assess/term/x.go:3",
		"-- assess/term/x.go --\npackage term\n\n// See /ho" + "me/someone/notes.\n"},
	{"a path in a hidden file", "paths in files", ".ci/run:1",
		"-- .ci/run --\ncd /wo" + "rk/main\n"},
	{"a registry", "paths in files", "README.md:1",
		"-- README.md --\nFetch it from https://pro" + "xy.golang.org/x\n"},
	{"Fyne by a detour", "headless", "headless: fyne.io/fyne/v2 is in it, by way of [fettlebook/ui]",
		"-- cmd/fettlebook/x.go --\npackage main\n\nimport _ \"fettlebook/ui\"\n"},
	{"C in the program", "headless", "headless: fettlebook/assess/archive has C in it",
		"-- assess/archive/x.go --\npackage archive\n\nimport \"C\"\n"},
	{"the go tool sees nothing", "go list agrees", "go list",
		"-- go.mod --\nmodule fettlebook\n\ngo 1.26.0\n\nrequire example.org/gone v1.0.0\n-- ui/x.go --\npackage ui\n\nimport _ \"example.org/gone\"\n"},
}

// layOut writes a house into a folder of its own; later files replace earlier
// ones. The rules are the real ones.
func layOut(t *testing.T, archives ...string) *module {
	t.Helper()
	root := t.TempDir()
	page, err := os.ReadFile(filepath.Join(moduleRoot(t), "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	write := func(name string, content []byte) {
		file := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("DEVELOPERS.md", page)
	for _, a := range archives {
		for _, f := range txtar.Parse([]byte(a)).Files {
			write(f.Name, f.Data)
		}
	}
	return loadModule(t, root)
}

// TestGatesLetPass shows that the examples below are bad only in what they add.
func TestGatesLetPass(t *testing.T) {
	m := layOut(t, sound,
		"-- assess/archive/conformance/suite.go --\n// Package conformance is a suite for tests.\npackage conformance\n\nimport _ \"testing\"\n")
	for _, g := range gates {
		for _, complaint := range g.check(m) {
			t.Errorf("%s: %s", g.name, complaint)
		}
	}
}

func TestGatesBite(t *testing.T) {
	checks := map[string]func(*module) []string{}
	untried := map[string]bool{"paths in commits": false} // tried below
	for _, g := range gates {
		checks[g.name] = g.check
		if _, known := untried[g.name]; !known {
			untried[g.name] = true
		}
	}
	for _, c := range bad {
		untried[c.gate] = false
		t.Run(c.gate+"/"+c.name, func(t *testing.T) {
			complaints := checks[c.gate](layOut(t, sound, c.files))
			if got := strings.Join(complaints, "\n"); !strings.Contains(got, c.complaint) {
				t.Errorf("complaints:\n%s\nwant one with:\n%s", got, c.complaint)
			}
		})
	}
	for name, is := range untried {
		if is {
			t.Errorf("gate %q has no bad example", name)
		}
	}
}

func TestCommitMessagesBite(t *testing.T) {
	m := layOut(t, sound)
	git := func(args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=x", "-c", "user.email=x@example.org"}, args...)...)
		cmd.Dir = m.root
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v: %s", args, err, out)
		}
	}
	git("init", "-q")
	git("commit", "-q", "--allow-empty", "-m", "Say nothing of the machine")
	if got := checkPathsInCommits(m); len(got) != 0 {
		t.Fatalf("complains of a clean history: %v", got)
	}
	git("commit", "-q", "--allow-empty", "-m", "Fix it", "-m", "Seen in /wo"+"rk/main/ui.")
	if got := checkPathsInCommits(m); len(got) != 1 {
		t.Fatalf("complaints: %v, want one", got)
	}
}

// TestBadPagesAreRefused keeps a slip of the pen in the tables from loosening the
// rules without a word.
func TestBadPagesAreRefused(t *testing.T) {
	page := func(drawing, rows string) string {
		return "# x\n\n## The house\n\n```\n" + drawing + "\n```\n\n| room | may import |\n| --- | --- |\n" + rows +
			"\n\n| what | only in |\n| --- | --- |\n| writing files | ui |\n\n## Next\n"
	}
	if _, err := parseRules(page("ui      x\nassess  x", "| assess | nothing |\n| ui | assess |")); err != nil {
		t.Fatalf("refuses a good page: %v", err)
	}
	for _, c := range []struct{ name, page, want string }{
		{"no section", "# x\n", "no section"},
		{"no drawing", "\n## The house\n", "no drawing"},
		{"no table", "\n## The house\n```\nui   x\n```\n", "missing"},
		{"a room without a row", page("ui      x\nassess  x", "| ui | nothing |"), "assess is drawn"},
		{"a row without a room", page("ui      x", "| ui | nothing |\n| cellar | nothing |"), `"cellar" is no room`},
		{"a slip in what may be imported", page("ui      x", "| ui | anythin |"), `"anythin" is no room`},
		{"two rows", page("ui      x", "| ui | nothing |\n| ui | anything |"), "two rows"},
		{"three cells", page("ui      x", "| ui | nothing | much |"), "without two cells"},
	} {
		if _, err := parseRules(c.page); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an error with %q", c.name, err, c.want)
		}
	}
}
