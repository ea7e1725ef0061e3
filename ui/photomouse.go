package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// photoMouse is what the mouse is about.
type photoMouse struct {
	at     fyne.Position
	over   bool // it is over the view
	handle int  // of the selected outline below it, or noCorner
	press  photoPress
	last   fyne.Position // where the button was pressed
}

// photoPress is a button held down.
type photoPress struct {
	held   bool
	button desktop.MouseButton
	told   bool // to the tool
	tool   photoTool
	pans   bool
	moved  bool
	from   photoPlace
	at     fyne.Position
}

// MouseDown takes the focus and begins what the tool does.
func (v *PhotoView) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil && !v.keys.focused {
		c.Focus(v)
	}
	if v.mouse.press.held {
		v.letGo(v.mouse.press.at) // the release went elsewhere, or a second button came
	}
	v.settle()
	v.forget()
	v.mouse.at, v.mouse.over = ev.Position, true
	tool := v.toolOf(ev.Button)
	if !v.HasPhoto() || tool == nil {
		return
	}
	v.keys.cross = false
	at := v.place(ev.Position, ev.Modifier&fyne.KeyModifierShift != 0)
	press := photoPress{held: true, button: ev.Button, from: at, at: ev.Position, tool: tool}
	if ev.Button == desktop.MouseButtonTertiary || v.keys.space {
		v.keys.spaceUsed = true
		press.pans = true
	} else {
		v.mouse.last = ev.Position
		press.told, press.pans = true, !tool.press(at)
	}
	v.mouse.press = press
	v.Refresh()
}

// toolOf is what a button works with. The second one draws freehand whatever tool
// was taken, so that a patch is marked without taking one first; the wheel pans.
func (v *PhotoView) toolOf(button desktop.MouseButton) photoTool {
	switch button {
	case desktop.MouseButtonPrimary, desktop.MouseButtonTertiary:
		return v.tools[v.tool]
	case desktop.MouseButtonSecondary:
		if !v.readOnly && !v.tools[v.tool].begun() {
			return v.tools[PencilTool]
		}
	}
	return nil
}

// MouseUp ends what was pressed.
func (v *PhotoView) MouseUp(ev *desktop.MouseEvent) {
	if v.mouse.press.held && ev.Button == v.mouse.press.button {
		v.pull(ev.Position)
		v.letGo(ev.Position)
	}
}

// Dragged goes on with what was pressed.
func (v *PhotoView) Dragged(ev *fyne.DragEvent) { v.pull(ev.Position) }

// DragEnd ends a drag whose release went to another widget.
func (v *PhotoView) DragEnd() {
	if v.mouse.press.held {
		v.letGo(v.mouse.press.at)
	}
}

// pull moves what is held.
func (v *PhotoView) pull(to fyne.Position) {
	p := &v.mouse.press
	v.mouse.at = to
	if !p.held || to == p.at || (!p.moved && between(to, p.from.view) < leastDrag) {
		return
	}
	before := p.at
	if !p.moved {
		before = p.from.view
	}
	p.moved, p.at = true, to
	if p.pans {
		v.pan(float64(to.X-before.X), float64(to.Y-before.Y))
	} else {
		p.tool.drag(p.from, v.place(to, p.from.shift))
	}
	v.redraw()
}

func (v *PhotoView) letGo(at fyne.Position) {
	p := v.mouse.press
	v.mouse.press = photoPress{}
	switch tool := p.tool; {
	case p.told && p.pans && p.moved:
		tool.cancel()
	case p.told:
		tool.release(v.place(at, p.from.shift), p.moved)
	}
	v.Refresh()
}

// DoubleTapped ends an outline, or adds a corner. Fyne also counts two quick clicks
// in different places, which are two clicks here; it tells where the first one was.
func (v *PhotoView) DoubleTapped(ev *fyne.PointEvent) {
	if v.HasPhoto() && between(v.mouse.last, ev.Position) <= hitsSame {
		v.tools[v.tool].double(v.place(ev.Position, false))
		v.Refresh()
	}
}

// MouseIn follows the pointer.
func (v *PhotoView) MouseIn(ev *desktop.MouseEvent) { v.MouseMoved(ev) }

// MouseMoved follows the pointer.
func (v *PhotoView) MouseMoved(ev *desktop.MouseEvent) {
	moved := ev.Position != v.mouse.at
	v.mouse.at, v.mouse.over = ev.Position, true
	if v.mouse.press.held {
		if ev.Button != 0 {
			v.pull(ev.Position)
			return
		}
		v.letGo(v.mouse.press.at) // released where nobody told
	}
	if !v.HasPhoto() || !moved {
		return
	}
	if v.lens.on {
		v.keys.cross = v.keys.cross && v.tool == PointTool
		v.redraw()
	}
	if v.tool == PointTool {
		if handle := v.handleAt(ev.Position); handle != v.mouse.handle {
			v.mouse.handle = handle
			v.redraw()
		}
		return
	}
	v.keys.cross = false
	v.tools[v.tool].hover(v.place(ev.Position, false).photo)
	if v.tools[v.tool].begun() {
		v.redraw()
	}
}

// MouseOut forgets where the pointer was.
func (v *PhotoView) MouseOut() {
	v.mouse.over = false
	if v.lens.on {
		v.redraw()
	}
	if v.mouse.handle != noCorner {
		v.mouse.handle = noCorner
		v.redraw()
	}
}

// wheelNotch is what Fyne reports for one notch of the wheel; wheelMost bounds how
// many of them one turn of a fast wheel counts as.
const (
	wheelNotch = 25
	wheelMost  = 3
)

// Scrolled magnifies about the pointer; sideways it pans.
func (v *PhotoView) Scrolled(ev *fyne.ScrollEvent) {
	if !v.HasPhoto() {
		return
	}
	v.mouse.at, v.mouse.over = ev.Position, true
	if dx := float64(ev.Scrolled.DX); dx != 0 && math.Abs(dx) > math.Abs(float64(ev.Scrolled.DY)) {
		v.pan(dx, 0)
		v.redraw()
		return
	}
	notches := min(max(float64(ev.Scrolled.DY)/wheelNotch, -wheelMost), wheelMost)
	x, y := float64(ev.Position.X), float64(ev.Position.Y)
	v.zoom(x, y, func() { v.view.ZoomBy(math.Pow(viewportStep, notches), x, y) })
}
