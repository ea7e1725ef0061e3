package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// thumbItem is one photo in the strip.
type thumbItem struct {
	ID string
	// Under stands below the picture: number and stage. Turned counts with the
	// picture: a photo that was turned has another one.
	Under  string
	Marked int
	Turned int
}

var _ fyne.Focusable = (*thumbs)(nil)

// thumbs is the strip of photos below the large one, in the order in which they
// were taken.
type thumbs struct {
	widget.BaseWidget

	Items    []thumbItem
	Selected string
	// OnSelected is called when a person chooses a photo; OnEnter on Enter.
	OnSelected func(id string)
	OnEnter    func()
	// Picture gives the small picture of a photo, nil while it is not there yet.
	Picture func(id string) image.Image

	keys    keyboard
	focused bool
	parts   []*thumb
}

func newThumbs(keys keyboard) *thumbs {
	t := &thumbs{keys: keys}
	t.ExtendBaseWidget(t)
	return t
}

// SetItems shows other photos.
func (t *thumbs) SetItems(items []thumbItem) {
	t.Items = items
	t.Refresh()
}

// Mark shows as chosen a photo as chosen without calling back.
func (t *thumbs) Mark(id string) {
	if t.Selected == id {
		return
	}
	t.Selected = id
	t.Refresh()
}

func (t *thumbs) index() int {
	for i := range t.Items {
		if t.Items[i].ID == t.Selected {
			return i
		}
	}
	return -1
}

// Walk chooses the photo that is so many further along.
func (t *thumbs) Walk(by int) {
	if len(t.Items) > 0 {
		t.pick(min(max(t.index()+by, 0), len(t.Items)-1))
	}
}

func (t *thumbs) pick(i int) {
	if id := t.Items[i].ID; id != t.Selected {
		t.Selected = id
		t.Refresh()
		if t.OnSelected != nil {
			t.OnSelected(id)
		}
	}
}

// TypedKey walks along the photos.
func (t *thumbs) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyLeft:
		t.Walk(-1)
	case fyne.KeyRight:
		t.Walk(1)
	case fyne.KeyHome:
		t.Walk(-len(t.Items))
	case fyne.KeyEnd:
		t.Walk(len(t.Items))
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.OnEnter != nil {
			t.OnEnter()
		}
	default:
		if t.keys != nil {
			t.keys.typedKey(ev.Name)
		}
	}
}

// TypedRune passes letters on.
func (t *thumbs) TypedRune(r rune) {
	if t.keys != nil {
		t.keys.typedRune(r)
	}
}

// FocusGained shows that the keys go here.
func (t *thumbs) FocusGained() { t.focused = true; t.Refresh() }

// FocusLost shows that they no longer do.
func (t *thumbs) FocusLost() { t.focused = false; t.Refresh() }

// Span tells from where to where the chosen photo reaches.
func (t *thumbs) Span() (from, to float32) {
	if i := t.index(); i >= 0 {
		from = float32(i) * (thumbWidth + tileGap)
		return from, from + thumbWidth
	}
	return 0, 0
}

// CreateRenderer draws the strip.
func (t *thumbs) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	d := &thumbsRenderer{t: t}
	d.build()
	return d
}

type thumbsRenderer struct{ t *thumbs }

const (
	thumbWidth   = 96
	thumbPicture = 64
)

func thumbHeight() float32 { return thumbPicture + theme.CaptionTextSize()*1.4 + 8 }

func (d *thumbsRenderer) build() {
	t := d.t
	for len(t.parts) < len(t.Items) {
		t.parts = append(t.parts, newThumb(t))
	}
	for i := range t.Items {
		chosen := t.Items[i].ID == t.Selected
		var picture image.Image
		if t.Picture != nil {
			picture = t.Picture(t.Items[i].ID)
		}
		t.parts[i].set(t.Items[i], picture, chosen, chosen && t.focused)
	}
}

func (d *thumbsRenderer) Layout(size fyne.Size) {
	for i := range d.t.Items {
		d.t.parts[i].Move(fyne.NewPos(float32(i)*(thumbWidth+tileGap), 0))
		d.t.parts[i].Resize(fyne.NewSize(thumbWidth, size.Height))
	}
}

func (d *thumbsRenderer) MinSize() fyne.Size {
	return fyne.NewSize(float32(len(d.t.Items))*(thumbWidth+tileGap), thumbHeight())
}

func (d *thumbsRenderer) Refresh() {
	d.build()
	d.Layout(d.t.Size())
	canvas.Refresh(d.t)
}

func (d *thumbsRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, len(d.t.Items))
	for i := range objects {
		objects[i] = d.t.parts[i]
	}
	return objects
}

func (d *thumbsRenderer) Destroy() {}

var (
	_ fyne.Tappable     = (*thumb)(nil)
	_ desktop.Hoverable = (*thumb)(nil)
)

type thumb struct {
	widget.BaseWidget

	of              *thumbs
	item            thumbItem
	picture         image.Image
	chosen, focused bool
	hovered         bool
}

func newThumb(of *thumbs) *thumb {
	t := &thumb{of: of}
	t.ExtendBaseWidget(t)
	return t
}

func (t *thumb) set(item thumbItem, picture image.Image, chosen, focused bool) {
	if t.item == item && t.picture == picture && t.chosen == chosen && t.focused == focused {
		return
	}
	t.item, t.picture, t.chosen, t.focused = item, picture, chosen, focused
	t.Refresh()
}

// Tapped chooses the photo.
func (t *thumb) Tapped(*fyne.PointEvent) {
	for i := range t.of.Items {
		if t.of.Items[i].ID == t.item.ID {
			t.of.pick(i)
		}
	}
}

// MouseIn shows what would be hit.
func (t *thumb) MouseIn(*desktop.MouseEvent) { t.hovered = true; t.Refresh() }

// MouseMoved has no use.
func (t *thumb) MouseMoved(*desktop.MouseEvent) {}

// MouseOut shows that it would not be hit.
func (t *thumb) MouseOut() { t.hovered = false; t.Refresh() }

// CreateRenderer draws the photo.
func (t *thumb) CreateRenderer() fyne.WidgetRenderer {
	t.ExtendBaseWidget(t)
	d := &thumbRenderer{
		t: t, mat: canvas.NewRectangle(nil), frame: canvas.NewRectangle(nil), picture: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth},
		under: newCaption("", colorQuiet).small().middle(),
	}
	d.Refresh()
	return d
}

type thumbRenderer struct {
	t          *thumb
	mat, frame *canvas.Rectangle
	picture    *canvas.Image
	under      *caption
}

func (d *thumbRenderer) Layout(size fyne.Size) {
	box := fyne.NewSize(size.Width, thumbPicture)
	d.mat.Resize(box)
	d.frame.Resize(box)
	d.picture.Move(fyne.NewPos(2, 2))
	d.picture.Resize(box.SubtractWidthHeight(4, 4))
	d.under.Move(fyne.NewPos(0, thumbPicture+1))
	d.under.Resize(fyne.NewSize(size.Width, d.under.MinSize().Height))
}

func (d *thumbRenderer) MinSize() fyne.Size { return fyne.NewSize(thumbWidth, thumbHeight()) }

func (d *thumbRenderer) Refresh() {
	th, variant := d.t.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	d.mat.FillColor = th.Color(colorMat, variant)
	d.frame.StrokeWidth, d.frame.StrokeColor = 0, th.Color(theme.ColorNamePrimary, variant)
	switch {
	case d.t.chosen && d.t.focused:
		d.frame.StrokeWidth = 4
	case d.t.chosen:
		d.frame.StrokeWidth = 3
	case d.t.hovered:
		d.frame.StrokeWidth = 1
	}
	if d.picture.Image != d.t.picture {
		d.picture.Image = d.t.picture
		d.picture.Refresh()
	}
	d.under.Text, d.under.Bold = d.t.item.Under, d.t.chosen
	d.under.Color = colorQuiet
	if d.t.chosen {
		d.under.Color = theme.ColorNameForeground
	}
	d.under.Refresh()
	d.Layout(d.t.Size())
	canvas.Refresh(d.t)
}

func (d *thumbRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.mat, d.picture, d.frame, d.under}
}

func (d *thumbRenderer) Destroy() {}
