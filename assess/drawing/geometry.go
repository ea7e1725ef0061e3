package drawing

import (
	"math"
	"slices"
)

// box is a rectangle; the empty one is made by none.
type box struct{ x0, y0, x1, y1 float64 }

func none() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (b *box) add(points ...Point) {
	for _, p := range points {
		b.x0, b.x1 = min(b.x0, p.X), max(b.x1, p.X)
		b.y0, b.y1 = min(b.y0, p.Y), max(b.y1, p.Y)
	}
}

func (b box) empty() bool     { return b.x0 > b.x1 }
func (b box) width() float64  { return b.x1 - b.x0 }
func (b box) height() float64 { return b.y1 - b.y0 }

func length(line []Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i].X-line[i-1].X, line[i].Y-line[i-1].Y)
	}
	return sum
}

// area is above 0 for a polygon that turns clockwise on paper.
func area(polygon []Point) float64 {
	sum := 0.0
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

func closed(polygon []Point) []Point {
	return append(slices.Clip(slices.Clone(polygon)), polygon[0])
}

// offset moves a line to its left by d; a closed one repeats its first point.
// Sharp corners are cut off rather than drawn out.
func offset(line []Point, d float64) []Point {
	n := len(line)
	if n < 2 {
		return line
	}
	ring := n > 3 && line[0] == line[n-1]
	normals := make([]Point, n-1)
	for i := range normals {
		dx, dy := line[i+1].X-line[i].X, line[i+1].Y-line[i].Y
		l := math.Hypot(dx, dy)
		if l == 0 {
			l = 1
		}
		normals[i] = Point{dy / l, -dx / l}
	}
	moved := make([]Point, n)
	for i := range line {
		before, after := max(i-1, 0), min(i, n-2)
		if ring && (i == 0 || i == n-1) {
			before, after = n-2, 0
		}
		a, b := normals[before], normals[after]
		x, y := a.X+b.X, a.Y+b.Y
		// The mitre is 1/cos of half the turn; beyond 60° of it the corner is cut.
		k := max(0.5, (1+a.X*b.X+a.Y*b.Y)/2)
		moved[i] = Point{line[i].X + d*x/2/k, line[i].Y + d*y/2/k}
	}
	return moved
}

// dash cuts a line into strokes and gaps in turn. The pattern is stretched a
// little so that a line begins and ends with a stroke.
func dash(line []Point, pattern []float64) [][]Point {
	whole := length(line)
	period := 0.0
	for _, p := range pattern {
		period += p
	}
	if len(pattern) < 2 || period <= 0 || whole <= 0 {
		return [][]Point{line}
	}
	n := math.Round((whole - pattern[0]) / period)
	if n < 1 {
		return [][]Point{line}
	}
	stretch := whole / (n*period + pattern[0])
	var strokes [][]Point
	at, i := 0.0, 0
	for at < whole-1e-9 && len(strokes) < 4000 {
		next := at + pattern[i%len(pattern)]*stretch
		if i%2 == 0 {
			strokes = append(strokes, between(line, at, min(next, whole)))
		}
		at = next
		i++
	}
	return strokes
}

// between returns the piece of a line from one length along it to another.
func between(line []Point, from, to float64) []Point {
	var piece []Point
	at := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l == 0 {
			continue
		}
		if end := at + l; end > from && at < to {
			if len(piece) == 0 {
				piece = append(piece, along(a, b, max(0, (from-at)/l)))
			}
			piece = append(piece, along(a, b, min(1, (to-at)/l)))
		}
		at += l
	}
	return piece
}

func along(a, b Point, t float64) Point { return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }

// hatch returns the lines at 45° inside the polygons, of which one inside
// another is a hole. Left leans them the other way.
func hatch(polygons [][]Point, pitch float64, left bool) [][]Point {
	turn := 1.0
	if left {
		turn = -1
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, polygon := range polygons {
		for _, p := range polygon {
			c := p.Y + turn*p.X
			lo, hi = min(lo, c), max(hi, c)
		}
	}
	step := pitch * math.Sqrt2
	if !(hi > lo) || (hi-lo)/step > 4000 {
		return nil
	}
	var lines [][]Point
	var cuts []float64
	for c := math.Floor(lo/step)*step + step/2; c < hi; c += step {
		cuts = cuts[:0]
		for _, polygon := range polygons {
			for i, p := range polygon {
				q := polygon[(i+1)%len(polygon)]
				pc, qc := p.Y+turn*p.X-c, q.Y+turn*q.X-c
				if (pc < 0) != (qc < 0) {
					cuts = append(cuts, p.X+(q.X-p.X)*pc/(pc-qc))
				}
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.05 {
				lines = append(lines, []Point{{cuts[i], c - turn*cuts[i]}, {cuts[i+1], c - turn*cuts[i+1]}})
			}
		}
	}
	return lines
}

// clip returns the pieces of a line inside a box.
func clip(line []Point, in box) [][]Point {
	var pieces [][]Point
	for i := 1; i < len(line); i++ {
		a, b, ok := clipPiece(line[i-1], line[i], in)
		if !ok {
			continue
		}
		if n := len(pieces); n > 0 && pieces[n-1][len(pieces[n-1])-1] == a {
			pieces[n-1] = append(pieces[n-1], b)
		} else {
			pieces = append(pieces, []Point{a, b})
		}
	}
	return pieces
}

// clipPiece is Liang's and Barsky's clipping of one straight piece.
func clipPiece(a, b Point, in box) (Point, Point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, edge := range [4][2]float64{{-dx, a.X - in.x0}, {dx, in.x1 - a.X}, {-dy, a.Y - in.y0}, {dy, in.y1 - a.Y}} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = along(a, b, t0)
	}
	if t1 < 1 {
		to = along(a, b, t1)
	}
	return from, to, true
}

// inside reports whether a point lies in a polygon.
func inside(polygon []Point, p Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// distance is how far a point lies from the outline of a polygon.
func distance(polygon []Point, p Point) float64 {
	least := math.Inf(1)
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
		}
		least = min(least, math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy))
	}
	return least
}
