//go:build !headless

package main

import (
	"errors"
	"os"
	"runtime"
)

// errNoScreen says that a window cannot be opened, and what can be done without
// one. The window's library would break off with a stack trace instead.
var errNoScreen = errors.New("no screen to open the window on: neither DISPLAY nor WAYLAND_DISPLAY is set; " +
	"on a desktop start it from there, elsewhere see fettlebook --help for what works without a window")

// haveScreen reports errNoScreen where no window can be opened.
func haveScreen() error {
	switch runtime.GOOS {
	case "darwin", "windows":
		return nil
	}
	if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return errNoScreen
	}
	return nil
}
