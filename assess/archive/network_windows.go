package archive

import (
	"path/filepath"
	"strings"

	"golang.org/x/sys/windows"
)

func detectNetwork(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	volume := filepath.VolumeName(dir)
	if strings.HasPrefix(volume, `\\`) && !strings.HasPrefix(volume, `\\?\`) && !strings.HasPrefix(volume, `\\.\`) {
		return "network share", nil
	}
	path, err := windows.UTF16PtrFromString(dir)
	if err != nil {
		return "", err
	}
	root := make([]uint16, windows.MAX_LONG_PATH)
	if err := windows.GetVolumePathName(path, &root[0], uint32(len(root))); err != nil {
		return "", err
	}
	if windows.GetDriveType(&root[0]) == windows.DRIVE_REMOTE {
		return "network drive", nil
	}
	return "", nil
}
