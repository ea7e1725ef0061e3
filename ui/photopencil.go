package ui

import (
	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// pencilTool draws an outline freehand, as with a pencil: press, draw round the
// damage, let go.
type pencilTool struct {
	v    *PhotoView
	line []plane.Point
}

// pencilStep is how far the pencil moves before it leaves another corner, in units
// of the window; what is kept lies within pencilKeeps of what was drawn.
const (
	pencilStep  = 2.5
	pencilKeeps = 1.6
)

func (t *pencilTool) press(at photoPlace) bool {
	t.line = append(t.line[:0], at.photo)
	return true
}

func (t *pencilTool) drag(_, at photoPlace) {
	if n := len(t.line); n > 0 && t.line[n-1].Distance(at.photo)*t.v.view.Scale() >= pencilStep {
		t.line = append(t.line, at.photo)
	}
}

func (t *pencilTool) release(_ photoPlace, moved bool) {
	line := plane.Polygon(t.line).Simplify(pencilKeeps / t.v.view.Scale())
	t.cancel()
	low, high := line.Bounds()
	if size := high.Minus(low).Times(t.v.view.Scale()); !moved || len(line) < leastCorners || max(size.X, size.Y) < 2*leastDrag {
		return
	}
	t.v.finish(record.Polygon, line)
}

func (t *pencilTool) hover(plane.Point)     {}
func (t *pencilTool) double(photoPlace)     {}
func (t *pencilTool) set(plane.Point)       {}
func (t *pencilTool) key(fyne.KeyName) bool { return false }
func (t *pencilTool) begun() bool           { return len(t.line) > 0 }
func (t *pencilTool) cancel()               { t.line = t.line[:0] }
func (t *pencilTool) draw(f *photoFrame)    { f.begunShape(t.line, false) }
func (t *pencilTool) hint() string          { return "Draw round the damage and let go · Esc leads out" }
