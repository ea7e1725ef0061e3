package ui

import (
	"image"
	"math"

	"fettlebook/assess/plane"
)

// photoLens is the magnifier under the pointer. Its key turns it on and off, or
// holds it as long as it is held down.
type photoLens struct {
	on bool
	// down is whether its key is down, opened whether that turned it on, held
	// whether it has been down for so long that it repeats.
	down, opened, held bool
}

// How large the magnifier is, in units of the window, and how much it magnifies:
// so many times, and no less than a pixel of the photo on two of the screen.
const (
	lensRadius = 110
	lensTimes  = 3
	lensLeast  = 2
	lensRim    = 2.4
)

// SetLens turns the magnifier on or off.
func (v *PhotoView) SetLens(on bool) {
	v.lens = photoLens{on: on && v.HasPhoto()}
	v.redraw()
}

// Lens tells whether the magnifier is on.
func (v *PhotoView) Lens() bool { return v.lens.on }

// typed is the magnifier's key, which comes again and again while it is held.
func (v *PhotoView) lensTyped() {
	if v.lens.down {
		v.lens.held = true
		return
	}
	on := !v.lens.on
	v.SetLens(on)
	v.lens.down, v.lens.opened = true, on
}

// lensUp ends a magnifier that was held.
func (v *PhotoView) lensUp() {
	if v.lens.opened && v.lens.held {
		v.SetLens(false)
	}
	v.lens.down, v.lens.opened, v.lens.held = false, false, false
}

// lensScale is how many pixels of the screen one of the photo takes in the lens.
func (v *PhotoView) lensScale() float64 {
	return min(max(v.view.Zoom()*lensTimes, lensLeast), viewportMost)
}

// lens draws the magnifier over the frame: the photo once more, larger, with the
// lines of its outlines, cut out as a disc.
func (f *photoFrame) lens() {
	v := f.v
	if !v.lens.on {
		return
	}
	radius := int(math.Round(lensRadius * f.density))
	x, y := v.zoomPlace()
	middle := plane.Point{X: math.Round(x * f.density), Y: math.Round(y * f.density)}
	on := plane.Point{X: (middle.X - f.left) / f.scale, Y: (middle.Y - f.top) / f.scale}
	if f.glass == nil || f.glass.Rect.Dx() != 2*radius {
		f.glass = image.NewRGBA(image.Rect(0, 0, 2*radius, 2*radius))
	}
	frame, left, top, scale := f.image, f.left, f.top, f.scale
	f.image, f.pen.to, f.scale = f.glass, f.glass, v.lensScale()
	f.left = math.Round(float64(radius) - on.X*f.scale)
	f.top = math.Round(float64(radius) - on.Y*f.scale)
	f.ground(v.picture)
	for i := range v.outlines {
		f.outline(&v.outlines[i])
	}
	v.hand().draw(f)
	f.image, f.pen.to, f.left, f.top, f.scale = frame, frame, left, top, scale
	f.cutDisc(middle, radius)
}

// cutDisc lays the disc in the glass over the frame, with a rim.
func (f *photoFrame) cutDisc(middle plane.Point, radius int) {
	x0, y0 := int(middle.X)-radius, int(middle.Y)-radius
	for y := range 2 * radius {
		dy := float64(y) + 0.5 - float64(radius)
		half := int(math.Sqrt(max(float64(radius*radius)-dy*dy, 0)))
		row := image.Rect(x0+radius-half, y0+y, x0+radius+half, y0+y+1).Intersect(f.image.Rect)
		if !row.Empty() {
			copy(f.image.Pix[f.image.PixOffset(row.Min.X, row.Min.Y):][:4*row.Dx()], f.glass.Pix[f.glass.PixOffset(row.Min.X-x0, y):])
		}
	}
	reach := plane.Point{X: float64(radius), Y: float64(radius)}
	f.line = plane.AppendOval(f.line[:0], middle.Minus(reach), middle.Plus(reach), 0.25)
	f.pen.cased(f.line, true, lensRim*f.density, outlineRim*f.density, f.accent, nil)
}
