package term_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/term"
)

// The design: "sound < usable < repairable < condemned. Condemned beats
// undecided, undecided beats the rest".
func TestVerdictsAreInTheOrderOfTheDesign(t *testing.T) {
	order := []term.Verdict{term.Sound, term.Usable, term.Repairable, term.Undecided, term.Condemned}
	if !slices.Equal(term.Verdicts, order) {
		t.Errorf("the verdicts are listed as %v, want %v", term.Verdicts, order)
	}
	for i, a := range order {
		for j, b := range order {
			if got := a.Worse(b); got != (i > j) {
				t.Errorf("%v is worse than %v: %v", a, b, got)
			}
			if got := term.Worst(a, b); got != order[max(i, j)] {
				t.Errorf("the worst of %v and %v is %v", a, b, got)
			}
		}
		if serves := a == term.Sound || a == term.Usable; a.Serves() != serves {
			t.Errorf("%v serves: %v", a, a.Serves())
		}
	}
}

func TestWhatNobodyLookedAtIsUndecided(t *testing.T) {
	var v term.Verdict
	if v != term.Undecided || v.String() != "undecided" {
		t.Errorf("the zero verdict is %v", v)
	}
}

func TestTheWorstDoesNotDependOnOrderOrRepetition(t *testing.T) {
	verdict := rapid.SampledFrom(term.Verdicts)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := verdict.Draw(t, "a"), verdict.Draw(t, "b"), verdict.Draw(t, "c")
		many := rapid.SliceOf(verdict).Draw(t, "many")
		switch {
		case term.Worst(a, b) != term.Worst(b, a):
			t.Fatal("not commutative")
		case term.Worst(term.Worst(a, b), c) != term.Worst(a, term.Worst(b, c)), term.Worst(a, b, c) != term.Worst(a, term.Worst(b, c)):
			t.Fatal("not associative")
		case term.Worst(a, a) != a, term.Worst(a) != a:
			t.Fatal("not idempotent")
		case term.Worst(term.Sound, a) != a, term.Worst() != term.Sound:
			t.Fatal("sound is not neutral")
		case term.Worst(term.Condemned, a) != term.Condemned:
			t.Fatal("condemned does not beat all")
		}
		worst := term.Worst(many...)
		if len(many) > 0 && !slices.Contains(many, worst) {
			t.Fatalf("%v is the worst of %v", worst, many)
		}
		if i := slices.IndexFunc(many, func(v term.Verdict) bool { return v.Worse(worst) }); i >= 0 {
			t.Fatalf("%v is worse than the worst of %v", many[i], many)
		}
	})
}

func TestAValueThatIsNoVerdictIsNeitherKindNorFatal(t *testing.T) {
	none := term.Verdict(200)
	if !none.Worse(term.Condemned) || term.Sound.Worse(none) || none.Serves() || none.String() != "verdict(200)" {
		t.Errorf("%v passes for a verdict", none)
	}
}
