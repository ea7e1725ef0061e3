package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// pointTool selects, moves and reshapes. A drag moves an outline only from its line
// or if it is selected already: a photo is often panned across a large outline,
// which must not come along.
type pointTool struct {
	v *PhotoView
	// hit is the outline that the press would select, hold the one a drag moves.
	hit, hold record.ID
	handle    int
	started   []plane.Point // the corners of hold before the drag
}

func (t *pointTool) press(at photoPlace) bool {
	v := t.v
	t.hit, t.hold, t.handle, t.started = v.outlineAt(at), "", v.handleAt(at.view), nil
	if v.readOnly {
		return false
	}
	if s := v.current(); s != nil && (t.handle != noCorner || v.onLine(s, at) || s.line.Contains(at.photo)) {
		t.hold = v.selected
	} else if s := v.shape(t.hit); s != nil && (v.onLine(s, at) || v.onBadge(s, at)) {
		t.hold = t.hit
	}
	return t.hold != ""
}

func (t *pointTool) drag(from, at photoPlace) {
	v := t.v
	if t.started == nil {
		v.choose(t.hold)
		s := v.shape(t.hold)
		if s == nil {
			t.hold = ""
			return
		}
		t.started = s.corners
	}
	s := v.shape(t.hold)
	if s == nil || v.selected != t.hold {
		return // it went while it was dragged
	}
	// From where it was when the drag began, however often the record came anew.
	was := outlineShape{ShownOutline: s.ShownOutline, corners: t.started}
	if t.handle == noCorner {
		v.reshape(was.moved(at.photo.Minus(from.photo), v.view.PhotoSize()))
		return
	}
	if handles := was.handles(nil); t.handle < len(handles) {
		to := handles[t.handle].Plus(at.photo.Minus(from.photo))
		v.reshape(was.dragged(t.handle, v.view.Clamp(to)))
	}
}

func (t *pointTool) release(at photoPlace, moved bool) {
	hit, handle := t.hit, t.handle
	t.hit, t.hold, t.handle, t.started = "", "", noCorner, nil
	switch {
	case moved:
		t.v.settle()
	case handle != noCorner && at.shift:
		t.dropCorner(handle)
	case handle != noCorner:
		t.v.keys.corner = handle
		t.v.redraw()
	default:
		t.v.keys.corner = noCorner
		t.v.choose(hit)
		t.v.redraw()
	}
}

// double adds a corner on the line of the selected polygon.
func (t *pointTool) double(at photoPlace) {
	s := t.v.current()
	if s == nil || t.v.readOnly || s.Outline.Shape != record.Polygon || t.v.handleAt(at.view) != noCorner || !t.v.onLine(s, at) {
		return
	}
	near := plane.NearestOn(s.corners, true, at.photo)
	t.v.reshape(slices.Insert(slices.Clone(s.corners), near.Edge+1, near.At))
	t.v.settle()
	t.v.keys.corner = near.Edge + 1
}

// AddCorner adds a corner to the selected polygon: half way from the chosen corner
// to the next, or in the middle of the longest edge where none is chosen. The new
// one is then the chosen one. It reports whether there was a polygon to do it to.
func (v *PhotoView) AddCorner() bool {
	s := v.current()
	if s == nil || !v.reshapes() || s.Outline.Shape != record.Polygon {
		return false
	}
	v.settle()
	edge, corners := v.keys.corner, s.corners
	length := func(i int) float64 { return corners[i].Distance(corners[(i+1)%len(corners)]) }
	if edge == noCorner || edge >= len(corners) {
		edge = 0
		for i := range corners {
			if length(i) > length(edge) {
				edge = i
			}
		}
	}
	middle := corners[edge].Plus(corners[(edge+1)%len(corners)]).Times(0.5)
	v.reshape(slices.Insert(slices.Clone(corners), edge+1, middle))
	v.settle()
	v.keys.corner = edge + 1
	v.view.Reveal(middle)
	v.tell("The new corner is chosen: the arrows move it, Backspace deletes it.")
	return true
}

// dropCorner deletes a corner of a polygon that has more than three.
func (t *pointTool) dropCorner(corner int) {
	s := t.v.current()
	if s == nil || t.v.readOnly || s.Outline.Shape != record.Polygon || len(s.corners) <= 3 || corner >= len(s.corners) {
		return
	}
	t.v.keys.corner = noCorner
	t.v.mouse.handle = noCorner
	t.v.reshape(slices.Delete(slices.Clone(s.corners), corner, corner+1))
	t.v.settle()
}

func (t *pointTool) key(name fyne.KeyName) bool {
	v := t.v
	switch name {
	case fyne.KeyDelete:
		if v.selected == "" || v.readOnly {
			return false
		}
		id := v.selected
		v.edit = outlineEdit{}
		v.choose("")
		if v.OnRemove != nil {
			v.OnRemove(id)
		}
		return true
	case fyne.KeyInsert:
		return v.AddCorner()
	case fyne.KeyBackspace:
		corner := v.keys.corner
		if corner == noCorner {
			corner = v.mouse.handle
		}
		if corner == noCorner || v.readOnly {
			return false
		}
		v.settle()
		t.dropCorner(corner)
		return true
	}
	return false
}

func (t *pointTool) begun() bool { return t.started != nil }

// cancel leaves what is dragged where it was.
func (t *pointTool) cancel() {
	if t.started != nil {
		t.v.edit = outlineEdit{}
	}
	t.hit, t.hold, t.handle, t.started = "", "", noCorner, nil
}

func (t *pointTool) hover(plane.Point) {}
func (t *pointTool) set(plane.Point)   {}
func (t *pointTool) draw(*photoFrame)  {}
func (t *pointTool) hint() string      { return "" }
