package plane_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fettlebook/assess/plane"
)

const degree = math.Pi / 180

var card = line(-25, -20, 25, -20, 25, 20, -25, 20)

// cardScale is the scale of a card of 50 × 40 mm that lies on the bench.
func cardScale(t testing.TB, s shot, camera plane.Camera) *plane.Scale {
	t.Helper()
	scale, err := plane.ScaleByRectangle(plane.KnownRectangle{Corners: atCorners(s.seesAll(card, 0)), Width: 50, Height: 40, Tolerance: 0.1}, camera)
	if err != nil {
		t.Fatal(err)
	}
	return scale
}

func camera(s shot) plane.Camera { return plane.Camera{Width: s.w, Height: s.h, Focal: s.f} }

// sharp is a pick by a machine.
var sharp = plane.Picking{Corner: 0.1, Offset: 0}

func within(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if math.Abs(got-want) > share*want {
		t.Errorf("%s: %v, want %v within %v %%", what, got, want, 100*share)
	}
}

// At 30° from any side, with the reference to a tenth of a pixel (which a machine
// reaches on a printed target), lengths and areas in its plane are good to 1 %.
func TestOnePercentAtThirtyDegrees(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	for towards := 0.0; towards < 360; towards += 15 {
		s := take(3600, 4000, 3000, 350, 30*degree, towards*degree, towards*degree/3)
		corners := shaken(rnd, 0.1, s.seesAll(card, 0))
		scale, err := plane.ScaleByRectangle(plane.KnownRectangle{Corners: atCorners(corners), Width: 50, Height: 40, Tolerance: 0.05}, camera(s))
		if err != nil {
			t.Fatal(err)
		}
		truth := plane.Polygon(line(30, -10, 48, -14, 60, 3, 52, 22, 33, 18))
		got, err := scale.Outline(shaken(rnd, 0.5, s.seesAll(truth, 0)), plane.Surface{}, plane.Picking{Corner: 0.5, Offset: 0.3})
		if err != nil {
			t.Fatal(err)
		}
		within(t, "area", float64(got.Area.Value), truth.Area(), 0.01)
		within(t, "perimeter", float64(got.Perimeter.Value), truth.Perimeter(), 0.01)
		within(t, "chord", float64(got.Chord.Value), chordOf(truth), 0.01)
		within(t, "diameter", float64(got.Diameter.Value), 2*math.Sqrt(truth.Area()/math.Pi), 0.01)
		if got.Area.Plus <= 0 || float64(got.Area.Plus) > 0.02*truth.Area() {
			t.Errorf("towards %v°: area ± %v of %v", towards, got.Area.Plus, truth.Area())
		}
		length, err := scale.Length(s.seesAll(line(30, -20, 60, 20), 0), plane.Surface{}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "length", float64(length.Value), 50, 0.01)
	}
}

// A face above the reference's plane looks larger by H/(H − h), wherever it lies
// and however the camera is tilted; 20 mm at 300 mm is 7 %.
func TestHeightAboveTheReference(t *testing.T) {
	for _, tilt := range []float64{0, 12, 35} {
		s := take(3600, 4000, 3000, 300/math.Cos(tilt*degree), tilt*degree, 1, 0.4)
		scale := cardScale(t, s, camera(s))
		if lens, ok := scale.Lens(); !ok || math.Abs(float64(lens)-300) > 0.01 {
			t.Errorf("tilt %v: the lens at %v, %v, want 300", tilt, lens, ok)
		}
		seen := s.seesAll(line(-40, 15, 40, -15), 20)
		want := math.Hypot(80, 30)
		flat, err := scale.Length(seen, plane.Surface{}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "not allowed for", float64(flat.Value), want*300/280, 1e-6)
		raised, err := scale.Length(seen, plane.Surface{Height: 20}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "allowed for", float64(raised.Value), want, 1e-6)
		bounded, err := scale.Length(seen, plane.Surface{Bound: 20}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		if plus := float64(bounded.Plus / bounded.Value); plus < 0.05 || plus > 0.08 {
			t.Errorf("tilt %v: bounded by ±20 mm, the length is ± %.1f %%, want about 6", tilt, 100*plus)
		}
		area, err := scale.Outline(s.seesAll(line(-30, -10, 30, -10, 30, 10, -30, 10), 20), plane.Surface{Height: 20}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "area", float64(area.Area.Value), 1200, 1e-6)
	}
}

func TestMeasuredDistanceStandsForTheFocalLength(t *testing.T) {
	s := take(3600, 4000, 3000, 300, 0, 0, 0)
	seen := s.seesAll(line(-40, 15, 40, -15), 20)
	scale := cardScale(t, s, plane.Camera{Distance: 300, DistanceTolerance: 5})
	got, err := scale.Length(seen, plane.Surface{Height: 20}, sharp)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "length", float64(got.Value), math.Hypot(80, 30), 1e-6)
	// Where neither is known, a height can't be allowed for; and where only the
	// photo's size is, the interval is wide but holds.
	if _, err := cardScale(t, s, plane.Camera{}).Length(seen, plane.Surface{Height: 20}, sharp); !errors.Is(err, plane.ErrNoCamera) {
		t.Errorf("without a camera: %v", err)
	}
	guess, err := cardScale(t, s, plane.Camera{Width: 4000, Height: 3000}).Length(seen, plane.Surface{Height: 20}, sharp)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(float64(guess.Value)-math.Hypot(80, 30)) > float64(guess.Plus) || guess.Plus < 2*got.Plus {
		t.Errorf("with the photo's size only: %+v, with the distance %+v", guess, got)
	}
}

// A patch on a cylinder that lies on the bench: drawn flat on a sheet, wrapped
// round, photographed, outlined, unrolled.
func TestUnrolledFromACylinder(t *testing.T) {
	const radius = 15.0
	for _, tilt := range []float64{0, 20} {
		s := take(3600, 4000, 3000, 320, tilt*degree, 0.7, 0.3)
		scale := cardScale(t, s, camera(s))
		// The axis runs along x, radius above the bench, 45 mm away from the card.
		on := func(along, round float64) plane.Point {
			sin, cos := math.Sincos(round / radius)
			return s.sees(plane.Point{X: along, Y: 45 + radius*sin}, radius+radius*cos)
		}
		sheet := line(-12, -8, -2, -11, 10, -6, 11, 7, 1, 12, -9, 9)
		var seen plane.Polygon
		for i, p := range sheet { // edges on a curved face are curved: many corners
			next := sheet[(i+1)%len(sheet)]
			for k := range 10 {
				q := p.Plus(next.Minus(p).Times(float64(k) / 10))
				seen = append(seen, on(q.X, q.Y))
			}
		}
		surface := plane.Surface{Height: radius, Diameter: 2 * radius,
			AxisA: s.sees(plane.Point{X: -40, Y: 45}, radius), AxisB: s.sees(plane.Point{X: 40, Y: 45}, radius)}
		got, err := scale.Outline(seen, surface, sharp)
		if err != nil {
			t.Fatal(err)
		}
		truth := plane.Polygon(sheet)
		within(t, "area", float64(got.Area.Value), truth.Area(), 0.002)
		within(t, "perimeter", float64(got.Perimeter.Value), truth.Perimeter(), 0.002)
		within(t, "chord", float64(got.Chord.Value), chordOf(truth), 0.002)
		round, err := scale.Length([]plane.Point{on(0, -14), on(0, -7), on(0, 0), on(0, 7), on(0, 14)}, surface, sharp)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "round the cylinder", float64(round.Value), 28, 0.002)
		flat, err := scale.Outline(seen, plane.Surface{Height: 2 * radius}, sharp)
		if err != nil {
			t.Fatal(err)
		}
		if float64(flat.Area.Value) > 0.95*truth.Area() {
			t.Errorf("tilt %v: taken as flat, the area is %v of %v: the test shows nothing", tilt, flat.Area.Value, truth.Area())
		}
		beside := line(0, 0, 100, 0, 100, 100, 0, 100)
		if _, err := scale.Outline(beside, surface, sharp); !errors.Is(err, plane.ErrOff) {
			t.Errorf("beside the cylinder: %v", err)
		}
		surface.AxisB = surface.AxisA
		if _, err := scale.Outline(seen, surface, sharp); !errors.Is(err, plane.ErrNoAxis) {
			t.Errorf("without an axis: %v", err)
		}
	}
}

func TestShareOfAFace(t *testing.T) {
	s := take(3600, 4000, 3000, 320, 25*degree, 2, 0)
	scale := cardScale(t, s, camera(s))
	face := line(0, 0, 20, 0, 20, 10, 0, 10)
	shown := func(g []plane.Point) plane.Polygon { return s.seesAll(g, 0) }
	for name, c := range map[string]struct {
		damage [][]plane.Point
		area   float64
	}{
		"none":           {nil, 0},
		"a quarter":      {[][]plane.Point{line(0, 0, 10, 0, 10, 5, 0, 5)}, 50},
		"half outside":   {[][]plane.Point{line(-5, 0, 5, 0, 5, 10, -5, 10)}, 50},
		"two that meet":  {[][]plane.Point{line(2, 2, 8, 2, 8, 8, 2, 8), line(5, 2, 11, 2, 11, 8, 5, 8)}, 54},
		"two apart":      {[][]plane.Point{line(2, 2, 6, 2, 6, 6, 2, 6), line(10, 2, 14, 2, 14, 6, 10, 6)}, 32},
		"wholly outside": {[][]plane.Point{line(30, 0, 40, 0, 40, 5, 30, 5)}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			var damage []plane.Polygon
			for _, g := range c.damage {
				damage = append(damage, shown(g))
			}
			got, err := scale.ShareOf(damage, shown(face), plane.Surface{}, plane.Picking{})
			if err != nil {
				t.Fatal(err)
			}
			if !near(float64(got.Damaged.Value), c.area, 1e-5) || !near(float64(got.Face.Value), 200, 1e-5) || !near(got.Percent, c.area/2, 1e-5) {
				t.Errorf("got %+v, want %v mm² of 200", got, c.area)
			}
			if c.area > 0 && (got.Damaged.Plus <= 0 || got.PercentPlus <= 0 || got.PercentPlus > 5) {
				t.Errorf("uncertainty: %+v", got)
			}
		})
	}
	bowtie := plane.Polygon(line(0, 0, 4, 4, 4, 0, 0, 4))
	for _, sc := range []*plane.Scale{scale, nil} {
		if _, err := sc.ShareOf([]plane.Polygon{bowtie}, shown(face), plane.Surface{}, sharp); !errors.Is(err, plane.ErrCrosses) {
			t.Errorf("damage that crosses itself: %v", err)
		}
		if _, err := sc.ShareOf(nil, bowtie, plane.Surface{}, sharp); !errors.Is(err, plane.ErrCrosses) {
			t.Errorf("a face that crosses itself: %v", err)
		}
	}
}

func TestWithoutAScaleThereIsPercentOnly(t *testing.T) {
	var none *plane.Scale
	face := plane.Polygon(line(0, 0, 800, 0, 800, 400, 0, 400))
	got, err := none.ShareOf([]plane.Polygon{line(0, 0, 400, 0, 400, 200, 0, 200)}, face, plane.Surface{}, plane.Picking{})
	if err != nil {
		t.Fatal(err)
	}
	if !near(got.Percent, 25, 1e-9) || got.PercentPlus <= 0 || got.Damaged != (plane.AreaFigure{}) || got.Face != (plane.AreaFigure{}) {
		t.Errorf("got %+v", got)
	}
	if _, err := none.Outline(face, plane.Surface{}, sharp); !errors.Is(err, plane.ErrNoScale) {
		t.Errorf("an area without a scale: %v", err)
	}
	if _, err := new(plane.Scale).Length(face, plane.Surface{}, sharp); !errors.Is(err, plane.ErrNoScale) {
		t.Errorf("a length without a scale: %v", err)
	}
}

func TestWhatGivesNoScaleOrFigure(t *testing.T) {
	a, b := plane.Point{X: 100, Y: 100}, plane.Point{X: 900, Y: 100}
	photo := plane.Camera{Width: 4000, Height: 3000}
	for name, c := range map[string]struct {
		known  plane.KnownLength
		camera plane.Camera
		want   error
	}{
		"no length":      {plane.KnownLength{A: a, B: b}, photo, plane.ErrNoLength},
		"minus":          {plane.KnownLength{A: a, B: b, Length: -5}, photo, plane.ErrNoLength},
		"all tolerance":  {plane.KnownLength{A: a, B: b, Length: 5, Tolerance: 5}, photo, plane.ErrNoLength},
		"one place":      {plane.KnownLength{A: a, B: a, Length: 5}, photo, plane.ErrTooNear},
		"far too tilted": {plane.KnownLength{A: a, B: b, Length: 5, Tilt: 60}, photo, plane.ErrTilt},
		"no number":      {plane.KnownLength{A: a, B: plane.Point{X: math.NaN()}, Length: 5}, photo, plane.ErrNotFinite},
		"no photo":       {plane.KnownLength{A: a, B: b, Length: 5}, plane.Camera{}, plane.ErrNoCamera},
	} {
		if s, err := plane.ScaleByLength(c.known, c.camera); !errors.Is(err, c.want) || s != nil && err == nil {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if _, err := plane.ScaleByRectangle(plane.KnownRectangle{Corners: atCorners(line(0, 0, 5, 0, 10, 0, 0, 10)), Width: 5, Height: 5}, photo); !errors.Is(err, plane.ErrCollinear) {
		t.Errorf("three corners in line: %v", err)
	}
	s := take(3600, 4000, 3000, 320, 0.2, 2, 0)
	scale := cardScale(t, s, camera(s))
	square := plane.Polygon(s.seesAll(card, 0))
	for name, c := range map[string]struct {
		g    plane.Polygon
		on   plane.Surface
		want error
	}{
		"crosses itself": {line(0, 0, 40, 40, 40, 0, 0, 40), plane.Surface{}, plane.ErrCrosses},
		"a line":         {square[:2], plane.Surface{}, plane.ErrFewCorners},
		"as high as it":  {square, plane.Surface{Height: 400}, plane.ErrTooHigh},
	} {
		if _, err := scale.Outline(c.g, c.on, sharp); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if _, err := scale.Length(square[:1], plane.Surface{}, sharp); !errors.Is(err, plane.ErrTooFew) {
		t.Errorf("a line of one place: %v", err)
	}
	// A reference of three pixels tells nothing.
	tiny := plane.KnownRectangle{Corners: atCorners(line(100, 100, 103, 100, 103, 103, 100, 103)), Width: 5, Height: 5}
	if small, err := plane.ScaleByRectangle(tiny, photo); err == nil {
		if got, err := small.Outline(square, plane.Surface{}, plane.Picking{}); err == nil && float64(got.Area.Plus) < float64(got.Area.Value)/2 {
			t.Errorf("from a reference of three pixels: %+v", got)
		}
	}
}

func TestFiguresAreTheSameEveryTime(t *testing.T) {
	s := take(3600, 4000, 3000, 320, 0.2, 2, 0)
	g := plane.Polygon(s.seesAll(card, 0))
	a, err := cardScale(t, s, camera(s)).Outline(g, plane.Surface{Bound: 2}, plane.Picking{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := cardScale(t, s, camera(s)).Outline(g, plane.Surface{Bound: 2}, plane.Picking{})
	if err != nil || a != b {
		t.Errorf("%+v and %+v, %v", a, b, err)
	}
}

// A freehand stroke has a corner every few pixels. Its uncertainty is about that of
// the same outline with few corners, not less by their number.
func TestManyCornersDoNotMakeItSurer(t *testing.T) {
	s := take(3600, 4000, 3000, 320, 0.2, 2, 0)
	scale := cardScale(t, s, camera(s))
	few, many := plane.Oval(plane.Point{X: 900, Y: 900}, plane.Point{X: 1300, Y: 1200}, 9), plane.Oval(plane.Point{X: 900, Y: 900}, plane.Point{X: 1300, Y: 1200}, 0.01)
	if len(many) < 10*len(few) {
		t.Fatalf("%d and %d corners", len(few), len(many))
	}
	a, err := scale.Outline(few, plane.Surface{}, plane.UsualPicking)
	if err != nil {
		t.Fatal(err)
	}
	b, err := scale.Outline(many, plane.Surface{}, plane.UsualPicking)
	if err != nil {
		t.Fatal(err)
	}
	if b.Area.Plus < a.Area.Plus*7/10 || b.Perimeter.Plus > 3*a.Perimeter.Plus {
		t.Errorf("%d corners: %+v; %d corners: %+v", len(few), a, len(many), b)
	}
}

func TestPickingFromRepeatedOutlines(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	truth := patch(rnd, plane.Point{X: 700, Y: 700}, 150, 24)
	repeats := func(p plane.Picking, n int) (all []plane.Polygon) {
		for range n {
			all = append(all, shaken(rnd, p.Corner, grownBy(truth, p.Offset*rnd.NormFloat64())))
		}
		return all
	}
	for _, c := range []plane.Picking{{Corner: 4, Offset: 5}, {Corner: 1, Offset: 0.8}} {
		got, ok := plane.PickingFrom(repeats(c, 30))
		// Corners are seen across the outline only, which is most of what matters.
		if !ok || got.Offset < 0.6*c.Offset || got.Offset > 1.6*c.Offset || got.Corner < 0.4*c.Corner || got.Corner > 2*c.Corner {
			t.Errorf("picked with %+v, found %+v, %v", c, got, ok)
		}
	}
	if got, ok := plane.PickingFrom(repeats(plane.Picking{Corner: 3}, 1), repeats(plane.Picking{Corner: 3}, 1), nil); ok || got != plane.UsualPicking {
		t.Errorf("from one outline: %+v, %v", got, ok)
	}
	// Two things drawn fifteen times each tell as much as one drawn thirty times.
	if got, ok := plane.PickingFrom(repeats(plane.Picking{Corner: 4, Offset: 5}, 15), repeats(plane.Picking{Corner: 4, Offset: 5}, 15)); !ok || got.Offset < 3 || got.Offset > 8 {
		t.Errorf("from two things: %+v, %v", got, ok)
	}
	same := plane.Polygon(truth)
	if got, ok := plane.PickingFrom([]plane.Polygon{same, same}); !ok || got.Offset < 0.3 || got.Offset > plane.UsualPicking.Offset {
		t.Errorf("from two copies: %+v, %v", got, ok)
	}
}

func BenchmarkOutlineFigures(b *testing.B) {
	s := take(3600, 4000, 3000, 320, 0.2, 2, 0)
	scale := cardScale(b, s, camera(s))
	g := plane.Oval(plane.Point{X: 900, Y: 900}, plane.Point{X: 1300, Y: 1200}, 0.1)
	b.ReportMetric(float64(len(g)), "corners")
	for b.Loop() {
		if _, err := scale.Outline(g, plane.Surface{Bound: 2}, plane.UsualPicking); err != nil {
			b.Fatal(err)
		}
	}
}
