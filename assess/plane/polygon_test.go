package plane_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
)

// pentagon and notched are from the check values below.
var (
	pentagon = plane.Polygon(line(3, 4, 5, 11, 12, 8, 9, 5, 5, 6))
	notched  = plane.Polygon(line(0, 0, 10, 0, 10, 10, 5, 5, 0, 10))
)

// Worked by the shoelace formula and agreed by an independent geometry library
// (GEOS through shapely 1.8.5), given there to 12 decimals.
func TestFiguresAgainstPublishedOnes(t *testing.T) {
	for name, c := range map[string]struct {
		g               plane.Polygon
		area, perimeter float64 // the area with its sign
	}{
		"right triangle": {line(0, 0, 4, 0, 4, 3), 6, 12},
		"pentagon":       {pentagon, -30, 26.090056432628},
		"notched square": {notched, 75, 44.142135623731},
		"other way":      {line(0, 0, 0, 2, 3, 2, 3, 0), -6, 10},
		"on a photo": {line(412.5, 308.25, 530.75, 300, 561, 377.5, 488.25, 430.75, 401, 390),
			14980.40625, 470.739954224703},
	} {
		t.Run(name, func(t *testing.T) {
			if got := c.g.SignedArea(); !near(got, c.area, 1e-9) {
				t.Errorf("signed area %v, want %v", got, c.area)
			}
			if got := c.g.Area(); !near(got, math.Abs(c.area), 1e-9) {
				t.Errorf("area %v, want %v", got, math.Abs(c.area))
			}
			if got := c.g.Perimeter(); !near(got, c.perimeter, 1e-11*c.perimeter) {
				t.Errorf("perimeter %v, want %v", got, c.perimeter)
			}
		})
	}
}

func TestTheEmptyPolygon(t *testing.T) {
	var g plane.Polygon
	low, high := g.Bounds()
	if g.Area() != 0 || g.Perimeter() != 0 || low != high || g.Contains(low) || g.Crosses() {
		t.Error("the empty polygon has something in it")
	}
}

// A small outline at the far corner of a large photo, in hundredths of a pixel,
// must not lose its area to rounding.
func TestAreaFarFromTheOrigin(t *testing.T) {
	g := plane.Polygon(line(1e9, 1e9, 1e9+0.5, 1e9, 1e9+0.5, 1e9+0.25, 1e9, 1e9+0.25))
	if got := g.SignedArea(); got != 0.125 {
		t.Errorf("area %v, want 0.125", got)
	}
}

func TestCheck(t *testing.T) {
	for name, c := range map[string]struct {
		g    plane.Polygon
		want error
	}{
		"a pentagon":                {pentagon, nil},
		"a notch":                   {notched, nil},
		"empty":                     {nil, plane.ErrFewCorners},
		"two corners":               {line(0, 0, 4, 0), plane.ErrFewCorners},
		"one place three times":     {line(1, 1, 1, 1, 1, 1), plane.ErrFewCorners},
		"a bow tie":                 {line(0, 0, 4, 4, 4, 0, 0, 4), plane.ErrCrosses},
		"a corner on another edge":  {line(0, 0, 10, 0, 10, 10, 5, 0, 0, 10), plane.ErrCrosses},
		"an edge there and back":    {line(0, 0, 10, 0, 20, 0, 10, 0, 10, 10), plane.ErrCrosses},
		"a corner given twice":      {line(0, 0, 10, 0, 10, 0, 10, 10), nil},
		"the first corner repeated": {line(0, 0, 10, 0, 10, 10, 0, 0), nil},
		"a straight corner":         {line(0, 0, 5, 0, 10, 0, 10, 10), nil},
		"not a number":              {line(0, 0, 5, math.NaN(), 10, 0), plane.ErrNotFinite},
		"without end":               {line(0, 0, math.Inf(1), 0, 10, 0), plane.ErrNotFinite},
	} {
		t.Run(name, func(t *testing.T) {
			if got := c.g.Check(); !errors.Is(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

func TestContains(t *testing.T) {
	for _, c := range []struct {
		p  plane.Point
		in bool
	}{
		{plane.Point{X: 5, Y: 3}, true}, {plane.Point{X: 5, Y: 7}, false}, {plane.Point{X: 1, Y: 8}, true},
		{plane.Point{X: 9, Y: 8}, true}, {plane.Point{X: -1, Y: 5}, false}, {plane.Point{X: 11, Y: 5}, false},
		{plane.Point{X: 5, Y: 11}, false}, {plane.Point{X: 2, Y: 5}, true},
	} {
		if got := notched.Contains(c.p); got != c.in {
			t.Errorf("%v in the notched square: %v, want %v", c.p, got, c.in)
		}
	}
}

// A star round a middle never crosses itself; what is known of it holds whichever
// corner comes first and whichever way round it runs.
func TestWhatDoesNotDependOnTheFirstCornerOrTheWayRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := star(t)
		n := rapid.IntRange(0, len(g)-1).Draw(t, "first")
		other := append(slices.Clone(g[n:]), g[:n]...)
		slices.Reverse(other)
		scale := g.Perimeter()
		if !near(g.SignedArea(), -other.SignedArea(), 1e-9*scale*scale) || !near(g.Perimeter(), other.Perimeter(), 1e-9*scale) {
			t.Fatalf("area %v, perimeter %v; turned %v, %v", g.SignedArea(), g.Perimeter(), other.SignedArea(), other.Perimeter())
		}
		if g.Crosses() || other.Crosses() {
			t.Fatal("a star crosses itself")
		}
		middle := plane.Point{X: 500, Y: 400}
		if !g.Contains(middle) || !other.Contains(middle) {
			t.Fatal("a star does not contain its middle")
		}
		low, high := g.Bounds()
		for _, p := range g {
			if p.Within(low, high) != p {
				t.Fatalf("corner %v lies out of bounds %v %v", p, low, high)
			}
		}
	})
}

// star draws corners round (500, 400), each at its own distance.
func star(t *rapid.T) plane.Polygon {
	n := rapid.IntRange(5, 40).Draw(t, "corners")
	var g plane.Polygon
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := rapid.Float64Range(10, 300).Draw(t, "r")
		g = append(g, plane.Point{X: 500 + r*cos, Y: 400 + r*sin})
	}
	return g
}

func TestSimplify(t *testing.T) {
	for name, c := range map[string]struct {
		g, want plane.Polygon
	}{
		"straight corners go":  {line(0, 0, 5, 0, 10, 0, 10, 5, 10, 10, 0, 10), line(0, 0, 10, 0, 10, 10, 0, 10)},
		"a wobble goes":        {line(0, 0, 5, 0.4, 10, 0, 10, 10, 0, 10), line(0, 0, 10, 0, 10, 10, 0, 10)},
		"a notch stays":        {notched, notched},
		"three corners stay":   {line(0, 0, 10, 0, 5, 0.1), line(0, 0, 10, 0, 5, 0.1)},
		"a sliver keeps three": {line(0, 0, 5, 0.2, 10, 0, 5, -0.3), line(0, 0, 10, 0, 5, -0.3)},
		"empty":                {nil, nil},
	} {
		t.Run(name, func(t *testing.T) {
			before := slices.Clone(c.g)
			if got := c.g.Simplify(0.5); !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
			if !slices.Equal(before, c.g) {
				t.Error("the polygon itself was changed")
			}
		})
	}
}

func TestSimplifyStaysNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := star(t)
		tolerance := rapid.Float64Range(0, 60).Draw(t, "tolerance")
		kept := g.Simplify(tolerance)
		if len(kept) < 3 || len(kept) > len(g) {
			t.Fatalf("%d corners of %d", len(kept), len(g))
		}
		for _, p := range kept {
			if !slices.Contains(g, p) {
				t.Fatalf("corner %v is new", p)
			}
		}
		if len(kept) == 3 {
			return // the third corner is kept though it is near
		}
		for _, p := range g {
			if d := plane.NearestOn(kept, true, p).Distance; d > tolerance+1e-9 {
				t.Fatalf("corner %v lies %v away, tolerance %v", p, d, tolerance)
			}
		}
	})
}

func TestOval(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := plane.Point{X: rapid.Float64Range(-5000, 5000).Draw(t, "ax"), Y: rapid.Float64Range(-5000, 5000).Draw(t, "ay")}
		b := a.Plus(plane.Point{X: rapid.Float64Range(-4000, 4000).Draw(t, "w"), Y: rapid.Float64Range(-4000, 4000).Draw(t, "h")})
		tolerance := rapid.Float64Range(0.1, 5).Draw(t, "tolerance")
		oval := plane.Oval(a, b, tolerance)
		low, high := oval.Bounds()
		wide := plane.Polygon{a, b}
		wantLow, wantHigh := wide.Bounds()
		if low.Distance(wantLow) > 1e-6 || high.Distance(wantHigh) > 1e-6 {
			t.Fatalf("from %v to %v, want %v to %v", low, high, wantLow, wantHigh)
		}
		// The polygon lies inside the curve, by no more than the tolerance.
		exact := math.Pi / 4 * math.Abs((b.X-a.X)*(b.Y-a.Y))
		if missing := exact - oval.Area(); missing < -1e-6 || missing > tolerance*oval.Perimeter()+1e-6 {
			t.Fatalf("area %v of %v with tolerance %v and %d corners", oval.Area(), exact, tolerance, len(oval))
		}
	})
}
