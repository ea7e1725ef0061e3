//go:build unix

package inspection_test

import (
	"runtime"
	"syscall"
)

// peakMegabytes is the most memory that this process ever took.
func peakMegabytes() (float64, bool) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0, false
	}
	unit := 1024.0 // kilobytes, but on macOS bytes
	if runtime.GOOS == "darwin" {
		unit = 1
	}
	return float64(u.Maxrss) * unit / (1 << 20), true
}
