package ui

import (
	"math"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// ovalTool draws an ellipse in the box from where the mouse was pressed to where it
// is let go, along the shown photo's edges.
type ovalTool struct {
	v        *PhotoView
	open     bool
	from, to plane.Point
}

func (t *ovalTool) press(at photoPlace) bool {
	t.open, t.from, t.to = true, at.photo, at.photo
	return true
}

func (t *ovalTool) drag(_, at photoPlace) { t.to = at.photo }

func (t *ovalTool) release(at photoPlace, moved bool) {
	if !t.open {
		return
	}
	t.to = at.photo
	if !moved || !t.finish() {
		t.cancel()
	}
}

// finish ends an oval that is large enough to have been meant.
func (t *ovalTool) finish() bool {
	size := t.to.Minus(t.from).Times(t.v.view.Scale())
	if !t.open || min(math.Abs(size.X), math.Abs(size.Y)) < leastDrag {
		return false
	}
	low, high := plane.Polygon{t.from, t.to}.Bounds()
	t.v.finish(record.Oval, []plane.Point{low, high})
	return true
}

func (t *ovalTool) hover(at plane.Point) {
	if t.open {
		t.to = at
	}
}

func (t *ovalTool) double(photoPlace) {}

// set puts one corner of the box where the pointer is, then the other.
func (t *ovalTool) set(at plane.Point) {
	if !t.open {
		t.open, t.from, t.to = true, at, at
		return
	}
	t.to = at
	t.finish()
}

func (t *ovalTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.v.keys.cross {
			t.set(t.v.keys.at)
		}
		return true
	case fyne.KeyBackspace:
		t.cancel()
		return true
	}
	return false
}

func (t *ovalTool) begun() bool { return t.open }

func (t *ovalTool) cancel() { t.open = false }

func (t *ovalTool) hint() string {
	if t.open {
		return ""
	}
	return "Drag from corner to corner of the damage · Esc leads out"
}

func (t *ovalTool) draw(f *photoFrame) {
	if t.open && t.from != t.to {
		f.begunOval(t.from, t.to)
	}
}
