package term_test

import (
	"slices"
	"testing"

	"fettlebook/assess/term"
)

// The design: pits, dents, scores and steps are seen, felt or deep; cracks,
// missing metal, bend, softness and looseness are not found, suspected or
// present.
func TestEveryDamageHasAScale(t *testing.T) {
	byPresence := []term.Damage{
		term.HeatTint, term.Creep, term.Notchy, term.Crack, term.MissingMetal, term.MissingElement, term.StrippedThread,
		term.Bend, term.Softness, term.Looseness, term.LostBackTaper, term.JumpsOut,
	}
	touch := []term.Severity{term.Seen, term.Felt, term.Deep}
	presence := []term.Severity{term.NotFound, term.Suspected, term.Present}
	for _, d := range term.Damages {
		want := touch
		if slices.Contains(byPresence, d) {
			want = presence
		}
		if got := d.Scale().Severities(); !slices.Equal(got, want) {
			t.Errorf("%s is told by %v, want %v", d, got, want)
		}
	}
	if all := append(slices.Clone(touch), presence...); !slices.Equal(term.Severities, all) {
		t.Errorf("the severities are %v, want those of both scales, %v", term.Severities, all)
	}
}

func TestSeveritiesAreRankedOnTheirScale(t *testing.T) {
	for _, scale := range []term.Scale{term.ByTouch, term.ByPresence} {
		for i, s := range scale.Severities() {
			if s.Rank() != i+1 || s.Scale() != scale {
				t.Errorf("%s has rank %d on scale %d, want %d on %d", s, s.Rank(), s.Scale(), i+1, scale)
			}
		}
	}
	if rank := term.Severity("splendid").Rank(); rank != 0 {
		t.Errorf("a word on no scale has rank %d", rank)
	}
}

// The design: "a confirmed crack, missing tooth, softened (heat-tinted) working
// surface, loose retention, or jumping out of gear".
func TestTheSafetySetIsThatOfTheDesign(t *testing.T) {
	always := []term.Damage{term.Crack, term.MissingMetal, term.Looseness, term.LostBackTaper, term.JumpsOut}
	whereItWorks := []term.Damage{term.HeatTint, term.Softness}
	for _, d := range term.Damages {
		for _, z := range append(term.Zones, "") {
			for _, s := range append(term.Severities, "") {
				want := s == term.Present && (slices.Contains(always, d) || slices.Contains(whereItWorks, d) && z != term.Elsewhere)
				if got := term.Safety(d, s, z); got != want {
					t.Errorf("%s, %s, in the zone %q: of the safety set: %v, want %v", d, s, z, got, want)
				}
			}
		}
		if slices.Contains(always, d) || slices.Contains(whereItWorks, d) {
			if d.Scale() != term.ByPresence {
				t.Errorf("%s is of the safety set and can't be found present", d)
			}
		}
	}
}
