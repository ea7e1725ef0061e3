package ui

import (
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// Distances in the window's units: how near a click must be to hit a handle or a
// line, and how far a drag must go to be one.
const (
	hitsHandle = 12.0
	hitsLine   = 9.0
	leastDrag  = 4.0
)

// doubleClick is within how long two clicks are one.
const doubleClick = 400 * time.Millisecond

func (v *PhotoView) onPhoto(p fyne.Position) plane.Point {
	x, y := v.at.toPhoto(float64(p.X), float64(p.Y))
	return plane.Point{X: x, Y: y}.Within(plane.Point{}, plane.Point{X: v.at.photoWidth, Y: v.at.photoHeight})
}

// MouseDown begins what the tool does.
func (v *PhotoView) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
	if !v.HasPhoto() {
		return
	}
	v.pointer = v.onPhoto(ev.Position)
	v.shift = ev.Modifier&fyne.KeyModifierShift != 0
	v.hand = hand{last: ev.Position, from: v.pointer}
	twice := v.clickedTwice(ev.Position)
	switch {
	case ev.Button == desktop.MouseButtonTertiary, v.tool == PointTool && ev.Button == desktop.MouseButtonSecondary:
		v.hand.does = handPans
	case v.tool == CornersTool:
		v.cornerAt(ev.Position, twice)
	case v.tool == OvalTool:
		v.hand.does = handOvals
		v.corners = []plane.Point{v.pointer, v.pointer}
	default:
		v.point(ev.Position, twice)
	}
	v.Refresh()
}

func (v *PhotoView) clickedTwice(at fyne.Position) bool {
	now := time.Now()
	near := math.Hypot(float64(at.X-v.click.at.X), float64(at.Y-v.click.at.Y)) < leastDrag
	twice := near && now.Sub(v.click.when) < doubleClick
	v.click = lastClick{when: now, at: at}
	if twice {
		v.click = lastClick{}
	}
	return twice
}

// point selects what was hit and gets ready to move it.
func (v *PhotoView) point(at fyne.Position, twice bool) {
	if o := v.chosen(); o != nil && !v.disabled {
		if i := v.handleAt(o, at); i >= 0 {
			if v.shift {
				v.dropCorner(o, i)
				return
			}
			v.hand.does, v.hand.corner = handReshapes, i
			return
		}
		if twice && o.Outline.Shape == record.Polygon && v.addCorner(o, at) {
			return
		}
	}
	hit := v.outlineAt(at)
	v.choose(hit)
	v.hand.does = handPans
	if hit != "" && !v.disabled {
		v.hand.does = handMoves
	}
}

// handles are the corners that can be dragged: a polygon's, or the four of the
// box around an oval.
func handles(o *drawnOutline) []plane.Point {
	if o.Outline.Shape != record.Oval || len(o.corners) != 2 {
		return o.corners
	}
	a, b := o.corners[0], o.corners[1]
	return []plane.Point{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}}
}

func (v *PhotoView) handleAt(o *drawnOutline, at fyne.Position) int {
	best, distance := -1, hitsHandle
	for i, h := range handles(o) {
		x, y := v.at.toView(h.X, h.Y)
		if d := math.Hypot(x-float64(at.X), y-float64(at.Y)); d <= distance {
			best, distance = i, d
		}
	}
	return best
}

// outlineAt returns the outline under a click: the smallest of those whose line
// is near or that hold the place.
func (v *PhotoView) outlineAt(at fyne.Position) record.ID {
	p := v.onPhoto(at)
	best, area := record.ID(""), math.Inf(1)
	for i := range v.outlines {
		shape := shapeOf(&v.outlines[i])
		near := plane.NearestOn(shape, true, p).Distance*v.at.scale <= hitsLine
		if (near || shape.Contains(p)) && shape.Area() < area {
			best, area = v.outlines[i].ID, shape.Area()
		}
	}
	return best
}

func shapeOf(o *drawnOutline) plane.Polygon {
	if o.Outline.Shape == record.Oval && len(o.corners) == 2 {
		return plane.Oval(o.corners[0], o.corners[1], 0.5)
	}
	return o.corners
}

func (v *PhotoView) dropCorner(o *drawnOutline, i int) {
	if o.Outline.Shape != record.Polygon || len(o.corners) <= 3 {
		return
	}
	o.corners = slices.Delete(slices.Clone(o.corners), i, i+1)
	v.tellReshaped(o)
}

func (v *PhotoView) addCorner(o *drawnOutline, at fyne.Position) bool {
	p := v.onPhoto(at)
	near := plane.NearestOn(o.corners, true, p)
	if near.Distance*v.at.scale > hitsLine {
		return false
	}
	o.corners = slices.Insert(slices.Clone(o.corners), near.Edge+1, near.At)
	v.tellReshaped(o)
	return true
}

func (v *PhotoView) tellReshaped(o *drawnOutline) {
	v.unsaved = false
	if v.OnReshaped != nil {
		v.OnReshaped(o.ID, v.stored(o.corners))
	}
}

// cornerAt adds a corner; on the first one, or by a double click, it closes.
func (v *PhotoView) cornerAt(at fyne.Position, twice bool) {
	if len(v.corners) > 2 {
		x, y := v.at.toView(v.corners[0].X, v.corners[0].Y)
		if twice || math.Hypot(x-float64(at.X), y-float64(at.Y)) <= hitsHandle {
			v.closeOutline()
			return
		}
	}
	if !twice {
		v.corners = append(v.corners, v.pointer)
	}
}

// closeOutline tells of a finished polygon.
func (v *PhotoView) closeOutline() {
	if len(v.corners) < 3 {
		return
	}
	v.finish(record.Polygon)
}

func (v *PhotoView) finish(shape record.Shape) {
	points := v.stored(v.corners)
	v.corners, v.hand = nil, hand{}
	if v.OnDrawn != nil {
		v.OnDrawn(shape, points)
	}
	v.Refresh()
}

// Dragged goes on with what MouseDown began.
func (v *PhotoView) Dragged(ev *fyne.DragEvent) { v.dragTo(ev.Position) }

func (v *PhotoView) dragTo(at fyne.Position) {
	if v.hand.does == handRests || !v.HasPhoto() {
		return
	}
	dx, dy := float64(at.X-v.hand.last.X), float64(at.Y-v.hand.last.Y)
	if !v.hand.moved && math.Hypot(dx, dy) < leastDrag {
		return
	}
	v.hand.moved, v.hand.last = true, at
	v.pointer = v.onPhoto(at)
	switch v.hand.does {
	case handPans:
		v.at.pan(dx, dy)
	case handMoves:
		v.moveChosen(dx/v.at.scale, dy/v.at.scale)
	case handReshapes:
		v.reshape(v.hand.corner, v.pointer)
	case handOvals:
		v.corners[1] = v.pointer
	}
	v.Refresh()
}

// moveChosen moves the selected outline, no further than the photo's edge.
func (v *PhotoView) moveChosen(dx, dy float64) bool {
	o := v.chosen()
	if o == nil {
		return false
	}
	for _, c := range o.corners {
		dx = min(max(dx, -c.X), v.at.photoWidth-c.X)
		dy = min(max(dy, -c.Y), v.at.photoHeight-c.Y)
	}
	moved := make([]plane.Point, len(o.corners))
	for i, c := range o.corners {
		moved[i] = c.Plus(plane.Point{X: dx, Y: dy})
	}
	o.corners = moved
	return true
}

func (v *PhotoView) reshape(corner int, to plane.Point) {
	o := v.chosen()
	if o == nil {
		return
	}
	corners := slices.Clone(o.corners)
	if o.Outline.Shape == record.Oval && len(corners) == 2 {
		switch corner {
		case 0:
			corners[0] = to
		case 1:
			corners[1].X, corners[0].Y = to.X, to.Y
		case 2:
			corners[1] = to
		case 3:
			corners[0].X, corners[1].Y = to.X, to.Y
		}
	} else {
		corners[corner] = to
	}
	o.corners = corners
}

// DragEnd ends what was dragged.
func (v *PhotoView) DragEnd() { v.letGo() }

// MouseUp ends what was pressed.
func (v *PhotoView) MouseUp(ev *desktop.MouseEvent) {
	v.dragTo(ev.Position)
	v.letGo()
}

func (v *PhotoView) letGo() {
	was := v.hand
	v.hand = hand{}
	switch was.does {
	case handMoves, handReshapes:
		if o := v.chosen(); o != nil && was.moved {
			v.tellReshaped(o)
		}
	case handOvals:
		v.endOval(was.moved)
	case handPans:
		v.changed()
	}
	v.Refresh()
}

// endOval finishes an oval that is large enough to have been meant.
func (v *PhotoView) endOval(moved bool) {
	if len(v.corners) != 2 {
		return
	}
	size := v.corners[1].Minus(v.corners[0])
	if !moved || math.Abs(size.X)*v.at.scale < leastDrag || math.Abs(size.Y)*v.at.scale < leastDrag {
		v.corners = nil
		return
	}
	v.finish(record.Oval)
}

// MouseIn follows the pointer.
func (v *PhotoView) MouseIn(ev *desktop.MouseEvent) { v.MouseMoved(ev) }

// MouseMoved draws the line that follows the pointer.
func (v *PhotoView) MouseMoved(ev *desktop.MouseEvent) {
	if !v.HasPhoto() || v.hand.does != handRests {
		return
	}
	v.pointer = v.onPhoto(ev.Position)
	if v.tool == CornersTool && len(v.corners) > 0 {
		v.Refresh()
	}
}

// MouseOut has no use: the pointer stays where it left.
func (v *PhotoView) MouseOut() {}

// Scrolled magnifies about the pointer.
func (v *PhotoView) Scrolled(ev *fyne.ScrollEvent) {
	if !v.HasPhoto() {
		return
	}
	v.at.zoom(v.at.scale*math.Pow(zoomStep, float64(ev.Scrolled.DY)/wheelPerStep), float64(ev.Position.X), float64(ev.Position.Y))
	v.changed()
}
