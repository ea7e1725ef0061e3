package gauge_test

import (
	"testing"

	"fettlebook/assess/gauge"
)

// A length means the same with the unit that it was typed for written behind it.
func TestWithUnit(t *testing.T) {
	for typed, want := range map[string]string{
		"": "", "18.44": "18.44 mm", "18,": "18, mm", ".726 in": ".726 in", "23/32": "23/32 in", "1 1/2": "1 1/2 in", "1½": "1½ in", `23/32"`: `23/32"`, "3 thou": "3 thou", "2″": "2″",
	} {
		got := gauge.WithUnit(typed, gauge.Millimetre)
		if got != want {
			t.Errorf("%q becomes %q, want %q", typed, got, want)
		}
		before, err := gauge.ParseLength(typed, gauge.Millimetre)
		after, errAfter := gauge.ParseLength(got, gauge.Inch)
		if typed != "" && (err != nil || errAfter != nil || before != after) {
			t.Errorf("%q was %v (%v) and became %v (%v)", typed, before, err, after, errAfter)
		}
	}
}
