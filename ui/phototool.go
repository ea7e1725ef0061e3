package ui

import (
	"math"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// photoTool is what a tool makes of mouse and keys. The view keeps the tools, tells
// them where the pointer is, and does itself what is the same with all: panning,
// zooming, leaving.
type photoTool interface {
	// press begins at a place; it returns whether a drag from there is the tool's,
	// or pans.
	press(at photoPlace) bool
	// drag goes on from the press, once the pointer has moved far enough.
	drag(from, at photoPlace)
	// release ends what press began; moved tells whether it was a drag.
	release(at photoPlace, moved bool)
	// hover follows the pointer, moved by the mouse or by the arrow keys.
	hover(at plane.Point)
	// double is a double click; its two presses were told before.
	double(at photoPlace)
	// set is a press of Space at the pointer that the arrow keys move.
	set(at plane.Point)
	// key does what a key stands for and returns whether it stands for anything.
	key(name fyne.KeyName) bool
	// begun tells whether something is half done, cancel drops it.
	begun() bool
	cancel()
	// hint says what to do next, "" where nothing needs saying.
	hint() string
	// draw shows what is begun.
	draw(f *photoFrame)
}

// photoPlace is where the pointer is: in the view, on the photo (no further than its
// edge), and with the Shift key or without.
type photoPlace struct {
	view  fyne.Position
	photo plane.Point
	shift bool
}

// Distances in units of the window: how near to a handle, a line or the first corner
// a click must be, and how far the pointer must move to drag.
const (
	hitsHandle  = 14
	hitsCrowded = 7
	hitsLine    = 10
	hitsCorner  = 13
	hitsSame    = 5
	leastDrag   = 4
)

// hand is the tool that is at work: that of the button held down, else the one
// that was taken.
func (v *PhotoView) hand() photoTool {
	if v.mouse.press.held && v.mouse.press.tool != nil {
		return v.mouse.press.tool
	}
	return v.tools[v.tool]
}

// tell says something of what was just done, where the hints stand.
func (v *PhotoView) tell(text string) {
	v.told = text
	v.Refresh()
}

// forget takes what was told away: the person goes on.
func (v *PhotoView) forget() {
	if v.told != "" {
		v.told = ""
		v.Refresh()
	}
}

func (v *PhotoView) place(at fyne.Position, shift bool) photoPlace {
	on := v.view.Clamp(v.view.ToPhoto(float64(at.X), float64(at.Y)))
	return photoPlace{view: at, photo: on, shift: shift}
}

// apart returns how far a place of the view is from one of the photo, in units of
// the window.
func (v *PhotoView) apart(at fyne.Position, p plane.Point) float64 {
	x, y := v.view.ToView(p)
	return math.Hypot(x-float64(at.X), y-float64(at.Y))
}

func between(a, b fyne.Position) float64 {
	return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))
}

// outlineAt returns the outline at a place: of those whose line is near, whose
// number is there or that hold the place, the smallest.
func (v *PhotoView) outlineAt(at photoPlace) record.ID {
	best, area := record.ID(""), math.Inf(1)
	for i := range v.outlines {
		s := &v.outlines[i]
		if s.area < area && (v.onLine(s, at) || v.onBadge(s, at) || s.line.Contains(at.photo)) {
			best, area = s.ID, s.area
		}
	}
	return best
}

func (v *PhotoView) onLine(s *outlineShape, at photoPlace) bool {
	reach := float64(hitsLine)
	if s.spot() {
		reach = hitsSpot
	}
	return s.distance(at.photo)*v.view.Scale() <= reach
}

func (v *PhotoView) onBadge(s *outlineShape, at photoPlace) bool {
	x, y := v.badgeAt(s)
	return !s.Faint && math.Hypot(x-float64(at.view.X), y-float64(at.view.Y)) <= badgeRadius
}

// badgeAt returns where the number of an outline stands in the view: outside, at
// its first corner, and further out while that has a handle.
func (v *PhotoView) badgeAt(s *outlineShape) (x, y float64) {
	at, away := s.anchor()
	x, y = v.view.ToView(at)
	reach := float64(badgeRadius - 2)
	switch {
	case s.spot():
		reach = badgeRadius + spotRadius + 2
	case s.ID == v.selected && v.reshapes():
		reach = badgeRadius + handleSide/2 + 3
	}
	x, y = x+away.X*reach, y+away.Y*reach
	low, high := s.line.Bounds()
	left, top := v.view.ToView(low)
	right, bottom := v.view.ToView(high)
	size := v.Size()
	width, height := float64(size.Width), float64(size.Height)
	if right < 0 || bottom < 0 || left > width || top > height {
		return x, y // out of view with its outline
	}
	const room = badgeRadius + 3
	return min(max(x, room), width-room), min(max(y, room), height-room)
}

// reshapes tells whether the selected outline has handles.
func (v *PhotoView) reshapes() bool { return v.tool == PointTool && !v.readOnly }

// crowded tells whether the corners of an outline lie so near to one another that
// their handles must be small.
func (v *PhotoView) crowded(s *outlineShape) bool {
	if s.oval() || s.spot() || len(s.corners) == 0 {
		return false
	}
	return plane.Polygon(s.corners).Perimeter()*v.view.Scale() < 2*handleSide*float64(len(s.corners))
}

// handleAt returns the handle of the selected outline at a place, or noCorner.
func (v *PhotoView) handleAt(at fyne.Position) int {
	s := v.current()
	if s == nil || !v.reshapes() {
		return noCorner
	}
	best, distance := noCorner, float64(hitsHandle)
	if v.crowded(s) {
		distance = hitsCrowded
	}
	for i, h := range s.handles(nil) {
		if d := v.apart(at, h); d <= distance {
			best, distance = i, d
		}
	}
	return best
}
