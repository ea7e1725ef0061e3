package ui

import (
	"image"
	"image/color"
	"image/draw"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/drawing"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// CreateRenderer draws the view: one raster for the photo and all its outlines,
// since many canvas objects cost more than the pixels.
func (v *PhotoView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	r := &photoRenderer{v: v, words: newCaption("", colorQuiet).middle(), frame: canvas.NewRectangle(color.Transparent)}
	r.raster = canvas.NewRaster(r.draw)
	r.raster.ScaleMode = canvas.ImageScalePixels
	r.Refresh()
	return r
}

type photoRenderer struct {
	v      *PhotoView
	raster *canvas.Raster
	frame  *canvas.Rectangle
	words  *caption
	buffer *image.RGBA
	blit   blit
	pen    pen
}

func (r *photoRenderer) Layout(size fyne.Size) {
	r.v.at.resize(float64(size.Width), float64(size.Height))
	r.raster.Resize(size)
	r.frame.Resize(size)
	r.words.Resize(size)
}

func (r *photoRenderer) MinSize() fyne.Size { return fyne.NewSize(240, 180) }

func (r *photoRenderer) Refresh() {
	v := r.v
	switch {
	case v.message != "":
		r.words.SetText(v.message)
	case v.HasPhoto() && v.preview == nil:
		r.words.SetText("Fetching the photo…")
	default:
		r.words.SetText("")
	}
	th, variant := v.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.frame.StrokeWidth = 0
	if v.focused {
		r.frame.StrokeWidth = 2
		r.frame.StrokeColor = th.Color(theme.ColorNamePrimary, variant)
	}
	r.raster.Refresh()
	r.frame.Refresh()
	r.words.Refresh()
}

func (r *photoRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.raster, r.words, r.frame}
}

func (r *photoRenderer) Destroy() {}

// draw composes a frame of w × h pixels in a buffer that is used again.
func (r *photoRenderer) draw(w, h int) image.Image {
	if r.buffer == nil || r.buffer.Rect.Dx() != w || r.buffer.Rect.Dy() != h {
		r.buffer = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	v := r.v
	mat := v.Theme().Color(colorMat, fyne.CurrentApp().Settings().ThemeVariant())
	fill(r.buffer, rgbaOf(mat))
	if !v.HasPhoto() || v.preview == nil || v.at.width <= 0 {
		return r.buffer
	}
	r.pen = pen{dst: r.buffer, pixels: float64(w) / v.at.width, at: v.at}
	r.photo()
	for i := range v.outlines {
		if v.outlines[i].ID != v.selected {
			r.outline(&v.outlines[i])
		}
	}
	if o := v.chosen(); o != nil {
		r.outline(o)
		if !v.disabled {
			r.pen.handles(handles(o))
		}
	}
	r.begun()
	return r.buffer
}

// photo puts the picture in place: the original once it is magnified, else the
// preview.
func (r *photoRenderer) photo() {
	v := r.v
	src := v.preview
	if v.sharper != nil && v.at.scale*r.pen.pixels*v.at.photoWidth > 1.1*float64(v.preview.Rect.Dx()) {
		src = v.sharper
	}
	left, top := r.pen.to(plane.Point{})
	scale := v.at.scale * r.pen.pixels * v.at.photoWidth / float64(src.Rect.Dx())
	r.blit.draw(r.buffer, src, left, top, scale)
}

func (r *photoRenderer) outline(o *drawnOutline) {
	band := drawing.BandOf(o.Verdict)
	ink := inkOf(band.Ink)
	width := 2.6
	if o.ID == r.v.selected {
		width = 3.4
	}
	if o.Faint {
		width = 1.4
	}
	shape := o.corners
	if o.Outline.Shape == record.Oval && len(shape) == 2 {
		shape = plane.Oval(shape[0], shape[1], 0.4/v1(r.v.at.scale))
	}
	r.pen.closed(shape, width, ink, band.Dash)
	if !o.Faint && len(shape) > 0 {
		r.pen.badge(topmost(shape), strconv.Itoa(o.Number), ink)
	}
}

// v1 keeps a scale from being divided by when it is nothing yet.
func v1(scale float64) float64 { return max(scale, 1e-6) }

func topmost(points []plane.Point) plane.Point {
	best := points[0]
	for _, p := range points[1:] {
		if p.Y < best.Y {
			best = p
		}
	}
	return best
}

// begun draws what is being drawn, with the line that follows the pointer.
func (r *photoRenderer) begun() {
	v := r.v
	accent := rgbaOf(v.Theme().Color(theme.ColorNamePrimary, fyne.CurrentApp().Settings().ThemeVariant()))
	switch {
	case v.tool == OvalTool && len(v.corners) == 2:
		r.pen.closed(plane.Oval(v.corners[0], v.corners[1], 0.4/v1(v.at.scale)), 2.6, accent, nil)
	case v.tool == CornersTool && len(v.corners) > 0:
		r.pen.open(append(v.corners[:len(v.corners):len(v.corners)], v.pointer), 2.6, accent)
		r.pen.handles(v.corners)
	}
	if v.tool != PointTool && v.focused {
		r.pen.cross(v.pointer, accent)
	}
}

func fill(dst *image.RGBA, c color.RGBA) {
	draw.Draw(dst, dst.Rect, image.NewUniform(c), image.Point{}, draw.Src)
}

func inkOf(hex uint32) color.RGBA {
	return color.RGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: 255}
}

func rgbaOf(c color.Color) color.RGBA { return color.RGBAModel.Convert(c).(color.RGBA) }

// rgba brings a picture into the one form that is drawn from.
func rgba(picture image.Image) *image.RGBA {
	if picture == nil {
		return nil
	}
	if ready, ok := picture.(*image.RGBA); ok && ready.Rect.Min == (image.Point{}) {
		return ready
	}
	b := picture.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, picture, b.Min, draw.Src)
	return out
}
