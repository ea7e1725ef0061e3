package ui

import (
	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// Sizes of a spot in units of the window: it is one place, so it is drawn and hit
// alike however much the photo is magnified.
const (
	spotRadius = 8
	hitsSpot   = 20
)

// spotTool marks a place with one click. A drag takes the spot along, so that it can
// be set with care before the button is let go.
type spotTool struct {
	v    *PhotoView
	open bool
	at   plane.Point
}

func (t *spotTool) press(at photoPlace) bool {
	t.open, t.at = true, at.photo
	return true
}

func (t *spotTool) drag(_, at photoPlace) { t.at = at.photo }

func (t *spotTool) release(at photoPlace, _ bool) {
	if t.open {
		t.set(at.photo)
	}
}

func (t *spotTool) hover(plane.Point)  {}
func (t *spotTool) double(photoPlace)  {}
func (t *spotTool) set(at plane.Point) { t.v.finish(record.Spot, []plane.Point{at}) }

func (t *spotTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		t.v.showCross()
		t.set(t.v.keys.at)
		return true
	}
	return false
}

func (t *spotTool) begun() bool { return t.open }

func (t *spotTool) cancel() { t.open = false }

func (t *spotTool) hint() string {
	return "Click on the place · Enter marks it where the arrows point · Esc leads out"
}

func (t *spotTool) draw(f *photoFrame) {
	if t.open {
		f.begunRing(t.at)
	}
}

// begunRing draws a spot that is being set.
func (f *photoFrame) begunRing(at plane.Point) {
	width := outlineWidth * f.density
	ring := f.ring(at)
	f.pen.stroke(ring, true, width+2*outlineRim*f.density, outlineCasing, nil)
	f.pen.stroke(ring, true, width, f.accent, nil)
}

// ring is what is drawn round a spot, in pixels of the frame.
func (f *photoFrame) ring(at plane.Point) []plane.Point {
	middle, reach := f.to(at), plane.Point{X: spotRadius * f.density, Y: spotRadius * f.density}
	f.line = plane.AppendOval(f.line[:0], middle.Minus(reach), middle.Plus(reach), 0.25)
	return f.line
}
