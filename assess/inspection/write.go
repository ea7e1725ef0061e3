package inspection

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// writeWhole writes a file whole or not at all: into a temporary file in the
// same folder, synced and renamed over the old one. Nothing is left of a
// failure.
func writeWhole(path string, write func(io.Writer) error) (err error) {
	dir := filepath.Dir(path)
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is not a file that can be written over; choose another name", path)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the folder %s can't be made: %w", dir, err)
	}
	f, err := os.CreateTemp(dir, ".fettlebook-*")
	if err != nil {
		return fmt.Errorf("nothing can be written to the folder %s: %w", dir, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, ignoreClosed(f.Close()), os.Remove(f.Name()))
		}
	}()
	buffered := bufio.NewWriterSize(f, 1<<16)
	if err := write(buffered); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := f.Chmod(0o644); err != nil {
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := f.Sync(); err != nil {
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("%s can't be put in place: %w; is it open elsewhere?", path, err)
	}
	return nil
}

func ignoreClosed(err error) error {
	if errors.Is(err, os.ErrClosed) {
		return nil
	}
	return err
}

func writeBytes(path string, content []byte) error {
	return writeWhole(path, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}
