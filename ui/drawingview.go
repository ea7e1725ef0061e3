package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/drawing"
)

var (
	_ fyne.Focusable    = (*drawingView)(nil)
	_ fyne.Tappable     = (*drawingView)(nil)
	_ desktop.Hoverable = (*drawingView)(nil)
)

// drawingView shows a drawing: a click chooses what is pointed at, the arrows walk
// along the axis, and hovering names it.
type drawingView struct {
	widget.BaseWidget

	// Draw makes the drawing for a width in millimetres of paper; nil shows nothing.
	Draw func(width float64) *drawing.List
	// Chosen is where the arrows begin.
	Chosen string
	// OnChosen is called when a person chooses, OnHover when the pointer comes over
	// something or leaves it, with an empty name.
	OnChosen func(of string)
	OnHover  func(of string)
	// Name names what the pointer is over, for a label at the lower edge; nil for none.
	Name func(of string) string

	keys    keyboard
	list    *drawing.List
	made    float32
	hovered string
	focused bool
}

// paper is how many millimetres of paper a unit of the canvas stands for: the type
// of a drawing is then as large as a caption.
func paperUnits() float32 { return theme.CaptionTextSize() / 3.0 }

func newDrawingView(keys keyboard, draw func(width float64) *drawing.List) *drawingView {
	v := &drawingView{keys: keys, Draw: draw}
	v.ExtendBaseWidget(v)
	return v
}

// Redraw makes the drawing anew: what it shows has changed.
func (v *drawingView) Redraw() {
	v.list = nil
	v.Refresh()
}

// drawn is the drawing for the width that there is.
func (v *drawingView) drawn() *drawing.List {
	width := v.Size().Width
	if v.Draw == nil || width < 20 {
		return nil
	}
	if v.list == nil || v.made != width {
		v.list, v.made = v.Draw(float64(width/paperUnits())), width
	}
	return v.list
}

func (v *drawingView) at(pos fyne.Position) string {
	l := v.drawn()
	if l == nil {
		return ""
	}
	of, _ := l.At(drawing.Point{X: float64(pos.X / paperUnits()), Y: float64(pos.Y / paperUnits())})
	return of
}

// Tapped chooses what was hit.
func (v *drawingView) Tapped(ev *fyne.PointEvent) {
	if at := fyne.CurrentApp().Driver().CanvasForObject(v); at != nil {
		at.Focus(v)
	}
	v.choose(v.at(ev.Position))
}

func (v *drawingView) choose(of string) {
	if of != "" && v.OnChosen != nil {
		v.OnChosen(of)
	}
}

// MouseIn shows what would be hit.
func (v *drawingView) MouseIn(ev *desktop.MouseEvent) { v.MouseMoved(ev) }

// MouseMoved shows what would be hit.
func (v *drawingView) MouseMoved(ev *desktop.MouseEvent) { v.hover(v.at(ev.Position)) }

// MouseOut shows that nothing would be hit.
func (v *drawingView) MouseOut() { v.hover("") }

func (v *drawingView) hover(of string) {
	if of == v.hovered {
		return
	}
	v.hovered = of
	if v.OnHover != nil {
		v.OnHover(of)
	}
	v.Refresh()
}

// TypedKey walks along the axis.
func (v *drawingView) TypedKey(ev *fyne.KeyEvent) {
	by := map[fyne.KeyName]int{fyne.KeyLeft: -1, fyne.KeyUp: -1, fyne.KeyRight: 1, fyne.KeyDown: 1}[ev.Name]
	if l := v.drawn(); by != 0 && l != nil {
		if of, ok := l.Step(v.Chosen, by); ok {
			v.choose(of)
		}
		return
	}
	if v.keys != nil {
		v.keys.typedKey(ev.Name)
	}
}

// TypedRune passes letters on.
func (v *drawingView) TypedRune(r rune) {
	if v.keys != nil {
		v.keys.typedRune(r)
	}
}

// FocusGained shows that the keys go here.
func (v *drawingView) FocusGained() { v.focused = true; v.Refresh() }

// FocusLost shows that they no longer do.
func (v *drawingView) FocusLost() { v.focused = false; v.Refresh() }

// CreateRenderer shows the drawing.
func (v *drawingView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	r := &drawingRenderer{v: v, picture: canvas.NewImageFromImage(nil), over: canvas.NewImageFromImage(nil), ring: canvas.NewRectangle(nil)}
	r.name = newCaption("", theme.ColorNameForeground).small()
	r.picture.ScaleMode, r.over.ScaleMode = canvas.ImageScaleFastest, canvas.ImageScaleFastest
	return r
}

// drawingRenderer keeps the picture of a drawing until the drawing, its scale or
// the shade changes; what is pointed at is a second picture over it.
type drawingRenderer struct {
	v             *drawingView
	picture, over *canvas.Image
	ring          *canvas.Rectangle
	name          *caption
	texts         []*canvas.Text
	used          int
	shown         *drawing.List
	shownOver     string
	palette       *drawing.Palette
	pixels        float64
}

func (r *drawingRenderer) paint() {
	l := r.v.drawn()
	if l == nil {
		r.picture.Image, r.over.Image, r.used, r.shown = nil, nil, 0, nil
		return
	}
	palette := paletteOf(r.v)
	pixels := float64(paperUnits() * scaleOf(r.v))
	fresh := l != r.shown || palette != r.palette || pixels != r.pixels
	if fresh {
		r.shown, r.palette, r.pixels = l, palette, pixels
		r.picture.Image = rasterised(l, palette, pixels)
		r.write(l, palette)
	}
	if fresh || r.v.hovered != r.shownOver {
		r.shownOver = r.v.hovered
		r.over.Image = nil
		if r.v.hovered != "" {
			r.over.Image = rasterised(l.Highlight(r.v.hovered), palette, pixels)
		}
	}
}

// write sets the texts of the drawing.
func (r *drawingRenderer) write(l *drawing.List, palette *drawing.Palette) {
	r.used = 0
	unit := paperUnits()
	for i := range l.Items {
		item := &l.Items[i]
		if item.Op != drawing.Text {
			continue
		}
		if r.used == len(r.texts) {
			r.texts = append(r.texts, canvas.NewText("", nil))
		}
		t := r.texts[r.used]
		r.used++
		t.Text, t.Color, t.TextSize = item.Text, inkColor(palette, item.Ink), float32(item.Size)*unit
		t.TextStyle = fyne.TextStyle{Bold: item.Bold}
		size := fyne.MeasureText(t.Text, t.TextSize, t.TextStyle)
		x := float32(item.At.X) * unit
		switch item.Anchor {
		case drawing.Middle:
			x -= size.Width / 2
		case drawing.End:
			x -= size.Width
		}
		// The baseline of a text lies about four fifths down its line.
		t.Move(fyne.NewPos(x, float32(item.At.Y)*unit-size.Height*0.79))
		t.Resize(size)
	}
}

func paletteOf(w fyne.Widget) *drawing.Palette {
	if l, ok := fyne.CurrentApp().Settings().Theme().(*look); ok && l.variant(fyne.CurrentApp().Settings().ThemeVariant()) == theme.VariantDark {
		return &drawing.Night
	}
	return &drawing.Paper
}

// scaleOf is how many pixels of the screen a unit of the canvas has.
func scaleOf(o fyne.CanvasObject) float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.Scale() > 0 {
		return c.Scale()
	}
	return 1
}

func (r *drawingRenderer) Layout(size fyne.Size) {
	r.paint()
	unit := paperUnits()
	area := fyne.NewSize(size.Width, size.Height)
	if l := r.shown; l != nil {
		b := r.picture.Image.(*image.RGBA).Bounds()
		area = fyne.NewSize(float32(b.Dx())/float32(r.pixels)*unit, float32(b.Dy())/float32(r.pixels)*unit)
	}
	r.picture.Resize(area)
	r.over.Resize(area)
	r.ring.Resize(size)
	height := r.name.MinSize().Height
	r.name.Move(fyne.NewPos(4, size.Height-height))
	r.name.Resize(fyne.NewSize(size.Width-8, height))
}

func (r *drawingRenderer) MinSize() fyne.Size {
	if l := r.v.drawn(); l != nil {
		return fyne.NewSize(60, float32(l.Height)*paperUnits())
	}
	return fyne.NewSize(60, 40)
}

func (r *drawingRenderer) Refresh() {
	r.Layout(r.v.Size())
	r.ring.StrokeWidth = 0
	if r.v.focused {
		r.ring.StrokeWidth = 2
		r.ring.StrokeColor = r.v.Theme().Color(theme.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant())
		r.ring.CornerRadius = 3
	}
	r.name.Text = ""
	if r.v.Name != nil && r.v.hovered != "" {
		r.name.Text = r.v.Name(r.v.hovered)
	}
	r.name.Refresh()
	r.picture.Refresh()
	r.over.Refresh()
	canvas.Refresh(r.v)
}

func (r *drawingRenderer) Objects() []fyne.CanvasObject {
	objects := []fyne.CanvasObject{r.picture, r.over}
	for _, t := range r.texts[:r.used] {
		objects = append(objects, t)
	}
	return append(objects, r.name, r.ring)
}

func (r *drawingRenderer) Destroy() {}
