package gauge_test

import (
	"fmt"
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

// Whatever is typed into a field, the answer is a number or an error that names the
// field; nothing is NaN, and nothing panics.
func TestNonsenseIsRefusedByItsField(t *testing.T) {
	good := gauge.Gear{Module: 2, Teeth: 30, PressureAngle: 20, Helix: 20}
	m := func(l gauge.Length) gauge.Measured { return known(float64(l), 0.001) }
	gear := func(change func(*gauge.Gear, float64)) func(gauge.Length) (gauge.Measured, error) {
		return func(l gauge.Length) (gauge.Measured, error) {
			g := good
			change(&g, float64(l))
			w, err := g.Span(4)
			return gauge.Exactly(w), err
		}
	}
	result := func(r gauge.RockResult, err error) (gauge.Measured, error) { return r.Clearance, err }
	ring := func(r gauge.RingGap, err error) (gauge.Measured, error) { return r.Least, err }
	shim := func(c []gauge.Choice, err error) (gauge.Measured, error) { return gauge.Measured{}, err }
	for name, f := range map[string]func(gauge.Length) (gauge.Measured, error){
		"bore":           func(l gauge.Length) (gauge.Measured, error) { return gauge.Clearance(m(l), m(40)) },
		"shaft":          func(l gauge.Length) (gauge.Measured, error) { return gauge.Clearance(m(40), m(l)) },
		"needle bore":    func(l gauge.Length) (gauge.Measured, error) { return gauge.NeedleClearance(m(l), m(30), m(3)) },
		"needle journal": func(l gauge.Length) (gauge.Measured, error) { return gauge.NeedleClearance(m(36), m(l), m(3)) },
		"needle roller":  func(l gauge.Length) (gauge.Measured, error) { return gauge.NeedleClearance(m(36), m(30), m(l)) },
		"gap journal":    func(l gauge.Length) (gauge.Measured, error) { return gauge.CircumferentialGap(m(l), m(3), 30) },
		"gap roller":     func(l gauge.Length) (gauge.Measured, error) { return gauge.CircumferentialGap(m(30), m(l), 30) },
		"lever distance": func(l gauge.Length) (gauge.Measured, error) {
			return result(gauge.Rock{Total: m(0.1), At: l, Arm: 50}.Lever())
		},
		"lever arm": func(l gauge.Length) (gauge.Measured, error) {
			return result(gauge.Rock{Total: m(0.1), At: 50, Arm: l}.Lever())
		},
		"bush length": func(l gauge.Length) (gauge.Measured, error) {
			return result(gauge.Rock{Total: m(0.1), At: 50, Arm: l}.Bush())
		},
		"dial radius": func(l gauge.Length) (gauge.Measured, error) {
			b, _, err := gauge.DialBacklash{Moved: m(0.1), At: l}.Backlash(good)
			return b, err
		},
		"module":         gear(func(g *gauge.Gear, v float64) { g.Module = v }),
		"pressure angle": gear(func(g *gauge.Gear, v float64) { g.PressureAngle = v }),
		"span":           func(l gauge.Length) (gauge.Measured, error) { return good.BySpan(4, m(l)) },
		"pins":           func(l gauge.Length) (gauge.Measured, error) { return good.ByPins(gauge.Pin{Diameter: l}, m(66)) },
		"size over pins": func(l gauge.Length) (gauge.Measured, error) { return good.ByPins(gauge.Pin{Diameter: 3.5}, m(l)) },
		"limit of a gap": func(l gauge.Length) (gauge.Measured, error) {
			return ring(gauge.SynchroGap(gauge.SpacedEvenly(m(1), m(1), m(1)), l, gauge.By95))
		},
		"shim size": func(l gauge.Length) (gauge.Measured, error) {
			return shim(gauge.Shims{Float: m(1), Sizes: []gauge.Length{l}, Band: gauge.Between(0, 1)}.Choose(gauge.By95))
		},
		"roller on the shelf": func(l gauge.Length) (gauge.Measured, error) {
			return shim(gauge.Needles{Bore: m(36), Journal: m(30), Rollers: []gauge.Length{l}, Clearance: gauge.Between(0, 1)}.Choose(gauge.By95))
		},
		"internal clearance": func(l gauge.Length) (gauge.Measured, error) {
			_, err := gauge.InternalClearance(gauge.DeepGroove, l, "C3")
			return gauge.Measured{}, err
		},
		"distance of the axes": func(l gauge.Length) (gauge.Measured, error) {
			b, err := gauge.Pair{A: good, B: good, Centres: l}.Backlash()
			return gauge.Exactly(b.Normal), err
		},
		"radius of a torque": func(l gauge.Length) (gauge.Measured, error) {
			_, err := gauge.TurningTorque(1, 0, l, 0)
			return gauge.Measured{}, err
		},
	} {
		for _, nonsense := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e308, -1e308} {
			_, err := f(gauge.Length(nonsense))
			named(t, fmt.Sprintf("%s = %v", name, nonsense), err)
		}
		// Very small and very large lengths that may be: a number, or a refusal.
		for _, odd := range []float64{5e-324, 1e-12, 0.5, 3, 64.9, 9999} {
			got, err := f(gauge.Length(odd))
			if u, _ := got.Standard(); err == nil && (math.IsNaN(float64(got.Value)) || math.IsNaN(float64(u)) || math.IsInf(float64(got.Value), 0)) {
				t.Errorf("%s = %v gives %v ± %v", name, odd, got.Value, u)
			}
		}
	}
}

func TestTheRulesAreNamedInPrint(t *testing.T) {
	if a, b := gauge.By95.Name(), gauge.ByU.Name(); a == b || a == "" || b == "" {
		t.Errorf("the rules are called %q and %q", a, b)
	}
	for d, want := range map[gauge.Decision]string{gauge.Conforms: "conforms", gauge.DoesNotConform: "does not conform", gauge.CannotDecide: "cannot be decided", 9: "cannot be decided"} {
		if d.String() != want {
			t.Errorf("%d is called %q", d, d)
		}
	}
}
