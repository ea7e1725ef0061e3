package plane_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
)

func box(x0, y0, x1, y1 float64) plane.Polygon { return line(x0, y0, x1, y0, x1, y1, x0, y1) }

// The overlaps are those of an independent geometry library (GEOS through shapely
// 1.8.5), to 12 decimals.
func TestOverlapAgainstPublishedValues(t *testing.T) {
	for name, c := range map[string]struct {
		a, b plane.Region
		want float64
	}{
		"two boxes":             {plane.Region{Outer: box(0, 0, 10, 10)}, plane.Region{Outer: box(5, 5, 15, 15)}, 25},
		"pentagon and box":      {plane.Region{Outer: pentagon}, plane.Region{Outer: box(4, 5, 10, 9)}, 20.654761904762},
		"two triangles":         {plane.Region{Outer: line(0, 0, 10, 0, 5, 8)}, plane.Region{Outer: line(0, 6, 10, 6, 5, -2)}, 26.25},
		"one piece of a notch":  {plane.Region{Outer: notched}, plane.Region{Outer: box(0, 4, 10, 12)}, 35},
		"two pieces of a notch": {plane.Region{Outer: notched}, plane.Region{Outer: box(0, 6, 10, 12)}, 16},
		"a hole":                {plane.Region{Outer: box(0, 0, 20, 20), Holes: []plane.Polygon{box(5, 5, 15, 15)}}, plane.Region{Outer: box(10, 10, 30, 30)}, 75},
		"an edge in common":     {plane.Region{Outer: box(0, 0, 1, 1)}, plane.Region{Outer: box(1, 0, 2, 1)}, 0},
		"apart":                 {plane.Region{Outer: box(0, 0, 1, 1)}, plane.Region{Outer: box(3, 0, 4, 1)}, 0},
		"one is empty":          {plane.Region{}, plane.Region{Outer: box(1, 0, 2, 1)}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			for _, order := range [][2]plane.Region{{c.a, c.b}, {c.b, c.a}} {
				got, err := plane.Overlap(order[0], order[1])
				if err != nil || !near(got, c.want, 1e-9) {
					t.Errorf("got %v, %v, want %v", got, err, c.want)
				}
			}
		})
	}
}

func TestOverlapRefusesWhatHasNoAreaOfItsOwn(t *testing.T) {
	whole := plane.Region{Outer: box(0, 0, 10, 10)}
	for name, c := range map[string]struct {
		r    plane.Region
		want error // nil where any error will do
	}{
		"crossing itself":     {plane.Region{Outer: line(0, 0, 4, 4, 4, 0, 0, 4)}, plane.ErrCrosses},
		"a line":              {plane.Region{Outer: line(0, 0, 4, 0, 2, 0)}, nil},
		"a hole crossing":     {plane.Region{Outer: box(0, 0, 9, 9), Holes: []plane.Polygon{line(1, 1, 4, 4, 4, 1, 1, 4)}}, plane.ErrCrosses},
		"a hole that is left": {plane.Region{Outer: box(0, 0, 9, 9), Holes: []plane.Polygon{box(5, 5, 15, 8)}}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			for _, order := range [][2]plane.Region{{c.r, whole}, {whole, c.r}} {
				_, err := plane.Overlap(order[0], order[1])
				if err == nil || c.want != nil && !errors.Is(err, c.want) {
					t.Errorf("got %v, want %v", err, c.want)
				}
			}
		})
	}
}

// Whatever two outlines are drawn, their overlap is no larger than either, the
// same in both orders, and what is left of one beside the other's box adds up.
func TestOverlapAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := plane.Region{Outer: star(t)}, plane.Region{Outer: star(t)}
		ab, err := plane.Overlap(a, b)
		if err != nil {
			t.Fatal(err)
		}
		ba, err := plane.Overlap(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if !near(ab, ba, 1e-6) || ab > min(a.Area(), b.Area())+1e-6 || ab <= 0 {
			t.Fatalf("overlap %v or %v of %v and %v", ab, ba, a.Area(), b.Area())
		}
		left, err := plane.Overlap(a, plane.Region{Outer: box(0, 0, 480, 1000)})
		if err != nil {
			t.Fatal(err)
		}
		right, err := plane.Overlap(a, plane.Region{Outer: box(480, 0, 1000, 1000)})
		if err != nil {
			t.Fatal(err)
		}
		if !near(left+right, a.Area(), 1e-6) {
			t.Fatalf("cut in two, %v and %v are not %v", left, right, a.Area())
		}
	})
}
