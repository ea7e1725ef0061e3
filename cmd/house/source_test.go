package house_test

import (
	"fmt"
	"go/ast"
	"go/token"
	"path"
	"regexp"
	"slices"
	"strings"
)

const (
	maxFileLines     = 500
	maxFunctionLines = 120
)

func checkPackageNames(m *module) []string {
	empty := []string{"util", "utils", "common", "helper", "helpers", "manager", "managers", "misc"}
	var bad []string
	for _, f := range m.files {
		name := f.tree.Name.Name
		if slices.Contains(empty, name) || slices.Contains(empty, path.Base(f.dir)) {
			bad = append(bad, fmt.Sprintf("%s: a package called %s says nothing about what is in it", f.name, name))
		}
	}
	return bad
}

// checkPackageComments wants one comment a package: with none a reader starts in
// the dark, of two one goes stale. A package of tests alone is a package as well.
func checkPackageComments(m *module) []string {
	program := map[string]bool{}
	for _, f := range m.files {
		program[f.dir] = program[f.dir] || !f.test
	}
	comments := map[string][]string{}
	for _, f := range m.files {
		if f.test && program[f.dir] {
			continue
		}
		if _, ok := comments[f.dir]; !ok {
			comments[f.dir] = nil
		}
		if f.tree.Doc.Text() != "" {
			comments[f.dir] = append(comments[f.dir], f.name)
		}
	}
	var bad []string
	for _, dir := range keys(comments) {
		if n := len(comments[dir]); n != 1 {
			bad = append(bad, fmt.Sprintf("%s: %d package comments %v, want one", dir, n, comments[dir]))
		}
	}
	return bad
}

func checkDocComments(m *module) []string {
	var bad []string
	for _, f := range m.files {
		if f.test {
			continue
		}
		for _, name := range undocumented(f.tree) {
			bad = append(bad, fmt.Sprintf("%s: %s has no comment", m.at(name.Pos()), name.Name))
		}
	}
	return bad
}

// undocumented returns the exported names of a file that no comment tells about.
// A comment above a group of constants, variables or aliases counts for each, and
// so does one behind a name on its line.
func undocumented(f *ast.File) []*ast.Ident {
	var bad []*ast.Ident
	want := func(names []*ast.Ident, comments ...*ast.CommentGroup) {
		for _, c := range comments {
			if c.Text() != "" {
				return
			}
		}
		for _, name := range names {
			if name.IsExported() {
				bad = append(bad, name)
			}
		}
	}
	for _, decl := range f.Decls {
		switch d := decl.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil || receiverIsExported(d) && !saysAll(d.Name.Name) {
				want([]*ast.Ident{d.Name}, d.Doc)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch s := spec.(type) {
				case *ast.ValueSpec:
					want(s.Names, d.Doc, s.Doc, s.Comment)
				case *ast.TypeSpec:
					if d.Lparen.IsValid() && !s.Assign.IsValid() {
						want([]*ast.Ident{s.Name}, s.Doc, s.Comment)
					} else {
						want([]*ast.Ident{s.Name}, d.Doc, s.Doc, s.Comment)
					}
					if face, ok := s.Type.(*ast.InterfaceType); ok && s.Name.IsExported() {
						for i, method := range face.Methods.List {
							if !toldAbove(face.Methods.List[:i], method) {
								want(method.Names, method.Doc, method.Comment)
							}
						}
					}
				}
			}
		}
	}
	return bad
}

// toldAbove tells whether the comment of a method above, as of "Put and Get", names
// this one.
func toldAbove(above []*ast.Field, method *ast.Field) bool {
	return len(method.Names) == 1 && slices.ContainsFunc(above, func(other *ast.Field) bool {
		return slices.Contains(strings.Fields(other.Doc.Text()), method.Names[0].Name)
	})
}

// saysAll tells of methods that can mean one thing only.
func saysAll(method string) bool { return method == "Error" || method == "Unwrap" }

func receiverIsExported(d *ast.FuncDecl) bool {
	t := d.Recv.List[0].Type
	for {
		switch x := t.(type) {
		case *ast.StarExpr:
			t = x.X
		case *ast.IndexExpr:
			t = x.X
		case *ast.IndexListExpr:
			t = x.X
		case *ast.Ident:
			return x.IsExported()
		default:
			return false
		}
	}
}

func checkLength(m *module) []string {
	var bad []string
	for _, f := range m.files {
		if f.test {
			continue
		}
		if n := f.lines(); n > maxFileLines {
			bad = append(bad, fmt.Sprintf("%s: %d lines, at most %d: split it by subject", f.name, n, maxFileLines))
		}
		for _, decl := range f.tree.Decls {
			d, ok := decl.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := m.span(d); n > maxFunctionLines {
				bad = append(bad, fmt.Sprintf("%s: %s has %d lines, at most %d", m.at(d.Pos()), d.Name.Name, n, maxFunctionLines))
			}
		}
	}
	return bad
}

// span is a function's length in lines, without its comment.
func (m *module) span(d *ast.FuncDecl) int {
	line := func(p token.Pos) int { return m.fset.Position(p).Line }
	return line(d.End()) - line(d.Type.Pos()) + 1
}

var pinnedToolchain = regexp.MustCompile(`(?m)^toolchain go\d+\.\d+\.\d+$`)

func checkToolchain(m *module) []string {
	if !pinnedToolchain.MatchString(m.goMod) {
		return []string{"go.mod: no toolchain line with a full version: each machine would build with its own"}
	}
	return nil
}
