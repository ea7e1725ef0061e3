package archive

import (
	"bufio"
	"fmt"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

// Kinds of file systems by the number that statfs gives. VM and subsystem
// shares stand here too: their locks do not reach the other side either.
var networkMagic = map[uint32]string{
	unix.NFS_SUPER_MAGIC:  "nfs",
	unix.SMB_SUPER_MAGIC:  "smb",
	unix.CIFS_SUPER_MAGIC: "cifs",
	unix.SMB2_SUPER_MAGIC: "smb2",
	unix.AFS_FS_MAGIC:     "afs",
	unix.AFS_SUPER_MAGIC:  "afs",
	unix.CODA_SUPER_MAGIC: "coda",
	unix.CEPH_SUPER_MAGIC: "ceph",
	unix.V9FS_MAGIC:       "9p",
	0x564c:                "ncp",
	0x0bd00bd0:            "lustre",
	0x47504653:            "gpfs",
	0x19830326:            "beegfs",
	0x786f4256:            "vboxsf",
}

// File systems in user space that lie on a disk of this machine. All others,
// such as sshfs, are taken for network drives: refusing one that would do costs
// a message, trusting one that won't costs the archive.
var localFuse = map[string]bool{
	"fuseblk": true, "fuse.ntfs-3g": true, "fuse.exfat": true, "fuse.gocryptfs": true, "fuse.encfs": true,
	"fuse.cryfs": true, "fuse.securefs": true, "fuse.ecryptfs": true, "fuse.mergerfs": true, "fuse.bindfs": true,
	"fuse.fuse-overlayfs": true, "fuse.ext2": true, "fuse.zfs": true, "fuse.apfs-fuse": true,
}

func detectNetwork(dir string) (string, error) {
	var stat unix.Statfs_t
	if err := unix.Statfs(dir, &stat); err != nil {
		return "", err
	}
	magic := uint32(stat.Type)
	if magic != unix.FUSE_SUPER_MAGIC {
		return networkMagic[magic], nil
	}
	kind, err := mountedAs(dir)
	if err != nil {
		return "", err
	}
	if localFuse[kind] {
		return "", nil
	}
	return kind, nil
}

// mountedAs finds the kind of the file system on which a folder lies by its
// device among the mounts of this process.
func mountedAs(dir string) (string, error) {
	var stat unix.Stat_t
	if err := unix.Stat(dir, &stat); err != nil {
		return "", err
	}
	device := fmt.Sprintf("%d:%d", unix.Major(uint64(stat.Dev)), unix.Minor(uint64(stat.Dev)))
	mounts, err := os.Open("/proc/self/mountinfo")
	if err != nil {
		return "", err
	}
	defer mounts.Close()
	kind := "fuse"
	for lines := bufio.NewScanner(mounts); lines.Scan(); {
		mount, source, ok := strings.Cut(lines.Text(), " - ")
		fields := strings.Fields(mount)
		if ok && len(fields) > 2 && fields[2] == device {
			kind, _, _ = strings.Cut(source, " ")
		}
	}
	return kind, nil
}
