package inspection

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assets"
)

// ReadFile opens a record's JSON file to look at it: it can be judged, and not
// changed. The user's specs are those of the archive in dir.
func ReadFile(path, dir string) (*Inspection, error) {
	whole, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("the record can't be read: %w", err)
	}
	r, err := record.Read(whole)
	if err != nil {
		return nil, fmt.Errorf("%s is not a record that this program can read:\n%w", path, err)
	}
	specs, _, err := LoadSpecs(filepath.Join(dir, specsFolder))
	if err != nil {
		return nil, err
	}
	n := &Inspection{bench: &Bench{specs: specs, dir: dir, now: time.Now}, state: record.State{Record: r, Bytes: whole}}
	n.assess()
	return n, nil
}

// CheckSpecs returns what is wrong with spec files of the user's, put over the
// program's own; with none named, with those in the folder.
func CheckSpecs(folder string, files []string) ([]spec.Problem, error) {
	if len(files) == 0 {
		_, problems, err := LoadSpecs(folder)
		return problems, err
	}
	var problems []spec.Problem
	for _, path := range files {
		whole, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("the spec can't be read: %w", err)
		}
		found, err := spec.CheckOne(assets.Specs(), filepath.Base(path), whole)
		if err != nil {
			return nil, err
		}
		problems = append(problems, found...)
	}
	return problems, nil
}
