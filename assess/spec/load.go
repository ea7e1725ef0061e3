package spec

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"

	"github.com/pelletier/go-toml/v2"

	"fettlebook/assess/term"
)

// Problem is why a file was refused: a line for syntax and types, a table and
// a name for meaning.
type Problem struct {
	File string
	// Line is 1 or more for syntax and types, 0 for meaning.
	Line  int
	Where string
	Text  string
}

func (p Problem) Error() string {
	switch {
	case p.Line > 0:
		return fmt.Sprintf("%s, line %d: %s", p.File, p.Line, p.Text)
	case p.Where != "":
		return fmt.Sprintf("%s: %s: %s", p.File, p.Where, p.Text)
	}
	return fmt.Sprintf("%s: %s", p.File, p.Text)
}

// maxFile is the largest spec file that is read, in bytes.
const maxFile = 4 << 20

// Load reads the program's own specs and then the user's, each *.toml below
// the root of its file system in the order of their names; the user's may be
// nil. A user's file with a problem is left out whole and its problems are
// returned; the rest is in force. A problem in the program's own files is an
// error.
func Load(own, users fs.FS) (*Set, []Problem, error) {
	set := &Set{from: map[string]string{}}
	files, problems := readAll(own)
	for _, f := range files {
		set = set.with(f)
	}
	problems = append(problems, set.check()...)
	if len(problems) > 0 {
		return nil, problems, fmt.Errorf("the program's own specs are not sound: %w", problems[0])
	}
	if users == nil {
		return set, nil, nil
	}
	files, problems = readAll(users)
	for _, f := range files {
		next := set.with(f)
		if found := next.check(); len(found) > 0 {
			for _, p := range found {
				p.File = f.name
				problems = append(problems, p)
			}
			continue
		}
		set = next
	}
	return set, problems, nil
}

type named struct {
	name string
	File
}

// readAll parses every TOML file below a root. A file that can't be parsed is a
// problem, not an error.
func readAll(root fs.FS) ([]named, []Problem) {
	var files []named
	var problems []Problem
	err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			problems = append(problems, Problem{File: name, Text: fmt.Sprintf("can't be read: %v", err)})
			return nil
		}
		if entry.IsDir() || path.Ext(name) != ".toml" {
			return nil
		}
		f, found := readFile(root, name)
		problems = append(problems, found...)
		if len(found) == 0 {
			files = append(files, named{name: name, File: f})
		}
		return nil
	})
	if err != nil {
		problems = append(problems, Problem{File: ".", Text: err.Error()})
	}
	return files, problems
}

func readFile(root fs.FS, name string) (File, []Problem) {
	if info, err := fs.Stat(root, name); err == nil && info.Size() > maxFile {
		return File{}, []Problem{{File: name, Text: "is larger than 4 MB; that is no spec"}}
	}
	b, err := fs.ReadFile(root, name)
	if err != nil {
		return File{}, []Problem{{File: name, Text: fmt.Sprintf("can't be read: %v", err)}}
	}
	return Parse(name, b)
}

// Parse reads one file's TOML strictly: unknown keys and words are refused with
// their line.
func Parse(name string, b []byte) (File, []Problem) {
	var f File
	err := toml.NewDecoder(bytes.NewReader(b)).DisallowUnknownFields().Decode(&f)
	var missing *toml.StrictMissingError
	var bad *toml.DecodeError
	switch {
	case err == nil:
		return f, nil
	case errors.As(err, &missing):
		problems := make([]Problem, len(missing.Errors))
		for i := range missing.Errors {
			line, _ := missing.Errors[i].Position()
			key := missing.Errors[i].Key()
			problems[i] = Problem{File: name, Line: line, Text: fmt.Sprintf("the key %q is not known here", key[len(key)-1])}
		}
		return File{}, problems
	case errors.As(err, &bad):
		line, _ := bad.Position()
		return File{}, []Problem{{File: name, Line: line, Text: bad.Error()}}
	}
	return File{}, []Problem{{File: name, Text: err.Error()}}
}

// with returns the set with a file's tables added or put in place of those with
// their ids.
func (s *Set) with(f named) *Set {
	next := &Set{
		damages: clone(s.damages), causes: clone(s.causes), kinds: clone(s.kinds), units: clone(s.units), pairs: clone(s.pairs),
		rules: slices.Clone(s.rules), from: clone(s.from),
	}
	for i := range f.Damage {
		next.damages[f.Damage[i].ID] = &f.Damage[i]
		next.from["damage "+string(f.Damage[i].ID)] = f.name
	}
	for i := range f.Cause {
		next.causes[f.Cause[i].ID] = &f.Cause[i]
		next.from["cause "+f.Cause[i].ID] = f.name
	}
	for i := range f.Kind {
		next.kinds[f.Kind[i].ID] = &f.Kind[i]
		next.from["kind "+f.Kind[i].ID] = f.name
	}
	for i := range f.Unit {
		next.units[f.Unit[i].ID] = &f.Unit[i]
		next.from["unit "+f.Unit[i].ID] = f.name
	}
	for i := range f.Pair {
		next.pairs[f.Pair[i].ID] = &f.Pair[i]
		next.from["pair "+f.Pair[i].ID] = f.name
	}
	for i := range f.Rule {
		r := &f.Rule[i]
		if at := slices.IndexFunc(next.rules, func(old *Rule) bool { return old.ID == r.ID }); at >= 0 {
			next.rules[at] = r
		} else {
			next.rules = append(next.rules, r)
		}
		next.from["rule "+r.ID] = f.name
	}
	slices.SortFunc(next.rules, func(a, b *Rule) int { return compare(a.ID, b.ID) })
	next.index()
	return next
}

// index sorts the rows by damage, the narrowest first.
func (s *Set) index() {
	s.byDamage = map[term.Damage][]*Rule{}
	for _, r := range s.rules {
		for _, d := range r.Damage {
			s.byDamage[d] = append(s.byDamage[d], r)
		}
	}
	for _, rows := range s.byDamage {
		slices.SortStableFunc(rows, narrower)
	}
}

func clone[K comparable, V any](m map[K]V) map[K]V {
	if m == nil {
		return map[K]V{}
	}
	return maps.Clone(m)
}

func compare(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
