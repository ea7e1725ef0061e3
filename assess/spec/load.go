package spec

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"github.com/pelletier/go-toml/v2"
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

// maxDepth is how many brackets may stand open in a file. A spec needs a
// handful; the TOML reader goes one call deeper with each.
const maxDepth = 1000

// Load reads the program's own specs and then the user's, each *.toml below
// the root of its file system in the order of their names; the user's may be
// nil, or a folder that is not there. A user's file with a problem is left out
// whole and its problems are returned; the rest is in force, and a file may
// lean on another whatever their names. A problem in the program's own files is
// an error.
func Load(own, users fs.FS) (*Set, []Problem, error) {
	files, problems := readAll(own)
	set := newSet()
	for i := range files {
		set.add(&files[i])
	}
	set.index()
	var usersFiles []named
	var refused []Problem
	if users != nil {
		usersFiles, refused = readAll(users)
	}
	// As a rule everything fits together, and one check does.
	if len(problems) == 0 && len(usersFiles) > 0 {
		if all := set.with(usersFiles...); len(all.check()) == 0 {
			return all, refused, nil
		}
	}
	problems = append(problems, set.check()...)
	if len(problems) > 0 {
		return nil, problems, fmt.Errorf("the program's own specs are not sound: %w", problems[0])
	}
	set, found := set.withUsers(usersFiles)
	return set, append(refused, found...), nil
}

// withUsers puts the user's files over the set one by one. What was refused is
// tried again while others come in on which it may lean.
func (s *Set) withUsers(files []named) (*Set, []Problem) {
	set, open := s, files
	for {
		var refused []named
		var problems []Problem
		for _, f := range open {
			next := set.with(f)
			found := next.check()
			if len(found) == 0 {
				set = next
				continue
			}
			refused = append(refused, f)
			problems = append(problems, blame(f.name, found)...)
		}
		if len(refused) == len(open) {
			return set, problems
		}
		open = refused
	}
}

// blame names the file that was added as the one with the problems: what was in
// force before it had none.
func blame(file string, problems []Problem) []Problem {
	for i := range problems {
		problems[i].File = file
	}
	return problems
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
	// The walk itself never fails: what can't be read is told and passed over.
	_ = fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil && name == "." && errors.Is(err, fs.ErrNotExist):
			return nil
		case err != nil && name == ".":
			problems = append(problems, Problem{File: name, Text: fmt.Sprintf("the folder of specs can't be read: %v", err)})
			return nil
		case err != nil:
			problems = append(problems, Problem{File: name, Text: fmt.Sprintf("can't be read: %v", err)})
			return nil
		case path.Ext(name) != ".toml" || entry.IsDir():
			return nil
		}
		f, found := readFile(root, name)
		problems = append(problems, found...)
		if len(found) == 0 {
			files = append(files, named{name: name, File: f})
		}
		return nil
	})
	return files, problems
}

func readFile(root fs.FS, name string) (File, []Problem) {
	unreadable := func(err error) (File, []Problem) {
		return File{}, []Problem{{File: name, Text: fmt.Sprintf("can't be read: %v", err)}}
	}
	// A pipe or a device named *.toml would be waited on for ever.
	info, err := fs.Stat(root, name)
	if err != nil {
		return unreadable(err)
	}
	if !info.Mode().IsRegular() {
		return unreadable(errors.New("it is no ordinary file"))
	}
	file, err := root.Open(name)
	if err != nil {
		return unreadable(err)
	}
	defer file.Close()
	b, err := io.ReadAll(io.LimitReader(file, maxFile+1))
	if err != nil {
		return unreadable(err)
	}
	return Parse(name, b)
}

// Parse reads one file's TOML strictly: unknown keys and words are refused with
// their line, and so is a file of over 4 MB.
func Parse(name string, b []byte) (File, []Problem) {
	if len(b) > maxFile {
		return File{}, []Problem{{File: name, Text: "is larger than 4 MB; that is no spec"}}
	}
	if line := tooDeep(b); line > 0 {
		return File{}, []Problem{{File: name, Line: line, Text: "more than 1000 brackets stand open here"}}
	}
	if problems := strict(name, b); len(problems) > 0 {
		return File{}, problems
	}
	var f File
	err := toml.Unmarshal(b, &f)
	var bad *toml.DecodeError
	switch {
	case err == nil:
		return f, nil
	case errors.As(err, &bad):
		line, _ := bad.Position()
		return File{}, []Problem{{File: name, Line: line, Text: strings.TrimPrefix(bad.Error(), "toml: ")}}
	}
	return File{}, []Problem{{File: name, Text: err.Error()}}
}

// tooDeep returns the line on which more than maxDepth brackets stand open, 0
// for none. Brackets in texts and comments count too; no spec has so many.
func tooDeep(b []byte) int {
	depth, line := 0, 1
	for _, c := range b {
		switch c {
		case '\n':
			line++
		case '[', '{':
			if depth++; depth > maxDepth {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
	}
	return 0
}
