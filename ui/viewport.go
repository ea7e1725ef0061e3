package ui

import (
	"math"

	"fettlebook/assess/plane"
)

// Viewport is how a photo is looked at: how large, and which part of it. It maps
// between places in a view (in the window's own units, from the view's top left
// corner) and places on the shown photo (in pixels of the original, upright). It
// is a plain value and knows no window.
//
// The photo is never lost from view: an axis on which it has room is centred; on
// the other, its edges come no further into the view than [viewportMargin].
//
// The zero value is a view without a size on a photo without one: everything maps
// to (0,0).
type Viewport struct {
	width, height  float64 // of the view, in units
	photoW, photoH float64 // of the photo, in pixels
	density        float64 // device pixels per unit
	scale          float64 // units per pixel of the photo
	centre         plane.Point
	fitted         bool
}

const (
	// viewportMargin is the room left round a fitted photo, in units: a handle on
	// the photo's very edge stays whole.
	viewportMargin = 14
	// viewportMost is the most device pixels that one pixel of a photo takes.
	viewportMost = 32
	// viewportStep is by how much one key or one notch of the wheel zooms.
	viewportStep = 1.25
)

// SetView says how large the view is, and how many device pixels a unit is. A
// fitted photo stays fitted; else what is in the middle stays there.
func (v *Viewport) SetView(width, height, density float64) {
	v.width, v.height = max(width, 0), max(height, 0)
	v.density = density
	v.settle()
}

// SetPhoto says how large the photo is, in pixels, and fits it.
func (v *Viewport) SetPhoto(width, height int) {
	v.photoW, v.photoH = float64(max(width, 0)), float64(max(height, 0))
	v.Fit()
}

// Fit shows the whole photo as large as it goes.
func (v *Viewport) Fit() {
	v.fitted = true
	v.settle()
}

// OneToOne shows one pixel of the photo on one of the device, with the place at
// (x, y) of the view staying there.
func (v *Viewport) OneToOne(x, y float64) {
	if v.Ready() {
		v.ZoomBy(1/(v.scale*v.density), x, y)
	}
}

// ZoomBy makes the photo larger by a factor, with the place at (x, y) of the view
// staying there as far as the edges allow. It goes no smaller than fitted or one
// to one, whichever is smaller, and no larger than 32 device pixels a pixel.
func (v *Viewport) ZoomBy(factor, x, y float64) {
	if !v.Ready() || !(factor > 0) {
		return
	}
	low, high := v.limits()
	scale := min(max(v.scale*factor, low), high)
	if scale == v.scale {
		return
	}
	held := v.ToPhoto(x, y)
	v.fitted = false
	v.scale = scale
	v.centre = held.Minus(plane.Point{X: x - v.width/2, Y: y - v.height/2}.Times(1 / scale))
	v.settle()
}

// Pan moves the photo by (dx, dy) units of the view.
func (v *Viewport) Pan(dx, dy float64) {
	if !v.Ready() {
		return
	}
	before := v.centre
	v.centre = v.centre.Minus(plane.Point{X: dx, Y: dy}.Times(1 / v.scale))
	fitted := v.fitted
	v.fitted = false
	v.settle()
	v.fitted = fitted && v.centre == before
}

// Reveal pans as little as needed to have a place of the photo in the view, a
// margin away from its edges.
func (v *Viewport) Reveal(p plane.Point) {
	if !v.Ready() {
		return
	}
	x, y := v.ToView(p)
	marginX, marginY := min(viewportMargin, v.width/2), min(viewportMargin, v.height/2)
	v.Pan(min(max(x, marginX), v.width-marginX)-x, min(max(y, marginY), v.height-marginY)-y)
}

// Ready tells whether there is a photo and a view to see it in.
func (v *Viewport) Ready() bool {
	return v.width > 0 && v.height > 0 && v.photoW > 0 && v.photoH > 0
}

// Fitted tells whether the photo is shown whole and stays so when the view grows.
func (v *Viewport) Fitted() bool { return v.fitted }

// Scale returns how many units of the view a pixel of the photo takes.
func (v *Viewport) Scale() float64 { return v.scale }

// Zoom returns how many device pixels a pixel of the photo takes: 1 is one to one.
func (v *Viewport) Zoom() float64 { return v.scale * v.density }

// PhotoSize returns the size of the photo in pixels.
func (v *Viewport) PhotoSize() plane.Point { return plane.Point{X: v.photoW, Y: v.photoH} }

// ToPhoto maps a place in the view to the shown photo; it may lie outside.
func (v *Viewport) ToPhoto(x, y float64) plane.Point {
	if !v.Ready() {
		return plane.Point{}
	}
	return v.centre.Plus(plane.Point{X: x - v.width/2, Y: y - v.height/2}.Times(1 / v.scale))
}

// ToView maps a place of the shown photo to the view; it may lie outside.
func (v *Viewport) ToView(p plane.Point) (x, y float64) {
	if !v.Ready() {
		return 0, 0
	}
	at := p.Minus(v.centre).Times(v.scale)
	return v.width/2 + at.X, v.height/2 + at.Y
}

// Clamp brings a place of the photo to its nearest edge if it lies outside.
func (v *Viewport) Clamp(p plane.Point) plane.Point {
	return p.Within(plane.Point{}, v.PhotoSize())
}

func (v *Viewport) fitScale() float64 {
	room := func(size float64) float64 { return max(size-2*viewportMargin, size/2) }
	return min(room(v.width)/v.photoW, room(v.height)/v.photoH, viewportMost/v.density)
}

func (v *Viewport) limits() (low, high float64) {
	return min(v.fitScale(), 1/v.density), viewportMost / v.density
}

// settle brings scale and centre back to where they may be.
func (v *Viewport) settle() {
	if !(v.density > 0) || math.IsInf(v.density, 0) {
		v.density = 1
	}
	if !v.Ready() {
		return
	}
	if v.fitted || !(v.scale > 0) {
		v.scale, v.fitted = v.fitScale(), true
	}
	low, high := v.limits()
	v.scale = min(max(v.scale, low), high)
	v.centre.X = settleAxis(v.centre.X, v.photoW, v.width/v.scale, viewportMargin/v.scale)
	v.centre.Y = settleAxis(v.centre.Y, v.photoH, v.height/v.scale, viewportMargin/v.scale)
}

// settleAxis keeps one coordinate of the centre in place; all is in pixels of the
// photo.
func settleAxis(centre, photo, view, margin float64) float64 {
	low, high := view/2-margin, photo-view/2+margin
	if low >= high {
		return photo / 2
	}
	return min(max(centre, low), high)
}
