// Package locale keeps a locale that names no language from being complained of.
//
// Fyne looks at the locale while its packages are initialised, and so before any
// command, also one without a window; of C.UTF-8, usual in containers, it logs a fault.
// Packages are initialised in the order of their import paths where their own imports
// allow it (Go specification, "Program initialization"), and this one imports next to
// nothing: it is before Fyne.
package locale

import (
	"os"
	"strings"
)

var restore = func() {}

func init() {
	// The first that is set counts, as setlocale has it.
	for _, name := range [...]string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		value := os.Getenv(name)
		if value == "" {
			continue
		}
		if strings.HasPrefix(value, "C.") || strings.HasPrefix(value, "POSIX.") {
			// Without the encoding it is read as no language at all, which is right.
			os.Setenv(name, "C")
			restore = func() { os.Setenv(name, value) }
		}
		return
	}
}

// Restore gives the environment back, for the programs that are started from here. It
// is called once all packages are initialised.
func Restore() { restore() }
