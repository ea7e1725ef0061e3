package term_test

import (
	"slices"
	"testing"

	"fettlebook/assess/term"
)

// The design: "A yard machine is light for synchronisers and hard on first and
// reverse." A surface that serves all gears meets the harder demand.
func TestADutyAsksByGearGroup(t *testing.T) {
	for _, c := range []struct {
		duty            term.Duty
		of              term.DemandOf
		low, upper, all term.Demand
	}{
		{term.Yard, term.Load, term.Hard, term.Light, term.Hard},
		{term.Yard, term.Shifting, term.Light, term.Light, term.Light},
		{term.Road, term.Load, term.Normal, term.Normal, term.Normal},
		{term.Road, term.Shifting, term.Normal, term.Normal, term.Normal},
		{term.HardDuty, term.Load, term.Hard, term.Hard, term.Hard},
		{term.HardDuty, term.Shifting, term.Hard, term.Hard, term.Hard},
		{"race", term.Load, term.Hard, term.Hard, term.Hard},
		{"", term.Shifting, term.Hard, term.Hard, term.Hard},
		{term.Yard, "noise", term.Hard, term.Hard, term.Hard},
	} {
		for group, want := range map[term.GearGroup]term.Demand{term.LowGears: c.low, term.UpperGears: c.upper, term.AllGears: c.all, "": c.all} {
			if got := c.duty.Demand(c.of, group); got != want {
				t.Errorf("%s duty asks for %s %s in the gears %q, want %s", c.duty, got, c.of, group, want)
			}
		}
	}
}

func TestDemandsAreRanked(t *testing.T) {
	if !slices.IsSortedFunc(term.Demands, func(a, b term.Demand) int { return a.Rank() - b.Rank() }) {
		t.Errorf("%v are not the lightest first", term.Demands)
	}
	for rank, d := range []term.Demand{term.Light, term.Normal, term.Hard} {
		if d.Rank() != rank {
			t.Errorf("%s has rank %d, want %d", d, d.Rank(), rank)
		}
	}
}

func TestRemediesThatPutAnotherPartInPlace(t *testing.T) {
	for _, r := range term.Remedies {
		want := r == term.Replace || r == term.ReplaceWithMate || r == term.AlwaysReplace
		if r.Replaces() != want {
			t.Errorf("%s replaces: %v", r, r.Replaces())
		}
	}
}
