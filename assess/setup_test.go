package assess_test

import (
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// What is measured on parts that are put together or turned (run-out, float,
// backlash) and over teeth is held to its limit like a size. The limits are
// invented; wear makes the first three larger and the span smaller.
func TestRunOutFloatAndTeethAreHeldToTheirLimits(t *testing.T) {
	for _, c := range []struct {
		part, surface, dimension, kind, limit, within, beyond string
	}{
		{"main-shaft", "body", "run-out", "dial-indicator", "0.10", "0.02", "0.20"},
		{"layshaft", "thrust-face", "end-float", "dial-indicator", "0.40", "0.20", "0.60"},
		{"gear-3", "flanks", "backlash", "dial-indicator", "0.30", "0.12", "0.45"},
		{"gear-3", "flanks", "span", "span-micrometer", "24.90", "25.10", "24.70"},
	} {
		for value, want := range map[string]term.Verdict{c.within: term.Sound, c.beyond: term.Condemned} {
			w := laidOut(t, ownSpecs(t))
			part := w.at[c.part]
			reading := record.NewID()
			w.record.Readings = map[record.ID]record.Reading{reading: {
				Part: part, Surface: c.surface, Dimension: c.dimension, Unit: "mm", Values: []record.Value{{Text: value}},
				Instrument: record.Instrument{Kind: c.kind, Name: c.kind},
			}}
			w.record.Limits = map[record.ID]record.Limit{record.NewID(): {
				Part: part, Surface: c.surface, Dimension: c.dimension, Discard: c.limit, Manual: "workshop manual", By: "Edda Quillan",
			}}
			a := assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road)
			held := false
			for _, r := range surface(t, a, part, c.surface).Reasons {
				held = held || r.Of == reading
				if r.Of == reading && r.Verdicts.For(term.Road) != want {
					t.Errorf("%s of %s mm against %s: %s, want %s: %s", c.dimension, value, c.limit, r.Verdicts.For(term.Road), want, r.Text)
				}
			}
			if !held {
				t.Errorf("the reading of the %s decides nothing", c.dimension)
			}
		}
	}
}
