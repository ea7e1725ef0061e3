package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// thumbTick is the side of the mark of a photo that is picked.
const thumbTick = 18

// thumbOut is that of the mark of one that is left out of the report, thumbPale how
// translucent such a photo is.
const (
	thumbOut  = 24
	thumbPale = 0.6
)

var (
	_ fyne.Tappable     = (*thumb)(nil)
	_ fyne.Draggable    = (*thumb)(nil)
	_ desktop.Hoverable = (*thumb)(nil)
	_ desktop.Mouseable = (*thumb)(nil)
)

// thumb is one photo of the strip.
type thumb struct {
	widget.BaseWidget

	of      *thumbs
	item    thumbItem
	picture image.Image
	look    thumbLook
	hovered bool
	// held are the modifier keys of the press that a tap or a drag comes from.
	held fyne.KeyModifier
}

// thumbLook is how a photo stands out among the others.
type thumbLook struct{ chosen, focused, picked bool }

func newThumb(of *thumbs) *thumb {
	t := &thumb{of: of}
	t.ExtendBaseWidget(t)
	return t
}

func (t *thumb) set(item thumbItem, picture image.Image, look thumbLook) {
	if t.item == item && t.picture == picture && t.look == look {
		return
	}
	t.item, t.picture, t.look = item, picture, look
	t.Refresh()
}

// MouseDown remembers the keys that are held meanwhile.
func (t *thumb) MouseDown(ev *desktop.MouseEvent) { t.held = ev.Modifier }

// MouseUp has no use: a press is a tap or a drag.
func (t *thumb) MouseUp(*desktop.MouseEvent) {}

// Tapped chooses the photo; with Control it is picked besides the others, with
// Shift all are up to it.
func (t *thumb) Tapped(*fyne.PointEvent) {
	i := t.of.indexOf(t.item.ID)
	switch {
	case i < 0:
	case t.held&fyne.KeyModifierShift != 0:
		t.of.ExtendTo(i)
	case t.held&fyne.KeyModifierShortcutDefault != 0:
		t.of.Toggle(i)
	default:
		t.of.pick(i)
	}
}

// Dragged carries the photo along, with all others if it is one of those picked.
func (t *thumb) Dragged(ev *fyne.DragEvent) { t.of.drag(t.item.ID, ev.AbsolutePosition) }

// DragEnd lets them go.
func (t *thumb) DragEnd() { t.of.drop() }

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
		veil:  canvas.NewRectangle(nil), tick: canvas.NewImageFromResource(nil),
	}
	d.tick.FillMode = canvas.ImageFillContain
	d.chip, d.out = canvas.NewRectangle(nil), canvas.NewImageFromResource(nil)
	d.out.FillMode = canvas.ImageFillContain
	d.Refresh()
	return d
}

type thumbRenderer struct {
	t          *thumb
	mat, frame *canvas.Rectangle
	picture    *canvas.Image
	under      *caption
	// veil and tick mark a photo that is picked.
	veil *canvas.Rectangle
	tick *canvas.Image
	// chip and out mark one that is left out of the report; it is pale as well.
	chip *canvas.Rectangle
	out  *canvas.Image
}

func (d *thumbRenderer) Layout(size fyne.Size) {
	box := fyne.NewSize(size.Width, thumbPicture)
	d.mat.Resize(box)
	d.frame.Resize(box)
	d.picture.Move(fyne.NewPos(2, 2))
	d.picture.Resize(box.SubtractWidthHeight(4, 4))
	d.veil.Resize(box)
	d.tick.Move(fyne.NewPos(size.Width-thumbTick-4, 4))
	d.tick.Resize(fyne.NewSquareSize(thumbTick))
	d.chip.Move(fyne.NewPos(4, 4))
	d.chip.Resize(fyne.NewSquareSize(thumbOut))
	d.out.Move(fyne.NewPos(6, 6))
	d.out.Resize(fyne.NewSquareSize(thumbOut - 4))
	d.under.Move(fyne.NewPos(0, thumbPicture+1))
	d.under.Resize(fyne.NewSize(size.Width, d.under.MinSize().Height))
}

func (d *thumbRenderer) MinSize() fyne.Size { return fyne.NewSize(thumbWidth, thumbHeight()) }

func (d *thumbRenderer) Refresh() {
	th, variant := d.t.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	d.mat.FillColor = th.Color(colorMat, variant)
	d.frame.StrokeWidth, d.frame.StrokeColor = 0, th.Color(theme.ColorNamePrimary, variant)
	switch {
	case d.t.look.chosen && d.t.look.focused:
		d.frame.StrokeWidth = 4
	case d.t.look.chosen:
		d.frame.StrokeWidth = 3
	case d.t.hovered:
		d.frame.StrokeWidth = 1
	}
	d.veil.Hidden, d.tick.Hidden = !d.t.look.picked, !d.t.look.picked
	d.veil.FillColor = th.Color(theme.ColorNameSelection, variant)
	d.tick.Resource = theme.NewPrimaryThemedResource(theme.CheckButtonCheckedIcon())
	d.chip.Hidden, d.out.Hidden = !d.t.item.Out, !d.t.item.Out
	d.chip.FillColor, d.chip.CornerRadius = th.Color(colorChip, variant), 3
	pale := 0.0
	if d.t.item.Out {
		pale = thumbPale
	}
	d.out.Resource = theme.NewThemedResource(theme.VisibilityOffIcon())
	if d.picture.Image != d.t.picture || d.picture.Translucency != pale {
		d.picture.Image, d.picture.Translucency = d.t.picture, pale
		d.picture.Refresh()
	}
	d.under.Text, d.under.Bold = d.t.item.Under, d.t.look.chosen || d.t.look.picked
	d.under.Color = colorQuiet
	if d.t.look.chosen {
		d.under.Color = theme.ColorNameForeground
	}
	d.under.Refresh()
	d.Layout(d.t.Size())
	canvas.Refresh(d.t)
}

func (d *thumbRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{d.mat, d.picture, d.chip, d.out, d.veil, d.frame, d.tick, d.under}
}

func (d *thumbRenderer) Destroy() {}
