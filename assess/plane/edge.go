package plane

import (
	"errors"
	"fmt"
	"math"
)

// ErrEdge says that an edge can't be told from its points.
var ErrEdge = errors.New("an edge needs two points or more that lie apart")

// Edge is a straight line without ends: the places p with Normal·p = Offset.
// Normal has the length 1.
type Edge struct {
	Normal Point
	Offset float64
}

// FitEdge lays a straight line through points along an edge, so that the squares
// of their distances from it are least.
func FitEdge(points []Point) (Edge, error) {
	if len(points) < 2 {
		return Edge{}, ErrEdge
	}
	var centre Point
	for _, p := range points {
		if !p.finite() {
			return Edge{}, ErrNotFinite
		}
		centre = centre.Plus(p.Times(1 / float64(len(points))))
	}
	var xx, xy, yy float64
	for _, p := range points {
		d := p.Minus(centre)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	if xx+yy <= 1e-18*(1+centre.X*centre.X+centre.Y*centre.Y) {
		return Edge{}, ErrEdge
	}
	sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2) // along the edge
	normal := Point{-sin, cos}
	return Edge{normal, normal.X*centre.X + normal.Y*centre.Y}, nil
}

// Meet returns where two edges cross. Edges that run within 5° of one another
// are refused: they are not neighbours of a rectangle.
func (e Edge) Meet(o Edge) (Point, error) {
	det := cross(e.Normal, o.Normal)
	if !(math.Abs(det) > math.Sin(5*math.Pi/180)) {
		return Point{}, fmt.Errorf("two neighbouring edges run side by side: %w", ErrOrder)
	}
	return Point{
		(e.Offset*o.Normal.Y - o.Offset*e.Normal.Y) / det,
		(e.Normal.X*o.Offset - o.Normal.X*e.Offset) / det,
	}, nil
}

// CornersOf returns the four corners in which the edges of a rectangle would meet
// if none of its corners were rounded. Each edge is given by points along it, the
// edges in order round the rectangle: corner i is where edge i−1 meets edge i, so
// that edge 0 runs from corner 0 to corner 1.
func CornersOf(edges [4][]Point) ([4]Point, error) {
	var lines [4]Edge
	var corners [4]Point
	for i, points := range edges {
		var err error
		if lines[i], err = FitEdge(points); err != nil {
			return corners, fmt.Errorf("edge %d of the rectangle: %w", i+1, err)
		}
	}
	for i := range corners {
		var err error
		if corners[i], err = lines[(i+3)%4].Meet(lines[i]); err != nil {
			return corners, fmt.Errorf("corner %d of the rectangle: %w", i+1, err)
		}
	}
	return corners, nil
}

// Rectangle returns the corners in which four edges meet that are given by two
// places each, in order round it; the places themselves where the edges do not meet.
func Rectangle(places []Point) Polygon {
	if len(places) != 8 {
		return places
	}
	corners, err := CornersOf([4][]Point{places[0:2], places[2:4], places[4:6], places[6:8]})
	if err != nil {
		return places
	}
	return corners[:]
}
