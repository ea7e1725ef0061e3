package ui

import (
	"math"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// spanTool draws what two places span, from where the mouse was pressed to where
// it is let go: an oval or a box along the shown photo's edges, or a line.
type spanTool struct {
	v *PhotoView
	// shape is Oval, Polygon for a box, or Line.
	shape    record.Shape
	open     bool
	from, to plane.Point
}

func (t *spanTool) press(at photoPlace) bool {
	t.open, t.from, t.to = true, at.photo, at.photo
	return true
}

func (t *spanTool) drag(_, at photoPlace) { t.to = at.photo }

func (t *spanTool) release(at photoPlace, moved bool) {
	if !t.open {
		return
	}
	t.to = at.photo
	if !moved || !t.finish() {
		t.cancel()
	}
}

// finish ends what is large enough to have been meant.
func (t *spanTool) finish() bool {
	size := t.to.Minus(t.from).Times(t.v.view.Scale())
	least := min(math.Abs(size.X), math.Abs(size.Y))
	if t.shape == record.Line {
		least = math.Hypot(size.X, size.Y)
	}
	if !t.open || least < leastDrag {
		return false
	}
	t.v.finish(t.shape, t.corners())
	return true
}

func (t *spanTool) corners() []plane.Point {
	if t.shape == record.Line {
		return []plane.Point{t.from, t.to}
	}
	low, high := plane.Polygon{t.from, t.to}.Bounds()
	if t.shape == record.Oval {
		return []plane.Point{low, high}
	}
	return []plane.Point{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}}
}

func (t *spanTool) hover(at plane.Point) {
	if t.open {
		t.to = at
	}
}

func (t *spanTool) double(photoPlace) {}

// set puts one end where the pointer is, then the other.
func (t *spanTool) set(at plane.Point) {
	if !t.open {
		t.open, t.from, t.to = true, at, at
		return
	}
	t.to = at
	t.finish()
}

// usualSpan is the side of a box that Enter sets, as a share of the shorter side of
// the view.
const usualSpan = 0.3

// setUsual sets a box or an oval of a usual size about the pointer: with the keys
// alone, two corners cost many strokes.
func (t *spanTool) setUsual() {
	v := t.v
	size := v.Size()
	half := float64(min(size.Width, size.Height)) * usualSpan / 2 / v.view.Scale()
	photo := v.view.PhotoSize()
	half = min(half, photo.X/2, photo.Y/2)
	reach := plane.Point{X: half, Y: half}
	middle := v.keys.at.Within(reach, photo.Minus(reach))
	t.open, t.from, t.to = true, middle.Minus(reach), middle.Plus(reach)
	t.finish()
}

func (t *spanTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		t.v.showCross()
		if t.open || t.shape == record.Line {
			t.set(t.v.keys.at)
		} else {
			t.setUsual()
		}
		return true
	case fyne.KeyBackspace:
		t.cancel()
		return true
	}
	return false
}

func (t *spanTool) begun() bool { return t.open }

func (t *spanTool) cancel() { t.open = false }

func (t *spanTool) hint() string {
	switch {
	case t.open:
		return ""
	case t.shape == record.Line:
		return "Drag along a known length, or what is to be measured · Enter sets an end · Esc leads out"
	}
	return "Drag from corner to corner of the damage · Enter sets one where the arrows point · Esc leads out"
}

func (t *spanTool) draw(f *photoFrame) {
	switch {
	case !t.open || t.from == t.to:
	case t.shape == record.Oval:
		f.begunOval(t.from, t.to)
	default:
		f.begunShape(t.corners(), t.shape != record.Line)
	}
}
