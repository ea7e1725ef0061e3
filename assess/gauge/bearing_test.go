package gauge_test

import (
	"math"
	"slices"
	"testing"

	"fettlebook/assess/gauge"
)

// ISO 5753-1, deep-groove ball bearings with cylindrical bore, from a bearing
// maker's page: bore up to, then Normal and C3 in micrometres.
func TestInternalClearanceOfBallBearings(t *testing.T) {
	for _, c := range []struct {
		bore  gauge.Length
		n, c3 [2]float64
	}{
		{18, [2]float64{3, 18}, [2]float64{11, 25}}, {24, [2]float64{5, 20}, [2]float64{13, 28}}, {30, [2]float64{5, 20}, [2]float64{13, 28}},
		{40, [2]float64{6, 20}, [2]float64{15, 33}}, {50, [2]float64{6, 23}, [2]float64{18, 36}}, {65, [2]float64{8, 28}, [2]float64{23, 43}},
		{80, [2]float64{10, 30}, [2]float64{25, 51}}, {100, [2]float64{12, 36}, [2]float64{30, 58}},
	} {
		for group, want := range map[string][2]float64{"N": c.n, "C3": c.c3} {
			got, err := gauge.InternalClearance(gauge.DeepGroove, c.bore, group)
			if err != nil || math.Abs(um(got.Lower)-want[0]) > 1e-6 || math.Abs(um(got.Upper)-want[1]) > 1e-6 {
				t.Errorf("bore %v, %s: %v … %v µm (%v), want %v", c.bore, group, um(got.Lower), um(got.Upper), err, want)
			}
		}
		// The groups overlap, so one clearance may belong to two.
		between := gauge.Length((c.n[1] + c.c3[0]) / 2000)
		groups, err := gauge.GroupsOf(gauge.DeepGroove, c.bore, between)
		if err != nil || !slices.Contains(groups, "CN") || !slices.Contains(groups, "C3") {
			t.Errorf("%v µm at bore %v is of the groups %v (%v), want CN and C3 among them", um(between), c.bore, groups, err)
		}
	}
}

// The same standard, cylindrical roller bearings with cylindrical bore.
func TestInternalClearanceOfRollerBearings(t *testing.T) {
	for bore, want := range map[gauge.Length][3][2]float64{
		30: {{0, 25}, {20, 45}, {35, 60}}, 40: {{5, 30}, {25, 50}, {45, 70}}, 50: {{5, 35}, {30, 60}, {50, 80}},
		65: {{10, 40}, {40, 70}, {60, 90}}, 80: {{10, 45}, {40, 75}, {65, 100}}, 100: {{15, 50}, {50, 85}, {75, 110}},
	} {
		for i, group := range []string{"C2", "N", "C3"} {
			got, err := gauge.InternalClearance(gauge.CylindricalRoller, bore, group)
			if err != nil || math.Abs(um(got.Lower)-want[i][0]) > 1e-6 || math.Abs(um(got.Upper)-want[i][1]) > 1e-6 {
				t.Errorf("bore %v, %s: %v … %v µm (%v), want %v", bore, group, um(got.Lower), um(got.Upper), err, want[i])
			}
		}
	}
}

// A bearing maker's worked example: K 16 × 22 with rollers of 3 mm, 6 µm under;
// the other worked by hand from the classes.
func TestNeedleClearance(t *testing.T) {
	for _, c := range []struct{ bore, journal, roller, want float64 }{
		{22.006, 16, 2.994, 18}, {22.009, 15.997, 2.994, 24}, {22, 16, 2.994, 12}, {22.013, 15.992, 2.994, 33},
		{36.009, 30, 3, 9}, {36.025, 29.991, 3, 34}, {36.009, 29.975, 3, 34}, {36.025, 29.975, 3, 50},
	} {
		got, err := gauge.NeedleClearance(mm(c.bore), mm(c.journal), mm(c.roller))
		if err != nil || math.Abs(um(got.Value)-c.want) > 1e-6 {
			t.Errorf("bore %v, journal %v, rollers %v: %v µm (%v), want %v", c.bore, c.journal, c.roller, um(got.Value), err, c.want)
		}
	}
	if _, err := gauge.NeedleClearance(mm(30), mm(36), mm(3)); err == nil {
		t.Error("bore and journal were swapped, and nothing was said")
	}
}

func mm(l float64) gauge.Measured { return gauge.Exactly(gauge.Length(l)) }

// By the circle through the rollers' middles: n rollers of diameter r take n times
// the arc that each chord r cuts off.
func TestAFullSetLeavesAGap(t *testing.T) {
	n, err := gauge.FullSet(30, 3)
	if err != nil || n != 34 {
		t.Errorf("%d rollers of 3 mm go round 30 mm (%v), want 34", n, err)
	}
	want := math.Pi*33 - 34*33*math.Asin(3.0/33)
	got, err := gauge.CircumferentialGap(mm(30), mm(3), 34)
	if err != nil || math.Abs(float64(got.Value)-want) > 1e-9 {
		t.Errorf("the gap is %v mm (%v), want %v", got.Value, err, want)
	}
	if got, err := gauge.CircumferentialGap(mm(30), mm(3), 35); err != nil || got.Value >= 0 {
		t.Errorf("with one too many the gap is %v (%v), want it below zero", got.Value, err)
	}
}

func TestTheRollerThatBringsTheClearanceIntoItsBand(t *testing.T) {
	choices, err := gauge.Needles{
		Bore: mm(36.009), Journal: mm(29.975), Rollers: []gauge.Length{3, 3.0025, 3.005, 3.0075, 3.01},
		Clearance: gauge.Between(0.015, 0.030),
	}.Choose(gauge.By95)
	if err != nil || len(choices) != 3 || choices[0].Size != 3.005 {
		t.Errorf("the choices are %+v (%v), want 3.005 first of three", choices, err)
	}
}

// Geometry: a dial 200 mm from the far bearing sees four times what happens 50 mm
// from it.
func TestRockOfAShaft(t *testing.T) {
	r, err := gauge.Rock{Total: mm(0.4), At: 200, Arm: 50}.Lever()
	if err != nil || math.Abs(float64(r.Clearance.Value)-0.1) > 1e-9 || r.Geometry == "" {
		t.Errorf("lever: %v, %q (%v), want 0.1", r.Clearance.Value, r.Geometry, err)
	}
	b, err := gauge.Rock{Total: mm(0.4), At: 100, Arm: 40}.Bush()
	if err != nil || math.Abs(float64(b.Clearance.Value)-0.08) > 1e-9 {
		t.Errorf("bush: %v (%v), want 0.08", b.Clearance.Value, err)
	}
	if u, _ := r.Clearance.Standard(); u == 0 {
		t.Error("the distances were taken as exact")
	}
	for _, bad := range []gauge.Rock{{Total: mm(-1), At: 10, Arm: 5}, {Total: mm(0.1), Arm: 5}, {Total: mm(0.1), At: 10}} {
		if _, err := bad.Lever(); err == nil {
			t.Errorf("%+v was answered", bad)
		}
	}
}

func TestShimsAndRunOut(t *testing.T) {
	choices, err := gauge.Shims{
		Float: mm(0.5), Fitted: mm(0.2), Sizes: []gauge.Length{0.5, 0.56, 0.6, 0.64}, Band: gauge.Between(0.05, 0.15),
	}.Choose(gauge.By95)
	if err != nil || len(choices) != 3 || choices[0].Size != 0.6 || math.Abs(float64(choices[0].Expected.Value)-0.1) > 1e-9 {
		t.Errorf("the choices are %+v (%v), want 0.60 first with 0.10 of float", choices, err)
	}
	total, off, err := gauge.RunOut(mm(0.01), mm(0.05))
	if err != nil || math.Abs(float64(total.Value)-0.04) > 1e-12 || math.Abs(float64(off.Value)-0.02) > 1e-12 {
		t.Errorf("run-out %v, off its axis %v (%v)", total.Value, off.Value, err)
	}
	if _, _, err := gauge.RunOut(mm(0.05), mm(0.01)); err == nil {
		t.Error("highest and lowest were swapped, and nothing was said")
	}
}

func TestTheGapRoundABlockingRing(t *testing.T) {
	gaps := gauge.SpacedEvenly(mm(0.95), mm(0.70), mm(0.96))
	ring, err := gauge.SynchroGap(gaps, 0.8, gauge.By95)
	if err != nil || ring.Least.Value != 0.70 || ring.Verdict.Decision != gauge.DoesNotConform || !ring.Tilted {
		t.Errorf("worn at one of three points: %+v (%v)", ring, err)
	}
	if _, err := gauge.SynchroGap(gaps[:2], 0.8, gauge.By95); err == nil {
		t.Error("two points were enough")
	}
}

// Worked by hand: 50 N on a radius of 100 mm are 5 N·m.
func TestTurningTorque(t *testing.T) {
	got, err := gauge.TurningTorque(50, 1, 100, 0.5)
	if err != nil || math.Abs(got.Value-5) > 1e-12 || got.Standard <= 0 {
		t.Errorf("the torque is %+v (%v)", got, err)
	}
	v, err := got.Within(4, 6, gauge.By95)
	if err != nil || v.Decision != gauge.Conforms {
		t.Errorf("5 N·m in 4 to 6: %v (%v)", v.Decision, err)
	}
}
