package drawing

import (
	"math"

	"fettlebook/assess/spec"
)

// cutRange is where a turned part is cut open below its axis.
type cutRange struct{ from, to float64 }

func (c cutRange) holds(x0, x1 float64) bool { return x0 >= c.from-1e-6 && x1 <= c.to+1e-6 }

// turned is a turned part with its steps worked out, in mm of the part.
type turned struct {
	*draft
	outside   []spec.Placed // those with a length
	shoulders []spec.Placed
	inside    []spec.Placed
	length    float64
	cuts      []cutRange
	// plain leaves out what is too small to see in a whole unit: the axis of the
	// part, the section of a shaft's end.
	plain bool
}

func newTurned(d *draft, p *spec.Profile) *turned {
	t := &turned{draft: d, inside: p.Inside(), length: p.Length()}
	for _, f := range p.Outside() {
		if f.Shape == spec.Shoulder {
			t.shoulders = append(t.shoulders, f)
		} else {
			t.outside = append(t.outside, f)
		}
	}
	t.cuts = t.cutting()
	return t
}

// cutting says where the part is cut open: all of a hollow part below its axis
// (a half section), only the end of a shaft with a bore in it (a local section).
func (t *turned) cutting() []cutRange {
	left, right := 0.0, t.length
	for _, f := range t.inside {
		if f.Bore == spec.Left {
			left = f.X1
		} else {
			right = min(right, f.X0)
		}
	}
	margin := max(0.03*t.length, t.mm(2.5))
	if len(t.inside) == 0 {
		return nil
	}
	if right-left < 2*margin || left+(t.length-right) > 0.6*t.length {
		return []cutRange{{0, t.length}}
	}
	var cuts []cutRange
	if left > 0 {
		cuts = append(cuts, cutRange{0, left + margin})
	}
	if right < t.length {
		cuts = append(cuts, cutRange{right - margin, t.length})
	}
	return cuts
}

func (t *turned) cut(x0, x1 float64) bool {
	for _, c := range t.cuts {
		if c.holds(x0, x1) {
			return true
		}
	}
	return false
}

// draw lays the part down: metal, section, lines, and the axis last.
func (t *turned) draw(p *spec.Profile) {
	for i := range t.outside {
		t.body(&t.outside[i])
	}
	for _, c := range t.cuts {
		if !t.only {
			t.section(c)
		}
	}
	for i := range t.outside {
		t.features(i)
	}
	t.steps()
	for i := range t.inside {
		t.bore(&t.inside[i])
	}
	t.boreSteps()
	for _, h := range p.CrossHoles() {
		t.crossHole(h)
	}
	for i := range t.shoulders {
		t.shoulder(&t.shoulders[i])
	}
	if t.plain {
		return
	}
	over := t.mm(2.5)
	t.list.stroke(Axis, t.thin, "", dash(t.path(Point{-over, 0}, Point{t.length + over, 0}), chain)...)
}

func (t *turned) body(f *spec.Placed) {
	of := t.ofKind(f.Surface)
	t.list.fill(t.metal(of), of, t.path(Point{f.X0, -f.R0}, Point{f.X1, -f.R1}, Point{f.X1, f.R1}, Point{f.X0, f.R0}))
}

// outer is the radius of the metal that is cut at x, taken on the side where the
// feature lies: teeth and splines are not cut, a thread is cut to its crests.
func metalRadius(f *spec.Placed, x float64) float64 {
	if f.Shape.Toothed() && (f.Shape != spec.Threaded) {
		return f.Root0
	}
	return radiusAt(f, x)
}

func boreRadius(f *spec.Placed, x float64) float64 {
	if f.Shape.Toothed() && f.Shape != spec.Threaded {
		return f.Root0
	}
	return radiusAt(f, x)
}

func radiusAt(f *spec.Placed, x float64) float64 {
	if f.X1 <= f.X0 {
		return f.R0
	}
	return f.R0 + (f.R1-f.R0)*(x-f.X0)/(f.X1-f.X0)
}

// section fills and hatches what is cut between the outside and the bores.
func (t *turned) section(c cutRange) {
	outer := contour(t.outside, c, metalRadius, 0)
	inner := contour(t.inside, c, boreRadius, 0)
	if len(outer) == 0 {
		return
	}
	if len(inner) == 0 || inner[0].X > c.from+1e-6 {
		inner = append([]Point{{c.from, 0}, {first(inner, c.to), 0}}, inner...)
	}
	if last := inner[len(inner)-1]; last.X < c.to-1e-6 {
		inner = append(inner, Point{last.X, 0}, Point{c.to, 0})
	}
	polygon := t.path(outer...)
	right, left := t.wave(c.to, inner[len(inner)-1].Y, outer[len(outer)-1].Y), t.wave(c.from, inner[0].Y, outer[0].Y)
	if c.to < t.length-1e-6 {
		polygon = append(polygon, reversed(right)...)
	}
	polygon = append(polygon, reversed(t.path(inner...))...)
	if c.from > 1e-6 {
		polygon = append(polygon, left...)
	}
	// The bore shows its wall behind the cut.
	t.list.fill(Metal, "", polygon)
	t.list.stroke(Fine, t.thin, "", hatch([][]Point{polygon}, t.pitch, false)...)
	if c.to < t.length-1e-6 {
		t.list.stroke(Fine, t.thin, "", right)
	}
	if c.from > 1e-6 {
		t.list.stroke(Fine, t.thin, "", left)
	}
}

func first(inner []Point, otherwise float64) float64 {
	if len(inner) > 0 {
		return inner[0].X
	}
	return otherwise
}

// contour is the line of radii over a range, as points below the axis.
func contour(features []spec.Placed, c cutRange, radius func(*spec.Placed, float64) float64, gap float64) []Point {
	var line []Point
	for i := range features {
		f := &features[i]
		from, to := max(f.X0, c.from), min(f.X1, c.to)
		if to-from < 1e-9 {
			continue
		}
		if n := len(line); n > 0 && from-line[n-1].X > 1e-6 {
			line = append(line, Point{line[n-1].X, gap}, Point{from, gap})
		}
		line = append(line, Point{from, radius(f, from)}, Point{to, radius(f, to)})
	}
	return line
}

// wave is the free-hand line where a local section ends, from the inside out.
func (t *turned) wave(x, from, to float64) []Point {
	const n = 18
	line := make([]Point, 0, n+1)
	swing := min(t.mm(0.7), 0.02*t.length)
	turns := max(1, math.Round((to-from)*t.scale/7))
	for i := range n + 1 {
		u := float64(i) / n
		lean := math.Sin(2*math.Pi*turns*u) * swing * math.Sin(math.Pi*u)
		line = append(line, Point{x + lean, from + (to-from)*u})
	}
	return t.path(line...)
}

// features draws the lines of one outside feature, and what can be pointed at.
func (t *turned) features(i int) {
	f := &t.outside[i]
	of := t.ofKind(f.Surface)
	up := []Point{{f.X0, -f.R0}, {f.X1, -f.R1}}
	down := []Point{{f.X1, f.R1}, {f.X0, f.R0}}
	cut := t.cut(f.X0, f.X1)
	t.list.stroke(Outline, t.thick, of, t.path(up...), t.path(down...))
	if f.Shape.Toothed() {
		t.teeth(f, of, cut)
	}
	if of == "" {
		return
	}
	t.edge(of, up...)
	t.edge(of, down...)
	t.touch(of, Point{f.X0, -f.R0}, Point{f.X1, -f.R1}, Point{f.X1, f.R1}, Point{f.X0, f.R0})
	r := (f.R0 + f.R1) / 2
	deep := min(t.mm(1.3), r*0.5)
	inset := (f.X1 - f.X0) * 0.2
	y := -r + deep
	if f.R0 != f.R1 {
		inset = (f.X1 - f.X0) * 0.42
	}
	t.mark(of, f.X0+inset, f.X1-inset, y, f.X1-f.X0, false)
}

// steps draws the faces between the outside features.
func (t *turned) steps() {
	for i := 0; i <= len(t.outside); i++ {
		var l, r float64
		var x float64
		var before, after *spec.Placed
		if i > 0 {
			before = &t.outside[i-1]
			l, x = before.R1, before.X1
		}
		if i < len(t.outside) {
			after = &t.outside[i]
			r, x = after.R0, after.X0
		}
		ink, width := Outline, t.thick
		if before != nil && after != nil && l == r && before.Shape == after.Shape {
			ink, width = Fine, t.thin
		}
		high, low := max(l, r), min(l, r)
		if !t.cut(x, x) {
			t.list.stroke(ink, width, "", t.path(Point{x, -high}, Point{x, high}))
			continue
		}
		paths := [][]Point{t.path(Point{x, -high}, Point{x, 0})}
		if before == nil || after == nil {
			low = t.boreAt(x)
		} else {
			low = min(metalRadius(before, x), metalRadius(after, x), low)
		}
		if high > low {
			paths = append(paths, t.path(Point{x, low}, Point{x, high}))
		}
		t.list.stroke(ink, width, "", paths...)
	}
}

// boreAt is the radius of the bore at an end, 0 for none.
func (t *turned) boreAt(x float64) float64 {
	for i := range t.inside {
		f := &t.inside[i]
		if math.Abs(f.X0-x) < 1e-6 {
			return f.R0
		}
		if math.Abs(f.X1-x) < 1e-6 {
			return f.R1
		}
	}
	return 0
}

// bore draws one feature of a bore, in the lower half.
func (t *turned) bore(f *spec.Placed) {
	of := t.ofKind(f.Surface)
	wall := []Point{{f.X0, f.R0}, {f.X1, f.R1}}
	if of != "" && of == t.chosen {
		t.list.fill(Chosen, of, t.path(Point{f.X0, 0}, Point{f.X1, 0}, Point{f.X1, f.R1}, Point{f.X0, f.R0}))
	}
	t.list.stroke(Outline, t.thick, of, t.path(wall...))
	if f.Shape.Toothed() {
		root := t.path(Point{f.X0, f.Root0}, Point{f.X1, f.Root1})
		if f.Shape == spec.Threaded {
			t.list.stroke(Fine, t.thin, of, root)
		} else {
			t.list.stroke(Outline, t.thick, of, root)
		}
		if f.Shape == spec.Engagement {
			t.points(f, of, 0, f.R0, 1)
		}
	}
	if of == "" {
		return
	}
	t.edge(of, wall...)
	t.touch(of, Point{f.X0, 0}, Point{f.X1, 0}, Point{f.X1, max(f.R1, f.Root1)}, Point{f.X0, max(f.R0, f.Root0)})
	r := (f.R0 + f.R1) / 2
	inset := (f.X1 - f.X0) * 0.2
	if f.R0 != f.R1 {
		inset = (f.X1 - f.X0) * 0.42
	}
	t.mark(of, f.X0+inset, f.X1-inset, r-min(t.mm(1.3), r*0.3), f.X1-f.X0, true)
}

// boreSteps draws the edges between the features of the bores, and those that
// are seen behind the cut.
func (t *turned) boreSteps() {
	for i := range t.inside {
		f := &t.inside[i]
		var edges [][]Point
		if i == 0 || t.inside[i-1].X1 < f.X0-1e-6 {
			edges = append(edges, t.path(Point{f.X0, 0}, Point{f.X0, f.R0}))
		} else {
			edges = append(edges, t.path(Point{f.X0, 0}, Point{f.X0, max(f.R0, t.inside[i-1].R1, f.Root0*b2f(f.Shape != spec.Threaded))}))
		}
		if i == len(t.inside)-1 || t.inside[i+1].X0 > f.X1+1e-6 {
			edges = append(edges, t.path(Point{f.X1, 0}, Point{f.X1, f.R1}))
		}
		t.list.stroke(Outline, t.thick, "", edges...)
	}
}

func b2f(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// shoulder lays the band and the number of a face between two features.
func (t *turned) shoulder(f *spec.Placed) {
	of := t.ofKind(f.Surface)
	if of == "" {
		return
	}
	x := f.X0
	var l, r float64
	for i := range t.outside {
		if math.Abs(t.outside[i].X1-x) < 1e-6 {
			l = t.outside[i].R1
		}
		if math.Abs(t.outside[i].X0-x) < 1e-6 {
			r = t.outside[i].R0
		}
	}
	high, low := max(l, r), min(l, r)
	if x < 1e-6 || x > t.length-1e-6 {
		low = t.boreAt(x)
	}
	up := []Point{{x, -low}, {x, -high}}
	down := []Point{{x, high}, {x, low}}
	if l > r { // the face looks to the right
		up[0], up[1] = up[1], up[0]
		down[0], down[1] = down[1], down[0]
	}
	if t.chosen == of {
		t.list.stroke(Accent, 2*t.thick, of, t.path(up...), t.path(down...))
	}
	t.edge(of, up...)
	t.edge(of, down...)
	wide := t.mm(0.9)
	t.touch(of, Point{x - wide, -high}, Point{x + wide, -high}, Point{x + wide, -low}, Point{x - wide, -low})
	t.touch(of, Point{x - wide, low}, Point{x + wide, low}, Point{x + wide, high}, Point{x - wide, high})
	t.mark(of, x-t.mm(0.15), x+t.mm(0.15), -(high+3*low)/4, high-low, false)
}

// crossHole is a hole through the part, seen end on.
func (t *turned) crossHole(h *spec.Feature) {
	of := t.ofKind(h.Surface)
	const n = 24
	circle := make([]Point, n)
	r := h.Diameter / 2
	for i := range circle {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		circle[i] = Point{h.At + r*cos, r * sin}
	}
	// Where the part is cut open, only the upper half of the rim is left to see.
	if t.cut(h.At-r, h.At+r) {
		circle = circle[n/2:]
		circle = append(circle, Point{h.At + r, 0})
		t.list.fill(Ground, of, t.path(circle...))
		t.list.stroke(Outline, t.thin, of, t.path(circle...))
	} else {
		t.list.fill(Ground, of, t.path(circle...))
		t.list.stroke(Outline, t.thin, of, closed(t.path(circle...)))
	}
	if of == "" {
		return
	}
	t.touch(of, circle...)
	t.mark(of, h.At-r/2, h.At+r/2, 0, r, false)
}
