package ui

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// longNote is the length in characters from which a text is no longer edited in
// an entry: with 100,000 characters an entry takes over a tenth of a second for
// every key. The text is then shown shortened and kept whole.
const longNote = 5_000

// noteShows is how many characters of a long text are shown in its place.
const noteShows = 600

// note is a text of several lines. A long one is shown shortened, can be read
// whole, copied and replaced, and is never lost.
type note struct {
	f     *frame
	entry *field
	box   *fyne.Container
	long  string
	rows  int
	// onDone is called when the person is done with the text and it changed.
	onDone func(text string)
	done   string
}

func newNote(f *frame, placeholder string, rows int) *note {
	n := &note{f: f, rows: rows, box: container.NewStack()}
	n.entry = newLines(f, placeholder, rows)
	n.entry.OnChanged = func(text string) {
		if utf8.RuneCountInString(text) > longNote {
			n.keepLong(text)
		}
	}
	n.entry.onLong = n.keepLong
	n.entry.onLeft = func(string) { n.finish() }
	n.box.Objects = []fyne.CanvasObject{n.entry}
	return n
}

// Text is the whole text, however much of it is shown.
func (n *note) Text() string {
	if n.long != "" {
		return n.long
	}
	return n.entry.Text
}

// Set shows a text that the record holds.
func (n *note) Set(text string) {
	n.done = text
	n.SetText(text)
}

// SetText shows a text.
func (n *note) SetText(text string) {
	if utf8.RuneCountInString(text) <= longNote {
		n.long = ""
		if n.entry.Text != text {
			n.entry.SetText(text)
		}
		n.box.Objects = []fyne.CanvasObject{n.entry}
		n.box.Refresh()
		return
	}
	if n.long == text {
		return
	}
	n.long = text
	if n.entry.Text != "" {
		n.entry.SetText("")
	}
	count := utf8.RuneCountInString(text)
	shown := string([]rune(text)[:noteShows])
	buttons := container.NewHBox(
		newButton(n.f, "Read whole", nil, func() { n.f.showText("The whole text", n.long) }),
		newButton(n.f, "Copy", nil, func() { n.f.app.Clipboard().SetContent(n.long) }),
		newButton(n.f, "Replace", nil, n.replace))
	n.box.Objects = []fyne.CanvasObject{container.NewVBox(
		quietly(strings.ToValidUTF8(shown, "�")+"…"),
		quietly(fmt.Sprintf("%d characters, too long to be edited here. All of it is kept.", count)),
		buttons)}
	n.box.Refresh()
}

// keepLong takes over a text that became too long to be edited.
func (n *note) keepLong(text string) {
	n.SetText(text)
	n.finish()
}

// replace gives an empty entry; the long text goes only once another one is
// written in it.
func (n *note) replace() {
	old := n.long
	n.long = ""
	n.box.Objects = []fyne.CanvasObject{n.entry}
	n.box.Refresh()
	n.f.focus(n.entry)
	left := n.entry.onLeft
	n.entry.onLeft = func(text string) {
		n.entry.onLeft = left
		if strings.TrimSpace(text) == "" {
			n.SetText(old)
			return
		}
		left(text)
	}
}

func (n *note) finish() {
	if text := n.Text(); text != n.done {
		n.done = text
		if n.onDone != nil {
			n.onDone(text)
		}
	}
}

// pieceRunes is how much of a text one row of the reading page holds.
const pieceRunes = 500

// showText shows a text of any length for reading, over the window.
func (f *frame) showText(title, text string) {
	lines := cut(text)
	list := widget.NewList(func() int { return len(lines) },
		func() fyne.CanvasObject {
			l := widget.NewLabel("")
			l.Wrapping = fyne.TextWrapBreak
			return l
		},
		nil)
	list.HideSeparators = true
	list.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		l := o.(*widget.Label)
		l.SetText(lines[i])
		list.SetItemHeight(i, l.MinSize().Height)
	}
	size := f.window.Canvas().Size()
	foot := container.NewHBox()
	page := container.NewBorder(newHeading(title, theme.SizeNameHeadingText), foot, nil, nil,
		atLeast(list, size.Width*0.6, size.Height*0.6))
	f.over(padded(page, 12, 12, 18, 18), foot, func(name fyne.KeyName) { scrollBy(list, name) })
}

// scrollBy moves a list that has not the focus.
func scrollBy(list *widget.List, name fyne.KeyName) {
	steps := map[fyne.KeyName]float32{fyne.KeyUp: -0.1, fyne.KeyDown: 0.1, fyne.KeyPageUp: -0.9, fyne.KeyPageDown: 0.9}
	switch name {
	case fyne.KeyHome:
		list.ScrollToTop()
	case fyne.KeyEnd:
		list.ScrollToBottom()
	default:
		list.ScrollToOffset(max(list.GetScrollOffset()+steps[name]*list.Size().Height, 0))
	}
}

// cut divides a text into lines and long lines into pieces.
func cut(text string) []string {
	var lines []string
	for line := range strings.Lines(text) {
		runes := []rune(strings.TrimRight(line, "\r\n"))
		for len(runes) > pieceRunes {
			lines = append(lines, string(runes[:pieceRunes]))
			runes = runes[pieceRunes:]
		}
		lines = append(lines, string(runes))
	}
	return lines
}
