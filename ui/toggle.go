package ui

import (
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// toggle is a button that is on or off, with a tick that tells which.
type toggle struct {
	button

	On bool
}

func newToggle(keys keyboard, text string, tapped func()) *toggle {
	t := &toggle{}
	t.keys, t.Text, t.OnTapped = keys, text, tapped
	t.Icon = theme.CheckButtonIcon()
	t.Alignment = widget.ButtonAlignLeading
	t.ExtendBaseWidget(t)
	return t
}

// Set shows whether it is on.
func (t *toggle) Set(on bool) {
	if t.On == on {
		return
	}
	t.On = on
	t.Icon = theme.CheckButtonIcon()
	if on {
		t.Icon = theme.CheckButtonCheckedIcon()
	}
	t.Refresh()
}
