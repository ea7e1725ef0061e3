package plane

import (
	"fmt"

	"github.com/peterstace/simplefeatures/geom"
)

// Region is an area with holes in it. Holes lie inside the outer line and apart
// from one another. The zero value is empty.
type Region struct {
	Outer Polygon
	Holes []Polygon
}

// Area returns the area without the holes.
func (r Region) Area() float64 {
	area := r.Outer.Area()
	for _, hole := range r.Holes {
		area -= hole.Area()
	}
	return area
}

// Overlap returns the area that a and b have in common: 0 where they only touch,
// or where one is empty. A region whose lines cross themselves or one another is
// refused ([ErrCrosses] where one line does), since its area has no one meaning.
func Overlap(a, b Region) (float64, error) {
	if len(a.Outer) == 0 || len(b.Outer) == 0 {
		return 0, nil
	}
	first, err := a.geometry()
	if err != nil {
		return 0, fmt.Errorf("the first area: %w", err)
	}
	second, err := b.geometry()
	if err != nil {
		return 0, fmt.Errorf("the second area: %w", err)
	}
	common, err := geom.Intersection(first, second)
	if err != nil {
		return 0, fmt.Errorf("the overlap of two areas can't be found: %w", err)
	}
	return common.Area(), nil
}

func (r Region) geometry() (geom.Geometry, error) {
	rings := make([]geom.LineString, 0, 1+len(r.Holes))
	for i, line := range append([]Polygon{r.Outer}, r.Holes...) {
		if err := line.Check(); err != nil {
			if i > 0 {
				err = fmt.Errorf("hole %d: %w", i, err)
			}
			return geom.Geometry{}, err
		}
		rings = append(rings, line.ring())
	}
	polygon := geom.NewPolygon(rings)
	if err := polygon.Validate(); err != nil {
		return geom.Geometry{}, fmt.Errorf("its holes and its outer line do not fit together: %w", err)
	}
	return polygon.AsGeometry(), nil
}

// ring is the line with its first corner repeated at the end.
func (g Polygon) ring() geom.LineString {
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		p := g[i%len(g)]
		xy = append(xy, p.X, p.Y)
	}
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
}
