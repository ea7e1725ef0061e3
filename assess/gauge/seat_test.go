package gauge_test

import (
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

// Worked by hand from the Normal class of ISO 492 (bore 30: 0/−10 µm, outside 62:
// 0/−13 µm): the ring is taken in the middle of its tolerance.
func TestASeatWhoseRingWasNotMeasured(t *testing.T) {
	shaft, err := gauge.MeasuredSeat(30, known(30.012, 0.001))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ring on shaft", um(shaft.Value), -17, 1e-6)
	u, _ := shaft.Standard()
	near(t, "u of it", um(u), math.Hypot(1, 5/math.Sqrt(3)), 1e-6)
	bore, err := gauge.MeasuredHousing(62, known(62.010, 0.001))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ring in bore", um(bore.Value), 16.5, 1e-6)
	for what, f := range map[string]func(gauge.Length) error{
		"shaft": func(l gauge.Length) error { _, err := gauge.MeasuredSeat(l, known(30, 0.001)); return err },
		"bore":  func(l gauge.Length) error { _, err := gauge.MeasuredHousing(l, known(30, 0.001)); return err },
	} {
		for _, size := range []gauge.Length{0, -1, 3, 250.01, gauge.Length(math.NaN()), 1e308} {
			named(t, what, f(size))
		}
	}
	if _, err := gauge.SeatOnShaft(30, gauge.Class{Letter: "h", Hole: true, Grade: 7}); err == nil {
		t.Error("a ring was put on a hole")
	}
	if _, err := gauge.SeatInBore(62, gauge.Class{Letter: "h", Grade: 7}); err == nil {
		t.Error("a ring was put into a shaft")
	}
}

func TestTheClearanceOfTwoMeasuredParts(t *testing.T) {
	c, err := gauge.Clearance(known(40.012, 0.003), known(39.988, 0.004))
	if err != nil {
		t.Fatal(err)
	}
	u, _ := c.Standard()
	near(t, "clearance", um(c.Value), 24, 1e-6)
	near(t, "u", um(u), 5, 1e-6)
	if c, err = gauge.Clearance(known(40, 0), known(40.02, 0)); err != nil || c.Value >= 0 {
		t.Errorf("interference is %v (%v), want it below zero", c.Value, err)
	}
}

// check-values 11 (brute force over all pairings): each bore with its shaft of the
// pairing 4, 2, 3, 1, 0.
func TestClearancesOfASelectedSet(t *testing.T) {
	bores := []float64{40.012, 40.019, 40.007, 40.023, 40.015}
	shafts := []float64{39.988, 39.996, 39.991, 39.979, 39.984}
	for i, want := range []float64{28, 28, 28, 27, 27} {
		c, err := gauge.Clearance(mm(bores[i]), mm(shafts[[]int{4, 2, 3, 1, 0}[i]]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "clearance", um(c.Value), want, 1e-6)
	}
}

func TestEndFloatAndItsShim(t *testing.T) {
	dial := gauge.Instrument{Kind: gauge.DialIndicator, Serial: "D-1", Resolution: 0.01, Error: 0.015, Repeatability: 0.003}
	at := func(l gauge.Length) gauge.Measured {
		return evaluate(t, gauge.Reading{Values: []gauge.Value{{Length: l}}, Instrument: dial, Temperatures: soaked()}).Worst
	}
	float, err := gauge.EndFloat(at(1.02), at(1.47))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "float", float64(float.Value), 0.45, 1e-9)
	list := []gauge.Length{2.00, 2.10, 2.20, 2.30, 2.40}
	for name, c := range map[string]struct {
		band gauge.Tolerance
		want []gauge.Length
	}{
		"between two limits":     {gauge.Between(0.10, 0.30), []gauge.Length{2.20, 2.30}},
		"at the most":            {gauge.AtMost(0.20), []gauge.Length{2.30, 2.40}},
		"at the least":           {gauge.AtLeast(0.30), []gauge.Length{2.10, 2.00}},
		"no size brings it in":   {gauge.Between(0.01, 0.02), nil},
		"the middle comes first": {gauge.Between(0.10, 0.44), []gauge.Length{2.20, 2.10, 2.30}},
	} {
		got, err := gauge.Shims{Float: float, Fitted: gauge.Exactly(2.00), Sizes: list, SizeTolerance: 0.005, Band: c.band}.Choose(gauge.By95)
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %+v (%v), want %v", name, got, err, c.want)
			continue
		}
		for i, size := range c.want {
			if got[i].Size != size || math.Abs(float64(got[i].Expected.Value)-(0.45+2-float64(size))) > 1e-9 {
				t.Errorf("%s: choice %d is %v with %v to expect, want %v", name, i+1, got[i].Size, got[i].Expected.Value, size)
			}
			if u, _ := got[i].Expected.Standard(); u == 0 {
				t.Errorf("%s: the float to expect has no uncertainty", name)
			}
		}
	}
}

// A set that would have the clearance and does not go round the journal stands last.
func TestRollersThatDoNotGoRoundStandLast(t *testing.T) {
	set := gauge.Needles{Bore: mm(36.028), Journal: mm(30), Rollers: []gauge.Length{3, 3.005}, Count: 34, Clearance: gauge.Between(0.010, 0.030)}
	got, err := set.Choose(gauge.By95)
	if err != nil || len(got) != 2 || got[0].Gap == nil || got[0].Gap.Value <= 0 || got[0].Note != "" {
		t.Fatalf("34 rollers: %+v (%v)", got, err)
	}
	set.Count = 35
	if got, err = set.Choose(gauge.By95); err != nil || got[0].Note == "" {
		t.Errorf("35 rollers of 3 mm go round a journal of 30 mm: %+v (%v)", got, err)
	}
}

// Geometry, worked by hand: with 0.05 mm of play at the far bearing the shaft tips
// by it as well: (0.4 × 50 − 0.05 × 150) / 200.
func TestPlayAtTheFarBearingIsTakenOff(t *testing.T) {
	r, err := gauge.Rock{Total: known(0.4, 0.005), At: 200, Arm: 50, FarPlay: known(0.05, 0.002)}.Lever()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance", float64(r.Clearance.Value), 0.0625, 1e-9)
	// dc/dT = 1/4, dc/dp = 3/4, dc/da = (T+p)/x, dc/dx = −(T+p)a/x², 1 mm each.
	arm, at := 0.45/200/math.Sqrt(3), 0.45*50/40000/math.Sqrt(3)
	u, _ := r.Clearance.Standard()
	near(t, "u", float64(u), math.Sqrt(0.00125*0.00125+0.0015*0.0015+arm*arm+at*at), 1e-9)
	if _, err := (gauge.Rock{Total: mm(0.01), At: 200, Arm: 50, FarPlay: mm(0.05)}).Lever(); err == nil {
		t.Error("more play than rock gave a clearance")
	}
	if _, err := (gauge.Rock{Total: mm(0.01), At: 10, Arm: 50}).Bush(); err == nil {
		t.Error("an indicator inside the bush was taken")
	}
}

// Worked by hand from ISO 21771: module 2, 30 teeth (pitch radius 30) felt at a
// radius of 40 mm; along the normal it is the cosine of 20° less.
func TestBacklashByDial(t *testing.T) {
	g := gauge.Gear{Module: 2, Teeth: 30, PressureAngle: 20}
	round, normal, err := gauge.DialBacklash{Moved: known(0.12, 0.004), At: 40}.Backlash(g)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "at the pitch circle", float64(round.Value), 0.09, 1e-9)
	near(t, "along the normal", float64(normal.Value), 0.09*math.Cos(math.Pi/9), 1e-9)
	u, _ := round.Standard()
	near(t, "u", float64(u), 0.003, 1e-9)
	tilted, _, err := gauge.DialBacklash{Moved: mm(0.12), At: 40, Tilt: 30}.Backlash(g)
	near(t, "by a tilted stem", float64(tilted.Value), 0.09*math.Cos(math.Pi/6), 1e-9)
	if err != nil {
		t.Error(err)
	}
}

// 1 in = 25.4 mm: eight teeth to the inch.
func TestDiametralPitch(t *testing.T) {
	m, err := gauge.ModuleOf(8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "module", m, 3.175, 1e-12)
	g := gauge.Gear{Module: m, Teeth: 24, PressureAngle: 20}
	near(t, "pitch diameter", g.PitchDiameter(), 76.2, 1e-9)
	near(t, "transverse angle", gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25}.TransverseAngle(), 21.88023, 1e-5)
	if w, err := (gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20}).FaceWidthForSpan(4); err != nil || w != 0 {
		t.Errorf("spur teeth need a face of %v (%v) to be spanned", w, err)
	}
	if w, err := (gauge.Gear{Module: 3, Teeth: 24, PressureAngle: 20, Helix: 25, Shift: 0.4}).FaceWidthForSpan(5); err != nil || math.Abs(float64(w)-42.0085*math.Sin(25*math.Pi/180)*math.Cos(20*math.Pi/180)) > 1e-3 {
		t.Errorf("helical teeth need a face of %v (%v) to be spanned", w, err)
	}
	for _, bad := range []float64{0, -8, math.NaN(), 1e308} {
		_, err := gauge.ModuleOf(bad)
		named(t, "diametral pitch", err)
	}
}

// A plane laid through points at 0°, 120° and 240°, worked by hand: a ring that is
// wider by 0.10 mm across from where it is narrow, about a mean of 0.90.
func TestARingThatTilts(t *testing.T) {
	gap := func(degrees float64) float64 { return 0.90 + 0.05*math.Cos((degrees-40)*math.Pi/180) }
	ring, err := gauge.SynchroGap(gauge.SpacedEvenly(known(gap(0), 0.005), known(gap(120), 0.005), known(gap(240), 0.005)), 0.8, gauge.By95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", float64(ring.Mean), 0.90, 1e-9)
	near(t, "tilt", float64(ring.Tilt), 0.10, 1e-9)
	near(t, "widest at", ring.High, 40, 1e-6)
	near(t, "least", float64(ring.Least.Value), gap(240), 1e-9)
	if !ring.Tilted || ring.At != 240 || ring.Verdict.Decision != gauge.Conforms {
		t.Errorf("got %+v", ring)
	}
	// What the feelers can't tell apart is no tilt.
	even, err := gauge.SynchroGap(gauge.SpacedEvenly(known(0.90, 0.02), known(0.92, 0.02), known(0.91, 0.02)), 0.8, gauge.By95)
	if err != nil || even.Tilted {
		t.Errorf("0.90, 0.92, 0.91 ± 0.04 is said to be tilted (%v)", err)
	}
	for name, points := range map[string][]gauge.GapPoint{
		"one place twice": {{Gap: mm(1)}, {Gap: mm(1), Angle: 120}, {Gap: mm(1), Angle: 360}},
		"below zero":      {{Gap: mm(-1)}, {Gap: mm(1), Angle: 120}, {Gap: mm(1), Angle: 240}},
		"no angle":        {{Gap: mm(1)}, {Gap: mm(1), Angle: math.NaN()}, {Gap: mm(1), Angle: 240}},
	} {
		_, err := gauge.SynchroGap(points, 0.8, gauge.By95)
		named(t, name, err)
	}
}
