package spec

import "io/fs"

// CheckOne returns what is wrong with one file of a user's, by its content, put
// over the program's own specs.
func CheckOne(own fs.FS, name string, content []byte) ([]Problem, error) {
	set, _, err := Load(own, nil)
	if err != nil {
		return nil, err
	}
	f, problems := Parse(name, content)
	if len(problems) > 0 {
		return problems, nil
	}
	problems = set.with(named{name: name, File: f}).check()
	for i := range problems {
		problems[i].File = name
	}
	return problems, nil
}
