package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/term"
)

// rowItem is what one row shows, from left to right.
type rowItem struct {
	ID    string
	Lead  string
	Text  string
	Quiet string
	// Word stands at the right; with Judged it is marked as the verdict's.
	Word    string
	Judged  bool
	Verdict term.Verdict
	// Struck draws a line through the row: it no longer counts.
	Struck bool
	// Box gives the row a box to tick in place of Lead; Ticked marks one that was
	// picked among several.
	Box    bool
	Ticked bool
}

var _ fyne.Focusable = (*rows)(nil)

// rows is a list of few rows, all of them drawn, for lists that stand inside a
// page. The arrows walk, Enter chooses.
type rows struct {
	widget.BaseWidget

	Items    []rowItem
	Selected string
	// LeadWidth and TextShare divide the row. With a TextShare of 0 Text is as wide
	// as the widest wants to be, as long as Quiet keeps quietLeast.
	LeadWidth float32
	// Numbered has the number keys choose the row of that place.
	Numbered bool
	// Close sets the rows closer, for a list that must leave room for other things.
	Close     bool
	TextShare float32
	WordWidth float32
	// OnSelected is called when a person walks or clicks to a row, OnEnter when
	// Enter is pressed or a row double-clicked, OnRune for letters first.
	OnSelected func(id string)
	OnEnter    func(id string)
	OnRune     func(r rune) bool
	OnKey      func(name fyne.KeyName) bool

	keys    keyboard
	focused bool
	parts   []*row
	// target is the row on which something that is dragged would be dropped.
	target string
	// textNeeds and quietNeeds are the widths that the widest of the rows want.
	textNeeds, quietNeeds float32
}

func newRows(keys keyboard) *rows {
	r := &rows{keys: keys, LeadWidth: 22}
	r.ExtendBaseWidget(r)
	return r
}

// SetItems shows other rows.
func (r *rows) SetItems(items []rowItem) {
	r.Items = items
	r.textNeeds, r.quietNeeds = 0, 0
	for _, item := range items {
		r.textNeeds = max(r.textNeeds, fyne.MeasureText(oneLine(item.Text), theme.TextSize(), fyne.TextStyle{Bold: true}).Width)
		r.quietNeeds = max(r.quietNeeds, fyne.MeasureText(oneLine(item.Quiet), theme.CaptionTextSize(), fyne.TextStyle{}).Width)
	}
	r.Refresh()
}

// Mark shows a row as selected without calling back.
func (r *rows) Mark(id string) {
	if r.Selected == id {
		return
	}
	r.Selected = id
	r.Refresh()
}

// Index is the place of the selected row, -1 for none.
func (r *rows) Index() int {
	for i := range r.Items {
		if r.Items[i].ID == r.Selected {
			return i
		}
	}
	return -1
}

// SetTarget lights up the row on which something that is dragged would be dropped.
func (r *rows) SetTarget(id string) {
	if r.target != id {
		r.target = id
		r.Refresh()
	}
}

// At returns the row at a place, "" for none.
func (r *rows) At(at fyne.Position) string {
	if i := int(at.Y / r.RowHeight()); at.Y >= 0 && i < len(r.Items) {
		return r.Items[i].ID
	}
	return ""
}

// Walk selects the row that is so many further.
func (r *rows) Walk(by int) {
	if len(r.Items) == 0 {
		return
	}
	r.pick(min(max(r.Index()+by, 0), len(r.Items)-1))
}

func (r *rows) pick(i int) {
	id := r.Items[i].ID
	if id == r.Selected {
		return
	}
	r.Selected = id
	r.Refresh()
	if r.OnSelected != nil {
		r.OnSelected(id)
	}
}

// RowHeight is how high a row is.
func (r *rows) RowHeight() float32 {
	if r.Close {
		return theme.TextSize()*1.4 + 3
	}
	return theme.TextSize()*1.4 + 8
}

// RevealIn scrolls a lane that holds only the rows so that the chosen one is
// in sight.
func (r *rows) RevealIn(lane *container.Scroll) {
	at, height := float32(r.Index()), r.RowHeight()
	offset, sight := lane.Offset, lane.Size().Height
	switch {
	case at < 0 || sight <= 0:
		return
	case at*height < offset.Y:
		offset.Y = at * height
	case (at+1)*height > offset.Y+sight:
		offset.Y = (at+1)*height - sight + 2
	}
	if offset != lane.Offset {
		lane.ScrollToOffset(offset)
	}
}

// TypedKey walks and chooses.
func (r *rows) TypedKey(ev *fyne.KeyEvent) {
	if r.OnKey != nil && r.OnKey(ev.Name) {
		return
	}
	switch ev.Name {
	case fyne.KeyUp:
		r.Walk(-1)
	case fyne.KeyDown:
		r.Walk(1)
	case fyne.KeyHome:
		r.Walk(-len(r.Items))
	case fyne.KeyEnd:
		r.Walk(len(r.Items))
	case fyne.KeyReturn, fyne.KeyEnter:
		if r.OnEnter != nil && r.Index() >= 0 {
			r.OnEnter(r.Selected)
		}
	default:
		if r.keys != nil {
			r.keys.typedKey(ev.Name)
		}
	}
}

// TypedRune passes letters on.
func (r *rows) TypedRune(letter rune) {
	if n := int(letter - '1'); r.Numbered && n >= 0 && n < len(r.Items) {
		r.pick(n)
		return
	}
	if r.OnRune != nil && r.OnRune(letter) {
		return
	}
	if r.keys != nil {
		r.keys.typedRune(letter)
	}
}

// FocusGained shows that the keys go here.
func (r *rows) FocusGained() { r.focused = true; r.Refresh() }

// FocusLost shows that they no longer do.
func (r *rows) FocusLost() { r.focused = false; r.Refresh() }

// CreateRenderer draws the rows.
func (r *rows) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	d := &rowsRenderer{r: r, ring: canvas.NewRectangle(nil)}
	d.build()
	return d
}

type rowsRenderer struct {
	r    *rows
	ring *canvas.Rectangle
}

func (d *rowsRenderer) build() {
	r := d.r
	for len(r.parts) < len(r.Items) {
		r.parts = append(r.parts, newRow(r))
	}
	for i := range r.Items {
		r.parts[i].set(r.Items[i], r.Items[i].ID == r.Selected, r.target != "" && r.Items[i].ID == r.target)
	}
	th, variant := r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	d.ring.StrokeWidth = 1
	d.ring.StrokeColor = th.Color(theme.ColorNameSeparator, variant)
	if r.focused {
		d.ring.StrokeWidth = 2
		d.ring.StrokeColor = th.Color(theme.ColorNamePrimary, variant)
	}
	d.ring.CornerRadius = 3
}

func (d *rowsRenderer) Layout(size fyne.Size) {
	d.ring.Resize(size)
	height := d.r.RowHeight()
	for i := range d.r.Items {
		d.r.parts[i].Move(fyne.NewPos(1, 1+float32(i)*height))
		d.r.parts[i].Resize(fyne.NewSize(size.Width-2, height))
	}
}

func (d *rowsRenderer) MinSize() fyne.Size {
	return fyne.NewSize(120, max(float32(len(d.r.Items))*d.r.RowHeight(), 0)+2)
}

func (d *rowsRenderer) Refresh() {
	d.build()
	d.Layout(d.r.Size())
	canvas.Refresh(d.r)
}

func (d *rowsRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, 0, len(d.r.Items)+1)
	for i := range d.r.Items {
		objects = append(objects, d.r.parts[i])
	}
	return append(objects, d.ring)
}

func (d *rowsRenderer) Destroy() {}

var (
	_ fyne.DoubleTappable = (*row)(nil)
	_ desktop.Mouseable   = (*row)(nil)
	_ desktop.Hoverable   = (*row)(nil)
)

// row is one row of a list. It is chosen when the mouse goes down, since a
// double-click would otherwise hold the choice back.
type row struct {
	widget.BaseWidget

	of       *rows
	item     rowItem
	selected bool
	target   bool
	hovered  bool
}

func newRow(of *rows) *row {
	r := &row{of: of}
	r.ExtendBaseWidget(r)
	return r
}

func (r *row) set(item rowItem, selected, target bool) {
	if r.item == item && r.selected == selected && r.target == target {
		return
	}
	r.item, r.selected, r.target = item, selected, target
	r.Refresh()
}

// MouseDown selects the row.
func (r *row) MouseDown(*desktop.MouseEvent) {
	if at := fyne.CurrentApp().Driver().CanvasForObject(r.of); at != nil {
		at.Focus(r.of)
	}
	for i := range r.of.Items {
		if r.of.Items[i].ID == r.item.ID {
			r.of.pick(i)
			return
		}
	}
}

// MouseUp has no use.
func (r *row) MouseUp(*desktop.MouseEvent) {}

// DoubleTapped is the same as Enter.
func (r *row) DoubleTapped(*fyne.PointEvent) {
	if r.of.OnEnter != nil {
		r.of.OnEnter(r.item.ID)
	}
}

// MouseIn shows what would be hit.
func (r *row) MouseIn(*desktop.MouseEvent) { r.hovered = true; r.Refresh() }

// MouseMoved has no use.
func (r *row) MouseMoved(*desktop.MouseEvent) {}

// MouseOut shows that it would not be hit.
func (r *row) MouseOut() { r.hovered = false; r.Refresh() }

// CreateRenderer draws the row.
func (r *row) CreateRenderer() fyne.WidgetRenderer {
	r.ExtendBaseWidget(r)
	d := &rowRenderer{
		r: r, ground: canvas.NewRectangle(nil), edge: canvas.NewRectangle(nil), strike: canvas.NewRectangle(nil),
		box: canvas.NewRectangle(nil), tick: canvas.NewRectangle(nil),
		lead: newCaption("", colorQuiet), text: newCaption("", theme.ColorNameForeground),
		quiet: newCaption("", colorQuiet).small(), word: newCaption("", theme.ColorNameForeground).toEnd(),
		band: newBand(term.Undecided, rowBand),
	}
	d.band.Unit = 2.6
	d.Refresh()
	return d
}

type rowRenderer struct {
	r                    *row
	ground, edge, strike *canvas.Rectangle
	box, tick            *canvas.Rectangle
	lead, text, quiet    *caption
	word                 *caption
	band                 *band
}

const (
	rowMargin  = 8
	quietLeast = 84
	rowBand    = 30
)

func (d *rowRenderer) Layout(size fyne.Size) {
	of, item := d.r.of, d.r.item
	d.ground.Resize(size)
	d.edge.Move(fyne.NewPos(0, size.Height-1))
	d.edge.Resize(fyne.NewSize(size.Width, 1))
	left, right := float32(rowMargin), size.Width-rowMargin
	place := func(c fyne.CanvasObject, from, to float32) {
		c.Move(fyne.NewPos(from, 0))
		c.Resize(fyne.NewSize(max(to-from, 1), size.Height-1))
	}
	const box = 14
	d.box.Move(fyne.NewPos(left, (size.Height-box)/2))
	d.box.Resize(fyne.NewSquareSize(box))
	d.tick.Move(fyne.NewPos(left+3, (size.Height-box)/2+3))
	d.tick.Resize(fyne.NewSquareSize(box - 6))
	if of.LeadWidth > 0 {
		place(d.lead, left, left+of.LeadWidth-4)
		left += of.LeadWidth
	}
	if item.Word != "" {
		width := of.WordWidth
		if width == 0 {
			width = fyne.MeasureText(item.Word, theme.TextSize(), fyne.TextStyle{Bold: d.word.Bold}).Width + 2
		}
		place(d.word, right-width, right)
		right -= width + 8
	}
	if item.Judged {
		place(d.band, right-rowBand, right)
		right -= rowBand + 10
	}
	middle := right
	switch {
	case of.TextShare > 0 && item.Quiet != "":
		middle = left + (right-left)*of.TextShare
	case of.quietNeeds > 0:
		middle = min(left+of.textNeeds+16, right-min(of.quietNeeds, quietLeast))
	}
	place(d.text, left, middle-8)
	place(d.quiet, middle, right)
	d.strike.Move(fyne.NewPos(left, size.Height/2))
	d.strike.Resize(fyne.NewSize(min(d.text.MinSize().Width, 1)+max(middle-8-left, 1), 1))
}

func (d *rowRenderer) MinSize() fyne.Size { return fyne.NewSize(100, d.r.of.RowHeight()) }

func (d *rowRenderer) Refresh() {
	item := d.r.item
	th, variant := d.r.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	ground := theme.ColorNameBackground
	if d.r.selected {
		ground = colorChosen
	}
	d.ground.FillColor = th.Color(ground, variant)
	if d.r.hovered && !d.r.selected {
		d.ground.FillColor = th.Color(colorRaised, variant)
	}
	d.ground.StrokeWidth, d.ground.StrokeColor = 0, nil
	if d.r.target {
		d.ground.StrokeWidth, d.ground.StrokeColor = 3, th.Color(theme.ColorNamePrimary, variant)
	}
	d.edge.FillColor = th.Color(theme.ColorNameSeparator, variant)
	d.strike.FillColor = th.Color(colorQuiet, variant)
	d.strike.Hidden = !item.Struck
	d.box.Hidden, d.tick.Hidden = !item.Box, !item.Ticked
	d.box.StrokeColor, d.box.StrokeWidth, d.box.CornerRadius = th.Color(colorQuiet, variant), 1.5, 2
	d.tick.FillColor = th.Color(theme.ColorNamePrimary, variant)
	d.text.Color = theme.ColorNameForeground
	if item.Struck {
		d.text.Color = colorQuiet
	}
	d.text.Bold = d.r.selected || item.Ticked
	d.lead.Text, d.text.Text, d.quiet.Text, d.word.Text = item.Lead, oneLine(item.Text), oneLine(item.Quiet), item.Word
	d.word.Color = theme.ColorNameForeground
	d.word.Bold = d.r.selected
	d.quiet.Hidden, d.word.Hidden, d.band.Hidden = item.Quiet == "", item.Word == "", !item.Judged
	d.lead.Hidden = d.r.of.LeadWidth == 0
	d.band.SetVerdict(item.Verdict)
	d.Layout(d.r.Size())
	for _, c := range []*caption{d.lead, d.text, d.quiet, d.word} {
		c.Refresh()
	}
	d.band.Refresh()
	canvas.Refresh(d.r)
}

func (d *rowRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.ground, d.edge, d.box, d.tick, d.lead, d.text, d.quiet, d.band, d.word, d.strike}
}

func (d *rowRenderer) Destroy() {}
