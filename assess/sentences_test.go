package assess_test

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// said1 is one sentence as it is shown, with where it was first met.
type said1 struct{ text, where string }

// sentences are all that the specs can say of the generic gearbox: every damage
// that a surface lists, at every severity and in every zone, in every place.
func sentences(t *testing.T, specs *spec.Set) []said1 {
	t.Helper()
	unit, _ := specs.Unit("four-speed")
	met := map[string]string{}
	put := func(text, where string) {
		if _, known := met[text]; text != "" && !known {
			met[text] = where
		}
	}
	for _, place := range unit.Places {
		kind, _ := specs.Kind(place.Kind)
		for _, f := range kind.Surfaces {
			for _, d := range f.Damages {
				for _, z := range f.Zones {
					for _, severity := range d.Scale().Severities() {
						w := laidOut(t, specs)
						finding(w.record, w.at[place.ID], f.ID, d, severity, z, term.Touch)
						a := assess.Assess(assess.Case{Record: w.record}, specs, term.Road)
						where := place.ID + "." + f.ID + " " + string(d) + " " + string(severity) + " " + string(z)
						for i := range a.Parts {
							sayAll(&a.Parts[i], func(text string) { put(text, where) })
						}
					}
				}
			}
		}
	}
	var list []said1
	for _, text := range slices.Sorted(maps.Keys(met)) {
		list = append(list, said1{text, met[text]})
	}
	return list
}

// sayAll hands out all that is said of a part.
func sayAll(p *assess.Part, put func(string)) {
	reasons := slices.Clone(p.Reasons)
	for _, s := range p.Surfaces {
		reasons = append(reasons, s.Reasons...)
		for _, note := range s.Notes {
			put(note)
		}
		put(s.WhatIf)
	}
	for _, r := range reasons {
		put(r.Text)
		put(r.IfLeft)
		for _, row := range r.Passed {
			put(row.Text)
		}
	}
	put(p.WhatIf)
	for _, step := range p.Inspect {
		put(step.Text)
	}
	for _, act := range p.Actions {
		if len(act.With) > 0 {
			put("Do: " + string(act.Do) + ", with " + strings.Join(act.With, "; ") + ".")
		}
	}
}

// What is wrong in a sentence whatever it says.
var (
	unfilled   = regexp.MustCompile(`[{}]|\s\s|\s[.,;:]|\.\.|^\s|\s$`)
	twiceSaid  = regexp.MustCompile(`(?i)\b(the the|a a|of of|in in|on on|it it|and and|is is|may may|the its|the their)\b`)
	isSentence = regexp.MustCompile(`^["A-Z0-9]`)
	singular   = regexp.MustCompile(`(?i)\b(flanks|teeth|threads|rails|needles|rollers|keys|pads|faces|bores|arms|ends|tracks|notches|holes|slots|detents) (is|has|was|runs|sits) `)
)

// Read them with `go test ./assess -run Sentences -v`.
func TestSentencesAsTheyAreShown(t *testing.T) {
	if testing.Short() {
		t.Skip("it says all that there is to say")
	}
	list := sentences(t, ownSpecs(t))
	if len(list) < 500 {
		t.Fatalf("only %d sentences were met", len(list))
	}
	for _, s := range list {
		t.Logf("%s  [%s]", s.text, s.where)
		for _, wrong := range []*regexp.Regexp{unfilled, twiceSaid, singular} {
			if at := wrong.FindString(s.text); at != "" {
				t.Errorf("%s: %q in %q", s.where, at, s.text)
			}
		}
		if !isSentence.MatchString(s.text) || !strings.HasSuffix(s.text, ".") {
			t.Errorf("%s: %q is no sentence", s.where, s.text)
		}
	}
}
