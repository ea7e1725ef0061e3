package report

import (
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/record"
)

// A value that names its unit is printed in that, not in the window's as well.
func TestValuesInTheirUnit(t *testing.T) {
	for want, texts := range map[string][]string{
		"18.44; 18.43 mm":       {"18.44", "18.43"},
		"0.726 in":              {"0.726 in"},
		"23/32 in; 0.7252 inch": {"23/32", "0.7252 inch"},
	} {
		m := record.Reading{Unit: "mm"}
		for _, text := range texts {
			m.Values = append(m.Values, record.Value{Text: text})
		}
		if got := valuesSay(m); got != want {
			t.Errorf("%q is printed as %q, want %q", texts, got, want)
		}
	}
}

// The figures of a reading are found on its surface, and with the part where no spec
// names the surface.
func TestFiguresOfAReading(t *testing.T) {
	named, stray := &assess.Measurement{Name: "bore"}, &assess.Measurement{Name: "groove"}
	part := &assess.Part{
		Reasons:  []assess.Reason{{Of: "judged"}, {Of: "stray", Measurement: stray}},
		Surfaces: []assess.Surface{{}, {Reasons: []assess.Reason{{}, {Of: "named", Measurement: named}}}},
	}
	for id, want := range map[record.ID]*assess.Measurement{"named": named, "stray": stray, "judged": nil, "gone": nil} {
		if got := measurementOf(part, id); got != want {
			t.Errorf("of %s it finds %v", id, got)
		}
	}
}
