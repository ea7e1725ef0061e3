package drawing

import (
	"math"

	"fettlebook/assess/spec"
)

// teeth draws what the conventional form shows of teeth, splines and threads
// (ISO 2203, ISO 6410, ISO 6413): the root as a thin line in the view and as an
// edge in the section, the pitch line of a gear as a chain line.
func (t *turned) teeth(f *spec.Placed, of string, cut bool) {
	rootUp := t.path(Point{f.X0, -f.Root0}, Point{f.X1, -f.Root1})
	rootDown := t.path(Point{f.X0, f.Root0}, Point{f.X1, f.Root1})
	rootCut := t.cutLine(f)
	switch f.Shape {
	case spec.Splined, spec.Threaded:
		t.list.stroke(Fine, t.thin, of, rootUp)
		if !cut || f.Shape == spec.Threaded {
			t.list.stroke(Fine, t.thin, of, rootDown)
		}
		if f.Shape == spec.Splined {
			t.list.stroke(Outline, t.thick, of, rootCut...)
		}
	case spec.Spur, spec.Helical:
		t.list.stroke(Outline, t.thick, of, rootCut...)
		t.pitchLine(f, of)
		t.direction(f, of)
	case spec.Engagement:
		t.points(f, of, -f.R0, f.R0*b2f(!cut), -1)
		t.list.stroke(Outline, t.thick, of, rootCut...)
	}
}

// cutLine is the root below the axis as far as the part is cut open there.
func (t *turned) cutLine(f *spec.Placed) [][]Point {
	var lines [][]Point
	for _, c := range t.cuts {
		if from, to := max(c.from, f.X0), min(c.to, f.X1); from < to {
			lines = append(lines, t.path(Point{from, f.Root0}, Point{to, f.Root1}))
		}
	}
	return lines
}

// pitchLine lies where the addendum ends: one module below the tip, of the two
// and a quarter that a tooth is high.
func (t *turned) pitchLine(f *spec.Placed, of string) {
	r := f.R0 - (f.R0-f.Root0)/2.25
	over := t.mm(1.2)
	for _, y := range []float64{-r, r} {
		t.list.stroke(Axis, t.thin, of, dash(t.path(Point{f.X0 - over, y}, Point{f.X1 + over, y}), chain)...)
	}
}

// direction is three thin lines that tell straight teeth from helical ones, and
// the hand of those.
func (t *turned) direction(f *spec.Placed, of string) {
	wide, high := (f.X1-f.X0)*0.7, f.R0*0.30
	middle := (f.X0 + f.X1) / 2
	lean := 0.0
	if f.Shape == spec.Helical {
		// Seen from the front, right-handed teeth rise to the right.
		lean = -wide * math.Tan(math.Pi/9)
		if f.Hand == spec.Left {
			lean = -lean
		}
	}
	pitch := max(high*0.24, t.mm(0.9))
	for i := -1; i <= 1; i++ {
		y := -f.R0*0.48 + float64(i)*pitch
		t.list.stroke(Fine, t.thin, of, t.path(Point{middle - wide/2, y - lean/2}, Point{middle + wide/2, y + lean/2}))
	}
}

// points draws the pointed ends of engagement teeth as they stand round the
// part, seen from the side; to is the last y that is in view.
func (t *turned) points(f *spec.Placed, of string, from, to, facing float64) {
	n := f.Teeth
	if n == 0 {
		n = 36
	}
	reach := (f.X1 - f.X0) * 0.45
	if f.Point == spec.Both {
		reach = (f.X1 - f.X0) * 0.3
	}
	// Teeth that stand closer than this on paper run into each other.
	least := t.mm(0.45)
	for _, end := range []spec.Side{spec.Left, spec.Right} {
		if f.Point != end && f.Point != spec.Both {
			continue
		}
		tip, base := f.X0, f.X0+reach
		if end == spec.Right {
			tip, base = f.X1, f.X1-reach
		}
		var line []Point
		last := math.Inf(-1)
		for i := range 2*n + 1 {
			y := -f.R0 * math.Cos(math.Pi*float64(i)/float64(2*n)*2)
			if y < from-1e-9 || y > to+1e-9 || y < last {
				continue
			}
			if i%2 == 1 && y-last < least {
				continue
			}
			x := base
			if i%2 == 1 {
				x = tip
			}
			if len(line) > 0 && line[len(line)-1].X == x {
				continue
			}
			line = append(line, Point{x, y})
			last = y
		}
		if len(line) > 1 {
			t.list.stroke(Fine, t.thin, of, t.path(line...))
		}
	}
}
