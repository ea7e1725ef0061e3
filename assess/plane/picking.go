package plane

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Picking is how well places are picked on a photo, as standard deviations in
// pixels of the photo.
type Picking struct {
	// Corner is that of one place.
	Corner float64
	// Offset is that of a whole outline, outwards or inwards: where somebody sees
	// the edge of a patch. It does not shrink with the number of corners, so it is
	// what an area hangs on.
	Offset float64
}

// UsualPicking is for somebody whose own outlines were never repeated.
var UsualPicking = Picking{Corner: 1.5, Offset: 1}

// leastPicking bounds what a few lucky repeats may claim, in pixels.
const leastPicking = 0.3

// PickingFrom tells how well somebody picks, from outlines that they drew of the
// same thing again: each group is of one thing. It needs two in some group; false
// where there are none. Outlines without an area tell nothing. Few repeats tell
// little, so the figure is drawn towards [UsualPicking] as if that had been seen
// twice.
func PickingFrom(groups ...[]Polygon) (Picking, bool) {
	offset, corner, seen := 0.0, 0.0, 0.0
	for _, group := range groups {
		group = slices.DeleteFunc(slices.Clone(group), func(g Polygon) bool { return g.Check() != nil })
		if len(group) < 2 {
			continue
		}
		freedom := float64(len(group) - 1)
		offset += offsetsOf(group)
		corner += cornersOff(group) * freedom
		seen += freedom
	}
	if seen == 0 {
		return UsualPicking, false
	}
	const usual = 2
	blend := func(sum, was float64) float64 {
		return max(leastPicking, math.Sqrt((sum+usual*was*was)/(seen+usual)))
	}
	return Picking{Corner: blend(corner, UsualPicking.Corner), Offset: blend(offset, UsualPicking.Offset)}, true
}

// offsetsOf sums the squares of how far outwards or inwards each of several
// outlines lies of their mean.
func offsetsOf(group []Polygon) (sum float64) {
	var area, perimeter float64
	for _, g := range group {
		area, perimeter = area+g.Area()/float64(len(group)), perimeter+g.Perimeter()/float64(len(group))
	}
	for _, g := range group {
		d := (g.Area() - area) / perimeter
		sum += d * d
	}
	return sum
}

// cornersOff is the mean square of how far a corner is off, as it is seen from the
// other outlines' lines.
func cornersOff(group []Polygon) float64 {
	sum, corners := 0.0, 0.0
	for i, g := range group {
		for j, other := range group {
			if i == j {
				continue
			}
			for _, p := range g {
				d := NearestOn(other, true, p).Distance
				sum += d * d / 2 // both of the two are off
				corners++
			}
		}
	}
	return sum / corners
}

// usable puts the usual figure where there is none.
func (p Picking) usable() Picking {
	if !(p.Corner > 0) {
		p.Corner = UsualPicking.Corner
	}
	if !(p.Offset >= 0) {
		p.Offset = UsualPicking.Offset
	}
	return p
}

// shaken puts places where they might as well have been picked, each by itself.
func (p Picking) shaken(rnd *rand.Rand, points, to []Point) {
	for i, at := range points {
		to[i] = Point{at.X + p.Corner*rnd.NormFloat64(), at.Y + p.Corner*rnd.NormFloat64()}
	}
}

// shakenLine does the same to a line or an outline. Places that lie close
// together, as along a freehand stroke, move together: a hand does not tremble
// from pixel to pixel, and a line that did would grow longer and longer.
func (p Picking) shakenLine(rnd *rand.Rand, points, to []Point) {
	reach := 10 * p.Corner
	move := func() Point { return Point{p.Corner * rnd.NormFloat64(), p.Corner * rnd.NormFloat64()} }
	from, moved := 0, move()
	for from < len(points) {
		to[from] = points[from].Plus(moved)
		next, way := from+1, 0.0
		for next < len(points) {
			way += points[next].Distance(points[next-1])
			if way >= reach {
				break
			}
			next++
		}
		last := min(next, len(points)-1)
		then, run := move(), 0.0
		for i := from + 1; i <= last; i++ {
			run += points[i].Distance(points[i-1])
			share := run / max(way, reach)
			to[i] = points[i].Plus(moved.Times(1 - share)).Plus(then.Times(share))
		}
		from, moved = next, then
	}
}

// grown moves every corner outwards by d along the outline's normal there.
func grown(g Polygon, d float64, to []Point) {
	if g.SignedArea() < 0 {
		d = -d
	}
	n := len(g)
	for i, p := range g {
		along := g[(i+1)%n].Minus(g[(i+n-1)%n])
		length := math.Hypot(along.X, along.Y)
		if length == 0 {
			to[i] = p
			continue
		}
		to[i] = p.Plus(Point{along.Y, -along.X}.Times(d / length))
	}
}
