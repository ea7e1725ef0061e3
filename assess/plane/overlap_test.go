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
		a, b plane.Polygon
		want float64
	}{
		"two boxes":             {box(0, 0, 10, 10), box(5, 5, 15, 15), 25},
		"pentagon and box":      {pentagon, box(4, 5, 10, 9), 20.654761904762},
		"two triangles":         {line(0, 0, 10, 0, 5, 8), line(0, 6, 10, 6, 5, -2), 26.25},
		"one piece of a notch":  {notched, box(0, 4, 10, 12), 35},
		"two pieces of a notch": {notched, box(0, 6, 10, 12), 16},
		"an edge in common":     {box(0, 0, 1, 1), box(1, 0, 2, 1), 0},
		"apart":                 {box(0, 0, 1, 1), box(3, 0, 4, 1), 0},
	} {
		t.Run(name, func(t *testing.T) {
			for _, order := range [][2]plane.Polygon{{c.a, c.b}, {c.b, c.a}} {
				got, err := plane.Overlap(order[0], order[1])
				if err != nil || !near(got, c.want, 1e-9) {
					t.Errorf("got %v, %v, want %v", got, err, c.want)
				}
			}
		})
	}
}

func TestOverlapRefusesWhatHasNoAreaOfItsOwn(t *testing.T) {
	whole := box(0, 0, 10, 10)
	for name, c := range map[string]struct {
		g    plane.Polygon
		want error
	}{
		"crossing itself": {line(0, 0, 4, 4, 4, 0, 0, 4), plane.ErrCrosses},
		"a line":          {line(0, 0, 4, 0), plane.ErrFewCorners},
		"nothing":         {nil, plane.ErrFewCorners},
	} {
		for _, order := range [][2]plane.Polygon{{c.g, whole}, {whole, c.g}} {
			if _, err := plane.Overlap(order[0], order[1]); !errors.Is(err, c.want) {
				t.Errorf("%s: got %v, want %v", name, err, c.want)
			}
		}
	}
}

// Whatever two outlines are drawn, their overlap is no larger than either, the
// same in both orders, and what is left of one beside the other's box adds up.
func TestOverlapAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := star(t), star(t)
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
		left, err := plane.Overlap(a, box(0, 0, 480, 1000))
		if err != nil {
			t.Fatal(err)
		}
		right, err := plane.Overlap(a, box(480, 0, 1000, 1000))
		if err != nil {
			t.Fatal(err)
		}
		if !near(left+right, a.Area(), 1e-6) {
			t.Fatalf("cut in two, %v and %v are not %v", left, right, a.Area())
		}
	})
}
