package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// showKeys lists what the keyboard does here, over the window. Escape, F1 or a
// click closes it.
func (f *frame) showKeys() {
	all, columns := f.listed(), 2
	if f.window.Canvas().Size().Width >= 3*keyColumnWidth+60 {
		columns = 3
	}
	each := (len(all) + columns - 1) / columns
	grid := container.NewGridWithColumns(columns)
	for part := range slices.Chunk(all, each) {
		grid.Add(keyColumn(part))
	}
	lane := container.NewVScroll(grid)
	// What else the page holds stands above and below the lane.
	high := min(grid.MinSize().Height, f.window.Canvas().Size().Height-170)
	page := container.NewVBox(
		newHeading("Keys", theme.SizeNameHeadingText),
		quietly("Single letters act while nothing is being written: on the photo, in lists, or after Esc."),
		atLeast(lane, grid.MinSize().Width, high),
	)
	f.over(padded(page, 12, 12, 18, 18), page, func(key fyne.KeyName) {
		switch key {
		case fyne.KeyDown, fyne.KeyPageDown:
			lane.ScrollToBottom()
		case fyne.KeyUp, fyne.KeyPageUp:
			lane.ScrollToTop()
		}
	})
}

// listed are the acts that have keys, without those that another line tells of.
func (f *frame) listed() actions {
	return slices.DeleteFunc(slices.Clone(f.all()), func(a action) bool { return len(a.strokes) == 0 || a.unlisted })
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
	layout := &keyGrid{}
	grid := container.New(layout)
	for _, a := range as {
		keys := a.keys()
		layout.keys = max(layout.keys, fyne.MeasureText(keys, theme.TextSize(), fyne.TextStyle{Bold: true}).Width+16)
		grid.Add(newCaption(keys, theme.ColorNamePrimary).bold())
		grid.Add(newCaption(a.says, theme.ColorNameForeground))
	}
	return grid
}

// keyGrid sets keys in a narrow and their meanings in a wide column.
type keyGrid struct {
	keys float32 // how wide the widest keys are
}

const (
	keyRowHeight   = 23
	keyColumnWidth = 398
)

func (g *keyGrid) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for i := 0; i+1 < len(objects); i += 2 {
		y := float32(i/2) * keyRowHeight
		objects[i].Move(fyne.NewPos(0, y))
		objects[i].Resize(fyne.NewSize(g.keys, keyRowHeight))
		objects[i+1].Move(fyne.NewPos(g.keys, y))
		objects[i+1].Resize(fyne.NewSize(size.Width-g.keys-8, keyRowHeight))
	}
}

func (g *keyGrid) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(keyColumnWidth, float32((len(objects)+1)/2)*keyRowHeight)
}
