package plane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
)

// shot is a simulated photo: a pinhole camera that looks at the bench. World: x
// right, y down as the camera sees it, z away from the camera; the bench is z = 0.
type shot struct {
	f, w, h float64
	r       [3][3]float64 // rows: the camera's axes
	c       [3]float64    // the lens
}

// take places the lens at a distance from (0,0,0), tilted towards a direction, and
// turned about its own axis.
func take(f, w, h, distance, tilt, towards, turn float64) shot {
	s, c := math.Sincos(tilt)
	st, ct := math.Sincos(towards)
	view := [3]float64{s * ct, s * st, c} // where it looks
	x := [3]float64{1 - view[0]*view[0], -view[0] * view[1], -view[0] * view[2]}
	n := math.Sqrt(x[0]*x[0] + x[1]*x[1] + x[2]*x[2])
	for i := range x {
		x[i] /= n
	}
	y := [3]float64{view[1]*x[2] - view[2]*x[1], view[2]*x[0] - view[0]*x[2], view[0]*x[1] - view[1]*x[0]}
	sr, cr := math.Sincos(turn)
	var shot shot
	shot.f, shot.w, shot.h = f, w, h
	for i := range 3 {
		shot.r[0][i] = cr*x[i] + sr*y[i]
		shot.r[1][i] = -sr*x[i] + cr*y[i]
		shot.r[2][i] = view[i]
		shot.c[i] = -distance * view[i]
	}
	return shot
}

// sees maps a place at a height above the bench (towards the camera).
func (s shot) sees(p plane.Point, height float64) plane.Point {
	d := [3]float64{p.X - s.c[0], p.Y - s.c[1], -height - s.c[2]}
	var at [3]float64
	for i, row := range s.r {
		at[i] = row[0]*d[0] + row[1]*d[1] + row[2]*d[2]
	}
	return plane.Point{X: s.w/2 + s.f*at[0]/at[2], Y: s.h/2 + s.f*at[1]/at[2]}
}

func (s shot) seesAll(points []plane.Point, height float64) []plane.Point {
	to := make([]plane.Point, len(points))
	for i, p := range points {
		to[i] = s.sees(p, height)
	}
	return to
}

func shaken(rnd *rand.Rand, sigma float64, points []plane.Point) []plane.Point {
	to := make([]plane.Point, len(points))
	for i, p := range points {
		to[i] = p.Plus(plane.Point{X: sigma * rnd.NormFloat64(), Y: sigma * rnd.NormFloat64()})
	}
	return to
}

// patch is an uneven outline of n corners about a place.
func patch(rnd *rand.Rand, at plane.Point, radius float64, n int) plane.Polygon {
	g := make(plane.Polygon, n)
	for i := range g {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		r := radius * (0.75 + 0.5*rnd.Float64())
		g[i] = at.Plus(plane.Point{X: r * c, Y: r * s})
	}
	return g
}

// grownBy moves the corners outwards.
func grownBy(g plane.Polygon, d float64) plane.Polygon {
	var centre plane.Point
	for _, p := range g {
		centre = centre.Plus(p.Times(1 / float64(len(g))))
	}
	to := make(plane.Polygon, len(g))
	for i, p := range g {
		way := p.Minus(centre)
		to[i] = p.Plus(way.Times(d / math.Hypot(way.X, way.Y)))
	}
	return to
}

func atCorners(p []plane.Point) (c [4]plane.Point) { copy(c[:], p); return c }

// wanted is what must hold of the stated intervals.
const (
	measurements = 400
	wanted       = 0.93
)

// tally counts how often the truth lay in the stated interval, and how wide the
// intervals were beside the errors.
type tally struct{ held, all, plus, off float64 }

func (c *tally) count(truth, value, plus float64) {
	c.all++
	if math.Abs(truth-value) <= plus {
		c.held++
	}
	c.plus += plus / truth
	c.off += math.Abs(truth-value) / truth
}

func (c *tally) check(t *testing.T, what string) {
	t.Helper()
	share, width := c.held/c.all, c.plus/c.off
	t.Logf("%-18s held %.1f %% of %v; error %.2f %%, stated ±%.2f %%", what, 100*share, c.all, 100*c.off/c.all, 100*c.plus/c.all)
	if share < wanted {
		t.Errorf("%s: the interval holds the truth in %.1f %%, want %.0f %%", what, 100*share, 100*wanted)
	}
	// For a normal error the interval is 2.46 times the mean error. One that is far
	// wider says nothing.
	if width > 4 {
		t.Errorf("%s: the interval is %.1f times the mean error: needlessly wide", what, width)
	}
}

// Every measurement has another camera, tilt, reference, patch and height.
func TestStatedIntervalHoldsTheTruthOnARectangle(t *testing.T) {
	rnd := rand.New(rand.NewPCG(17, 4))
	even := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	var line95, area95, chord95, diameter95, perimeter95, share95 tally
	var cornered, edged tally
	for i := range measurements {
		f := even(3200, 4500)
		photo := take(f, 4000, 3000, even(250, 500), even(0, 40)*math.Pi/180, even(0, 2*math.Pi), even(0, 2*math.Pi))
		w, h, tolerance := 50.0, even(30, 50), even(0.02, 0.3)
		bound := even(0, 3)
		height := even(-2, 15)
		trueHeight := height + bound*even(-1, 1)
		trueW, trueH := w+tolerance*even(-1, 1), h+tolerance*even(-1, 1)
		place := plane.Point{X: even(-60, -30), Y: even(-10, 10)}
		corners := line(0, 0, trueW, 0, trueW, trueH, 0, trueH)
		for i := range corners {
			corners[i] = corners[i].Plus(place)
		}
		pick := plane.Picking{Corner: 1.5, Offset: 1}
		known := plane.KnownRectangle{Width: gauge.Length(w), Height: gauge.Length(h), Tolerance: gauge.Length(tolerance)}
		if i%2 == 0 {
			known.Corners = atCorners(shaken(rnd, pick.Corner, photo.seesAll(corners, 0)))
		} else {
			for e := range known.Edges {
				var along []plane.Point
				for _, share := range []float64{0.15, 0.4, 0.6, 0.85} {
					along = append(along, corners[e].Times(1-share).Plus(corners[(e+1)%4].Times(share)))
				}
				known.Edges[e] = shaken(rnd, pick.Corner, photo.seesAll(along, 0))
			}
		}
		scale, err := plane.ScaleByRectangle(known, plane.Camera{Width: 4000, Height: 3000, Focal: f * even(0.97, 1.03)})
		if err != nil {
			t.Fatal(err)
		}
		surface := plane.Surface{Height: gauge.Length(height), Bound: gauge.Length(bound)}

		a, b := plane.Point{X: even(10, 20), Y: even(-30, 30)}, plane.Point{X: even(40, 70), Y: even(-30, 30)}
		length, err := scale.Length(shaken(rnd, pick.Corner, photo.seesAll([]plane.Point{a, b}, trueHeight)), surface, pick)
		if err != nil {
			t.Fatal(err)
		}
		line95.count(a.Distance(b), float64(length.Value), float64(length.Plus))

		truth := patch(rnd, plane.Point{X: even(10, 50), Y: even(-20, 20)}, even(3, 12), 12+rnd.IntN(20))
		seen := photo.seesAll(truth, trueHeight)
		drawn := grownBy(seen, pick.Offset*rnd.NormFloat64())
		got, err := scale.Outline(shaken(rnd, pick.Corner, drawn), surface, pick)
		if err != nil {
			t.Fatal(err)
		}
		area95.count(truth.Area(), float64(got.Area.Value), float64(got.Area.Plus))
		if i%2 == 0 {
			cornered.count(truth.Area(), float64(got.Area.Value), float64(got.Area.Plus))
		} else {
			edged.count(truth.Area(), float64(got.Area.Value), float64(got.Area.Plus))
		}
		perimeter95.count(truth.Perimeter(), float64(got.Perimeter.Value), float64(got.Perimeter.Plus))
		chord95.count(chordOf(truth), float64(got.Chord.Value), float64(got.Chord.Plus))
		diameter95.count(2*math.Sqrt(truth.Area()/math.Pi), float64(got.Diameter.Value), float64(got.Diameter.Plus))
		if i%4 != 0 {
			continue // joining polygons takes its time
		}
		face := plane.Polygon(line(0, -30, 60, -30, 60, 30, 0, 30))
		over, err := plane.Overlap(truth, face)
		if err != nil {
			t.Fatal(err)
		}
		share, err := scale.ShareOf([]plane.Polygon{shaken(rnd, pick.Corner, drawn)}, shaken(rnd, pick.Corner, photo.seesAll(face, trueHeight)), surface, pick)
		if err != nil {
			t.Fatal(err)
		}
		share95.count(over, float64(share.Damaged.Value), float64(share.Damaged.Plus))
	}
	line95.check(t, "length")
	area95.check(t, "area")
	cornered.check(t, "area, by corners")
	edged.check(t, "area, by edges")
	perimeter95.check(t, "perimeter")
	chord95.check(t, "largest chord")
	diameter95.check(t, "diameter")
	share95.check(t, "damaged area")
}

func chordOf(g plane.Polygon) (largest float64) {
	for _, a := range g {
		for _, b := range g {
			largest = max(largest, a.Distance(b))
		}
	}
	return largest
}

// On a rule, which shows no tilt itself: at the usual tilt or at one that was given,
// and where the height is known, or nothing but a bound of it.
func TestStatedIntervalHoldsTheTruthOnARule(t *testing.T) {
	for name, c := range map[string]struct {
		seed   uint64
		within []float64 // the tilt that is given, 0 for the usual one
		height [2]float64
		bound  [2]float64
	}{
		"height known":   {23, []float64{0}, [2]float64{0, 10}, [2]float64{0, 3}},
		"height bounded": {2, []float64{0, 5, 25}, [2]float64{}, [2]float64{2, 20}},
	} {
		t.Run(name, func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(5, c.seed))
			even := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
			var line95, area95 tally
			for i := range measurements {
				f, within := even(3200, 4500), c.within[i%len(c.within)]
				most := within
				if within == 0 {
					most = plane.UsualTilt
				}
				photo := take(f, 4000, 3000, even(250, 500), most*math.Sqrt(rnd.Float64())*degree, even(0, 2*math.Pi), even(0, 2*math.Pi))
				mark, tolerance := 50.0, 0.1
				trueMark := mark + tolerance*even(-1, 1)
				bound, height := even(c.bound[0], c.bound[1]), even(c.height[0], c.height[1])
				trueHeight := height + bound*even(-1, 1)
				pick := plane.UsualPicking
				from := plane.Point{X: even(-50, -20), Y: even(20, 40)}
				ends := shaken(rnd, pick.Corner, photo.seesAll([]plane.Point{from, from.Plus(plane.Point{X: trueMark})}, 0))
				known := plane.KnownLength{A: ends[0], B: ends[1], Length: gauge.Length(mark), Tolerance: gauge.Length(tolerance), Tilt: within}
				scale, err := plane.ScaleByLength(known, plane.Camera{Width: 4000, Height: 3000, Focal: f})
				if err != nil {
					t.Fatal(err)
				}
				surface := plane.Surface{Height: gauge.Length(height), Bound: gauge.Length(bound)}
				a := plane.Point{X: even(-40, 40), Y: even(-40, 0)}
				b := a.Plus(plane.Point{X: even(-30, 30), Y: even(10, 30)})
				length, err := scale.Length(shaken(rnd, pick.Corner, photo.seesAll([]plane.Point{a, b}, trueHeight)), surface, pick)
				if err != nil {
					t.Fatal(err)
				}
				line95.count(a.Distance(b), float64(length.Value), float64(length.Plus))
				truth := patch(rnd, plane.Point{X: even(-40, 40), Y: even(-40, 10)}, even(3, 12), 16)
				drawn := grownBy(photo.seesAll(truth, trueHeight), pick.Offset*rnd.NormFloat64())
				got, err := scale.Outline(shaken(rnd, pick.Corner, drawn), surface, pick)
				if err != nil {
					t.Fatal(err)
				}
				area95.count(truth.Area(), float64(got.Area.Value), float64(got.Area.Plus))
			}
			line95.check(t, "length")
			area95.check(t, "area")
		})
	}
}

// A patch wrapped round a roller of which diameter, axis and height are known as a
// person knows them.
func TestStatedIntervalHoldsTheTruthOnACylinder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 47))
	even := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	var line95, area95 tally
	for range measurements {
		f := even(3200, 4500)
		photo := take(f, 4000, 3000, even(250, 500), even(0, 30)*degree, even(0, 2*math.Pi), even(0, 2*math.Pi))
		pick := plane.UsualPicking
		corners := []plane.Point{{X: -55, Y: -60}, {X: -5, Y: -60}, {X: -5, Y: -20}, {X: -55, Y: -20}}
		known := plane.KnownRectangle{Corners: atCorners(shaken(rnd, pick.Corner, photo.seesAll(corners, 0))), Width: 50, Height: 40, Tolerance: 0.05}
		scale, err := plane.ScaleByRectangle(known, plane.Camera{Width: 4000, Height: 3000, Focal: f * even(0.97, 1.03)})
		if err != nil {
			t.Fatal(err)
		}
		diameter, tolerance, height, bound := even(25, 50), 0.2, even(5, 25), even(0, 2)
		radius, axis := (diameter+tolerance*even(-1, 1))/2, height+bound*even(-1, 1)
		on := func(p plane.Point) plane.Point {
			sin, cos := math.Sincos(p.Y / radius)
			return photo.sees(plane.Point{X: p.X, Y: 30 + radius*sin}, axis+radius*cos)
		}
		ends := shaken(rnd, pick.Corner, photo.seesAll([]plane.Point{{X: -40, Y: 30}, {X: 40, Y: 30}}, axis))
		surface := plane.Surface{Height: gauge.Length(height), Bound: gauge.Length(bound), Diameter: gauge.Length(diameter), DiameterTolerance: gauge.Length(tolerance), AxisA: ends[0], AxisB: ends[1]}
		truth := patch(rnd, plane.Point{X: even(-20, 20), Y: even(-0.3, 0.3) * radius}, even(3, 6), 12)
		seen := make(plane.Polygon, len(truth))
		for i, p := range truth {
			seen[i] = on(p)
		}
		got, err := scale.Outline(shaken(rnd, pick.Corner, grownBy(seen, pick.Offset*rnd.NormFloat64())), surface, pick)
		if err != nil {
			t.Fatal(err)
		}
		area95.count(truth.Area(), float64(got.Area.Value), float64(got.Area.Plus))
		// Straight along the surface, across the axis and along it.
		a, b := plane.Point{X: even(-20, 0), Y: -0.4 * radius}, plane.Point{X: even(0, 20), Y: 0.4 * radius}
		var way []plane.Point
		for i := range 9 {
			way = append(way, on(a.Plus(b.Minus(a).Times(float64(i)/8))))
		}
		length, err := scale.Length(shaken(rnd, pick.Corner, way), surface, pick)
		if err != nil {
			t.Fatal(err)
		}
		line95.count(a.Distance(b), float64(length.Value), float64(length.Plus))
	}
	line95.check(t, "length")
	area95.check(t, "area")
}
