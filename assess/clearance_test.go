package assess_test

import (
	"slices"
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Two measured mates come to a clearance, which stands on both of them; where needle
// rollers run between them, only with the rollers' size. The sums are done by hand.
func TestMeasuredMatesComeToAClearance(t *testing.T) {
	type size struct{ part, surface, dimension, value string }
	for name, c := range map[string]struct {
		sizes []size
		on    [2]string // part, surface
		want  string    // empty: nothing is said
	}{
		"a bush on its journal": {
			[]size{{"gear-3-bush", "bore", "bore", "30.062"}, {"main-shaft", "journal-3", "diameter", "30.012"}},
			[2]string{"gear-3-bush", "bore"}, "a clearance of 0.050 mm",
		},
		"a bush that would not go on": {
			[]size{{"gear-3-bush", "bore", "bore", "30.002"}, {"main-shaft", "journal-3", "diameter", "30.012"}},
			[2]string{"main-shaft", "journal-3"}, "an interference of 0.010 mm",
		},
		"a needle bore, its rollers and its pin": {
			[]size{{"layshaft", "needle-bore", "bore", "26.035"}, {"layshaft-needles", "rollers", "diameter", "3.000"}, {"layshaft-pin", "needle-track", "diameter", "20.000"}},
			[2]string{"layshaft-pin", "needle-track"}, "a clearance of 0.035 mm",
		},
		"a needle bore and its pin without the rollers": {
			[]size{{"layshaft", "needle-bore", "bore", "26.035"}, {"layshaft-pin", "needle-track", "diameter", "20.000"}},
			[2]string{"layshaft", "needle-bore"}, "",
		},
		"a needle bore and its rollers without the pin": {
			[]size{{"layshaft", "needle-bore", "bore", "26.035"}, {"layshaft-needles", "rollers", "diameter", "3.000"}},
			[2]string{"layshaft", "needle-bore"}, "",
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := laidOut(t, ownSpecs(t))
			w.record.Readings = map[record.ID]record.Reading{}
			for _, s := range c.sizes {
				w.record.Readings[record.NewID()] = record.Reading{
					Part: w.at[s.part], Surface: s.surface, Dimension: s.dimension, Unit: "mm", Values: []record.Value{{Text: s.value}},
					Instrument: record.Instrument{Kind: "micrometer", Name: "micrometer", Resolution: "0.001 mm"},
				}
			}
			a := assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road)
			notes := surface(t, a, w.at[c.on[0]], c.on[1]).Notes
			said := slices.ContainsFunc(notes, func(s string) bool { return strings.Contains(s, "it has "+c.want) })
			if said != (c.want != "") {
				t.Errorf("of %q it says %q", c.want, notes)
			}
		})
	}
}
