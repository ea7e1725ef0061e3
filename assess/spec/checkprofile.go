package spec

import (
	"math"
	"slices"
)

// The bounds of a profile keep every drawing of it small: no part of a gearbox
// needs more.
const (
	maxSize   = 10000.0 // mm
	maxPlaces = 200     // features, paths, copies, places round
	maxTeeth  = 400
	maxLines  = 2000 // of all paths with their copies
	minWall   = 0.01 // mm
)

// profile refuses what can't be drawn: a line that does not close or that
// crosses itself, a bore through the outside, a surface that is not there.
func (c *checker) profile(p *Profile) {
	c.at("profile", profileKey(p.Kind, p.Unit, p.Place))
	k, ok := c.set.kinds[p.Kind]
	c.want(ok, "there is no kind %q", p.Kind)
	c.want(p.Source != "", "needs source")
	c.want(len(p.Features)+len(p.Paths) > 0, "needs a feature or a path")
	c.want(len(p.Features) <= maxPlaces && len(p.Paths) <= maxPlaces, "more than %d features or paths are no drawing", maxPlaces)
	c.want(p.Row >= 0 && p.Row <= 20, "row counts from 1 to 20")
	c.standing(p)
	// A user's kind may have other surfaces than the picture that was there
	// before it; what it does not have is then drawn without a number.
	if ok && (p.Unit != "" || !c.set.redrawn["kind "+p.Kind]) {
		for _, name := range p.surfaces() {
			_, _, known := k.Surface(name)
			c.want(known, "the kind %q has no surface %q", p.Kind, name)
		}
	}
	before := len(c.problems)
	for i := range p.Features {
		c.feature(i, &p.Features[i])
	}
	if len(c.problems) == before && p.Turned() {
		c.contour(p)
	}
	lines := 0
	for i := range p.Paths {
		lines += c.path(i, &p.Paths[i])
	}
	c.want(lines <= maxLines, "its paths and their copies are %d lines, more than %d", lines, maxLines)
}

func (c *checker) standing(p *Profile) {
	if p.Unit == "" {
		c.want(p.Place == "", "a place wants its unit")
		return
	}
	u, ok := c.set.units[p.Unit]
	c.want(ok, "there is no unit %q", p.Unit)
	if ok && p.Place != "" && !c.set.redrawn["unit "+p.Unit] {
		place, _, known := u.Place(p.Place)
		c.want(known && place.Kind == p.Kind, "the unit %q has no place %q of this kind", p.Unit, p.Place)
	}
}

func (p *Profile) surfaces() []string {
	var names []string
	for i := range p.Features {
		names = append(names, p.Features[i].Surface)
	}
	for i := range p.Paths {
		names = append(names, p.Paths[i].Surface)
	}
	slices.Sort(names)
	names = slices.Compact(names)
	return slices.DeleteFunc(names, func(name string) bool { return name == "" })
}

func (c *checker) feature(i int, f *Feature) {
	n := i + 1
	c.want(f.Shape != "", "feature %d needs a shape", n)
	for _, size := range []float64{f.Length, f.Diameter, f.To, f.Root, f.At} {
		c.want(size >= 0 && size <= maxSize, "feature %d: %g is no size in mm", n, size)
	}
	c.want(f.Teeth >= 0 && f.Teeth <= maxTeeth, "feature %d: teeth are from 0 to %d", n, maxTeeth)
	c.want(f.Bore != Both, "feature %d: a bore is counted from the left or from the right", n)
	c.want(f.Hand != Both, "feature %d: hand is left or right", n)
	tapers := f.Shape == Taper || f.Shape == Chamfer
	switch f.Shape {
	case Shoulder:
		c.want(f.Length == 0 && f.Bore == "", "feature %d: a shoulder is a face outside; it has no length", n)
		c.want(f.Surface != "", "feature %d: a shoulder is there for its surface", n)
		return
	case CrossHole:
		c.want(f.Diameter > 0 && f.Bore == "" && f.Length == 0, "feature %d: a cross hole has at and diameter", n)
		return
	}
	c.want(f.Length > 0 && f.Diameter > 0, "feature %d needs length and diameter", n)
	c.want(tapers == (f.To > 0), "feature %d: to is the other diameter of a cone or a chamfer, and of nothing else", n)
	c.want(!tapers || f.To != f.Diameter, "feature %d: a cone has two diameters", n)
	c.want(f.Shape.Toothed() == (f.Root > 0), "feature %d: root is the diameter at the roots of teeth, splines and threads", n)
	if f.Shape.Toothed() {
		c.want((f.Root > f.Diameter) == (f.Bore != "") && f.Root != f.Diameter,
			"feature %d: roots lie below the crests: root below diameter outside, above it in a bore", n)
	}
	c.want(f.At == 0, "feature %d: at is for a cross hole", n)
}

// contour checks that the outside closes round the bores.
func (c *checker) contour(p *Profile) {
	outside, inside, length := p.Outside(), p.Inside(), p.Length()
	c.want(length > 0, "does not close: it has no outside")
	for i, f := range outside {
		before, after := beside(outside, i)
		if f.Shape == Groove {
			deep := (before == nil || before.R1 > f.R0) && (after == nil || after.R0 > f.R0)
			c.want(deep, "the groove at %g mm is no deeper than what stands beside it", f.X0)
		}
		if f.Shape == Shoulder {
			c.want(before == nil || after == nil || before.R1 != after.R0, "the shoulder at %g mm has no step", f.X0)
		}
	}
	bored := 0.0
	for _, f := range inside {
		bored += f.Length
	}
	c.want(bored <= length+1e-6, "overlaps itself: the bores are %g mm long, the part %g mm", bored, length)
	for _, in := range inside {
		for _, out := range outside {
			c.want(wall(in, out), "overlaps itself: the bore at %g mm comes through the outside at %g mm", in.X0, out.X0)
		}
	}
	for _, h := range p.CrossHoles() {
		c.want(h.At-h.Diameter/2 >= 0 && h.At+h.Diameter/2 <= length, "overlaps itself: the cross hole at %g mm breaks out of the end", h.At)
	}
}

// beside returns the features beside the i-th that have a length, nil at an end.
func beside(outside []Placed, i int) (before, after *Placed) {
	for j := i - 1; j >= 0 && before == nil; j-- {
		if outside[j].Shape != Shoulder {
			before = &outside[j]
		}
	}
	for j := i + 1; j < len(outside) && after == nil; j++ {
		if outside[j].Shape != Shoulder {
			after = &outside[j]
		}
	}
	return before, after
}

// wall reports whether metal is left between a bore and the outside over it.
func wall(in, out Placed) bool {
	from, to := max(in.X0, out.X0), min(in.X1, out.X1)
	if from >= to || out.Shape == Shoulder {
		return true
	}
	for _, x := range []float64{from, to} {
		bore := max(between(in, in.R0, in.R1, x), between(in, in.Root0, in.Root1, x))
		if between(out, out.Root0, out.Root1, x)-bore < minWall {
			return false
		}
	}
	return true
}

// between is the radius at x of a feature that goes from r0 to r1.
func between(f Placed, r0, r1, x float64) float64 {
	if f.X1 == f.X0 {
		return r0
	}
	return r0 + (r1-r0)*(x-f.X0)/(f.X1-f.X0)
}

// path checks one path and returns how many lines it is with its copies.
func (c *checker) path(i int, p *Path) int {
	n := i + 1
	c.want(p.As != "", "path %d: needs as", n)
	c.want(p.Around >= 0 && p.Around <= maxPlaces && p.Copies >= 0 && p.Copies <= maxPlaces,
		"path %d: around and copies are at most %d", n, maxPlaces)
	c.want((p.Copies > 1) == (len(p.Step) == 2), "path %d: copies and a step of x and y go together", n)
	c.want(p.Hatch == "" || p.As == Cut, "path %d: only what is cut is hatched", n)
	for _, size := range slices.Concat(p.Circle, p.Step) {
		if math.IsNaN(size) || math.Abs(size) > maxSize {
			c.want(false, "path %d: %g is no size in mm", n, size)
			return 0
		}
	}
	one, err := p.line()
	if err != nil {
		c.want(false, "path %d: %v", n, err)
		return 0
	}
	c.want(!p.As.Area() || one.Closed, "path %d does not close: %s ends elsewhere than it began", n, p.As)
	c.want(!p.As.Area() || len(one.Points) > 2, "path %d encloses nothing", n)
	c.want(!crossesItself(one), "path %d overlaps itself", n)
	return max(1, p.Copies) * max(1, p.Around)
}

// crossesItself reports whether two pieces of a line cross or touch where they
// do not follow each other.
func crossesItself(l Line) bool {
	n := len(l.Points)
	pieces := n - 1
	if l.Closed {
		pieces = n
	}
	for i := range pieces {
		a, b := l.Points[i], l.Points[(i+1)%n]
		for j := i + 2; j < pieces; j++ {
			if l.Closed && i == 0 && j == pieces-1 {
				continue
			}
			if cross(a, b, l.Points[j], l.Points[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

func cross(a, b, c, d Point) bool {
	if max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) ||
		max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y) {
		return false
	}
	return side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0
}

// side is above 0 where c lies to one side of the way from a to b, below 0 to
// the other.
func side(a, b, c Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
