package gauge_test

import (
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

// A dial stands on its zero or below it as well as above, and what it may be wrong
// by over its travel stays in the difference.
func TestADialCountsFromItsZero(t *testing.T) {
	dial := gauge.Instrument{Kind: gauge.DialIndicator, Name: "dial", Resolution: 0.01, Error: 0.015, Repeatability: 0.003}
	at := func(l gauge.Length) gauge.Measured {
		m, err := gauge.Indicated(l, dial)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	total, off, err := gauge.RunOut(at(-0.02), at(0.03))
	if err != nil || math.Abs(float64(total.Value)-0.05) > 1e-12 || math.Abs(float64(off.Value)-0.025) > 1e-12 {
		t.Errorf("run-out %v, off its axis %v (%v)", total.Value, off.Value, err)
	}
	float, err := gauge.EndFloat(at(0), at(0.20))
	if err != nil || math.Abs(float64(float.Value)-0.20) > 1e-12 {
		t.Errorf("end float %v (%v)", float.Value, err)
	}
	// Two readings of 0.01 mm steps and 0.003 mm repeatability, one error of 0.015 mm.
	want := math.Sqrt(2*0.003*0.003 + 2*0.01*0.01/12 + 0.015*0.015/3)
	for name, m := range map[string]gauge.Measured{"run-out": total, "end float": float} {
		if u, _ := m.Standard(); math.Abs(float64(u)-want) > 1e-9 {
			t.Errorf("%s has u = %v, want %v", name, u, want)
		}
	}
	if _, err := gauge.Indicated(gauge.Length(math.NaN()), dial); err == nil {
		t.Error("a dial that shows no number was believed")
	}
	if _, err := gauge.Indicated(0.1, gauge.Instrument{Kind: gauge.FeelerGauge}); err == nil {
		t.Error("a feeler gauge was read like a dial")
	}
}
