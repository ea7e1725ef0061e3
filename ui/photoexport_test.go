package ui

import "fyne.io/fyne/v2"

// PhotoTheme is the program's theme, for tests from outside.
func PhotoTheme(dark bool) fyne.Theme {
	if dark {
		return newLook(DarkUI)
	}
	return newLook(LightUI)
}
