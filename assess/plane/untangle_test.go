package plane_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
)

func TestUntangled(t *testing.T) {
	for name, c := range map[string]struct {
		in   plane.Polygon
		area float64
		err  error
	}{
		"a square":                 {in: plane.Polygon{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, area: 100},
		"corners that repeat":      {in: plane.Polygon{{0, 0}, {10, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}, area: 100},
		"a bow tie":                {in: plane.Polygon{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, area: 25},
		"an end that overshoots":   {in: plane.Polygon{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, -2}, {3, -2}, {3, 1}}, area: 97},
		"a small loop at a corner": {in: plane.Polygon{{0, 0}, {10, 0}, {12, -1}, {12, 1}, {10, 0.5}, {10, 10}, {0, 10}}, area: 100},
		"an edge there and back":   {in: plane.Polygon{{0, 0}, {10, 0}, {10, 10}, {20, 10}, {10, 10}, {0, 10}}, area: 100},
		"round twice":              {in: plane.Polygon{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {-1, -1}, {11, -1}, {11, 11}, {-1, 11}}, area: 140},
		"two corners":              {in: plane.Polygon{{0, 0}, {10, 0}}, err: plane.ErrFewCorners},
		"a line":                   {in: plane.Polygon{{0, 0}, {10, 0}, {20, 0}}, err: plane.ErrFewCorners},
		"no number":                {in: plane.Polygon{{0, 0}, {10, math.NaN()}, {20, 0}}, err: plane.ErrNotFinite},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := c.in.Untangled()
			if !errors.Is(err, c.err) {
				t.Fatalf("error %v, want %v", err, c.err)
			}
			if c.err == nil && math.Abs(got.Area()-c.area) > 0.05*c.area {
				t.Errorf("area %.2f of %v, want about %v", got.Area(), got, c.area)
			}
		})
	}
}

// What comes out encloses an area and crosses itself nowhere, and a line that is
// clear stays what it is.
func TestUntangledIsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 24).Draw(t, "corners")
		g := make(plane.Polygon, n)
		for i := range g {
			g[i] = plane.Point{X: float64(rapid.IntRange(0, 400).Draw(t, "x")), Y: float64(rapid.IntRange(0, 300).Draw(t, "y"))}
		}
		got, err := g.Untangled()
		if err != nil {
			if g.Check() == nil {
				t.Fatalf("refused a clear outline: %v", err)
			}
			return
		}
		if got.Area() <= 0 {
			t.Fatalf("no area: %v", got)
		}
		if g.Check() == nil && math.Abs(got.Area()-g.Area()) > 1e-9 {
			t.Fatalf("a clear outline was changed: %v to %v", g, got)
		}
		low, high := g.Bounds()
		for _, p := range got {
			if p.X < low.X-1e-6 || p.X > high.X+1e-6 || p.Y < low.Y-1e-6 || p.Y > high.Y+1e-6 {
				t.Fatalf("%v lies outside of the line", p)
			}
		}
	})
}
