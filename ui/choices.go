package ui

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// choice is one of a few: a word, and below it what it means.
type choice struct {
	ID    string
	Label string
	Hint  string
	// Short is the label where there is no room for the whole one.
	Short string
}

var (
	_ fyne.Focusable    = (*choices)(nil)
	_ fyne.Tappable     = (*choices)(nil)
	_ desktop.Hoverable = (*choices)(nil)
)

// choices shows a few options side by side, all of them at once. The arrows,
// Space and the number keys choose, Enter goes on.
type choices struct {
	widget.BaseWidget

	Options  []choice
	Selected string
	// Numbered puts the number key before each label.
	Numbered bool
	// Small leaves out the room for a hint, sets in the caption's size, and makes each
	// option only as wide as its word wants: many of them then fit in a row.
	Small bool
	// Deliberate has the arrows and Space only mark an option, and Enter choose it:
	// something follows from it at once.
	Deliberate bool
	Disabled   bool
	// OnChanged is called when a person chooses; OnEnter when Enter is pressed.
	OnChanged func(id string)
	OnEnter   func()
	// OnKey takes keys that choose nothing here, and tells whether it used one.
	OnKey func(name fyne.KeyName) bool

	keys    keyboard
	focused bool
	hovered int
}

func newChoices(keys keyboard, options []choice, changed func(string)) *choices {
	c := &choices{Options: options, OnChanged: changed, keys: keys, hovered: -1}
	c.ExtendBaseWidget(c)
	return c
}

// SetOptions shows other options.
func (c *choices) SetOptions(options []choice) {
	c.Options = options
	c.Refresh()
}

// Mark shows as chosen an option without calling back.
func (c *choices) Mark(id string) {
	if c.Selected == id {
		return
	}
	c.Selected = id
	c.Refresh()
}

// SetDisabled makes the options not to be chosen.
func (c *choices) SetDisabled(disabled bool) {
	if c.Disabled == disabled {
		return
	}
	c.Disabled = disabled
	c.Refresh()
}

// walk goes to an option by the arrows or Space.
func (c *choices) walk(i int) {
	if !c.Deliberate {
		c.choose(i)
	} else if !c.Disabled && i >= 0 && i < len(c.Options) {
		c.Mark(c.Options[i].ID)
	}
}

func (c *choices) choose(i int) {
	if c.Disabled || i < 0 || i >= len(c.Options) {
		return
	}
	id := c.Options[i].ID
	changed := id != c.Selected || c.Deliberate
	c.Selected = id
	c.Refresh()
	if changed && c.OnChanged != nil {
		c.OnChanged(id)
	}
}

func (c *choices) index() int {
	for i, o := range c.Options {
		if o.ID == c.Selected {
			return i
		}
	}
	return -1
}

// TypedKey chooses with the arrows.
func (c *choices) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft:
		c.walk(max(c.index()-1, 0))
	case fyne.KeyRight:
		c.walk(min(c.index()+1, len(c.Options)-1))
	case fyne.KeySpace:
		if len(c.Options) > 0 {
			c.walk((c.index() + 1) % len(c.Options))
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if c.Deliberate {
			c.choose(c.index())
		} else if c.OnEnter != nil {
			c.OnEnter()
		}
	default:
		if c.OnKey != nil && c.OnKey(ev.Name) {
			return
		}
		if c.keys != nil {
			c.keys.typedKey(ev.Name)
		}
	}
}

// TypedRune chooses with the number keys.
func (c *choices) TypedRune(r rune) {
	if n := int(r - '0'); c.Numbered && n >= 1 && n <= len(c.Options) {
		c.choose(n - 1)
		return
	}
	if c.keys != nil && r != ' ' {
		c.keys.typedRune(r)
	}
}

// FocusGained shows that the keys go here.
func (c *choices) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost shows that they no longer do.
func (c *choices) FocusLost() { c.focused = false; c.Refresh() }

func (c *choices) at(x float32) int {
	if len(c.Options) == 0 || c.Size().Width <= 0 {
		return -1
	}
	from := float32(0)
	for i, width := range c.widths() {
		if from += width; x < from {
			return i
		}
	}
	return len(c.Options) - 1
}

// widths divides the width among the options, each with the gap behind it.
func (c *choices) widths() []float32 {
	widths := c.needs(c.tight())
	spare := c.Size().Width - choiceGap
	for _, width := range widths {
		spare -= width
	}
	for i := range widths {
		widths[i] += spare / float32(len(widths))
	}
	return widths
}

// tight tells whether there is no room for the whole labels.
func (c *choices) tight() bool {
	wants := float32(choiceGap)
	for _, width := range c.needs(false) {
		wants += width
	}
	return c.Size().Width > 0 && wants > c.Size().Width+1
}

// leastWidth is how narrow they may be without a label being cut.
func (c *choices) leastWidth() float32 {
	least := float32(choiceGap)
	for _, width := range c.needs(true) {
		least += width
	}
	return least
}

// needs is how wide the options want to be, each with the gap behind it.
func (c *choices) needs(short bool) []float32 {
	needs, widest := make([]float32, len(c.Options)), float32(0)
	size := theme.SizeNameText
	if c.Small {
		size = theme.SizeNameCaptionText
	}
	for i := range c.Options {
		needs[i] = fyne.MeasureText(c.label(i, short), c.Theme().Size(size), fyne.TextStyle{Bold: true}).Width + 14 + choiceGap
		widest = max(widest, needs[i])
	}
	for i := range needs {
		if !c.Small {
			needs[i] = widest
		}
	}
	return needs
}

// label is what stands on an option.
func (c *choices) label(i int, short bool) string {
	if short && c.Options[i].Short != "" {
		return c.Options[i].Short
	}
	if c.Numbered {
		return strconv.Itoa(i+1) + "  " + c.Options[i].Label
	}
	return c.Options[i].Label
}

// Tapped chooses what was hit.
func (c *choices) Tapped(ev *fyne.PointEvent) {
	if c.Disabled {
		return
	}
	if at := fyne.CurrentApp().Driver().CanvasForObject(c); at != nil {
		at.Focus(c)
	}
	c.choose(c.at(ev.Position.X))
}

// MouseIn, MouseMoved and MouseOut show what would be hit.
func (c *choices) MouseIn(ev *desktop.MouseEvent) { c.MouseMoved(ev) }

// MouseMoved shows what would be hit.
func (c *choices) MouseMoved(ev *desktop.MouseEvent) {
	if at := c.at(ev.Position.X); at != c.hovered {
		c.hovered = at
		c.Refresh()
	}
}

// MouseOut shows that nothing would be hit.
func (c *choices) MouseOut() { c.hovered = -1; c.Refresh() }

// CreateRenderer draws the options.
func (c *choices) CreateRenderer() fyne.WidgetRenderer {
	c.ExtendBaseWidget(c)
	r := &choicesRenderer{c: c, ring: canvas.NewRectangle(nil)}
	r.build()
	return r
}

type choicesRenderer struct {
	c      *choices
	ring   *canvas.Rectangle
	cells  []*canvas.Rectangle
	labels []*caption
	hints  []*caption
	tight  bool // as it was laid out
}

func (r *choicesRenderer) build() {
	for len(r.cells) < len(r.c.Options) {
		r.cells = append(r.cells, canvas.NewRectangle(nil))
		r.labels = append(r.labels, newCaption("", theme.ColorNameForeground).middle())
		r.hints = append(r.hints, newCaption("", colorQuiet).small().middle())
	}
	n := len(r.c.Options)
	r.cells, r.labels, r.hints = r.cells[:n], r.labels[:n], r.hints[:n]
	th, variant := r.c.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	tight := r.c.tight()
	for i, o := range r.c.Options {
		chosen := o.ID == r.c.Selected
		ground, ink, hint := theme.ColorNameButton, theme.ColorNameForeground, colorQuiet
		switch {
		case chosen && r.c.Disabled:
			ground, ink = theme.ColorNameDisabledButton, colorQuiet
		case chosen:
			ground, ink, hint = theme.ColorNamePrimary, theme.ColorNameForegroundOnPrimary, theme.ColorNameForegroundOnPrimary
		case r.c.Disabled:
			ground, ink, hint = theme.ColorNameDisabledButton, theme.ColorNameDisabled, theme.ColorNameDisabled
		case i == r.c.hovered:
			ground = theme.ColorNameSeparator
		}
		r.cells[i].FillColor = th.Color(ground, variant)
		r.cells[i].CornerRadius = th.Size(theme.SizeNameInputRadius)
		r.labels[i].Bold = chosen
		r.labels[i].Color, r.hints[i].Color = ink, hint
		r.labels[i].Text, r.hints[i].Text = r.c.label(i, tight), o.Hint
		if r.c.Small {
			r.labels[i].Tall = theme.SizeNameCaptionText
		}
		r.labels[i].Refresh()
		r.hints[i].Refresh()
	}
	r.ring.FillColor = nil
	r.ring.CornerRadius = th.Size(theme.SizeNameInputRadius) + 2
	r.ring.StrokeWidth = 0
	if r.c.focused {
		r.ring.StrokeWidth = 2
		r.ring.StrokeColor = th.Color(theme.ColorNamePrimary, variant)
	}
}

const choiceGap = 3

func (r *choicesRenderer) hinted() bool {
	for _, o := range r.c.Options {
		if o.Hint != "" {
			return true
		}
	}
	return false
}

func (r *choicesRenderer) Layout(size fyne.Size) {
	if tight := r.c.tight(); tight != r.tight {
		r.tight = tight
		r.build()
	}
	r.ring.Move(fyne.NewPos(-1, -1))
	r.ring.Resize(size.AddWidthHeight(2, 2))
	next := float32(choiceGap)
	for i, width := range r.c.widths() {
		x := next
		next += width
		width -= choiceGap
		r.cells[i].Move(fyne.NewPos(x, choiceGap))
		r.cells[i].Resize(fyne.NewSize(width, size.Height-2*choiceGap))
		inner := fyne.NewSize(max(width-8, 1), size.Height)
		if !r.hinted() {
			r.labels[i].Move(fyne.NewPos(x+4, 0))
			r.labels[i].Resize(inner)
			r.hints[i].Hide()
			continue
		}
		r.hints[i].Show()
		label, hint := r.labels[i].MinSize().Height, r.hints[i].MinSize().Height
		top := (size.Height - label - hint) / 2
		r.labels[i].Move(fyne.NewPos(x+4, top))
		r.labels[i].Resize(fyne.NewSize(inner.Width, label))
		r.hints[i].Move(fyne.NewPos(x+4, top+label))
		r.hints[i].Resize(fyne.NewSize(inner.Width, hint))
	}
}

func (r *choicesRenderer) MinSize() fyne.Size {
	size := fyne.NewSize(choiceGap, controlHeight()+2)
	if r.hinted() {
		size.Height = controlHeight() + 14
	}
	if r.c.Small {
		size.Height = controlHeight() - 2
	}
	for _, width := range r.c.needs(false) {
		size.Width += width
	}
	return size
}

func (r *choicesRenderer) Refresh() {
	r.build()
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}

func (r *choicesRenderer) Objects() []fyne.CanvasObject {
	objects := []fyne.CanvasObject{r.ring}
	for i := range r.cells {
		objects = append(objects, r.cells[i], r.labels[i], r.hints[i])
	}
	return objects
}

func (r *choicesRenderer) Destroy() {}
