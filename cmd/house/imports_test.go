package house_test

import (
	"fmt"
	"go/ast"
	"path"
	"slices"
	"strings"
)

const seeHouse = "(DEVELOPERS.md, The house)"

func checkRooms(m *module) []string {
	var bad []string
	seen := map[string]bool{}
	for _, f := range m.files {
		if seen[f.dir] {
			continue
		}
		seen[f.dir] = true
		if _, ok := m.rules.room(f.dir); !ok {
			bad = append(bad, fmt.Sprintf("%s: this package is in no room %s", f.name, seeHouse))
		}
	}
	return bad
}

func checkImports(m *module) []string {
	var bad []string
	for _, f := range m.files {
		room, ok := m.rules.room(f.dir)
		if !ok {
			continue // checkRooms tells
		}
		for _, imp := range f.imports(m) {
			target, ours := m.ours(imp.name)
			if !ours {
				continue
			}
			other, ok := m.rules.room(target)
			switch {
			case !ok:
				bad = append(bad, fmt.Sprintf("%s: imports %s, which is in no room %s", imp.at, target, seeHouse))
			case other == room, m.rules.allowed[room][other], f.test && f.outer && other == "assets":
			default:
				bad = append(bad, fmt.Sprintf("%s: %s may not import %s %s", imp.at, room, other, seeHouse))
			}
		}
	}
	return bad
}

func checkLibraries(m *module) []string {
	var bad []string
	for _, f := range m.files {
		room, _ := m.rules.room(f.dir)
		for _, imp := range f.imports(m) {
			for _, rule := range m.rules.only {
				if rule.covers(imp.name) && !rule.allows(room, f.name) {
					bad = append(bad, fmt.Sprintf("%s: imports %s, which only %s may %s",
						imp.at, imp.name, strings.Join(rule.places, ", "), seeHouse))
				}
			}
		}
	}
	return bad
}

// checkTestAids keeps what is meant for tests out of the program.
func checkTestAids(m *module) []string {
	aids := []string{"testing", "fyne.io/fyne/v2/test", "pgregory.net/rapid"}
	var bad []string
	for _, f := range m.files {
		// A conformance suite is a package of its own, which only tests import.
		if f.test || m.isTestSuite(f.dir) {
			continue
		}
		for _, imp := range f.imports(m) {
			for _, aid := range aids {
				if imp.name == aid || strings.HasPrefix(imp.name, aid+"/") {
					bad = append(bad, fmt.Sprintf("%s: imports %s outside tests", imp.at, imp.name))
				}
			}
		}
	}
	return bad
}

// isTestSuite tells whether a folder below a room is named for tests and is
// imported by tests alone.
func (m *module) isTestSuite(dir string) bool {
	room, ok := m.rules.room(dir)
	if name := path.Base(dir); !ok || room == dir || name != "conformance" && !strings.HasSuffix(name, "test") {
		return false
	}
	for _, f := range m.files {
		if f.test || f.dir == dir {
			continue
		}
		for _, imp := range f.imports(m) {
			if target, _ := m.ours(imp.name); target == dir {
				return false
			}
		}
	}
	return true
}

var writers = []string{"Create", "CreateTemp", "WriteFile", "OpenFile"}

func checkWriting(m *module) []string {
	i := slices.IndexFunc(m.rules.only, func(o onlyRule) bool { return o.action == "writing files" })
	if i < 0 {
		return []string{"DEVELOPERS.md: The house: no row says where files are written"}
	}
	rule := m.rules.only[i]
	var bad []string
	for _, f := range m.files {
		room, _ := m.rules.room(f.dir)
		if f.test || rule.allows(room, f.name) {
			continue
		}
		name := importedAs(f, m, "os")
		ast.Inspect(f.tree, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && name != "" && x.Name == name && slices.Contains(writers, sel.Sel.Name) {
				bad = append(bad, fmt.Sprintf("%s: os.%s: files are written only in %s %s",
					m.at(sel.Pos()), sel.Sel.Name, strings.Join(rule.places, ", "), seeHouse))
			}
			return true
		})
	}
	return bad
}

// importedAs is the name by which a file knows a package of the standard library,
// or "" where it does not import it.
func importedAs(f *source, m *module, library string) string {
	for i, imp := range f.imports(m) {
		if imp.name == library {
			if alias := f.tree.Imports[i].Name; alias != nil {
				return alias.Name
			}
			return path.Base(library)
		}
	}
	return ""
}
