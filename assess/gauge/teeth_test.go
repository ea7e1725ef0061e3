package gauge_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

// Tables of the involute function, as printed in every handbook of gears.
func TestInvolute(t *testing.T) {
	for degrees, want := range map[float64]float64{
		14.5: .005544843, 17.5: .009866170, 20: .014904384, 22.5: .021514481, 25: .029975345, 30: .053751494,
	} {
		a := degrees * math.Pi / 180
		if got := gauge.Involute(a); math.Abs(got-want) > 1e-9 {
			t.Errorf("inv %v° is %v, want %v", degrees, got, want)
		}
		if back := gauge.InverseInvolute(gauge.Involute(a)); math.Abs(back-a) > 1e-10 {
			t.Errorf("back from inv %v° comes %v°", degrees, back*180/math.Pi)
		}
	}
}

// S1, S2: "Elements of Metric Gear Technology", tables 10-13 and 10-14; S9 its
// table for module 1; the others by the formula of ISO 21771:2007, worked apart.
func TestSpan(t *testing.T) {
	for _, c := range []struct {
		gear gauge.Gear
		over int
		want float64
	}{
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Shift: 0.4}, 4, 32.8266},
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25, Shift: 0.4}, 5, 42.0085},
		{gauge.Gear{Module: 2, Teeth: 30, PressureAngle: 20}, 4, 21.5053},
		{gauge.Gear{Module: 2.5, Teeth: 25, PressureAngle: 20}, 3, 19.3262},
		{gauge.Gear{Module: 2.5, Teeth: 17, PressureAngle: 20, Shift: 0.25}, 2, 12.0933},
		{gauge.Gear{Module: 3, Teeth: 40, PressureAngle: 20}, 5, 41.5344},
		{gauge.Gear{Module: 2, Teeth: 33, PressureAngle: 17.5, Helix: 30, Shift: 0.1}, 6, 34.0173},
		{gauge.Gear{Module: 2.25, Teeth: 38, PressureAngle: 16, Helix: 33, Shift: -0.1}, 7, 45.0659},
		{gauge.Gear{Module: 1, Teeth: 20, PressureAngle: 20}, 3, 7.6604},
	} {
		got, err := c.gear.Span(c.over)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-4 {
			t.Errorf("%+v over %d: %v (%v), want %v", c.gear, c.over, got, err, c.want)
		}
	}
	// The number of teeth to span, unrounded, of the first two.
	for _, c := range []struct {
		gear gauge.Gear
		over int
		want float64
	}{
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Shift: 0.4}, 4, 3.78787},
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25, Shift: 0.4}, 5, 4.63009},
	} {
		over, exact, err := c.gear.SpanTeeth()
		if err != nil || over != c.over || math.Abs(exact-c.want) > 1e-4 {
			t.Errorf("%+v: over %d, %v (%v), want %d, %v", c.gear, over, exact, err, c.over, c.want)
		}
	}
}

// One tooth more adds the base pitch.
func TestSpanGrowsByTheBasePitch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gauge.Gear{
			Module: rapid.Float64Range(0.5, 10).Draw(t, "module"), Teeth: rapid.IntRange(10, 90).Draw(t, "teeth"),
			PressureAngle: rapid.Float64Range(14, 28).Draw(t, "angle"), Helix: rapid.Float64Range(0, 35).Draw(t, "helix"),
			Shift: rapid.Float64Range(-0.5, 0.8).Draw(t, "shift"),
		}
		k := rapid.IntRange(1, 6).Draw(t, "over")
		a, errA := g.Span(k)
		b, errB := g.Span(k + 1)
		want := math.Pi * g.Module * math.Cos(g.PressureAngle*math.Pi/180)
		if errA != nil || errB != nil || math.Abs(float64(b-a)-want) > 1e-9 {
			t.Fatalf("%v to %v (%v, %v), want %v more", a, b, errA, errB, want)
		}
	})
}

// P1, P2: "Elements of Metric Gear Technology"; P3, P4: wire tables of module 1; the
// others by the formula, worked apart.
func TestOverPins(t *testing.T) {
	one := func(teeth int) gauge.Gear { return gauge.Gear{Module: 1, Teeth: teeth, PressureAngle: 20} }
	for _, c := range []struct {
		gear gauge.Gear
		pin  gauge.Pin
		want float64
	}{
		{one(20), gauge.Pin{Diameter: 1.7}, 22.2941},
		{gauge.Gear{Module: 1, Teeth: 20, PressureAngle: 20, Helix: 15, Shift: 0.4}, gauge.Pin{Diameter: 2}, 24.5696},
		{one(10), gauge.Pin{Diameter: 1.728}, 12.3445}, {one(12), gauge.Pin{Diameter: 1.728}, 14.3578},
		{one(20), gauge.Pin{Diameter: 1.728}, 22.3900}, {one(24), gauge.Pin{Diameter: 1.728}, 26.3997},
		{one(32), gauge.Pin{Diameter: 1.728}, 34.4130}, {one(40), gauge.Pin{Diameter: 1.728}, 42.4217},
		{one(15), gauge.Pin{Diameter: 1.728}, 17.2871}, {one(17), gauge.Pin{Diameter: 1.728}, 19.3053}, {one(25), gauge.Pin{Diameter: 1.728}, 27.3511},
		{gauge.Gear{Module: 2, Teeth: 30, PressureAngle: 20}, gauge.Pin{Diameter: 3.5}, 64.9753},
		{gauge.Gear{Module: 2.5, Teeth: 25, PressureAngle: 20}, gauge.Pin{Diameter: 4.5}, 68.9954},
		{gauge.Gear{Module: 2.5, Teeth: 17, PressureAngle: 20, Shift: 0.25}, gauge.Pin{Diameter: 4.5}, 49.7793},
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Shift: 0.4}, gauge.Pin{Diameter: 5.25}, 81.3174},
		{gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25, Shift: 0.4}, gauge.Pin{Diameter: 5.25}, 88.8964},
		{gauge.Gear{Module: 2, Teeth: 33, PressureAngle: 17.5, Helix: 30, Shift: 0.1}, gauge.Pin{Diameter: 3.6, Ball: true}, 81.9125},
	} {
		got, _, err := c.gear.OverPins(c.pin)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-4 {
			t.Errorf("%+v over %v: %v (%v), want %v", c.gear, c.pin.Diameter, got, err, c.want)
		}
	}
	if _, _, err := (gauge.Gear{Module: 2, Teeth: 33, PressureAngle: 17.5, Helix: 30}).OverPins(gauge.Pin{Diameter: 3.6}); err == nil {
		t.Error("pins over helical teeth of an odd number were answered")
	}
	if got, err := one(20).IdealPin(); err != nil || math.Abs(float64(got)-1.7245) > 1e-4 {
		t.Errorf("the ideal pin of 20 teeth is %v (%v), want 1.7245", got, err)
	}
}

// "Elements of Metric Gear Technology", p. T-81, tables 10-1, 10-3 and 10-4.
func TestChordalThickness(t *testing.T) {
	for _, c := range []struct {
		gear                     gauge.Gear
		addendum                 gauge.Length
		thickness, chord, height float64
	}{
		{gauge.Gear{Module: 10, Teeth: 12, PressureAngle: 20, Shift: 0.3}, 13, 17.8918, 17.8256, 13.6657},
		{gauge.Gear{Module: 5, Teeth: 16, PressureAngle: 20, Helix: 25, Shift: 0.2}, 6, 8.5819, 8.5728, 6.1712},
		{gauge.FromTransverse(4, 20, 20, 22.5, 0.3), 4.7184, 6.6119, 6.6065, 4.8350},
	} {
		got, err := c.gear.Chordal(c.addendum)
		if err != nil || math.Abs(c.gear.Thickness()-c.thickness) > 1e-4 || math.Abs(float64(got.Thickness)-c.chord) > 1e-4 || math.Abs(float64(got.Height)-c.height) > 1e-4 {
			t.Errorf("%+v: tooth %v, chord %v at %v (%v), want %v, %v at %v", c.gear, c.gear.Thickness(), got.Thickness, got.Height, err, c.thickness, c.chord, c.height)
		}
	}
	if got, err := gauge.RackThickness(3); err != nil || math.Abs(float64(got)-4.7124) > 1e-4 {
		t.Errorf("a rack of module 3 has teeth of %v (%v), want 4.7124", got, err)
	}
}

// Worked apart from the formulas of ISO 21771:2007, with the nominal span rounded
// to a tenth of a micrometre.
func TestThicknessFromSpanAndPins(t *testing.T) {
	s2 := gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25, Shift: 0.4}
	worn, err := s2.BySpan(5, mm(41.950))
	if err != nil || math.Abs(float64(worn.Value)-5.52366) > 5e-5 || math.Abs(s2.Thickness()-5.58592) > 1e-5 {
		t.Errorf("span 41.950: %v of %v (%v), want 5.52366 of 5.58592", worn.Value, s2.Thickness(), err)
	}
	lost, err := s2.LostToNominal(worn)
	if err != nil || math.Abs(float64(lost.Lost.Value)-0.06225) > 5e-5 || lost.Caution == "" {
		t.Errorf("lost %v, caution %q (%v), want 0.06225 with a caution", lost.Lost.Value, lost.Caution, err)
	}
	s3 := gauge.Gear{Module: 2, Teeth: 30, PressureAngle: 20}
	if got, err := s3.BySpan(4, mm(21.430)); err != nil || math.Abs(float64(got.Value)-3.06151) > 1e-5 {
		t.Errorf("span 21.430: %v (%v), want 3.06151", got.Value, err)
	}
	pinion := gauge.Gear{Module: 2, Teeth: 20, PressureAngle: 20}
	whole, _ := pinion.ByPins(gauge.Pin{Diameter: 3.5}, mm(44.9293))
	thinned, err := pinion.ByPins(gauge.Pin{Diameter: 3.5}, mm(44.8169))
	if err != nil || math.Abs(float64(whole.Value-thinned.Value)-0.05) > 1e-4 {
		t.Errorf("over pins 44.8169 against 44.9293: %v thinner (%v), want 0.050", whole.Value-thinned.Value, err)
	}
	if _, err := s3.BySpan(4, mm(12)); err == nil {
		t.Error("a span that no wear explains was taken")
	}
}

func TestBacklash(t *testing.T) {
	a, b := gauge.Gear{Module: 2, Teeth: 20, PressureAngle: 20}, gauge.Gear{Module: 2, Teeth: 40, PressureAngle: 20}
	ha := gauge.Gear{Module: 2.5, Teeth: 20, PressureAngle: 20, Helix: 25}
	hb := gauge.Gear{Module: 2.5, Teeth: 40, PressureAngle: 20, Helix: 25}
	centres := gauge.Length((ha.PitchDiameter() + hb.PitchDiameter()) / 2)
	for _, c := range []struct {
		name                            string
		pair                            gauge.Pair
		circumferential, normal, radial float64
	}{
		{"thinned", gauge.Pair{A: a, B: b, Centres: 60, Thinning: 0.1}, 0.1, 0.093969, 0.137374},
		{"centres + 0.05", gauge.Pair{A: a, B: b, Centres: 60.05}, 0.036542, 0.034309, 0},
		{"centres + 0.10", gauge.Pair{A: a, B: b, Centres: 60.10}, 0.073371, 0.068832, 0},
		{"helical", gauge.Pair{A: ha, B: hb, Centres: centres, Thinning: 0.09}, 0.099304, 0.084572, 0.123636},
	} {
		got, err := c.pair.Backlash()
		if err != nil || math.Abs(float64(got.Circumferential)-c.circumferential) > 1e-6 || math.Abs(float64(got.Normal)-c.normal) > 1e-6 {
			t.Errorf("%s: %v round, %v normal (%v), want %v, %v", c.name, got.Circumferential, got.Normal, err, c.circumferential, c.normal)
		}
		if c.radial != 0 && math.Abs(float64(got.Radial)-c.radial) > 1e-6 {
			t.Errorf("%s: %v radial, want %v", c.name, got.Radial, c.radial)
		}
	}
	if _, err := (gauge.Pair{A: a, B: ha, Centres: 60}).Backlash(); err == nil {
		t.Error("gears that can't mesh were answered")
	}
}

// ISO 1: sizes hold at 20 °C. Steel 11.5e-6 as in the GUM's example H.1.
func TestLengthsAtTwentyDegrees(t *testing.T) {
	for _, c := range []struct{ length, part, expansion, want float64 }{
		{50, 28, gauge.Steel, 49.9954002}, {29.985, 26.5, gauge.Steel, 29.982759}, {100, 15, gauge.Steel, 100.005750},
		{62, 100, gauge.Aluminium, 61.886130}, {62, 100, gauge.Steel, 61.943013},
	} {
		got, err := gauge.AtReference(gauge.Length(c.length), c.part, c.expansion, 20, gauge.Steel)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-6 {
			t.Errorf("%v mm at %v °C is %v (%v), want %v", c.length, c.part, got, err, c.want)
		}
	}
	if got, err := gauge.AtReference(30, 27, gauge.Steel, 27, gauge.Steel); err != nil || math.Abs(float64(got)-30) > 1e-12 {
		t.Errorf("steel on steel, equally warm: %v (%v), want no correction", got, err)
	}
	if got, err := gauge.Warmed(62, 80, gauge.Aluminium, gauge.Steel); err != nil || math.Abs(float64(got)-0.05704) > 1e-9 {
		t.Errorf("an aluminium bore on a steel ring loosens by %v (%v), want 0.05704", got, err)
	}
}

// A worn tooth's chord leads back to its thickness, by the same tables as above.
func TestThicknessFromChord(t *testing.T) {
	g := gauge.Gear{Module: 5, Teeth: 16, PressureAngle: 20, Helix: 25, Shift: 0.2}
	got, err := g.ByChord(mm(8.5728))
	if err != nil || math.Abs(float64(got.Value)-8.5819) > 1e-4 {
		t.Errorf("a chord of 8.5728 is a tooth of %v (%v), want 8.5819", got.Value, err)
	}
	for _, chord := range []float64{0, -1, 2, 1000} {
		if got, err := g.ByChord(mm(chord)); err == nil {
			t.Errorf("a chord of %v is taken for a tooth of %v", chord, got.Value)
		}
	}
}
