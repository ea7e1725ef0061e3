package plane_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
)

// The three homographies were computed with OpenCV 4.6 (getPerspectiveTransform)
// and scikit-image 0.19 (ProjectiveTransform), which agree; given to 12 digits and
// more.
func TestHomographyAgainstPublishedValues(t *testing.T) {
	unit := line(0, 0, 1, 0, 1, 1, 0, 1)
	for name, c := range map[string]struct {
		from, to []plane.Point
		matrix   [9]float64
		at, want []plane.Point
	}{
		"photo to card": {
			line(412, 308, 1586, 352, 1528, 1090, 368, 1034), line(0, 0, 85.6, 0, 85.6, 53.98, 0, 53.98),
			[9]float64{0.0741562206523752, 0.004494316403174263, -31.936612360956264,
				-0.0027547639596385187, 0.07350211110490056, -21.503687468938306,
				1.5395740900860202e-05, -1.4370401784796187e-05, 1},
			line(1000, 700, 900, 600, 1000, 600),
			line(45.124822976545, 27.048682143966, 37.305322778958, 20.013542236469, 44.614005176843, 19.709314197994),
		},
		"unit square to quadrangle": {
			unit, line(10, 20, 110, 30, 90, 120, 20, 100),
			[9]float64{78.65671641791045, 17.46268656716418, 10, 4.17910447761194, 117.31343283582089, 20,
				-0.19402985074626866, 0.373134328358209, 1},
			line(.5, .5, .25, .75, 2, 0),
			line(53.287671232877, 74.109589041096, 34.727272727273, 88.545454545455, 273.414634146341, 46.341463414634),
		},
		"exact": {
			unit, line(0, 0, 4, 0, 3, 3, 1, 3),
			[9]float64{4, 2, 0, 0, 6, 0, 0, 1, 1}, line(.5, .5), line(2, 2),
		},
	} {
		t.Run(name, func(t *testing.T) {
			h, err := plane.FitHomography(atCorners(c.from), atCorners(c.to))
			if err != nil {
				t.Fatal(err)
			}
			published := func(p plane.Point) plane.Point {
				m := c.matrix
				w := m[6]*p.X + m[7]*p.Y + m[8]
				return plane.Point{X: (m[0]*p.X + m[1]*p.Y + m[2]) / w, Y: (m[3]*p.X + m[4]*p.Y + m[5]) / w}
			}
			for _, p := range append(slices.Clone(c.from), c.at...) {
				if got, want := h.Map(p), published(p); got.Distance(want) > 1e-8 {
					t.Errorf("%v → %v, by the published matrix %v", p, got, want)
				}
			}
			back, err := h.Inverse()
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range c.at {
				if got := h.Map(p); got.Distance(c.want[i]) > 1e-9 {
					t.Errorf("%v → %v, want %v", p, got, c.want[i])
				}
				if got := back.Map(h.Map(p)); got.Distance(p) > 1e-9*(1+math.Abs(p.X)) {
					t.Errorf("there and back, %v is %v", p, got)
				}
			}
		})
	}
}

func TestDistanceAndCentreOnTheCard(t *testing.T) {
	h, err := plane.FitHomography(atCorners(line(412, 308, 1586, 352, 1528, 1090, 368, 1034)), atCorners(line(0, 0, 85.6, 0, 85.6, 53.98, 0, 53.98)))
	if err != nil {
		t.Fatal(err)
	}
	if got := h.Map(plane.Point{X: 900, Y: 600}).Distance(h.Map(plane.Point{X: 1000, Y: 600})); !near(got, 7.315011489571, 1e-9) {
		t.Errorf("distance %v", got)
	}
	back, err := h.Inverse()
	if err != nil {
		t.Fatal(err)
	}
	if got := back.Map(plane.Point{X: 42.8, Y: 26.99}); got.Distance(plane.Point{X: 968.349694325591, Y: 697.843603013093}) > 1e-8 {
		t.Errorf("the card's centre is at %v", got)
	}
}

func TestHomographyRefuses(t *testing.T) {
	square := line(0, 0, 10, 0, 10, 10, 0, 10)
	for name, c := range map[string]struct {
		from, to []plane.Point
		want     error
	}{
		"three in line":        {line(0, 0, 5, 0, 10, 0, 0, 10), square, plane.ErrCollinear},
		"three in line, far":   {line(1e6, 0, 1e6+5, 5, 1e6+10, 10, 1e6, 10), square, plane.ErrCollinear},
		"nearly in line":       {line(0, 0, 5, 1e-7, 10, 0, 0, 10), square, plane.ErrCollinear},
		"three in line, plane": {square, line(0, 0, 5, 0, 10, 0, 0, 10), plane.ErrCollinear},
		"two in one place":     {line(0, 0, 0, 0, 10, 10, 0, 10), square, plane.ErrCollinear},
		"all in one place":     {line(3, 3, 3, 3, 3, 3, 3, 3), square, plane.ErrCollinear},
		"crossed":              {line(0, 0, 10, 10, 10, 0, 0, 10), square, plane.ErrOrder},
		"a corner inside":      {line(0, 0, 10, 0, 4, 3, 0, 10), square, plane.ErrOrder},
		"not a number":         {line(0, 0, 10, 0, 10, math.NaN(), 0, 10), square, plane.ErrNotFinite},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := plane.FitHomography(atCorners(c.from), atCorners(c.to)); !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
		})
	}
}

// Whatever four corners in order are picked, the map and its inverse undo each
// other.
func TestHomographyThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jitter := rapid.Float64Range(-300, 300)
		from := line(1000, 800, 3000, 800, 3000, 2200, 1000, 2200)
		for i := range from {
			from[i] = from[i].Plus(plane.Point{X: jitter.Draw(t, "dx"), Y: jitter.Draw(t, "dy")})
		}
		h, err := plane.FitHomography(atCorners(from), atCorners(line(0, 0, 60, 0, 60, 40, 0, 40)))
		if err != nil {
			t.Fatal(err)
		}
		back, err := h.Inverse()
		if err != nil {
			t.Fatal(err)
		}
		p := plane.Point{X: rapid.Float64Range(1300, 2700).Draw(t, "x"), Y: rapid.Float64Range(1100, 1900).Draw(t, "y")}
		if got := back.Map(h.Map(p)); got.Distance(p) > 1e-6 {
			t.Fatalf("there and back, %v is %v", p, got)
		}
	})
}

// rounded is a rectangle whose corners are rounded, as points along each edge that
// stay away from the corners.
func TestCornersOfRoundedRectangle(t *testing.T) {
	h, err := plane.FitHomography(atCorners(line(0, 0, 80, 0, 80, 50, 0, 50)), atCorners(line(412, 308, 1586, 352, 1528, 1090, 368, 1034)))
	if err != nil {
		t.Fatal(err)
	}
	corners := line(0, 0, 80, 0, 80, 50, 0, 50)
	var edges [4][]plane.Point
	for i := range edges {
		for _, f := range []float64{0.1, 0.35, 0.6, 0.9} {
			edges[i] = append(edges[i], h.Map(corners[i].Times(1-f).Plus(corners[(i+1)%4].Times(f))))
		}
	}
	got, err := plane.CornersOf(edges)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range got {
		if want := h.Map(corners[i]); c.Distance(want) > 1e-7 {
			t.Errorf("corner %d at %v, want %v", i, c, want)
		}
	}
	for name, c := range map[string]struct {
		spoil func(e *[4][]plane.Point)
		want  error
	}{
		"no points":        {func(e *[4][]plane.Point) { e[2] = nil }, plane.ErrEdge},
		"one place twice":  {func(e *[4][]plane.Point) { e[2] = line(5, 5, 5, 5) }, plane.ErrEdge},
		"not round":        {func(e *[4][]plane.Point) { e[1], e[2] = e[2], e[1] }, plane.ErrOrder},
		"not a number":     {func(e *[4][]plane.Point) { e[0] = line(5, 5, math.Inf(1), 5) }, plane.ErrNotFinite},
		"nothing whatever": {func(e *[4][]plane.Point) { *e = [4][]plane.Point{} }, plane.ErrEdge},
	} {
		spoilt := edges
		c.spoil(&spoilt)
		if _, err := plane.CornersOf(spoilt); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

func TestFitEdgeInEveryDirection(t *testing.T) {
	for a := 0.0; a < 2*math.Pi; a += 0.1 {
		dir := plane.Point{X: math.Cos(a), Y: math.Sin(a)}
		var points []plane.Point
		for _, f := range []float64{-3, 0, 1, 7} {
			points = append(points, plane.Point{X: 500, Y: 700}.Plus(dir.Times(f)))
		}
		e, err := plane.FitEdge(points)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range points {
			if d := e.Normal.X*p.X + e.Normal.Y*p.Y - e.Offset; !near(d, 0, 1e-9) {
				t.Errorf("direction %.1f: %v is off by %v", a, p, d)
			}
		}
	}
}
