package ui

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// focusWidth is that of the frame round a photo that has the focus.
const focusWidth = 3

// CreateRenderer draws the view: one raster for photo and outlines, since many
// canvas objects cost more than the pixels, and words over it.
func (v *PhotoView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	r := &photoRenderer{
		v: v, raster: canvas.NewRaster(v.paint), frame: canvas.NewRectangle(color.Transparent),
		words:      newCaption("", colorQuiet).middle(),
		hintGround: canvas.NewRectangle(color.Transparent),
		hint:       newCaption("", theme.ColorNameForeground).small().whole(),
	}
	r.hintGround.CornerRadius = 3
	v.raster = r.raster
	r.Refresh()
	return r
}

// redraw composes the photo anew, without the words round it.
func (v *PhotoView) redraw() {
	if v.raster != nil {
		canvas.Refresh(v.raster)
	}
}

type photoRenderer struct {
	v          *PhotoView
	raster     *canvas.Raster
	frame      *canvas.Rectangle
	words      *caption
	hintGround *canvas.Rectangle
	hint       *caption
}

func (r *photoRenderer) Layout(size fyne.Size) {
	r.v.view.SetView(float64(size.Width), float64(size.Height), r.v.density())
	r.raster.Resize(size)
	r.frame.Resize(size)
	r.words.Resize(size)
	r.layHint()
}

// layHint puts the hint at the top, in the middle.
func (r *photoRenderer) layHint() {
	size, words := r.v.Size(), r.hint.MinSize()
	pad := fyne.NewSize(10, 5)
	ground := words.Add(pad).Add(pad)
	at := fyne.NewPos((size.Width-ground.Width)/2, 10)
	r.hintGround.Move(at)
	r.hintGround.Resize(ground)
	r.hint.Move(at.AddXY(pad.Width, pad.Height))
	r.hint.Resize(words)
}

// density is how many pixels a unit of the window takes, as far as it is known
// before the first frame.
func (v *PhotoView) density() float64 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		return float64(c.Scale())
	}
	return 1
}

func (r *photoRenderer) MinSize() fyne.Size { return fyne.NewSize(240, 180) }

func (r *photoRenderer) Refresh() {
	v := r.v
	th, variant := v.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	v.frame.dress(th, variant)
	r.words.SetText(v.says())
	r.frame.StrokeWidth = 0
	if v.keys.focused {
		r.frame.StrokeWidth = focusWidth
		r.frame.StrokeColor = th.Color(theme.ColorNamePrimary, variant)
	}
	hint := ""
	if v.HasPhoto() {
		hint = v.tools[v.tool].hint()
	}
	if v.told != "" {
		hint = v.told
	}
	r.hint.SetText(hint)
	r.hint.Hidden = hint == ""
	r.hintGround.Hidden = hint == ""
	r.hintGround.FillColor = th.Color(colorChip, variant)
	r.layHint()
	canvas.Refresh(r.raster)
	canvas.Refresh(r.frame)
	canvas.Refresh(r.hintGround)
	canvas.Refresh(r.hint)
	canvas.Refresh(r.words)
}

// says is what stands in place of a photo.
func (v *PhotoView) says() string {
	switch {
	case v.message != "":
		return v.message
	case v.preview == nil && v.photo.File != "":
		return fmt.Sprintf("Opening photo %d …", v.photo.Number)
	}
	return ""
}

func (r *photoRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.raster, r.words, r.hintGround, r.hint, r.frame}
}

func (r *photoRenderer) Destroy() {}
