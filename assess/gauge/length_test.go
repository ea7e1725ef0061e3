package gauge_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

// The international inch is 25.4 mm exactly (agreement of 1959; ISO 80000-3).
func TestLengthsAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]float64{
		"18.44": 18.44, "18,44": 18.44, ".726 in": 18.4404, "3 thou": 0.0762, `23/32"`: 18.25625,
		"1 1/2 in": 38.1, "1-1/2\"": 38.1, "25.4mm": 25.4, "0,001": 0.001, "1000": 1000, " 2 inch ": 50.8, "-0.02": -0.02,
	} {
		got, err := gauge.ParseLength(text, gauge.Millimetre)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if math.Abs(float64(got)-want) > 1e-12*math.Abs(want) {
			t.Errorf("%q is %v mm, want %v", text, got, want)
		}
	}
	if got, _ := gauge.ParseLength("0.726", gauge.Inch); math.Abs(float64(got)-18.4404) > 1e-12 {
		t.Errorf("0.726 in inches is %v mm, want 18.4404", got)
	}
}

func TestWhatIsNoLengthIsRefused(t *testing.T) {
	for _, text := range []string{"", "abc", "NaN", "1e308", "Inf", "18.44.1", "1/0 in", "999999", "18 cm", "--2", "1/2 mm"} {
		if got, err := gauge.ParseLength(text, gauge.Millimetre); err == nil {
			t.Errorf("%q was read as %v mm", text, got)
		}
	}
	if _, err := gauge.ParseLength("1,000", gauge.Millimetre); !errors.Is(err, gauge.ErrAmbiguous) {
		t.Errorf("1,000 gives %v, want it asked about", err)
	}
	if _, err := gauge.ParseLength("5", "furlong"); err == nil {
		t.Error("an unknown unit was taken")
	}
}

// Common practice, no source: a pilot nose of 0.726 in may wear to 0.725 in.
func TestALimitIsDecidedOnlyOutsideTheInstrumentsError(t *testing.T) {
	limit := gauge.Limit{At: 0.725 * 25.4}
	for _, c := range []struct {
		inches, plusMinusMM float64
		want                gauge.Decision
	}{
		{0.7252, 0.002, gauge.Conforms},
		{0.7252, 0.025, gauge.CannotDecide},
		{0.7248, 0.002, gauge.DoesNotConform},
		{0.7250, 0.002, gauge.CannotDecide},
	} {
		if got := limit.Decide(gauge.Length(c.inches*25.4), gauge.Length(c.plusMinusMM)); got != c.want {
			t.Errorf("%v in ± %v mm: got %v, want %v", c.inches, c.plusMinusMM, got, c.want)
		}
	}
	if used, ok := limit.WearUsed(0.726*25.4, 0.7252*25.4); !ok || math.Abs(used-0.8) > 1e-9 {
		t.Errorf("wear used is %v, want 0.8", used)
	}
}

func TestASmallerErrorNeverMakesADecisionUndecided(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := gauge.Limit{At: gauge.Length(rapid.Float64Range(1, 100).Draw(t, "limit")), Grows: rapid.Bool().Draw(t, "grows")}
		reading := limit.At + gauge.Length(rapid.Float64Range(-0.1, 0.1).Draw(t, "off"))
		wide := gauge.Length(rapid.Float64Range(0, 0.1).Draw(t, "wide"))
		narrow := wide * gauge.Length(rapid.Float64Range(0, 1).Draw(t, "share"))
		if was := limit.Decide(reading, wide); was != gauge.CannotDecide && limit.Decide(reading, narrow) != was {
			t.Fatalf("decided at ± %v, not at ± %v", wide, narrow)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"18.44", "18,44", "23/32\"", "3 thou", "1,000", "1 1/2 in", "9/0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if got, err := gauge.ParseLength(text, gauge.Inch); err == nil && (math.IsNaN(float64(got)) || math.IsInf(float64(got), 0)) {
			t.Errorf("%q gives %v", text, got)
		}
	})
}
