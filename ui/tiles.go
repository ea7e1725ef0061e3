package ui

import (
	"strings"
	"time"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/drawing"
	"fettlebook/assess/term"
)

// tileItem is one part in the row in which the unit is laid out.
type tileItem struct {
	ID      string
	Name    string
	Grade   string
	Verdict term.Verdict
	// Apart marks a part that is not judged: always replaced, or missing.
	Apart bool
}

var _ fyne.Focusable = (*tiles)(nil)

// tiles lay the unit out in order, as parts lie on the bench. The arrows walk
// along; typing the beginning of a name goes to that part.
type tiles struct {
	widget.BaseWidget

	Items    []tileItem
	Selected string
	// OnSelected is called when a person chooses a part; OnEnter on Enter.
	OnSelected func(id string)
	OnEnter    func()
	// Draw, if set, makes the picture of a part within so many millimetres of paper.
	Draw func(id string, width, height float64) *drawing.List
	// OnTyped tells what was typed so far to find a part, "" at the end of it.
	OnTyped func(text string)

	keys    keyboard
	focused bool
	parts   []*tile
	// target is the part on which something that is dragged would be dropped.
	target string
	typed  string
	last   time.Time
}

// typingRests is the pause after which a letter begins a new name.
const typingRests = 1500 * time.Millisecond

func newTiles(keys keyboard) *tiles {
	t := &tiles{keys: keys}
	t.ExtendBaseWidget(t)
	return t
}

// SetItems shows other parts.
func (t *tiles) SetItems(items []tileItem) {
	t.Items = items
	t.Refresh()
}

// Mark shows as chosen a part as chosen without calling back.
func (t *tiles) Mark(id string) {
	if t.Selected == id {
		return
	}
	t.Selected = id
	t.Refresh()
}

func (t *tiles) index() int {
	for i := range t.Items {
		if t.Items[i].ID == t.Selected {
			return i
		}
	}
	return -1
}

// Walk chooses the part that is so many further along.
func (t *tiles) Walk(by int) {
	if len(t.Items) > 0 {
		t.pick(min(max(t.index()+by, 0), len(t.Items)-1))
	}
}

func (t *tiles) pick(i int) {
	if id := t.Items[i].ID; id != t.Selected {
		t.Selected = id
		t.Refresh()
		if t.OnSelected != nil {
			t.OnSelected(id)
		}
	}
}

// TypedKey walks along the parts.
func (t *tiles) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft:
		t.Walk(-1)
	case fyne.KeyRight:
		t.Walk(1)
	case fyne.KeyHome:
		t.Walk(-len(t.Items))
	case fyne.KeyEnd:
		t.Walk(len(t.Items))
	case fyne.KeyBackspace:
		t.find("", time.Time{})
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown:
		if t.OnEnter != nil {
			t.OnEnter()
		}
	default:
		if t.keys != nil {
			t.keys.typedKey(ev.Name)
		}
	}
}

// TypedRune goes to the part whose name begins so.
func (t *tiles) TypedRune(r rune) {
	if unicode.IsLetter(r) || unicode.IsDigit(r) || (r == ' ' && t.typed != "") {
		now := time.Now()
		text := string(unicode.ToLower(r))
		if now.Sub(t.last) < typingRests {
			text = t.typed + text
		}
		t.find(text, now)
		return
	}
	if t.keys != nil {
		t.keys.typedRune(r)
	}
}

func (t *tiles) find(text string, now time.Time) {
	t.typed, t.last = text, now
	if t.OnTyped != nil {
		t.OnTyped(text)
	}
	if text == "" {
		return
	}
	for _, from := range []func(name string) bool{
		func(name string) bool { return strings.HasPrefix(name, text) },
		func(name string) bool { return strings.Contains(name, " "+text) },
		func(name string) bool { return strings.Contains(name, text) },
	} {
		for i := range t.Items {
			if from(strings.ToLower(t.Items[i].Name)) {
				t.pick(i)
				return
			}
		}
	}
}

// FocusGained shows that the keys go here.
func (t *tiles) FocusGained() { t.focused = true; t.Refresh() }

// FocusLost shows that they no longer do.
func (t *tiles) FocusLost() {
	t.focused = false
	t.find("", time.Time{})
	t.Refresh()
}

// SetTarget lights up the part on which something that is dragged would be
// dropped, "" for none.
func (t *tiles) SetTarget(id string) {
	if t.target != id {
		t.target = id
		t.Refresh()
	}
}

// At returns the part at a place in the row, "" for none. The gap between two
// belongs to the one before.
func (t *tiles) At(at fyne.Position) string {
	for i := range t.Items {
		if p := t.parts[i]; at.X >= p.Position().X && at.X < p.Position().X+p.Size().Width+tileGap {
			return t.Items[i].ID
		}
	}
	return ""
}

// Span tells from where to where the chosen part reaches.
func (t *tiles) Span() (from, to float32) {
	for i := range t.Items {
		if t.Items[i].ID == t.Selected && i < len(t.parts) {
			p := t.parts[i]
			return p.Position().X, p.Position().X + p.Size().Width
		}
	}
	return 0, 0
}

// CreateRenderer draws the tiles.
func (t *tiles) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	d := &tilesRenderer{t: t}
	d.build()
	return d
}

type tilesRenderer struct{ t *tiles }

func (d *tilesRenderer) build() {
	t := d.t
	for len(t.parts) < len(t.Items) {
		t.parts = append(t.parts, newTile(t))
	}
	for i := range t.Items {
		chosen := t.Items[i].ID == t.Selected
		t.parts[i].set(t.Items[i], chosen, chosen && t.focused, t.Items[i].ID == t.target)
	}
}

const tileGap = 4

func (d *tilesRenderer) Layout(size fyne.Size) {
	x := float32(0)
	for i := range d.t.Items {
		width := d.t.parts[i].MinSize().Width
		d.t.parts[i].Move(fyne.NewPos(x, 0))
		d.t.parts[i].Resize(fyne.NewSize(width, size.Height))
		x += width + tileGap
	}
}

func (d *tilesRenderer) MinSize() fyne.Size {
	size := fyne.NewSize(0, d.t.height())
	for i := range d.t.Items {
		size.Width += d.t.parts[i].MinSize().Width + tileGap
	}
	return size
}

func (d *tilesRenderer) Refresh() {
	d.build()
	d.Layout(d.t.Size())
	canvas.Refresh(d.t)
}

func (d *tilesRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, len(d.t.Items))
	for i := range objects {
		objects[i] = d.t.parts[i]
	}
	return objects
}

func (d *tilesRenderer) Destroy() {}

// height is that of a tile: the words, and the picture where there is one.
func (t *tiles) height() float32 {
	height := theme.TextSize()*1.4 + theme.CaptionTextSize()*1.4 + 2*bandWidth + 26
	if t.Draw != nil {
		height += tilePicture + 4
	}
	return height
}

// tilePicture is how high the picture of a part is.
const tilePicture = 46

var (
	_ fyne.Tappable     = (*tile)(nil)
	_ desktop.Hoverable = (*tile)(nil)
)

// tile is one part: its name, its grade in words, and the band of its verdict.
type tile struct {
	widget.BaseWidget

	of              *tiles
	item            tileItem
	chosen, focused bool
	hovered, target bool
}

func newTile(of *tiles) *tile {
	t := &tile{of: of}
	t.ExtendBaseWidget(t)
	return t
}

func (t *tile) set(item tileItem, chosen, focused, target bool) {
	if t.item == item && t.chosen == chosen && t.focused == focused && t.target == target {
		return
	}
	t.item, t.chosen, t.focused, t.target = item, chosen, focused, target
	t.Refresh()
}

// Tapped chooses the part.
func (t *tile) Tapped(*fyne.PointEvent) {
	for i := range t.of.Items {
		if t.of.Items[i].ID == t.item.ID {
			t.of.pick(i)
		}
	}
}

// MouseIn shows what would be hit.
func (t *tile) MouseIn(*desktop.MouseEvent) { t.hovered = true; t.Refresh() }

// MouseMoved has no use.
func (t *tile) MouseMoved(*desktop.MouseEvent) {}

// MouseOut shows that it would not be hit.
func (t *tile) MouseOut() { t.hovered = false; t.Refresh() }

// CreateRenderer draws the tile.
func (t *tile) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	d := &tileRenderer{
		t: t, ground: canvas.NewRectangle(nil), foot: canvas.NewRectangle(nil),
		name: newCaption("", theme.ColorNameForeground).middle(), grade: newCaption("", colorQuiet).small().middle(),
		band: newBand(term.Undecided, 40), picture: canvas.NewImageFromImage(nil),
	}
	d.Refresh()
	return d
}

type tileRenderer struct {
	t            *tile
	ground, foot *canvas.Rectangle
	name, grade  *caption
	band         *band
	picture      *canvas.Image
	// drawn is what the picture was painted from.
	drawn painted
}

// painted tells from what a picture was painted: another part, size, shade or
// scale gives another one.
type painted struct {
	id            string
	width, height float32
	pixels        float64
	palette       *drawing.Palette
}

// paint paints the part anew where something of it has changed.
func (d *tileRenderer) paint(width float32) {
	of := d.t.of
	d.picture.Hidden = of.Draw == nil
	if of.Draw == nil {
		return
	}
	now := painted{d.t.item.ID, width, tilePicture, float64(paperUnits() * scaleOf(d.t)), paletteOf(d.t)}
	if now == d.drawn {
		return
	}
	d.drawn = now
	d.picture.Image = nil
	if l := of.Draw(now.id, float64(width/paperUnits()), float64(tilePicture/paperUnits())); l != nil {
		d.picture.Image = rasterised(l, now.palette, now.pixels)
	}
}

const (
	tileMargin = 10
	tileLeast  = 84
	tileMost   = 190
	tileFoot   = 4
)

func (d *tileRenderer) Layout(size fyne.Size) {
	d.ground.Resize(fyne.NewSize(size.Width, size.Height-tileFoot-2))
	d.foot.Move(fyne.NewPos(0, size.Height-tileFoot))
	d.foot.Resize(fyne.NewSize(size.Width, tileFoot))
	inner := size.Width - 2*tileMargin
	y := float32(7)
	for _, c := range []*caption{d.name, d.grade} {
		height := c.MinSize().Height
		c.Move(fyne.NewPos(tileMargin, y))
		c.Resize(fyne.NewSize(inner, height))
		y += height
	}
	d.paint(inner)
	if !d.picture.Hidden {
		d.picture.Move(fyne.NewPos(tileMargin, y+2))
		d.picture.Resize(fyne.NewSize(inner, tilePicture))
		y += tilePicture + 4
	}
	d.band.Move(fyne.NewPos(tileMargin, y+3))
	d.band.Resize(fyne.NewSize(inner, 2*bandWidth))
}

func (d *tileRenderer) MinSize() fyne.Size {
	name := fyne.MeasureText(d.name.Text, theme.TextSize(), fyne.TextStyle{Bold: true}).Width
	grade := fyne.MeasureText(d.grade.Text, theme.CaptionTextSize(), fyne.TextStyle{Bold: true}).Width
	width := min(max(name, grade)+2*tileMargin+2, tileMost)
	return fyne.NewSize(max(width, tileLeast), d.t.of.height())
}

func (d *tileRenderer) Refresh() {
	th, variant := d.t.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	ground := theme.ColorNameBackground
	switch {
	case d.t.chosen:
		ground = colorChosen
	case d.t.hovered:
		ground = theme.ColorNameSeparator
	}
	d.ground.FillColor = th.Color(ground, variant)
	d.ground.StrokeColor = th.Color(theme.ColorNameSeparator, variant)
	d.ground.StrokeWidth = 1
	d.ground.CornerRadius = 4
	if d.t.focused || d.t.target {
		d.ground.StrokeColor = th.Color(theme.ColorNamePrimary, variant)
		d.ground.StrokeWidth = 2
	}
	if d.t.target {
		d.ground.FillColor, d.ground.StrokeWidth = th.Color(theme.ColorNameSelection, variant), 4
	}
	d.foot.FillColor = th.Color(theme.ColorNamePrimary, variant)
	d.foot.Hidden = !d.t.chosen
	d.name.Text, d.name.Bold = d.t.item.Name, d.t.chosen
	d.grade.Text, d.grade.Bold = d.t.item.Grade, d.t.chosen
	d.band.Hidden = d.t.item.Apart
	d.band.SetVerdict(d.t.item.Verdict)
	d.Layout(d.t.Size())
	d.name.Refresh()
	d.grade.Refresh()
	d.picture.Refresh()
	d.band.Refresh()
	canvas.Refresh(d.t)
}

func (d *tileRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.ground, d.foot, d.name, d.grade, d.picture, d.band}
}

func (d *tileRenderer) Destroy() {}
