package archive

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// networkOf names the kind of network drive on which a folder lies, empty for
// a disk of this machine. Tests put another in its place.
var networkOf = detectNetwork

// refuseNetwork refuses a folder on a network drive for writing: the change log
// needs locks and shared memory that hold on this machine only.
func refuseNetwork(dir string) error {
	kind, err := networkKind(dir)
	if err != nil {
		return err
	}
	if kind != "" {
		return fmt.Errorf("%s (%s): %w", dir, kind, ErrNetwork)
	}
	return nil
}

// networkKind asks about a folder that may not be there yet.
func networkKind(dir string) (string, error) {
	for {
		_, err := os.Stat(dir)
		if err == nil {
			break
		}
		parent := filepath.Dir(dir)
		if !errors.Is(err, fs.ErrNotExist) || parent == dir {
			return "", fmt.Errorf("look at %s: %w", dir, err)
		}
		dir = parent
	}
	kind, err := networkOf(dir)
	if err != nil {
		return "", fmt.Errorf("find out on what kind of drive %s lies: %w", dir, err)
	}
	return kind, nil
}
