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
	var sheet *widget.PopUp
	closing := newButton(f, "Close  (Esc)", nil, func() { sheet.Hide() }).primary()
	page.Add(container.NewHBox(closing))
	sheet = widget.NewModalPopUp(padded(atLeast(page, 820, 200), 12, 12, 18, 18), f.window.Canvas())
	sheet.Show()
	f.focus(&keySheet{button: closing, hide: sheet.Hide})
}

// keySheet has the focus while the list is open: any key closes it.
type keySheet struct {
	*button
	hide func()
}

// TypedKey closes the list.
func (k *keySheet) TypedKey(*fyne.KeyEvent) { k.hide() }

// TypedRune closes the list.
func (k *keySheet) TypedRune(rune) { k.hide() }

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
	keyWidth     = 150
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
	return fyne.NewSize(keyWidth+230, float32((len(objects)+1)/2)*keyRowHeight)
}
