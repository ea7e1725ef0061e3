package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/plane"
)

// photoKeys is what the keys are about.
type photoKeys struct {
	focused bool
	shift   bool
	space   bool
	// spaceUsed is whether the space bar, still down, has helped the mouse.
	spaceUsed bool
	// cross is whether the arrow keys move a pointer of their own, and at where.
	cross bool
	at    plane.Point
	// corner is the corner of the selected outline that keys act on, or noCorner.
	corner int
}

const noCorner = -1

// Steps of the arrow keys, in units of the window; an outline moves by a pixel of
// the photo, or by one of the screen where that is more.
const (
	crossStep = 4
	panStep   = 60
	moreCross = 10 // with Shift
	morePan   = 4
	moreMove  = 10
)

var arrowWays = map[fyne.KeyName]plane.Point{
	fyne.KeyLeft: {X: -1}, fyne.KeyRight: {X: 1}, fyne.KeyUp: {Y: -1}, fyne.KeyDown: {Y: 1},
}

// AcceptsTab lets Tab leave the view.
func (v *PhotoView) AcceptsTab() bool { return false }

// FocusGained shows that keys go to the photo.
func (v *PhotoView) FocusGained() {
	v.keys.focused = true
	v.Refresh()
}

// FocusLost shows that they no longer do, and ends what they were about.
func (v *PhotoView) FocusLost() {
	v.settle()
	v.keys.focused, v.keys.shift, v.keys.space = false, false, false
	v.lensUp()
	v.Refresh()
}

// KeyDown watches the keys that count while they are held.
func (v *PhotoView) KeyDown(ev *fyne.KeyEvent) {
	switch ev.Name {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		v.keys.shift = true
	case fyne.KeySpace:
		v.keys.space, v.keys.spaceUsed = true, false
	}
}

// KeyUp ends a move by the arrow keys, so that a key held down is one gesture. The
// space bar counts when it is let go, since it may have helped to pan.
func (v *PhotoView) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
		v.keys.shift = false
	case fyne.KeySpace:
		tapped := v.keys.space && !v.keys.spaceUsed
		v.keys.space = false
		if tapped && v.HasPhoto() {
			v.spaceTapped()
			v.Refresh()
		}
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown:
		v.settle()
	case fyne.Key3:
		v.lensUp()
	}
}

// spaceTapped sets a corner, or goes on to the next outline.
func (v *PhotoView) spaceTapped() {
	if v.tool == PointTool {
		v.walk()
		return
	}
	v.showCross()
	v.tools[v.tool].set(v.keys.at)
}

// walk selects the next outline, or with Shift the one before.
func (v *PhotoView) walk() {
	n := len(v.outlines)
	if n == 0 {
		return
	}
	next, by := 0, 1
	if v.shifted() {
		next, by = n-1, n-1
	}
	for i := range v.outlines {
		if v.outlines[i].ID == v.selected {
			next = (i + by) % n
		}
	}
	v.choose(v.outlines[next].ID)
	if s := v.current(); s != nil {
		at, _ := s.anchor()
		v.view.Reveal(at)
	}
}

// shifted asks the driver where it knows: Shift may have been pressed before the
// view had the focus.
func (v *PhotoView) shifted() bool {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
	}
	return v.keys.shift
}

// TypedKey does what the key stands for here, or passes it on.
func (v *PhotoView) TypedKey(ev *fyne.KeyEvent) {
	if len(ev.Name) > 1 {
		v.forget()
	}
	used := v.HasPhoto() && v.typed(ev.Name)
	if used {
		v.Refresh()
		return
	}
	if passesOn(ev.Name) && v.OnKey != nil {
		v.settle()
		v.OnKey(ev.Name, 0)
	}
}

// passesOn tells keys that do something by themselves from those that write, which
// come again as runes, and from those that are held with others.
func passesOn(name fyne.KeyName) bool {
	switch name {
	case fyne.KeySpace, fyne.KeyUnknown,
		desktop.KeyShiftLeft, desktop.KeyShiftRight, desktop.KeyControlLeft, desktop.KeyControlRight,
		desktop.KeyAltLeft, desktop.KeyAltRight, desktop.KeySuperLeft, desktop.KeySuperRight, desktop.KeyCapsLock:
		return false
	}
	return len(name) > 1
}

func (v *PhotoView) typed(name fyne.KeyName) bool {
	if way, ok := arrowWays[name]; ok {
		v.arrow(way)
		return true
	}
	switch name {
	case fyne.KeyEscape:
		return v.escape()
	case fyne.KeySpace:
		return true // when it is let go
	}
	if v.mouse.press.held {
		return true // one thing at a time
	}
	return v.tools[v.tool].key(name)
}

// arrow moves what is being worked on: the pointer while drawing, the selected
// outline or its chosen corner, else the photo.
func (v *PhotoView) arrow(way plane.Point) {
	times := func(more float64) float64 {
		if v.shifted() {
			return more
		}
		return 1
	}
	s := v.current()
	switch {
	case v.mouse.press.held:
	case v.tool != PointTool:
		v.showCross()
		v.keys.at = v.view.Clamp(v.keys.at.Plus(way.Times(crossStep * times(moreCross) / v.view.Scale())))
		v.view.Reveal(v.keys.at)
		v.tools[v.tool].hover(v.keys.at)
	case s != nil && !v.readOnly:
		now := outlineShape{ShownOutline: s.ShownOutline, corners: v.cornersOf(s)}
		by := way.Times(max(1, 1/v.view.Zoom()) * times(moreMove))
		if handles := now.handles(nil); v.keys.corner >= 0 && v.keys.corner < len(handles) {
			v.reshape(now.dragged(v.keys.corner, v.view.Clamp(handles[v.keys.corner].Plus(by))))
		} else {
			v.reshape(now.moved(by, v.view.PhotoSize()))
		}
	default:
		step := way.Times(-panStep * times(morePan))
		v.pan(step.X, step.Y)
	}
}

// showCross begins the pointer of the keys: where the mouse is, else in the middle
// of what is seen.
func (v *PhotoView) showCross() {
	if v.keys.cross {
		return
	}
	size := v.Size()
	at := fyne.NewPos(size.Width/2, size.Height/2)
	if v.mouse.over {
		at = v.mouse.at
	}
	v.keys.cross, v.keys.at = true, v.place(at, false).photo
}

// escape leads one step out: of a drag, of an outline begun, of the tool, of a
// corner, of the selection.
func (v *PhotoView) escape() bool {
	switch {
	case v.mouse.press.held:
		v.hand().cancel()
		v.mouse.press = photoPress{}
		v.edit = outlineEdit{}
	case v.tools[v.tool].begun():
		v.tools[v.tool].cancel()
	case v.lens.on:
		v.SetLens(false)
	case v.tool != PointTool:
		v.SetTool(PointTool)
	case v.keys.corner != noCorner:
		v.settle()
		v.keys.corner = noCorner
	case v.selected != "":
		v.choose("")
	default:
		return false
	}
	return true
}

// TypedRune does what the letter stands for here, or passes it on.
func (v *PhotoView) TypedRune(r rune) {
	if v.HasPhoto() && v.letter(r) {
		return
	}
	if v.OnKey != nil {
		v.settle()
		v.OnKey("", r)
	}
}

func (v *PhotoView) letter(r rune) bool {
	switch r {
	case 'v', 'V':
		v.SetTool(PointTool)
	case 'c', 'C':
		v.SetTool(CornersTool)
	case 'o', 'O':
		v.SetTool(OvalTool)
	case 'z', 'Z':
		v.SetTool(PencilTool)
	case 'q', 'Q':
		v.SetTool(BoxTool)
	case 'h', 'H':
		v.SetTool(LineTool)
	case '7':
		v.SetTool(SpotTool)
	case ';':
		v.SetTool(EdgesTool)
	case 'k', 'K':
		return v.walkCorners()
	case '3':
		v.lensTyped()
	case '+', '=':
		v.ZoomBy(viewportStep)
	case '-', '_':
		v.ZoomBy(1 / viewportStep)
	case '0':
		v.Fit()
	case '1':
		v.Actual()
	case ' ': // when the key is let go
	default:
		return false
	}
	return true
}

// walkCorners chooses the next corner of the selected outline for the keys.
func (v *PhotoView) walkCorners() bool {
	s := v.current()
	if s == nil || v.readOnly || v.tool != PointTool {
		return false
	}
	v.settle()
	handles := s.handles(nil)
	if len(handles) == 0 {
		return false
	}
	v.keys.corner = (v.keys.corner + 1) % len(handles)
	v.view.Reveal(handles[v.keys.corner])
	v.redraw()
	return true
}
