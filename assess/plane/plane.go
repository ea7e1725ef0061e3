// Package plane is geometry on a photo: outlines as polygons, what lies in them
// and how far from them, their figures, their overlap.
//
// It has points of its own and knows nothing of records or windows. Coordinates
// are in whatever unit the caller has (pixels of the shown photo, millimetres of
// a reference plane), x to the right and y downwards, as on a photo. Lengths come
// back in that unit, areas in its square. Only a [Scale] speaks of millimetres, as
// gauge.Length and [Area], and always with an uncertainty. A length taken from a
// photo never decides a limit.
package plane

import "math"

// Point is a place on a photo.
type Point struct{ X, Y float64 }

// Plus returns p moved by q.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus returns the way from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times returns p with both coordinates multiplied by f.
func (p Point) Times(f float64) Point { return Point{p.X * f, p.Y * f} }

// Distance returns how far p is from q.
func (p Point) Distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Within returns p brought to the nearest place in the rectangle from low to
// high.
func (p Point) Within(low, high Point) Point {
	return Point{min(max(p.X, low.X), high.X), min(max(p.Y, low.Y), high.Y)}
}

func (p Point) finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// cross is the z of the vector product of a and b.
func cross(a, b Point) float64 { return a.X*b.Y - a.Y*b.X }

// Nearest is the place on a line that is nearest to a point.
type Nearest struct {
	// Edge is the number of the edge it lies on, from corner Edge to the next; -1
	// where the line has no corner.
	Edge     int
	At       Point
	Distance float64
}

// NearestOn returns the place on a line through corners that is nearest to p.
// A closed line has one edge more, from the last corner to the first. A line of
// one corner is that place. Without corners the distance is infinite.
func NearestOn(corners []Point, closed bool, p Point) Nearest {
	best := Nearest{Edge: -1, Distance: math.Inf(1)}
	edges := len(corners) - 1
	if closed || len(corners) == 1 {
		edges = len(corners)
	}
	for i := range max(edges, 0) {
		at := nearestBetween(corners[i], corners[(i+1)%len(corners)], p)
		if d := at.Distance(p); d < best.Distance {
			best = Nearest{Edge: i, At: at, Distance: d}
		}
	}
	return best
}

func nearestBetween(a, b, p Point) Point {
	along := b.Minus(a)
	square := along.X*along.X + along.Y*along.Y
	if square == 0 {
		return a
	}
	way := p.Minus(a)
	return a.Plus(along.Times(min(max((way.X*along.X+way.Y*along.Y)/square, 0), 1)))
}
