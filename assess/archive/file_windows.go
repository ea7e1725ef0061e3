package archive

import (
	"errors"

	"golang.org/x/sys/windows"
)

// replace gives a file its name. A folder can't be synced on Windows; instead
// the rename waits until it is on the disk.
func replace(from, to string) error {
	old, err := windows.UTF16PtrFromString(from)
	if err != nil {
		return err
	}
	name, err := windows.UTF16PtrFromString(to)
	if err != nil {
		return err
	}
	return windows.MoveFileEx(old, name, windows.MOVEFILE_REPLACE_EXISTING|windows.MOVEFILE_WRITE_THROUGH)
}

// syncFolder has nothing left to do after [replace].
func syncFolder(string) error { return nil }

func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

func isReadOnlyDisk(err error) bool { return errors.Is(err, windows.ERROR_WRITE_PROTECT) }
