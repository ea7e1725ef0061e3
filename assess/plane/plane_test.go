package plane_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
)

// line makes corners of pairs of coordinates.
func line(xy ...float64) []plane.Point {
	var corners []plane.Point
	for i := 0; i+1 < len(xy); i += 2 {
		corners = append(corners, plane.Point{X: xy[i], Y: xy[i+1]})
	}
	return corners
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

func TestNearestOn(t *testing.T) {
	square := line(0, 0, 10, 0, 10, 10, 0, 10)
	for name, c := range map[string]struct {
		corners []plane.Point
		closed  bool
		at      plane.Point
		want    plane.Nearest
	}{
		"beside an edge":           {square, true, plane.Point{X: 4, Y: -3}, plane.Nearest{Edge: 0, At: plane.Point{X: 4}, Distance: 3}},
		"the closing edge":         {square, true, plane.Point{X: -2, Y: 5}, plane.Nearest{Edge: 3, At: plane.Point{Y: 5}, Distance: 2}},
		"an open line has no such": {square, false, plane.Point{X: -2, Y: 4}, plane.Nearest{Edge: 0, At: plane.Point{}, Distance: math.Sqrt(20)}},
		"beyond a corner":          {square, true, plane.Point{X: 13, Y: 14}, plane.Nearest{Edge: 1, At: plane.Point{X: 10, Y: 10}, Distance: 5}},
		"one corner":               {line(1, 1), false, plane.Point{X: 4, Y: 5}, plane.Nearest{Edge: 0, At: plane.Point{X: 1, Y: 1}, Distance: 5}},
		"an edge without length":   {line(1, 1, 1, 1), false, plane.Point{X: 4, Y: 5}, plane.Nearest{Edge: 0, At: plane.Point{X: 1, Y: 1}, Distance: 5}},
		"no corner":                {nil, true, plane.Point{}, plane.Nearest{Edge: -1, Distance: math.Inf(1)}},
	} {
		t.Run(name, func(t *testing.T) {
			if got := plane.NearestOn(c.corners, c.closed, c.at); got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
}

func TestNearestLiesOnTheLineAndIsNoFartherThanAnyCorner(t *testing.T) {
	coordinate := rapid.Float64Range(-1e4, 1e4)
	point := rapid.Custom(func(t *rapid.T) plane.Point {
		return plane.Point{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y")}
	})
	rapid.Check(t, func(t *rapid.T) {
		corners := rapid.SliceOfN(point, 1, 12).Draw(t, "corners")
		p := point.Draw(t, "p")
		got := plane.NearestOn(corners, true, p)
		a, b := corners[got.Edge], corners[(got.Edge+1)%len(corners)]
		if over := a.Distance(got.At) + got.At.Distance(b) - a.Distance(b); over > 1e-6 {
			t.Fatalf("%v is %g off edge %d", got.At, over, got.Edge)
		}
		for _, c := range corners {
			if c.Distance(p) < got.Distance-1e-9 {
				t.Fatalf("corner %v is nearer (%g) than %+v", c, c.Distance(p), got)
			}
		}
	})
}

func TestWithin(t *testing.T) {
	low, high := plane.Point{X: 1, Y: 2}, plane.Point{X: 5, Y: 6}
	for _, c := range []struct{ p, want plane.Point }{
		{plane.Point{X: 3, Y: 4}, plane.Point{X: 3, Y: 4}},
		{plane.Point{X: -3, Y: 9}, plane.Point{X: 1, Y: 6}},
		{plane.Point{X: 6, Y: 1}, plane.Point{X: 5, Y: 2}},
	} {
		if got := c.p.Within(low, high); got != c.want {
			t.Errorf("%v is brought to %v, want %v", c.p, got, c.want)
		}
	}
}
