package house_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// A listed package is what `go list` says of one.
type listed struct {
	ImportPath, Dir                              string
	Standard                                     bool
	GoFiles, CgoFiles, TestGoFiles, XTestGoFiles []string
	CFiles, CXXFiles, MFiles, SysoFiles, Imports []string
}

// goList runs the go tool, since only it knows which files a build takes.
func (m *module) goList(cgo, tags string, args ...string) ([]listed, error) {
	args = append([]string{"list", "-json", "-tags", tags}, args...)
	cmd := exec.Command("go", args...)
	cmd.Dir = m.root
	cmd.Env = append(os.Environ(), "CGO_ENABLED="+cgo)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w: %s", strings.Join(args, " "), err, stderr.Bytes())
	}
	var all []listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
		}
		all = append(all, p)
	}
}

// checkListed makes sure that the other gates saw every file that a build takes.
func checkListed(m *module) []string {
	seen := map[string]bool{}
	for _, f := range m.files {
		seen[f.name] = true
	}
	var bad []string
	for _, tags := range []string{"migrated_fynedo", "headless"} {
		packages, err := m.goList("1", tags, "./...")
		if err != nil {
			return append(bad, err.Error())
		}
		if len(packages) == 0 {
			bad = append(bad, "go list found no package with -tags "+tags)
		}
		for _, p := range packages {
			dir, err := filepath.Rel(m.root, p.Dir)
			if err != nil {
				return append(bad, err.Error())
			}
			for _, file := range slices.Concat(p.GoFiles, p.CgoFiles, p.TestGoFiles, p.XTestGoFiles) {
				if name := path.Join(filepath.ToSlash(dir), file); !seen[name] {
					bad = append(bad, fmt.Sprintf("%s: in the build, but the gates do not look at it", name))
				}
			}
		}
	}
	return bad
}

var windowOnly = []string{"fyne.io/", "github.com/fyne-io/", "github.com/go-gl/"}

// checkHeadless looks at all that the program without a window is made of. With
// cgo off, a package has hidden its C already; so it is looked at with cgo on too.
func checkHeadless(m *module) []string {
	var bad []string
	for _, cgo := range []string{"0", "1"} {
		packages, err := m.goList(cgo, "headless", "-deps", "./cmd/...")
		if err != nil {
			return append(bad, err.Error())
		}
		for _, p := range packages {
			if p.Standard {
				continue // the standard library does without C when told to
			}
			if slices.ContainsFunc(windowOnly, func(w string) bool { return strings.HasPrefix(p.ImportPath, w) }) {
				bad = append(bad, fmt.Sprintf("headless: %s is in it, by way of %v", p.ImportPath, importers(packages, p.ImportPath)))
			}
			if len(p.CgoFiles)+len(p.CFiles)+len(p.CXXFiles)+len(p.MFiles)+len(p.SysoFiles) > 0 {
				bad = append(bad, fmt.Sprintf("headless: %s has C in it, by way of %v", p.ImportPath, importers(packages, p.ImportPath)))
			}
		}
	}
	slices.Sort(bad)
	return slices.Compact(bad)
}

func importers(packages []listed, imported string) []string {
	var names []string
	for _, p := range packages {
		if slices.Contains(p.Imports, imported) {
			names = append(names, p.ImportPath)
		}
	}
	return names
}
