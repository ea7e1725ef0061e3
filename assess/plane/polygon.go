package plane

import (
	"errors"
	"math"
)

// Polygon is a closed outline by its corners in order, the last joined to the
// first, either way round. The zero value is empty: no area, nothing in it.
type Polygon []Point

// Why a polygon has no area of its own.
var (
	ErrFewCorners = errors.New("an outline needs three corners or more that do not lie in one line")
	ErrNotFinite  = errors.New("an outline has a corner that is not a number")
	ErrCrosses    = errors.New("an outline crosses itself; move its corners apart")
)

// Check returns nil if the polygon encloses an area, else [ErrFewCorners],
// [ErrNotFinite] or [ErrCrosses].
func (g Polygon) Check() error {
	for _, p := range g {
		if !p.finite() {
			return ErrNotFinite
		}
	}
	if len(g) < 3 {
		return ErrFewCorners
	}
	if g.Crosses() {
		return ErrCrosses
	}
	if g.SignedArea() == 0 {
		return ErrFewCorners
	}
	return nil
}

// SignedArea returns the area by the shoelace formula
//
//	A = ½ Σ (xᵢ·yᵢ₊₁ − xᵢ₊₁·yᵢ)
//
// positive for corners that run clockwise as seen on the photo (y downwards). A
// polygon that crosses itself has no true area here; see [Polygon.Check].
func (g Polygon) SignedArea() float64 {
	if len(g) < 3 {
		return 0
	}
	// From the first corner, so that a small outline far from the origin loses no
	// digits.
	twice := 0.0
	for i := 1; i+1 < len(g); i++ {
		twice += cross(g[i].Minus(g[0]), g[i+1].Minus(g[0]))
	}
	return twice / 2
}

// Area returns the enclosed area.
func (g Polygon) Area() float64 { return math.Abs(g.SignedArea()) }

// Perimeter returns the length of the closed line; for two corners that is there
// and back.
func (g Polygon) Perimeter() float64 {
	sum := 0.0
	for i, p := range g {
		sum += p.Distance(g[(i+1)%len(g)])
	}
	return sum
}

// Bounds returns the corners of the box around the polygon, both (0,0) for the
// empty one.
func (g Polygon) Bounds() (low, high Point) {
	if len(g) == 0 {
		return Point{}, Point{}
	}
	low, high = g[0], g[0]
	for _, p := range g[1:] {
		low = Point{min(low.X, p.X), min(low.Y, p.Y)}
		high = Point{max(high.X, p.X), max(high.Y, p.Y)}
	}
	return low, high
}

// Contains tells whether p lies inside. On the line itself either answer may
// come; ask [NearestOn] for what is near it. Where the polygon crosses itself, a
// place that is enclosed twice is outside.
func (g Polygon) Contains(p Point) bool {
	in := false
	for i, a := range g {
		b := g[(i+1)%len(g)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// Crosses tells whether two edges that are not neighbours touch. An edge that runs
// back over the one before is found by that, since the next one begins on it.
func (g Polygon) Crosses() bool {
	g = g.withoutRepeats()
	n := len(g)
	if n < 3 {
		return false
	}
	for i := range n {
		a, b := g[i], g[(i+1)%n]
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours through the first corner
			}
			if touch(a, b, g[j], g[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

// withoutRepeats drops corners that repeat the one before.
func (g Polygon) withoutRepeats() Polygon {
	kept := make(Polygon, 0, len(g))
	for _, p := range g {
		if len(kept) == 0 || kept[len(kept)-1] != p {
			kept = append(kept, p)
		}
	}
	for len(kept) > 1 && kept[len(kept)-1] == kept[0] {
		kept = kept[:len(kept)-1]
	}
	return kept
}

// touch tells whether the edges ab and cd have a place in common.
func touch(a, b, c, d Point) bool {
	abc, abd := cross(b.Minus(a), c.Minus(a)), cross(b.Minus(a), d.Minus(a))
	cda, cdb := cross(d.Minus(c), a.Minus(c)), cross(d.Minus(c), b.Minus(c))
	if abc*abd < 0 && cda*cdb < 0 {
		return true
	}
	return abc == 0 && boxed(a, b, c) || abd == 0 && boxed(a, b, d) ||
		cda == 0 && boxed(c, d, a) || cdb == 0 && boxed(c, d, b)
}

// boxed tells whether p, in line with a and b, lies between them.
func boxed(a, b, p Point) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}
