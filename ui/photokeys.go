package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/plane"
)

// Steps of the arrow keys: the pointer's and the photo's in the window's units,
// an outline's in pixels of the photo. Shift makes them larger.
const (
	pointerStep = 8.0
	panStep     = 60.0
	moveStep    = 1.0
	shiftTimes  = 10.0
)

// KeyDown and KeyUp watch the Shift key.
func (v *PhotoView) KeyDown(ev *fyne.KeyEvent) {
	if ev.Name == desktop.KeyShiftLeft || ev.Name == desktop.KeyShiftRight {
		v.shift = true
	}
}

// KeyUp ends a change by the arrow keys, so that one press is one gesture.
func (v *PhotoView) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		v.shift = false
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown:
		v.settle()
	}
}

var arrows = map[fyne.KeyName]plane.Point{
	fyne.KeyLeft: {X: -1}, fyne.KeyRight: {X: 1}, fyne.KeyUp: {Y: -1}, fyne.KeyDown: {Y: 1},
}

// TypedKey does what the key stands for here, or passes it on.
func (v *PhotoView) TypedKey(ev *fyne.KeyEvent) {
	if !v.HasPhoto() || !v.key(ev.Name) {
		v.pass(ev.Name, 0)
	}
}

func (v *PhotoView) key(name fyne.KeyName) bool {
	if way, ok := arrows[name]; ok {
		return v.arrow(way)
	}
	switch name {
	case fyne.KeyEscape:
		return v.escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		return v.enter()
	case fyne.KeySpace:
		return v.set()
	case fyne.KeyBackspace:
		if n := len(v.corners); v.tool == CornersTool && n > 0 {
			v.corners = v.corners[:n-1]
			v.Refresh()
			return true
		}
		return v.remove()
	case fyne.KeyDelete:
		return v.remove()
	}
	return false
}

// arrow moves what is being worked on: the pointer while drawing, the selected
// outline, else the photo.
func (v *PhotoView) arrow(way plane.Point) bool {
	times := 1.0
	if v.shift {
		times = shiftTimes
	}
	switch {
	case v.tool != PointTool:
		step := way.Times(pointerStep * times / v.at.scale)
		v.pointer = v.pointer.Plus(step).Within(plane.Point{}, plane.Point{X: v.at.photoWidth, Y: v.at.photoHeight})
		if v.tool == OvalTool && len(v.corners) == 2 {
			v.corners[1] = v.pointer
		}
	case v.selected != "" && !v.disabled:
		step := way.Times(moveStep * times)
		v.unsaved = v.moveChosen(step.X, step.Y) || v.unsaved
	default:
		v.at.pan(-way.X*panStep, -way.Y*panStep)
	}
	v.Refresh()
	return true
}

// escape leads one step out: of an outline begun, of the tool, of the selection.
func (v *PhotoView) escape() bool {
	switch {
	case len(v.corners) > 0:
		v.corners, v.hand = nil, hand{}
		v.Refresh()
	case v.tool != PointTool:
		v.SetTool(PointTool)
	case v.selected != "":
		v.choose("")
	default:
		return false
	}
	return true
}

// enter closes an outline, or sets a corner where none can be closed.
func (v *PhotoView) enter() bool {
	switch {
	case v.tool == CornersTool && len(v.corners) > 2:
		v.closeOutline()
	case v.tool == OvalTool && len(v.corners) == 2:
		v.endOval(true)
	default:
		return v.set()
	}
	return true
}

// set puts a corner where the pointer is.
func (v *PhotoView) set() bool {
	switch v.tool {
	case CornersTool:
		v.corners = append(v.corners, v.pointer)
	case OvalTool:
		if len(v.corners) == 2 {
			v.endOval(true)
			return true
		}
		v.corners = []plane.Point{v.pointer, v.pointer}
	default:
		return false
	}
	v.Refresh()
	return true
}

func (v *PhotoView) remove() bool {
	if v.selected == "" || v.disabled {
		return false
	}
	id := v.selected
	v.unsaved = false
	v.choose("")
	if v.OnRemove != nil {
		v.OnRemove(id)
	}
	return true
}

// TypedRune does what the letter stands for here, or passes it on.
func (v *PhotoView) TypedRune(r rune) {
	if v.HasPhoto() && v.rune(r) {
		return
	}
	v.pass("", r)
}

func (v *PhotoView) rune(r rune) bool {
	switch r {
	case 'v':
		v.SetTool(PointTool)
	case 'c':
		v.SetTool(CornersTool)
	case 'o':
		v.SetTool(OvalTool)
	case '+', '=':
		v.ZoomBy(zoomStep)
	case '-':
		v.ZoomBy(1 / zoomStep)
	case '0':
		v.Fit()
	case '1':
		v.Actual()
	case ' ':
	default:
		return false
	}
	return true
}

func (v *PhotoView) pass(name fyne.KeyName, r rune) {
	if v.OnKey != nil {
		v.OnKey(name, r)
	}
}
