package spec_test

import (
	"slices"
	"testing"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// every calls f for each case that may be entered, whether the surface lists
// the damage or not, with the row that decides it; nil for none.
func every(set *spec.Set, f func(spec.Case, *spec.Rule)) int {
	n := 0
	for _, k := range set.Kinds() {
		for _, surface := range k.Surfaces {
			for _, d := range term.Damages {
				for _, z := range term.Zones {
					for _, s := range d.Scale().Severities() {
						at := spec.Case{Kind: k.ID, Surface: surface.ID, Role: surface.Role, Damage: d, Severity: s, Zone: z, Share: -1}
						f(at, set.Decide(at))
						n++
					}
				}
			}
		}
	}
	return n
}

func TestAWorseSeverityOrAHarderDemandIsNeverJudgedMoreKindly(t *testing.T) {
	set := own(t)
	type ladder struct {
		spec.Case
		demand term.Demand
	}
	hardest := map[ladder]term.Verdict{}
	n := every(set, func(at spec.Case, r *spec.Rule) {
		if r == nil {
			return
		}
		var before term.Verdict
		for i, demand := range term.Demands {
			v := r.At(demand)
			if i > 0 && before != undecided && v != undecided && before.Worse(v) {
				t.Errorf("%s: %s at a lighter demand, %s at %s", r.ID, before, v, demand)
			}
			before = v
			rung := ladder{at, demand}
			rung.Severity = ""
			if was, ok := hardest[rung]; ok && v != undecided && was.Worse(v) {
				t.Errorf("%s: %s, %s, on %s.%s is %s, a milder one %s", r.ID, at.Damage, at.Severity, at.Kind, at.Surface, v, was)
			}
			if v != undecided {
				hardest[rung] = v
			}
		}
	})
	if n < 10_000 {
		t.Fatalf("only %d cases were looked at", n)
	}
}

func TestNoRowJudgesTheSafetySetToServe(t *testing.T) {
	met := map[term.Damage]bool{}
	every(own(t), func(at spec.Case, r *spec.Rule) {
		if r == nil || !term.Safety(at.Damage, at.Severity, at.Zone) {
			return
		}
		met[at.Damage] = true
		tested := at.Damage == term.HeatTint && r.UntilTested != nil && r.UntilTested.For == term.Softness
		for _, demand := range term.Demands {
			v := r.At(demand)
			if tested { // a heat tint that kept its hardness does not belong to the set
				v = r.Before(demand)
			}
			if v.Serves() {
				t.Errorf("%s judges %s, %s, on %s.%s as %s", r.ID, at.Damage, at.Severity, at.Kind, at.Surface, v)
			}
		}
	})
	for _, d := range term.Damages {
		if term.Safety(d, term.Present, term.WorkingFace) && !met[d] {
			t.Errorf("no row speaks of %s", d)
		}
	}
}

// Where parts break, a mark is never passed by eye or finger alone.
func TestAMarkInAStressedZoneAsksForACrackTest(t *testing.T) {
	n := 0
	set := own(t)
	every(set, func(at spec.Case, r *spec.Rule) {
		k, _ := set.Kind(at.Kind)
		f, _, _ := k.Surface(at.Surface)
		score := slices.Contains(f.Zones, at.Zone) && at.Damage == term.Scoring && at.Severity != term.Seen
		if at.Zone != term.StressedZone || at.Damage != term.Dents && at.Damage != term.RustPits && !score {
			return
		}
		n++
		if r == nil {
			t.Errorf("no row speaks of %s, %s, on %s.%s", at.Damage, at.Severity, at.Kind, at.Surface)
			return
		}
		before, _ := judged(r)
		if slices.ContainsFunc(before[:], term.Verdict.Serves) {
			t.Errorf("%s lets %s, %s, on %s.%s pass: %v", r.ID, at.Damage, at.Severity, at.Kind, at.Surface, before)
		}
	})
	if n == 0 {
		t.Fatal("no case was looked at")
	}
}

// The bits by which rows are passed over must say what the words say.
func TestDecideReturnsARowThatSpeaks(t *testing.T) {
	set := own(t)
	rules := set.Rules()
	every(set, func(at spec.Case, r *spec.Rule) {
		if r != nil && !r.Speaks(at) {
			t.Errorf("%s does not speak of %+v", r.ID, at)
		}
		if r == nil && slices.ContainsFunc(rules, func(r *spec.Rule) bool { return r.Speaks(at) }) {
			t.Errorf("a row speaks of %+v and was not found", at)
		}
	})
}
