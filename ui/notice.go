package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
)

// notice is something that the person should know, at the top of the place it
// concerns. It never stops the work.
type notice struct {
	// ID makes a later notice of the same matter take this one's place.
	ID string
	words
	// Warns marks what needs attention; the rest only informs.
	Warns bool
	// List holds lines below the message, such as files with their reasons.
	List []string
	// Stays keeps the notice until it is taken away by the program.
	Stays bool
	// Do is offered on a button with this label.
	Do    string
	Doing func()
}

// noticeBoard shows notices one below the other.
type noticeBoard struct {
	keys    keyboard
	box     *fyne.Container
	notices []notice
}

func newNoticeBoard(keys keyboard) *noticeBoard {
	return &noticeBoard{keys: keys, box: container.NewVBox()}
}

// put shows a notice, in place of an older one of the same matter.
func (b *noticeBoard) put(n notice) {
	i := slices.IndexFunc(b.notices, func(old notice) bool { return old.ID == n.ID })
	if i >= 0 {
		if old := b.notices[i]; old.words == n.words && old.Stays && len(old.List)+len(n.List) == 0 {
			return
		}
		b.notices[i] = n
	} else {
		b.notices = append(b.notices, n)
	}
	b.build()
}

// take takes a notice away.
func (b *noticeBoard) take(id string) {
	before := len(b.notices)
	b.notices = slices.DeleteFunc(b.notices, func(n notice) bool { return n.ID == id })
	if len(b.notices) != before {
		b.build()
	}
}

// takeLast takes the newest notice away that may go, and reports whether there
// was one.
func (b *noticeBoard) takeLast() bool {
	for i := len(b.notices) - 1; i >= 0; i-- {
		if !b.notices[i].Stays {
			b.take(b.notices[i].ID)
			return true
		}
	}
	return false
}

func (b *noticeBoard) build() {
	b.box.RemoveAll()
	for _, n := range b.notices {
		b.box.Add(b.bar(n))
	}
	b.box.Refresh()
}

// longestList is how many lines of a list are shown; the rest is counted.
const longestList = 200

func (b *noticeBoard) bar(n notice) fyne.CanvasObject {
	ground, edge, icon := colorInform, colorInformEdge, theme.InfoIcon()
	if n.Warns {
		ground, edge, icon = colorWarn, colorWarnEdge, theme.WarningIcon()
	}
	pieces := []piece{{Text: n.Title, Bold: true}}
	if n.Message != "" {
		pieces = append(pieces, piece{Text: "  " + n.Message})
	}
	if n.Hint != "" {
		pieces = append(pieces, piece{Text: "  " + n.Hint, Color: colorQuiet})
	}
	text := container.NewVBox(newParagraph(pieces...))
	if len(n.List) > 0 {
		text.Add(lineList(n.List))
	}
	buttons := container.NewHBox()
	if n.Do != "" {
		buttons.Add(newButton(b.keys, n.Do, nil, n.Doing))
	}
	if !n.Stays {
		buttons.Add(newButton(b.keys, "", theme.CancelIcon(), func() { b.take(n.ID) }).low())
	}
	stripe := newGround(edge)
	picture := canvas.NewImageFromResource(icon)
	picture.FillMode = canvas.ImageFillContain
	picture.SetMinSize(fyne.NewSquareSize(theme.IconInlineSize()))
	row := container.NewBorder(nil, nil, padded(container.NewVBox(picture), 0, 0, 10, 4),
		container.NewVBox(buttons), padded(text, 2, 2, 0, 8))
	return container.NewStack(newGround(ground),
		container.NewBorder(nil, nil, atLeast(stripe, 4, 1), nil, padded(row, 7, 7, 0, 6)))
}

// lineList shows lines that scroll once they are many.
func lineList(lines []string) fyne.CanvasObject {
	box := container.New(layout.NewCustomPaddedVBoxLayout(2))
	for i, text := range lines {
		if i == longestList {
			box.Add(quietly("…"))
			break
		}
		box.Add(newParagraph(piece{Text: text, Small: true}))
	}
	if len(lines) <= 4 {
		return box
	}
	scroll := container.NewVScroll(box)
	scroll.SetMinSize(fyne.NewSize(100, 110))
	return scroll
}
