package drawing_test

import (
	"math"
	"testing"

	"fettlebook/assess/drawing"
)

// A ring of 60 mm round a bore of 40 is cut open below its axis: the hatching
// lies in its metal and nowhere else, at 45°.
func TestOnlyCutMetalIsHatched(t *testing.T) {
	for name, c := range map[string]struct {
		features           string
		inner, outer, from float64
	}{
		"a ring": {`shape = "cylinder"
length = 30
diameter = 60
[[profile.feature]]
shape = "cylinder"
bore = "left"
length = 30
diameter = 40
`, 20, 30, 0},
		// The teeth of a gear are not cut, nor are the splines of its bore.
		"a gear": {`shape = "spur"
length = 30
diameter = 70
root = 60
[[profile.feature]]
shape = "spline"
bore = "left"
length = 30
diameter = 36
root = 40
`, 20, 30, 0},
		// A thread is cut to its crests.
		"a nut": {`shape = "cylinder"
length = 30
diameter = 60
[[profile.feature]]
shape = "thread"
bore = "left"
length = 30
diameter = 40
root = 44
`, 20, 30, 0},
		// Of a long shaft only the end with the bore in it is cut.
		"a shaft": {`shape = "cylinder"
length = 300
diameter = 60
[[profile.feature]]
shape = "cylinder"
bore = "right"
length = 30
diameter = 40
`, 0, 30, 255},
	} {
		set := load(kindOf(1) + "[[profile]]\nkind = \"thing\"\nsource = \"invented\"\n[[profile.feature]]\n" + c.features)
		if set == nil {
			t.Fatalf("%s is refused", name)
		}
		k, _ := set.Kind("thing")
		p, _ := set.Profile("thing", "", "")
		l := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 200, Bare: true})
		axis, left := axisOf(t, l)
		hatched := 0.0
		for _, it := range l.Items {
			for _, path := range it.Paths {
				if it.Op != drawing.Stroke || it.Ink != drawing.Fine || len(path) != 2 {
					continue
				}
				dx, dy := path[1].X-path[0].X, path[1].Y-path[0].Y
				if math.Abs(dx) < 1e-9 || math.Abs(math.Abs(dx)-math.Abs(dy)) > 1e-6 {
					continue // not at 45°: a root, a sign for teeth
				}
				hatched += math.Hypot(dx, dy)
				for _, q := range path {
					r, x := (q.Y-axis)/l.Scale, (q.X-left)/l.Scale
					if r < c.inner-0.01 || r > c.outer+0.01 || x < c.from {
						t.Errorf("%s is hatched at %.2f mm from its axis, %.1f mm from its end", name, r, x)
					}
				}
			}
		}
		if hatched < 20 {
			t.Errorf("%s has %.1f mm of hatching", name, hatched)
		}
	}
}

// axisOf finds the axis and where the part begins on it: the chain line reaches
// 2.5 mm over each end.
func axisOf(t *testing.T, l *drawing.List) (y, left float64) {
	t.Helper()
	longest := 0.0
	for _, it := range l.Items {
		if it.Ink != drawing.Axis || len(it.Paths) == 0 {
			continue
		}
		first, last := it.Paths[0][0], it.Paths[len(it.Paths)-1]
		if w := last[len(last)-1].X - first.X; w > longest {
			longest, y, left = w, first.Y, first.X+2.5
		}
	}
	if longest == 0 {
		t.Fatal("there is no axis")
	}
	return y, left
}
