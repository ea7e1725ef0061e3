package spec_test

import (
	"testing"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// before and after hold the verdicts at light, normal and hard demand, before a
// test that the row waits for and after a clean one.
type verdicts [3]term.Verdict

func same(v term.Verdict) verdicts { return verdicts{v, v, v} }

func judged(r *spec.Rule) (before, after verdicts) {
	for i, d := range term.Demands {
		after[i] = r.At(d)
		before[i] = after[i]
		if r.UntilTested != nil {
			before[i] = term.Worst(after[i], r.UntilTested.At(d))
		}
	}
	return before, after
}

const (
	sound, usable, repairable, condemned, undecided = term.Sound, term.Usable, term.Repairable, term.Condemned, term.Undecided
)

// Common practice, no source: what an experienced rebuilder says.
func TestFactsOfTheTrade(t *testing.T) {
	set := own(t)
	work, stressed, elsewhere := term.WorkingFace, term.StressedZone, term.Elsewhere
	for _, c := range []struct {
		fact          string
		kind, surface string
		damage        term.Damage
		severity      term.Severity
		zone          term.Zone
		before, after verdicts
		by            term.DemandOf
		remedy        term.Remedy
	}{
		{"brinelling of the needle bore that can be felt condemns at every duty", "input-shaft", "needle-bore",
			term.Brinelling, term.Felt, work, same(condemned), same(condemned), "", term.Replace},
		{"brinelling that is smooth to the touch waits for the trial fit", "input-shaft", "needle-bore",
			term.Brinelling, term.Seen, work, same(undecided), same(usable), "", ""},
		{"rust pitting on the working face of flanks condemns", "constant-mesh-gear", "flanks",
			term.RustPits, term.Felt, work, same(condemned), same(condemned), "", term.Replace},
		{"also where it is only seen", "layshaft-cluster", "flanks-3",
			term.RustPits, term.Seen, work, same(condemned), same(condemned), "", term.Replace},
		{"a water stain on flanks is sound", "layshaft-cluster", "flanks-3",
			term.WaterStain, term.Seen, work, same(sound), same(sound), "", ""},
		{"a deposit on flanks is sound", "constant-mesh-gear", "flanks",
			term.Deposit, term.Seen, work, same(sound), same(sound), "", term.Clean},
		{"felt pits in a cone condemn where shifting matters", "input-shaft", "cone",
			term.RustPits, term.Felt, work, verdicts{usable, condemned, condemned}, verdicts{usable, condemned, condemned}, term.Shifting, term.Replace},
		{"rounded points cost by degree: hardly", "constant-mesh-gear", "engagement-teeth",
			term.RoundedTeeth, term.Seen, work, verdicts{sound, usable, usable}, verdicts{sound, usable, usable}, term.Shifting, ""},
		{"rounded points cost by degree: more", "constant-mesh-gear", "engagement-teeth",
			term.RoundedTeeth, term.Deep, work, verdicts{usable, condemned, condemned}, verdicts{usable, condemned, condemned}, term.Shifting, term.Replace},
		{"lost back taper is never acceptable", "constant-mesh-gear", "engagement-teeth",
			term.LostBackTaper, term.Present, work, same(condemned), same(condemned), "", term.Replace},
		{"nor on the sleeve, which takes its hub along", "sleeve", "engagement-teeth",
			term.LostBackTaper, term.Present, work, same(condemned), same(condemned), "", term.ReplaceWithMate},
		{"sliding gears have rounded lead-in ends by design", "sliding-gear", "flanks",
			term.RoundedTeeth, term.Felt, elsewhere, same(sound), same(sound), "", ""},
		{"heavy damage at the lead-in end is tolerable if no crack runs from it", "sliding-gear", "flanks",
			term.ChippedEdge, term.Deep, elsewhere, same(undecided), same(usable), "", term.Dress},
		{"but not where the width in mesh is no longer whole", "sliding-gear", "flanks",
			term.ChippedEdge, term.Deep, work, same(condemned), same(condemned), "", term.Replace},
		{"burred lead-in ends of a reverse idler are dressed", "reverse-idler", "flanks",
			term.Burr, term.Deep, elsewhere, same(repairable), same(repairable), "", term.Dress},
		{"a bush worn through condemns the bush", "gear-bush", "bore",
			term.Wear, term.Deep, work, same(condemned), same(condemned), "", term.Replace},
		{"knife edges are a warning and the trial fit decides", "main-shaft", "sliding-spline",
			term.KnifeEdges, term.Felt, work, same(undecided), same(usable), "", ""},
		{"a rolled shoulder is dressed", "main-shaft", "thrust-shoulder",
			term.RolledEdge, term.Deep, work, same(repairable), same(repairable), "", term.Dress},
		{"a rolled spline edge is dressed", "main-shaft", "sliding-spline",
			term.RolledEdge, term.Deep, work, same(repairable), same(repairable), "", term.Dress},
		{"hammered key slots take hub, sleeve and keys", "hub", "key-slots",
			term.Hammered, term.Felt, work, same(condemned), same(condemned), "", term.ReplaceWithMate},
		{"wiped crests replace the ring", "blocking-ring", "cone",
			term.WipedCrests, term.Felt, work, verdicts{usable, condemned, condemned}, verdicts{usable, condemned, condemned}, term.Shifting, term.Replace},
		{"a notchy bearing is condemned", "ball-bearing", "races",
			term.Notchy, term.Present, work, same(condemned), same(condemned), "", term.Replace},
		{"a smooth one is at best usable", "ball-bearing", "races",
			term.Notchy, term.NotFound, work, same(usable), same(usable), "", ""},
		{"one needle short takes the whole set", "needle-set", "rollers",
			term.MissingElement, term.Present, work, same(condemned), same(condemned), "", term.Replace},
		{"a blue band condemns, or waits for a hardness test", "main-shaft", "journal-3",
			term.HeatTint, term.Present, work, verdicts{undecided, condemned, condemned}, verdicts{usable, condemned, condemned}, term.Load, term.Replace},
		{"a flaked layshaft pin goes with its needles", "layshaft-pin", "needle-track",
			term.Spalling, term.Deep, work, same(condemned), same(condemned), "", term.ReplaceWithMate},
		{"a nick in a root waits for a crack test, and condemns without one", "layshaft-cluster", "flanks-2",
			term.Dents, term.Felt, stressed, verdicts{undecided, condemned, condemned}, same(repairable), term.Load, term.Dress},
		{"so does a rust pit in a root", "layshaft-cluster", "flanks-1",
			term.RustPits, term.Felt, stressed, verdicts{undecided, condemned, condemned}, same(usable), term.Load, ""},
		{"a rocking idler bush is renewed", "idler-bush", "bore",
			term.Looseness, term.Present, work, same(condemned), same(condemned), "", term.Replace},
		{"red dust without a step on the output spline is cleaned and used", "main-shaft", "output-spline",
			term.Fretting, term.Seen, work, same(usable), same(usable), "", term.Clean},
		{"a groove in a seal land takes a wear sleeve", "output-flange", "seal-land",
			term.Wear, term.Felt, work, same(repairable), same(repairable), "", term.Sleeve},
		{"a bright band in a seal land is sound", "output-flange", "seal-land",
			term.Wear, term.Seen, work, same(sound), same(sound), "", ""},
		{"a bore in which the ring has crept is sleeved", "case", "front-bore",
			term.Creep, term.Present, work, same(repairable), same(repairable), "", term.Sleeve},
		{"a crack through a bore condemns the case", "case", "rear-bore",
			term.Crack, term.Present, stressed, same(condemned), same(condemned), "", term.Replace},
		{"a stripped cover thread takes an insert", "case", "cover-threads",
			term.StrippedThread, term.Present, work, same(repairable), same(repairable), "", term.Insert},
		{"a dry line that looks like a crack is suspected until tested", "main-shaft", "body",
			term.Crack, term.Suspected, stressed, same(undecided), same(undecided), "", term.Test},
	} {
		t.Run(c.fact, func(t *testing.T) {
			k, ok := set.Kind(c.kind)
			if !ok {
				t.Fatalf("there is no kind %q", c.kind)
			}
			f, _, ok := k.Surface(c.surface)
			if !ok {
				t.Fatalf("%s has no surface %q", c.kind, c.surface)
			}
			r := set.Decide(spec.Case{Kind: c.kind, Surface: c.surface, Role: f.Role, Damage: c.damage, Severity: c.severity, Zone: c.zone, Share: -1})
			if r == nil {
				t.Fatal("no row speaks")
			}
			before, after := judged(r)
			if before != c.before || after != c.after {
				t.Errorf("%s: got %v, after a test %v, want %v and %v", r.ID, before, after, c.before, c.after)
			}
			if c.by != "" && r.By != c.by {
				t.Errorf("%s: it looks at the demand of %q, want %q", r.ID, r.By, c.by)
			}
			if r.Remedy != c.remedy {
				t.Errorf("%s: the remedy is %q, want %q", r.ID, r.Remedy, c.remedy)
			}
		})
	}
}

// Common practice, no source: a trial fit decides where eye and finger can't.
func TestOutcomesOfTrialFits(t *testing.T) {
	set := own(t)
	for _, c := range []struct {
		pair, outcome string
		want          term.Verdict
	}{
		{"gear-on-spline", "slight-rotation", sound},
		{"gear-on-spline", "rocks", condemned},
		{"gear-on-spline", "will-not-enter", undecided},
		{"needle-fit", "little-rock", usable},
		{"needle-fit", "much-rock", condemned},
		{"ring-on-cone", "grips", sound},
		{"ring-on-cone", "slips", undecided},
		{"sleeve-over-hub", "passes", sound},
		{"sleeve-over-hub", "hangs", undecided},
		{"nut-on-thread", "runs-freely", sound},
		{"nut-on-thread", "binds", undecided},
	} {
		p, ok := set.Pair(c.pair)
		if !ok {
			t.Errorf("there is no pair %q", c.pair)
			continue
		}
		if o, ok := p.Outcome(c.outcome); !ok || o.Verdict != c.want {
			t.Errorf("%s, %s: got %+v, want %s", c.pair, c.outcome, o, c.want)
		}
	}
	p, _ := set.Pair("gear-on-spline")
	if o, _ := p.Outcome("snug"); !o.NeedsUnworn {
		t.Error("two worn parts can feel snug together, and no unworn one is asked for")
	}
}
