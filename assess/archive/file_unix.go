//go:build unix

package archive

import (
	"errors"
	"os"
	"syscall"
)

// replace gives a file its name; a file that had it is gone in the same moment.
func replace(from, to string) error { return os.Rename(from, to) }

// syncFolder brings a folder's names to the disk: without it a file that was
// renamed just before the power failed may be back under its old name.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	defer folder.Close()
	err = folder.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		return nil // this file system keeps its folders in order by itself
	}
	return err
}

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

func isReadOnlyDisk(err error) bool { return errors.Is(err, syscall.EROFS) }
