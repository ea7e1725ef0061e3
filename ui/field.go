package ui

import (
	"slices"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// field is an entry that lets through the keys that an entry has no use for, so
// that what is on the keyboard works while someone writes.
type field struct {
	widget.Entry

	keys keyboard
	// onKey gets first say on keys that are no text; true keeps them.
	onKey func(name fyne.KeyName) bool
	// onLong takes a text that is too long to be edited in an entry: the whole text
	// as it would be. Without it such a text is not pasted.
	onLong func(text string)
	// onPaste gets first say on what is pasted; true keeps it.
	onPaste func(text string) bool
	// takesTab tells whether Tab is a key of the field's own at this moment.
	takesTab func() bool
	// onLeft tells that the field lost the focus: the person is done with it.
	onLeft func(text string)
}

func newField(keys keyboard, placeholder string) *field {
	f := &field{keys: keys}
	f.PlaceHolder = placeholder
	f.ExtendBaseWidget(f)
	return f
}

// newLines is a field of several lines.
func newLines(keys keyboard, placeholder string, rows int) *field {
	f := &field{keys: keys}
	f.PlaceHolder, f.MultiLine, f.Wrapping = placeholder, true, fyne.TextWrapWord
	f.ExtendBaseWidget(f)
	f.SetMinRowsVisible(rows)
	return f
}

// AcceptsTab lets Tab leave the field, also one of several lines, unless the field
// has a use for it.
func (f *field) AcceptsTab() bool { return f.takesTab != nil && f.takesTab() }

// TypedKey keeps what edits the text and passes the rest on.
func (f *field) TypedKey(ev *fyne.KeyEvent) {
	if f.onKey != nil && f.onKey(ev.Name) {
		return
	}
	switch ev.Name {
	case fyne.KeyEscape, fyne.KeyF1, fyne.KeyF2, fyne.KeyF3, fyne.KeyF4, fyne.KeyF5, fyne.KeyF6:
		if f.keys != nil && f.keys.typedKey(ev.Name) {
			return
		}
	}
	f.Entry.TypedKey(ev)
}

// TypedShortcut keeps what edits the text and passes the rest on.
func (f *field) TypedShortcut(s fyne.Shortcut) {
	if paste, ok := s.(*fyne.ShortcutPaste); ok && paste.Clipboard != nil {
		text := paste.Clipboard.Content()
		if (f.onPaste != nil && f.onPaste(text)) || f.pastesLong(text) {
			return
		}
	}
	if custom, ok := s.(*desktop.CustomShortcut); ok {
		if (stroke{key: custom.KeyName, mod: custom.Modifier}) == ctrlShift(fyne.KeyZ) {
			f.Entry.TypedShortcut(&fyne.ShortcutRedo{})
			return
		}
		if f.keys != nil && f.keys.shortcut(s) {
			return
		}
	}
	f.Entry.TypedShortcut(s)
}

// pastesLong keeps a very long text away from the entry, which could stand still
// for minutes over it.
func (f *field) pastesLong(pasted string) bool {
	if utf8.RuneCountInString(pasted)+utf8.RuneCountInString(f.Text) <= longNote {
		return false
	}
	if f.onLong != nil && !f.Disabled() {
		f.onLong(f.Text + pasted)
	}
	return true
}

// TappedSecondary offers what can be done with the text.
func (f *field) TappedSecondary(ev *fyne.PointEvent) {
	canvas := fyne.CurrentApp().Driver().CanvasForObject(f)
	if canvas == nil || f.Disabled() {
		return
	}
	clipboard := fyne.CurrentApp().Clipboard()
	item := func(name string, s fyne.Shortcut) *fyne.MenuItem {
		return fyne.NewMenuItem(name, func() { canvas.Focus(f); f.TypedShortcut(s) })
	}
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("",
		item("Cut", &fyne.ShortcutCut{Clipboard: clipboard}), item("Copy", &fyne.ShortcutCopy{Clipboard: clipboard}),
		item("Paste", &fyne.ShortcutPaste{Clipboard: clipboard}), item("Select all", &fyne.ShortcutSelectAll{})),
		canvas, ev.AbsolutePosition)
}

// FocusLost tells that the person is done with the field.
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	if f.onLeft != nil {
		f.onLeft(f.Text)
	}
}

// button is a button that Enter presses as well, and that passes other keys on.
type button struct {
	widget.Button

	keys keyboard
}

func newButton(keys keyboard, text string, icon fyne.Resource, tapped func()) *button {
	b := &button{keys: keys}
	b.Text, b.Icon, b.OnTapped = text, icon, tapped
	b.ExtendBaseWidget(b)
	return b
}

func (b *button) primary() *button { b.Importance = widget.HighImportance; return b }
func (b *button) low() *button     { b.Importance = widget.LowImportance; return b }

// TypedKey presses the button on Enter and Space.
func (b *button) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		b.Tapped(nil)
		return
	}
	if b.keys != nil {
		b.keys.typedKey(ev.Name)
	}
}

// TypedRune passes letters on.
func (b *button) TypedRune(r rune) {
	if b.keys != nil && r != ' ' {
		b.keys.typedRune(r)
	}
}

// drop is a list that drops down; it passes letters on.
type drop struct {
	widget.Select

	keys keyboard
}

func newDrop(keys keyboard, options []string, changed func(string)) *drop {
	d := &drop{keys: keys}
	d.Options, d.OnChanged, d.PlaceHolder = options, changed, "choose"
	d.ExtendBaseWidget(d)
	return d
}

// TypedRune passes letters on.
func (d *drop) TypedRune(r rune) {
	if d.keys != nil && r != ' ' {
		d.keys.typedRune(r)
	}
}

// TypedKey passes on what the list has no use for.
func (d *drop) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace, fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
		d.Select.TypedKey(ev)
	case fyne.KeyReturn, fyne.KeyEnter:
		d.Select.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	default:
		if d.keys != nil {
			d.keys.typedKey(ev.Name)
		}
	}
}

// CreateRenderer draws the list with an edge: on a light page its ground alone can
// hardly be seen.
func (d *drop) CreateRenderer() fyne.WidgetRenderer {
	r := &dropRenderer{WidgetRenderer: d.Select.CreateRenderer(), d: d, edge: canvas.NewRectangle(nil)}
	r.tint()
	return r
}

type dropRenderer struct {
	fyne.WidgetRenderer
	d    *drop
	edge *canvas.Rectangle
}

func (r *dropRenderer) tint() {
	th := r.d.Theme()
	r.edge.StrokeColor = th.Color(theme.ColorNameInputBorder, fyne.CurrentApp().Settings().ThemeVariant())
	r.edge.StrokeWidth = th.Size(theme.SizeNameInputBorder)
	r.edge.CornerRadius = th.Size(theme.SizeNameInputRadius)
}

func (r *dropRenderer) Layout(size fyne.Size) {
	r.WidgetRenderer.Layout(size)
	r.edge.Resize(size)
}

func (r *dropRenderer) Refresh() {
	r.tint()
	r.edge.Refresh()
	r.WidgetRenderer.Refresh()
}

func (r *dropRenderer) Objects() []fyne.CanvasObject {
	return append(slices.Clone(r.WidgetRenderer.Objects()), r.edge)
}

// show selects an option without calling back.
func (d *drop) show(option string) {
	if d.Selected == option {
		return
	}
	d.Selected = option
	d.Refresh()
}

// controlHeight is how high a one-line control is.
func controlHeight() float32 {
	return theme.TextSize()*1.4 + 2*theme.InnerPadding()
}
