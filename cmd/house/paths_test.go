package house_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// machinePath finds a path that stands on one machine only, or the address of a
// package registry, which is a setting of the machine too. It is put together
// from pieces so that it does not find itself.
var machinePath = regexp.MustCompile(`(?:^|[^\w.\-])(/(?:wo` + `rk|ro` + `ot|ho` + `me/\w+|Us` + `ers/\w+)/)` +
	`|((?:pro` + `xy|su` + `m)\.golang\.org|deb\.deb` + `ian\.org|registry\.npm` + `js\.org)`)

func checkPathsInFiles(m *module) []string {
	var bad []string
	look := func(name string, content []byte) {
		for i, line := range bytes.Split(content, []byte("\n")) {
			if found := machinePath.Find(line); found != nil {
				bad = append(bad, fmt.Sprintf("%s:%d: %q is of one machine only", name, i+1, bytes.TrimSpace(found)))
			}
		}
	}
	for _, f := range m.files {
		look(f.name, f.bytes)
	}
	for _, name := range m.texts {
		content, err := os.ReadFile(filepath.Join(m.root, filepath.FromSlash(name)))
		if err != nil {
			bad = append(bad, err.Error())
			continue
		}
		if bytes.IndexByte(content[:min(len(content), 8000)], 0) < 0 { // no picture, no font
			look(name, content)
		}
	}
	return bad
}

func checkPathsInCommits(m *module) []string {
	if _, err := os.Stat(filepath.Join(m.root, ".git")); err != nil {
		return nil // the source came without its history
	}
	// Looked at so that the go tool runs this test again after a commit.
	_, _ = os.Stat(filepath.Join(m.root, ".git", "logs", "HEAD"))
	// The folder may belong to someone else than who runs the test.
	cmd := exec.Command("git", "-c", "safe.directory=*", "log", "--format=%h %B")
	cmd.Dir = m.root
	out, err := cmd.CombinedOutput()
	if err != nil {
		return []string{fmt.Sprintf("git log: %v: %s", err, out)}
	}
	var bad []string
	for _, line := range strings.Split(string(out), "\n") {
		if machinePath.MatchString(line) {
			bad = append(bad, fmt.Sprintf("commit message: %q names what is of one machine only", line))
		}
	}
	return bad
}
