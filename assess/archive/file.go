package archive

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// incoming is where a file is written before it gets its name. It lies inside
// each folder that it serves, so that a rename never crosses to another disk,
// even where someone has moved that folder elsewhere and left a link.
const incoming = ".incoming"

// A draft is a file that has no name yet. It gets one by keep, once it is on
// the disk, or is gone.
type draft struct {
	*os.File
	// folder is the one that the file is for.
	folder string
}

// newDraft opens a draft below folder, which is made if it is not there. The
// rights are those of the finished file, so none has to be changed later.
func newDraft(folder string, rights fs.FileMode) (*draft, error) {
	place := filepath.Join(folder, incoming)
	if err := os.MkdirAll(place, 0o777); err != nil {
		return nil, err
	}
	name := filepath.Join(place, rand.Text())
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, rights)
	if err != nil {
		return nil, err
	}
	return &draft{File: file, folder: folder}, nil
}

// drop removes the draft; it does nothing after keep.
func (d *draft) drop() {
	_ = d.Close()
	_ = os.Remove(d.Name())
}

// keep brings the draft to the disk and gives it its name in one step: whoever
// looks finds the old file or the whole new one. On Windows the rename itself
// waits for the disk; elsewhere the folder is synced after it.
func (d *draft) keep(path string) error {
	if err := d.Sync(); err != nil {
		return err
	}
	if err := d.Close(); err != nil {
		return err
	}
	parent := filepath.Dir(path)
	made, err := makeFolder(parent)
	if err != nil {
		return err
	}
	if err := replace(d.Name(), path); err != nil {
		return err
	}
	if made {
		if err := syncFolder(filepath.Dir(parent)); err != nil {
			return err
		}
	}
	return syncFolder(parent)
}

// makeFolder makes one folder if it is not there, and tells whether it did.
func makeFolder(path string) (bool, error) {
	err := os.Mkdir(path, 0o777)
	if errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	return err == nil, err
}

// writeWhole writes a file of a folder, whole or not at all.
func writeWhole(folder, name string, content []byte) error {
	d, err := newDraft(folder, 0o666)
	if err != nil {
		return err
	}
	defer d.drop()
	if _, err := d.Write(content); err != nil {
		return err
	}
	return d.keep(filepath.Join(folder, name))
}

// clearDrafts removes what a crash has left. Only the one writer may call it.
func clearDrafts(folder string) error {
	place := filepath.Join(folder, incoming)
	entries, err := os.ReadDir(place)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if err := os.Remove(filepath.Join(place, e.Name())); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("remove what was left half-written: %w", err)
		}
	}
	return nil
}

// readerFunc lets a function be a reader.
type readerFunc func([]byte) (int, error)

func (r readerFunc) Read(p []byte) (int, error) { return r(p) }

// readWhole reads a small file, nil where there is none.
func readWhole(path string) ([]byte, error) {
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return b, err
}

var _ io.Reader = readerFunc(nil)
