package ui

import (
	"errors"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// cornersTool draws a polygon corner by corner.
type cornersTool struct {
	v       *PhotoView
	corners []plane.Point
	pointer plane.Point
	// added is whether the press added a corner, which a drag then takes along;
	// closing whether it was on the first one.
	added, closing bool
	// crosses is whether it was told that the outline crosses itself; closed again,
	// it is untangled.
	crosses bool
}

// leastCorners is how many a polygon has.
const leastCorners = 3

func (t *cornersTool) press(at photoPlace) bool {
	t.pointer = at.photo
	t.added, t.closing = false, t.onFirst(at.view)
	if n := len(t.corners); !t.closing && (n == 0 || t.v.apart(at.view, t.corners[n-1]) > hitsSame) {
		t.corners = append(t.corners, at.photo)
		t.added, t.crosses = true, false
	}
	return true
}

// onFirst tells whether a click closes the outline.
func (t *cornersTool) onFirst(at fyne.Position) bool {
	return len(t.corners) >= leastCorners && t.v.apart(at, t.corners[0]) <= hitsCorner
}

func (t *cornersTool) drag(_, at photoPlace) {
	t.pointer = at.photo
	t.closing = t.closing && t.onFirst(at.view)
	if t.added {
		t.corners[len(t.corners)-1] = at.photo
	}
}

func (t *cornersTool) release(photoPlace, bool) {
	if t.closing {
		t.finish()
	}
	t.added, t.closing = false, false
}

func (t *cornersTool) hover(at plane.Point) { t.pointer = at }

// double closes: its first click has set the last corner.
func (t *cornersTool) double(photoPlace) { t.finish() }

// finish ends an outline that encloses something. One that crosses itself stays
// in hand: its last corner can be taken back, or only its largest loop be kept.
func (t *cornersTool) finish() {
	if len(t.corners) < leastCorners {
		return
	}
	again := t.crosses
	t.crosses = false
	switch err := plane.Polygon(t.corners).Check(); {
	case errors.Is(err, plane.ErrCrosses):
		if clear, err := plane.Polygon(t.corners).Untangled(); again && err == nil {
			t.v.finish(record.Polygon, clear)
			t.v.tell("Its largest loop was kept. Undo takes it back.")
			return
		}
		t.crosses = true
		t.v.tell("This outline crosses itself. Backspace takes the last corner back, Enter keeps its largest loop.")
	case err != nil:
		t.v.tell("Three corners in one line enclose nothing. Set another one.")
	default:
		t.v.finish(record.Polygon, t.corners)
	}
}

// set puts a corner where the pointer is; on the first or the last one it closes.
func (t *cornersTool) set(at plane.Point) {
	x, y := t.v.view.ToView(at)
	view := fyne.NewPos(float32(x), float32(y))
	n := len(t.corners)
	if t.onFirst(view) || (n > 0 && t.v.apart(view, t.corners[n-1]) < 1) {
		t.finish()
		return
	}
	t.corners, t.crosses = append(t.corners, at), false
}

func (t *cornersTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		if t.v.keys.cross {
			t.set(t.v.keys.at)
		} else {
			t.finish()
		}
		return true
	case fyne.KeyBackspace:
		if n := len(t.corners); n > 0 {
			t.corners, t.crosses = t.corners[:n-1], false
		}
		return true
	}
	return false
}

func (t *cornersTool) begun() bool { return len(t.corners) > 0 }

func (t *cornersTool) cancel() { t.corners, t.added, t.closing, t.crosses = nil, false, false, false }

func (t *cornersTool) hint() string {
	switch n := len(t.corners); {
	case n == 0:
		return "Click corner by corner · with the keys: the arrows, Space · Esc leads out"
	case n < leastCorners:
		return "Click the next corner · Backspace takes one back"
	}
	return "Enter, a double click or the first corner closes · Backspace takes one back"
}

func (t *cornersTool) draw(f *photoFrame) {
	if len(t.corners) == 0 {
		return
	}
	x, y := t.v.view.ToView(t.pointer)
	first := t.onFirst(fyne.NewPos(float32(x), float32(y)))
	end := t.pointer
	if first {
		end = t.corners[0]
	}
	f.begunLine(t.corners, end)
	for i, c := range t.corners {
		f.corner(c, i == 0 && (first || len(t.corners) >= leastCorners), i == 0 && first)
	}
}
