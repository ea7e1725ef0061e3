package archive

import "golang.org/x/sys/unix"

func detectNetwork(dir string) (string, error) {
	var stat unix.Statfs_t
	if err := unix.Statfs(dir, &stat); err != nil {
		return "", err
	}
	if stat.Flags&unix.MNT_LOCAL != 0 {
		return "", nil
	}
	return unix.ByteSliceToString(stat.Fstypename[:]), nil
}
