package gauge_test

import (
	"errors"
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

// named asks that an error names a field.
func named(t testing.TB, what string, err error) {
	t.Helper()
	var at *gauge.FieldError
	if !errors.As(err, &at) || at.Field == "" {
		t.Errorf("%s: %v names no field", what, err)
	}
}

func in(l float64) gauge.Length { return gauge.Length(l * 25.4) }

// Common practice, no source: a pilot nose of 0.726 in may wear to 0.725 in, and
// measures 0.7252 in once, part and micrometer soaked together. Of a micrometer
// of 0.0001 in that is repeated to 1 µm, resolution and permissible error count
// both, each with every value in its range equally likely.
func TestThePilotNose(t *testing.T) {
	limit := gauge.Limit{Nominal: in(0.726), Discard: in(0.725)}
	micrometer := func(mpe gauge.Length) gauge.Instrument {
		return gauge.Instrument{Kind: gauge.Micrometer, Resolution: in(0.0001), Error: mpe, Repeatability: 0.001}
	}
	caliper := gauge.Instrument{Kind: gauge.Caliper, Resolution: in(0.001), Error: in(0.001), Repeatability: 0.001}
	// A caliper without any error of its own: its step alone leaves the limit open.
	perfect := gauge.Instrument{Kind: gauge.Caliper, Resolution: in(0.001), Error: 0.0001, Repeatability: 0.001}
	const c, q = gauge.Conforms, gauge.CannotDecide
	for name, k := range map[string]struct {
		with        gauge.Instrument
		by95, byTwo gauge.Decision
	}{
		"permissible error 2 µm":  {micrometer(0.002), c, c},
		"permissible error 4 µm":  {micrometer(0.004), c, q},
		"caliper":                 {caliper, q, q},
		"caliper without error":   {perfect, q, q},
		"caliper, nothing stated": {gauge.Instrument{Kind: gauge.Caliper, Resolution: in(0.001)}, q, q},
	} {
		r, err := gauge.Reading{Values: []gauge.Value{{Length: in(0.7252)}}, Instrument: k.with, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
		if err != nil {
			t.Fatal(err)
		}
		for rule, want := range map[gauge.Rule]gauge.Decision{gauge.By95: k.by95, gauge.ByU: k.byTwo} {
			j, err := limit.Judge(r.Worst, rule)
			if err != nil {
				t.Fatal(err)
			}
			if j.Discard.Decision != want {
				u, _ := r.Worst.Standard()
				t.Errorf("%s by %s: %v with u = %.2f µm, want %v", name, rule.Name(), j.Discard.Decision, u*1000, want)
			}
			if j.Wear == nil || math.Abs(j.Wear.Used-0.8) > 1e-9 {
				t.Errorf("%s: wear used is %v, want 80 %%", name, j.Wear)
			}
			if want == q {
				e := r.Worst.LargestError(j.Discard.LargestU)
				again := k.with
				again.Resolution, again.Error = e*0.999, e*0.999
				finer, err := gauge.Reading{Values: []gauge.Value{{Length: in(0.7252)}}, Instrument: again, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
				if err != nil {
					t.Fatal(err)
				}
				if e > 0 && decide(t, rule, gauge.AtLeast(in(0.725)), finer.Worst).Decision != c {
					t.Errorf("%s: an instrument of %.2f µm was to decide and does not", name, e*1000)
				}
			}
		}
	}
}
