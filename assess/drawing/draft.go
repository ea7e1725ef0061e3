package drawing

import (
	"math"

	"fettlebook/assess/spec"
)

// pen holds what a drawing's lines are drawn with, in mm of paper.
type pen struct {
	// thick is a visible edge, thin the other lines (ISO 128: two to one).
	thick, thin float64
	// band is the ordinary width of a band, pitch that of the hatching.
	band, pitch float64
}

// chain is the pattern of a centre line, dashed that of a hidden edge, in mm.
var (
	chain  = []float64{6, 0.8, 0.8, 0.8}
	dashed = []float64{2, 0.9}
)

// mark is a surface that wants a number: its leader may end anywhere between x0
// and x1 at y. Below hangs it under the drawing.
type mark struct {
	surface   string
	x0, x1, y float64
	below     bool
	// size is how much of the drawing shows it; the largest mark of a surface is
	// the one that is used.
	size float64
}

// edge is where a band runs; the air is on the left of its way.
type edge struct {
	surface string
	line    []Point
}

// draft is a part being drawn: first its extent, then its lines at a scale.
type draft struct {
	pen
	list   *List
	scale  float64
	dx, dy float64
	// known tells which surfaces the kind has; what it has not is drawn without
	// a number.
	known  func(surface string) bool
	chosen string
	// only asks for the marks: nothing that takes time is laid down.
	only  bool
	bands []edge
	marks []mark
}

// at turns a point of the part into one of the paper.
func (d *draft) at(x, y float64) Point { return Point{d.dx + x*d.scale, d.dy + y*d.scale} }

func (d *draft) path(points ...Point) []Point {
	moved := make([]Point, len(points))
	for i, p := range points {
		moved[i] = d.at(p.X, p.Y)
	}
	return moved
}

// mm is a length on the part that is so long on paper.
func (d *draft) mm(paper float64) float64 { return paper / d.scale }

func (d *draft) ofKind(surface string) string {
	if surface != "" && d.known(surface) {
		return surface
	}
	return ""
}

// metal is the ink that a surface is filled with.
func (d *draft) metal(surface string) Ink {
	if surface != "" && surface == d.chosen {
		return Chosen
	}
	return Metal
}

func (d *draft) edge(surface string, points ...Point) {
	if surface = d.ofKind(surface); surface != "" {
		d.bands = append(d.bands, edge{surface, d.path(points...)})
	}
}

func (d *draft) touch(surface string, points ...Point) {
	if surface = d.ofKind(surface); surface != "" {
		d.list.Areas = append(d.list.Areas, Area{surface, d.path(points...)})
	}
}

// mark asks for a number at a place of the part.
func (d *draft) mark(surface string, x0, x1, y, size float64, below bool) {
	if surface = d.ofKind(surface); surface == "" {
		return
	}
	a, b := d.at(x0, y), d.at(x1, y)
	d.marks = append(d.marks, mark{surface: surface, x0: a.X, x1: b.X, y: a.Y, size: size, below: below})
}

// extent is the room that a profile takes, in mm of the part, and where the
// axis of its view along the axis stands.
type extent struct {
	box
	face Point
}

func extentOf(p *spec.Profile, lines [][]line) extent {
	side, face := none(), none()
	for _, copies := range lines {
		for _, l := range copies {
			face.add(l.points...)
		}
	}
	for _, f := range p.Outside() {
		r := max(f.R0, f.R1)
		side.add(Point{f.X0, -r}, Point{f.X1, r})
	}
	e := extent{box: side}
	switch {
	case face.empty():
	case side.empty():
		e.box = face
	default:
		e.face = Point{side.x1 + 0.16*max(side.height(), face.height()) - face.x0, 0}
		e.add(Point{face.x0 + e.face.X, face.y0}, Point{face.x1 + e.face.X, face.y1})
	}
	// A part without any extent would be drawn at no scale at all.
	if !(e.width() > 0) && !(e.height() > 0) {
		e.box = box{0, 0, 1, 1}
	}
	return e
}

// linesOf returns the paths' lines; one that can't be read is left out, since a
// checked profile has none.
func linesOf(p *spec.Profile) [][]line {
	all := make([][]line, len(p.Paths))
	for i := range p.Paths {
		lines, err := p.Paths[i].Lines()
		if err != nil {
			continue
		}
		for _, l := range lines {
			one := line{points: make([]Point, len(l.Points)), closed: l.Closed}
			for j, q := range l.Points {
				one.points[j] = Point(q)
			}
			all[i] = append(all[i], one)
		}
	}
	return all
}

// line is a path of straight pieces; a closed one does not repeat its first point.
type line struct {
	points []Point
	closed bool
}

// flat draws the paths of a profile, the view along the axis of a turned one.
func (d *draft) flat(p *spec.Profile, lines [][]line, face Point) {
	d.dx, d.dy = d.dx+face.X*d.scale, d.dy+face.Y*d.scale
	defer func() { d.dx, d.dy = d.dx-face.X*d.scale, d.dy-face.Y*d.scale }()
	reach := none()
	for _, copies := range lines {
		for _, l := range copies {
			reach.add(d.path(l.points...)...)
		}
	}
	for i := range p.Paths {
		for _, l := range lines[i] {
			d.onePath(&p.Paths[i], l, reach)
		}
	}
}

func (d *draft) onePath(p *spec.Path, l line, reach box) {
	if len(l.points) < 2 {
		return
	}
	of := d.ofKind(p.Surface)
	points := d.path(l.points...)
	if p.As.Area() && area(points) < 0 {
		points = reversed(points)
	}
	drawn := points
	if l.closed {
		drawn = closed(points)
	}
	switch p.As {
	case spec.Solid, spec.Cut:
		d.list.fill(d.metal(of), of, points)
		if p.As == spec.Cut && !d.only {
			d.list.stroke(Fine, d.thin, of, hatch([][]Point{points}, d.pitch, p.Hatch == spec.Left)...)
		}
		d.list.stroke(Outline, d.thick, of, drawn)
	case spec.Hole:
		d.list.fill(Ground, of, points)
		d.list.stroke(Outline, d.thick, of, drawn)
	case spec.Edge:
		d.list.stroke(Outline, d.thick, of, drawn)
	case spec.ThinLine:
		d.list.stroke(Fine, d.thin, of, drawn)
	case spec.CentreLine:
		d.list.stroke(Axis, d.thin, of, dash(drawn, chain)...)
		return
	case spec.HiddenLine:
		d.list.stroke(Fine, d.thin, of, dash(drawn, dashed)...)
	}
	if of == "" {
		return
	}
	d.flatSurface(p, of, points, drawn, reach)
}

// flatSurface lays the band, the area to point at and the number of a path. A
// polygon turns clockwise here, so that its air is on the left outside; a hole
// is gone round the other way.
func (d *draft) flatSurface(p *spec.Path, of string, points, drawn []Point, reach box) {
	band := drawn
	if p.As == spec.Hole {
		band = reversed(drawn)
	}
	d.bands = append(d.bands, edge{of, band})
	b := none()
	b.add(points...)
	if p.As.Area() || drawn[0] == drawn[len(drawn)-1] {
		d.list.Areas = append(d.list.Areas, Area{of, points})
	} else {
		d.list.Areas = append(d.list.Areas, Area{of, ribbon(drawn, 1)})
	}
	// The leader ends on the line itself where it is open or a hole, and just
	// inside a body; from the side that is nearer.
	below := (b.y0+b.y1)/2 > (reach.y0+reach.y1)/2+0.1
	at := top(drawn, below)
	x0, x1 := at.X-0.4, at.X+0.4
	if flat := b.width() * 0.35; b.height() < 0.2 {
		x0, x1 = (b.x0+b.x1)/2-flat, (b.x0+b.x1)/2+flat
	}
	d.marks = append(d.marks, mark{surface: of, x0: x0, x1: x1, y: at.Y, size: length(drawn) / d.scale, below: below})
}

// top is the point of a line that is nearest to the numbers above it, or below;
// the one nearest to the middle of those that lie alike.
func top(line []Point, below bool) Point {
	b := none()
	b.add(line...)
	middle := (b.x0 + b.x1) / 2
	sign := 1.0
	if below {
		sign = -1
	}
	best, cost := line[0], math.Inf(1)
	for i := 1; i < len(line); i++ {
		for _, t := range []float64{0, 0.25, 0.5, 0.75} {
			q := along(line[i-1], line[i], t)
			if c := sign*q.Y + 0.12*math.Abs(q.X-middle); c < cost {
				best, cost = q, c
			}
		}
	}
	return best
}

func reversed(line []Point) []Point {
	turned := make([]Point, len(line))
	for i, p := range line {
		turned[len(line)-1-i] = p
	}
	return turned
}

// ribbon is a polygon round an open line, reaching d to both sides.
func ribbon(line []Point, d float64) []Point {
	return append(offset(line, d), reversed(offset(line, -d))...)
}
