package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// showKeys lists what the keyboard does here, over the window. Escape, F1 or a
// click closes it.
func (f *frame) showKeys() {
	all := f.all()
	half := (len(all) + 1) / 2
	page := container.NewVBox(
		newHeading("Keys", theme.SizeNameHeadingText),
		quietly("Single letters act while nothing is being written: on the photo, in lists, or after Esc."),
		container.NewGridWithColumns(2, keyColumn(all[:half]), keyColumn(all[half:])),
	)
	f.over(padded(atLeast(page, 820, 200), 12, 12, 18, 18), page, nil)
}

// over shows a page over the window until Escape, Enter, F1 or its button closes
// it; all other keys go to other, which may be nil. The button is added to the box
// given.
func (f *frame) over(page fyne.CanvasObject, buttons *fyne.Container, other func(fyne.KeyName)) {
	before := f.window.Canvas().Focused()
	var sheet *widget.PopUp
	closing := newKeySheet(func() {
		sheet.Hide()
		if before != nil {
			f.focus(before)
		}
	})
	closing.other = other
	buttons.Add(container.NewHBox(closing))
	sheet = widget.NewModalPopUp(page, f.window.Canvas())
	sheet.Show()
	f.focus(closing)
}

// keySheet is the button of a page over the window; it has the keys meanwhile.
type keySheet struct {
	button

	other func(fyne.KeyName)
}

func newKeySheet(hide func()) *keySheet {
	k := &keySheet{}
	k.Text, k.OnTapped, k.Importance = "Close   Esc", hide, widget.HighImportance
	k.ExtendBaseWidget(k)
	return k
}

// TypedKey closes the page, or moves in it.
func (k *keySheet) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyEscape, fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace, fyne.KeyF1:
		k.OnTapped()
	default:
		if k.other != nil {
			k.other(ev.Name)
		}
	}
}

// TypedRune leaves it to TypedKey, which comes with every letter too.
func (k *keySheet) TypedRune(rune) {}

func keyColumn(as actions) fyne.CanvasObject {
	grid := container.New(&keyGrid{})
	for _, a := range as {
		if len(a.strokes) == 0 {
			continue
		}
		grid.Add(newCaption(a.keys(), theme.ColorNamePrimary).bold())
		grid.Add(newCaption(a.says, theme.ColorNameForeground))
	}
	return grid
}

// keyGrid sets keys in a narrow and their meanings in a wide column.
type keyGrid struct{}

const (
	keyWidth     = 182
	keyRowHeight = 25
)

func (keyGrid) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for i := 0; i+1 < len(objects); i += 2 {
		y := float32(i/2) * keyRowHeight
		objects[i].Move(fyne.NewPos(0, y))
		objects[i].Resize(fyne.NewSize(keyWidth-8, keyRowHeight))
		objects[i+1].Move(fyne.NewPos(keyWidth, y))
		objects[i+1].Resize(fyne.NewSize(size.Width-keyWidth-8, keyRowHeight))
	}
}

func (keyGrid) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(keyWidth+250, float32((len(objects)+1)/2)*keyRowHeight)
}
