//go:build !unix

package inspection_test

// peakMegabytes is not known here.
func peakMegabytes() (float64, bool) { return 0, false }
