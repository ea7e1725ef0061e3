package spec_test

import (
	"slices"
	"testing"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Parts break in the stressed zone: nothing there is judged more kindly than on
// the working face, unless it asks for a test first, and nothing elsewhere more
// strictly.
func TestTheStressedZoneIsJudgedMoreStrictlyAndElsewhereMildly(t *testing.T) {
	set := own(t)
	n := 0
	for _, k := range set.Kinds() {
		for _, f := range k.Surfaces {
			for _, d := range f.Damages {
				for _, s := range d.Scale().Severities() {
					var by [3]*spec.Rule
					for i, z := range []term.Zone{term.Elsewhere, term.WorkingFace, term.StressedZone} {
						if slices.Contains(f.Zones, z) {
							by[i] = set.Decide(spec.Case{Kind: k.ID, Surface: f.ID, Role: f.Role, Damage: d, Severity: s, Zone: z, Share: -1})
						}
					}
					for i := range 3 {
						for j := i + 1; j < 3; j++ {
							if by[i] == nil || by[j] == nil || by[i] == by[j] {
								continue
							}
							n++
							milder, _ := judged(by[i])
							stricter, _ := judged(by[j])
							for at := range milder {
								if milder[at] != undecided && stricter[at] != undecided && milder[at].Worse(stricter[at]) {
									t.Errorf("%s.%s, %s, %s: %s says %v, %s says %v", k.ID, f.ID, d, s, by[i].ID, milder, by[j].ID, stricter)
								}
							}
						}
					}
				}
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d pairs of zones were compared", n)
	}
}
