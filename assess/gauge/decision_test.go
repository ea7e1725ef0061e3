package gauge_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

// known is a length with a standard uncertainty, both in mm.
func known(l, u float64) gauge.Measured {
	return gauge.Measured{Value: gauge.Length(l), Budget: []gauge.Contribution{{Name: "u", U: u, C: 1}}}
}

func decide(t testing.TB, r gauge.Rule, tol gauge.Tolerance, m gauge.Measured) gauge.Verdict {
	t.Helper()
	v, err := r.Decide(tol, m)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// JCGM 106:2012, clause 7: three items measured once (inputs from memory, results
// exact). The rule does not care that these are volts, kilopascals and mm²/s.
func TestJCGM106Probabilities(t *testing.T) {
	for name, c := range map[string]struct {
		tol     gauge.Tolerance
		y, u, p float64
	}{
		"diode":     {gauge.AtMost(-5.40), -5.47, 0.05, 0.919243},
		"burst":     {gauge.AtLeast(490), 509.7, 8.6, 0.989010},
		"viscosity": {gauge.Between(12.5, 16.3), 13.6, 1.8, 0.662630},
	} {
		v := decide(t, gauge.By95, c.tol, known(c.y, c.u))
		near(t, name, v.Least, c.p, 1e-6)
		near(t, name, v.Most, c.p, 1e-6)
	}
	for z, p := range map[float64]float64{0: .5, 0.5: .691462, 1: .841345, 1.28: .899727, 1.645: .950015, 1.65: .950529, 1.96: .975002, 2: .977250, 3: .998650} {
		near(t, "Φ", decide(t, gauge.By95, gauge.AtMost(gauge.Length(z)), known(0, 1)).Least, p, 1e-6)
	}
}

// ISO 14253-1:2017 default rule, recomputed: journal limit 29.975 mm, u 1.5 µm.
// Beside it the older U at k = 2.
func TestISO14253(t *testing.T) {
	const c, n, q = gauge.Conforms, gauge.DoesNotConform, gauge.CannotDecide
	for _, row := range []struct {
		reading, p  float64
		by95, byTwo gauge.Decision
	}{
		{29.9795, 0.998650, c, c}, {29.9780, 0.977250, c, c}, {29.9775, 0.952210, c, q}, {29.9765, 0.841345, q, q},
		{29.9750, 0.500000, q, q}, {29.9735, 0.158655, q, q}, {29.9725, 0.047790, n, q}, {29.9705, 0.001350, n, n},
	} {
		// A hair's breadth to the safe side of the 2 u, which no float holds exactly.
		m := known(row.reading, 0.0015)
		v := decide(t, gauge.By95, gauge.AtLeast(29.975), m)
		near(t, fmt.Sprint("p at ", row.reading), v.Least, row.p, 1e-6)
		if v.Decision != row.by95 {
			t.Errorf("%v by 95 %%: %v, want %v", row.reading, v.Decision, row.by95)
		}
		if row.reading == 29.9780 {
			m.Value += 1e-12
		}
		if got := decide(t, gauge.ByU, gauge.AtLeast(29.975), m).Decision; got != row.byTwo {
			t.Errorf("%v by U: %v, want %v", row.reading, got, row.byTwo)
		}
	}
	// The mirror image: a bore that may grow to a limit.
	if got := decide(t, gauge.By95, gauge.AtMost(40.025), known(40.0225, 0.0015)).Decision; got != c {
		t.Errorf("the mirror image is %v", got)
	}
	v := decide(t, gauge.By95, gauge.AtLeast(29.975), known(29.98, 0.0015))
	near(t, "guard", float64(v.Guard), 1.6449*0.0015, 1e-7)
	near(t, "guard of U", float64(decide(t, gauge.ByU, gauge.AtLeast(29.975), known(29.98, 0.0015)).Guard), 0.003, 1e-12)
}

// Bore 40.000 to 40.025 mm, u 3 µm, recomputed.
func TestTwoSidedDecision(t *testing.T) {
	tol := gauge.Between(40, 40.025)
	for reading, p := range map[float64]float64{39.998: 0.252493, 40.0049: 0.948801, 40.0050: 0.952210, 40.0125: 0.999969,
		40.0200: 0.952210, 40.0201: 0.948801, 40.025: 0.5, 40.030: 0.047790} {
		v := decide(t, gauge.By95, tol, known(reading, 0.003))
		near(t, fmt.Sprint("p at ", reading), v.Least, p, 1e-6)
		if want := p >= 0.95; (v.Decision == gauge.Conforms) != want {
			t.Errorf("%v: %v", reading, v.Decision)
		}
	}
}

// The guard band by the ratio of tolerance to u, two-sided 95 %, recomputed.
func TestGuardBandsOfNarrowTolerances(t *testing.T) {
	conforms := func(width, y float64) bool {
		return decide(t, gauge.By95, gauge.Between(0, gauge.Length(width)), known(y, 1)).Decision == gauge.Conforms
	}
	for width, guard := range map[float64]float64{4: 1.7962, 5: 1.6488, 6: 1.6449, 8: 1.6449} {
		if conforms(width, guard-2e-4) || !conforms(width, guard+2e-4) {
			t.Errorf("the guard band of T/u = %v is not %v", width, guard)
		}
	}
	for width, best := range map[float64]float64{3: 0.86639, 2: 0.68269, 3.9199: 0.95} {
		near(t, "best probability", decide(t, gauge.By95, gauge.Between(0, gauge.Length(width)), known(width/2, 1)).Least, best, 1e-5)
	}
}

// JCGM 106:2012, 9.5, the resistors (inputs from a public script that cites it,
// results by quadrature).
func TestJCGM106GlobalRisks(t *testing.T) {
	before := gauge.Risks{Consumer: 1}
	for _, c := range []struct{ half, consumer, producer float64 }{
		{0.20, 0.01894, 0.03721}, {0.18, 0.00988, 0.06903}, {0.16, 0.00433, 0.11466}, {0.12, 0.00047, 0.24767},
	} {
		r, err := gauge.GlobalRisks(1500, 0.12, gauge.Between(1499.8, 1500.2),
			gauge.Between(gauge.Length(1500-c.half), gauge.Length(1500+c.half)), 0.04)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "prior", r.NotConforming, 0.09558, 1e-4)
		near(t, "consumer's risk", r.Consumer, c.consumer, 1e-4)
		near(t, "producer's risk", r.Producer, c.producer, 1e-4)
		if r.Consumer >= before.Consumer || r.Producer <= before.Producer {
			t.Errorf("a narrower acceptance of ± %v does not trade one risk for the other", c.half)
		}
		before = r
	}
	if _, err := gauge.GlobalRisks(1500, 0, gauge.Between(1, 2), gauge.Between(1, 2), 0.04); err == nil {
		t.Error("parts without any deviation were taken")
	}
}

// A part that conforms is at the limit of what its uncertainty allows.
func TestTheLargestUncertaintyDecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(1, 100).Draw(t, "lower")
		width := rapid.Float64Range(0.002, 1).Draw(t, "width")
		y := low + width*rapid.Float64Range(-1, 2).Draw(t, "reading")
		tol := rapid.SampledFrom([]gauge.Tolerance{gauge.AtLeast(gauge.Length(low)), gauge.AtMost(gauge.Length(low)),
			gauge.Between(gauge.Length(low), gauge.Length(low+width))}).Draw(t, "tolerance")
		rule := rapid.SampledFrom([]gauge.Rule{gauge.By95, gauge.ByU}).Draw(t, "rule")
		v, err := rule.Decide(tol, known(y, 1e-9))
		if err != nil {
			t.Fatal(err)
		}
		u := float64(v.LargestU)
		if u < 1e-6 {
			t.Skip("on the limit")
		}
		if got, _ := rule.Decide(tol, known(y, u*0.999)); got.Decision == gauge.CannotDecide {
			t.Fatalf("u = %v does not decide", u)
		}
		if got, _ := rule.Decide(tol, known(y, u*1.001)); got.Decision != gauge.CannotDecide {
			t.Fatalf("u = %v still decides", u*1.001)
		}
	})
}

func TestASmallerUncertaintyNeverUndecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := gauge.Length(rapid.Float64Range(1, 100).Draw(t, "limit"))
		tol := rapid.SampledFrom([]gauge.Tolerance{gauge.AtLeast(low), gauge.AtMost(low), gauge.Between(low, low+0.03)}).Draw(t, "tolerance")
		rule := rapid.SampledFrom([]gauge.Rule{gauge.By95, gauge.ByU}).Draw(t, "rule")
		m := known(float64(low)+rapid.Float64Range(-0.1, 0.1).Draw(t, "off"), rapid.Float64Range(0, 0.1).Draw(t, "u"))
		m.Budget[0].DoF = rapid.SampledFrom([]float64{0, 2, 4, 9, 30}).Draw(t, "dof")
		m.Half = gauge.Length(rapid.SampledFrom([]float64{0, 0, 0.005, 0.025}).Draw(t, "half"))
		smaller := m
		smaller.Budget = []gauge.Contribution{{Name: "u", C: 1, DoF: m.Budget[0].DoF, U: m.Budget[0].U * rapid.Float64Range(0, 1).Draw(t, "share")}}
		before, err := rule.Decide(tol, m)
		if err != nil {
			t.Fatal(err)
		}
		after, err := rule.Decide(tol, smaller)
		if err != nil {
			t.Fatal(err)
		}
		// In its own direction: the value itself lies on the side that was proven,
		// and the interval of a feeler gauge does not reach over the limit.
		inside := tol.Holds(m.Value-m.Half) && tol.Holds(m.Value+m.Half)
		outside := m.Value+m.Half < tol.Lower || m.Value-m.Half > tol.Upper
		if (before.Decision == gauge.Conforms && inside || before.Decision == gauge.DoesNotConform && outside) && after.Decision != before.Decision {
			t.Fatalf("%v at u %v, %v at u %v", before.Decision, m.Budget[0].U, after.Decision, smaller.Budget[0].U)
		}
	})
}

func TestProbabilitiesAreMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := gauge.Length(rapid.Float64Range(1, 100).Draw(t, "limit"))
		m := known(float64(limit)+rapid.Float64Range(-0.1, 0.1).Draw(t, "off"), rapid.Float64Range(1e-6, 0.1).Draw(t, "u"))
		m.Budget[0].DoF = rapid.SampledFrom([]float64{0, 2, 9}).Draw(t, "dof")
		m.Half = gauge.Length(rapid.SampledFrom([]float64{0, 0.005}).Draw(t, "half"))
		further := m
		further.Value += gauge.Length(rapid.Float64Range(0, 0.05).Draw(t, "further"))
		for _, tol := range []gauge.Tolerance{gauge.AtLeast(limit), gauge.AtMost(limit)} {
			a, err := gauge.By95.Decide(tol, m)
			if err != nil {
				t.Fatal(err)
			}
			b, err := gauge.By95.Decide(tol, further)
			if err != nil {
				t.Fatal(err)
			}
			if rises := tol == gauge.AtLeast(limit); rises && b.Least < a.Least-1e-12 || !rises && b.Least > a.Least+1e-12 {
				t.Fatalf("against %v: %v at %v, %v at %v", tol, a.Least, m.Value, b.Least, further.Value)
			}
			if a.Least < 0 || a.Most > 1 {
				t.Fatalf("the probability is %v to %v", a.Least, a.Most)
			}
		}
	})
}

// By the bare probability of lying between the limits, an instrument that can't
// tell a part from its neighbour would refuse all of them.
func TestACoarseInstrumentRefusesNothing(t *testing.T) {
	v := decide(t, gauge.By95, gauge.Between(40, 40.001), known(40.0005, 0.1))
	if v.Decision != gauge.CannotDecide || v.Most > 0.05 {
		t.Errorf("%v at p = %v, want it undecided", v.Decision, v.Most)
	}
}

func TestFewRepeatsWidenTheGuardBand(t *testing.T) {
	m := known(10.0020, 0.001)
	if v := decide(t, gauge.By95, gauge.AtLeast(10), m); v.Decision != gauge.Conforms {
		t.Errorf("2 u inside is %v", v.Decision)
	}
	m.Budget[0].DoF = 2
	v := decide(t, gauge.By95, gauge.AtLeast(10), m)
	if v.Decision != gauge.CannotDecide {
		t.Errorf("2 u inside with two degrees of freedom is %v", v.Decision)
	}
	// One-sided t at 95 % and ν = 2 is 2.9200.
	near(t, "guard", float64(v.Guard), 0.0029200, 1e-7)
}

func TestWhatIsNoLimitIsRefused(t *testing.T) {
	nan, inf := gauge.Length(math.NaN()), gauge.Length(math.Inf(1))
	for name, c := range map[string]struct {
		tol gauge.Tolerance
		m   gauge.Measured
	}{
		"no limits": {gauge.Tolerance{Lower: -inf, Upper: inf}, known(1, 0)}, "turned round": {gauge.Between(2, 1), known(1, 0)},
		"equal": {gauge.Between(1, 1), known(1, 0)}, "NaN limit": {gauge.AtLeast(nan), known(1, 0)}, "huge limit": {gauge.AtMost(1e308), known(1, 0)},
		"NaN reading": {gauge.AtLeast(1), known(math.NaN(), 0)}, "huge reading": {gauge.AtLeast(1), known(1e308, 0)},
		"NaN u": {gauge.AtLeast(1), known(1, math.NaN())}, "huge u": {gauge.AtLeast(1), known(1, 1e308)}, "negative u": {gauge.AtLeast(1), known(1, -1)},
	} {
		if v, err := gauge.By95.Decide(c.tol, c.m); err == nil {
			t.Errorf("%s: decided as %v", name, v.Decision)
		} else {
			named(t, name, err)
		}
	}
}
