package ui

import (
	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// pencilTool draws freehand: press, draw, release. The line is cut down to the
// corners that keep its form; where it ran over itself, its largest loop is kept.
// With the keys, Space puts the pencil down and lifts it.
type pencilTool struct {
	v    *PhotoView
	line []plane.Point
	down bool
	// byKeys is whether the keys have put it down.
	byKeys bool
}

const (
	// pencilStep is how far the pencil must move for another point, in units of the
	// window; pencilForm how far the corners that are kept may be off its line.
	pencilStep = 1.5
	pencilForm = 1.3
	// pencilLeast is the least side of what was meant as an outline.
	pencilLeast = 6
)

func (t *pencilTool) press(at photoPlace) bool {
	t.line = append(t.line[:0], at.photo)
	t.down, t.byKeys = true, false
	return true
}

func (t *pencilTool) drag(_, at photoPlace) { t.draws(at.photo) }

// draws goes on to a place, if it is far enough.
func (t *pencilTool) draws(at plane.Point) {
	if n := len(t.line); t.down && n > 0 && at.Distance(t.line[n-1])*t.v.view.Scale() >= pencilStep {
		t.line = append(t.line, at)
	}
}

func (t *pencilTool) release(at photoPlace, moved bool) {
	if !t.down {
		return
	}
	t.draws(at.photo)
	if !moved {
		t.cancel()
		return
	}
	t.finish()
}

// finish turns the line into an outline. One that is too small was a slip.
func (t *pencilTool) finish() {
	line := plane.Polygon(append([]plane.Point(nil), t.line...))
	t.cancel()
	scale := t.v.view.Scale()
	low, high := line.Bounds()
	if size := high.Minus(low).Times(scale); max(size.X, size.Y) < pencilLeast {
		return
	}
	crossed := line.Crosses()
	clear, err := line.Untangled()
	if err == nil {
		clear, err = clear.Simplify(pencilForm / scale).Untangled()
	}
	if err != nil || clear.Area()*scale*scale < pencilLeast*pencilLeast/2 {
		t.v.tell("That line encloses nothing. Draw once round the damage and let go where you began.")
		return
	}
	t.v.finish(record.Polygon, clear)
	if crossed {
		t.v.tell("The line crossed itself; its largest loop was kept. Undo takes it back.")
	}
}

func (t *pencilTool) hover(at plane.Point) {
	if t.byKeys {
		t.draws(at)
	}
}

func (t *pencilTool) double(photoPlace) {}

// set puts the pencil down where the pointer of the keys is, or lifts it there.
func (t *pencilTool) set(at plane.Point) {
	if !t.down {
		t.line = append(t.line[:0], at)
		t.down, t.byKeys = true, true
		return
	}
	t.draws(at)
	t.finish()
}

func (t *pencilTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.down || t.v.keys.cross {
			t.v.showCross()
			t.set(t.v.keys.at)
		}
		return true
	case fyne.KeyBackspace:
		t.cancel()
		return true
	}
	return false
}

func (t *pencilTool) begun() bool { return t.down }

func (t *pencilTool) cancel() { t.line, t.down, t.byKeys = t.line[:0], false, false }

func (t *pencilTool) hint() string {
	switch {
	case t.byKeys:
		return "The arrows draw · Space lifts the pencil"
	case t.down:
		return ""
	}
	return "Draw round the damage · with the keys: Space, the arrows, Space · Esc leads out"
}

func (t *pencilTool) draw(f *photoFrame) {
	if t.down && len(t.line) > 0 {
		f.begunLine(t.line, t.line[len(t.line)-1])
	}
}
