package house_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A module is the source as it lies in the folders, whatever the build tags and
// the system: a rule that holds only for the files of one system is none.
type module struct {
	root  string // folder, in the system's own form
	path  string // module path, from go.mod
	goMod string
	fset  *token.FileSet
	files []*source
	texts []string // every other file that holds text, slash path from the root
	rules *rules
}

// A source is one Go file.
type source struct {
	name  string // slash path from the root
	dir   string // its folder, slash path from the root
	test  bool   // a _test.go file
	outer bool   // of an external test package
	tree  *ast.File
	bytes []byte
}

func (s *source) lines() int { return bytes.Count(s.bytes, []byte("\n")) }

// imports returns each imported path and where it stands.
func (s *source) imports(m *module) []place {
	var all []place
	for _, spec := range s.tree.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err == nil {
			all = append(all, place{m.at(spec.Pos()), name})
		}
	}
	return all
}

type place struct{ at, name string }

// at is file:line with the file's slash path from the root.
func (m *module) at(pos token.Pos) string {
	p := m.fset.Position(pos)
	return p.Filename + ":" + strconv.Itoa(p.Line)
}

// ours cuts the module path off an import of ours: "fettlebook/assess/term" gives
// "assess/term".
func (m *module) ours(imported string) (string, bool) {
	return strings.CutPrefix(imported, m.path+"/")
}

var modulePath = regexp.MustCompile(`(?m)^module (\S+)$`)

func loadModule(t *testing.T, root string) *module {
	t.Helper()
	m := &module{root: root, fset: token.NewFileSet()}
	m.goMod = string(m.mustRead(t, "go.mod"))
	found := modulePath.FindStringSubmatch(m.goMod)
	if found == nil {
		t.Fatal("go.mod names no module")
	}
	m.path = found[1]
	if err := m.walk(); err != nil {
		t.Fatal(err)
	}
	var err error
	if m.rules, err = parseRules(string(m.mustRead(t, "DEVELOPERS.md"))); err != nil {
		t.Fatal(err)
	}
	return m
}

func (m *module) mustRead(t *testing.T, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(m.root, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// walk reads every file of the module: Go source where the go tool would look for
// it, and text everywhere but in what git or a build keeps for itself.
func (m *module) walk() error {
	return filepath.WalkDir(m.root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(m.root, file)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		if name == ".git" && !d.IsDir() {
			return nil // a second working tree
		}
		if d.IsDir() {
			if name == ".git" || name == "bin" || name != "." && isModule(file) {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.Type().IsRegular() {
			return nil
		}
		if path.Ext(name) == ".go" && !ignoredByGo(name) {
			return m.addSource(name)
		}
		m.texts = append(m.texts, name)
		return nil
	})
}

func isModule(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, "go.mod"))
	return err == nil
}

func ignoredByGo(name string) bool {
	for _, part := range strings.Split(name, "/") {
		if part == "testdata" || strings.HasPrefix(part, ".") || strings.HasPrefix(part, "_") {
			return true
		}
	}
	return false
}

func (m *module) addSource(name string) error {
	b, err := os.ReadFile(filepath.Join(m.root, filepath.FromSlash(name)))
	if err != nil {
		return err
	}
	tree, err := parser.ParseFile(m.fset, name, b, parser.ParseComments|parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	m.files = append(m.files, &source{
		name:  name,
		dir:   path.Dir(name),
		test:  strings.HasSuffix(name, "_test.go"),
		outer: strings.HasSuffix(tree.Name.Name, "_test"),
		tree:  tree,
		bytes: b,
	})
	return nil
}
