package spec_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

const (
	ownFolder  = "../../assets/specs"
	demoFolder = "../../assets/demo/specs"
)

// own loads the program's own specs.
func own(tb testing.TB) *spec.Set {
	tb.Helper()
	set, problems, err := spec.Load(os.DirFS(ownFolder), nil)
	if err != nil {
		tb.Fatalf("%v\n%v", err, problems)
	}
	return set
}

func TestTheDemosOwnSpecIsTakenAsAUsers(t *testing.T) {
	set, problems, err := spec.Load(os.DirFS(ownFolder), os.DirFS(demoFolder))
	if err != nil || len(problems) > 0 {
		t.Fatalf("%v %v", err, problems)
	}
	unit, ok := set.Unit("tw4")
	if !ok {
		t.Fatal("there is no unit tw4")
	}
	generic, _ := set.Unit("four-speed")
	for _, p := range generic.Places {
		if _, _, ok := unit.Place(p.ID); !ok {
			t.Errorf("the demo's unit has no place %q", p.ID)
		}
	}
	if len(unit.Limits) == 0 || len(unit.Variants) != 2 {
		t.Errorf("it has %d limits and %d variants", len(unit.Limits), len(unit.Variants))
	}
	for _, l := range unit.Limits {
		if !regexp.MustCompile(`, p\. \d+$`).MatchString(l.Source) {
			t.Errorf("the limit of %s.%s names no page: %q", l.Place, l.Surface, l.Source)
		}
	}
}

func TestEveryDamageIsTold(t *testing.T) {
	set := own(t)
	for _, id := range term.Damages {
		d, ok := set.Damage(id)
		if !ok {
			t.Errorf("there is no table for %s", id)
			continue
		}
		if d.Tell == "" || len(d.Consistent) == 0 || len(d.Like) == 0 || len(d.Steps) != 3 {
			t.Errorf("%s: tell %q, consistent %v, like %v, steps %q", id, d.Tell, d.Consistent, d.Like, d.Steps)
		}
		for _, text := range []string{d.Plain, d.Tell, d.Where} {
			if !strings.HasSuffix(text, ".") || unicode.IsLower(rune(text[0])) {
				t.Errorf("%s: %q is no sentence", id, text)
			}
		}
		if d.ID.Scale() == term.ByPresence && len(d.SettledBy) == 0 {
			t.Errorf("%s: nothing settles a suspicion of it", id)
		}
		colour := slices.Contains([]term.Damage{term.Deposit, term.WaterStain, term.HeatTint, term.SurfaceRust}, id)
		if d.Colour != colour {
			t.Errorf("%s: colour is %v", id, d.Colour)
		}
		if d.Shock != (id == term.MissingMetal) {
			t.Errorf("%s: shock is %v", id, d.Shock)
		}
	}
}

func TestTheGenericGearboxIsWhole(t *testing.T) {
	set := own(t)
	unit, ok := set.Unit("four-speed")
	if !ok {
		t.Fatal("there is no unit four-speed")
	}
	var got []string
	worth, used := 0, map[string]bool{}
	for _, p := range unit.Places {
		got = append(got, p.ID)
		worth += p.Share
		used[p.Kind] = true
	}
	want := strings.Fields(`input-shaft input-bearing pilot-needles ring-4 hub-34 sleeve-34 keys-34 ring-3 gear-3
		gear-3-bush gear-2 gear-2-bush ring-2 hub-2 sleeve-2 keys-2 main-shaft sliding-gear output-bearing output-flange
		flange-nut layshaft layshaft-needles layshaft-pin thrust-washer-front thrust-washer-rear reverse-idler idler-bush
		idler-shaft fork-34 fork-12 rails detents case top-cover snap-rings seals gaskets`)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the places are\n%v, want\n%v", got, want)
	}
	if worth < 80 || worth > 120 {
		t.Errorf("the shares add up to %d, want about a hundred", worth)
	}
	// This gearbox runs on ball bearings, others on tapered ones; and inserts and
	// wear sleeves stand only where somebody has put them in.
	elsewhere := []string{"bearing-cone", "bearing-cup", "thread-insert", "wear-sleeve"}
	for _, k := range set.Kinds() {
		if !used[k.ID] && !k.Consumable && !slices.Contains(elsewhere, k.ID) {
			t.Errorf("no place of the gearbox holds a %s", k.ID)
		}
	}
}

// A damaged surface asks for its mate, so a mate that a kind names must run on
// it in the gearbox as well.
func TestEverySurfaceOfTheGearboxHasTheMatesThatItsKindNames(t *testing.T) {
	set := own(t)
	unit, _ := set.Unit("four-speed")
	for _, p := range unit.Places {
		k, _ := set.Kind(p.Kind)
		for _, f := range k.Surfaces {
			if len(f.Mates) > 0 && len(unit.MatesOf(p.ID, f.ID)) == 0 {
				t.Errorf("%s.%s: its kind names the mates %v and none of them runs on it", p.ID, f.ID, f.Mates)
			}
		}
	}
}

func TestSurfacesAreComplete(t *testing.T) {
	for _, k := range own(t).Kinds() {
		if k.About == "" {
			t.Errorf("%s: says nothing about itself", k.ID)
		}
		for _, f := range k.Surfaces {
			if n := len(f.Damages); n < 4 || n > 9 {
				t.Errorf("%s.%s lists %d kinds of damage, want 4 to 9", k.ID, f.ID, n)
			}
			for _, text := range []string{f.Look, f.Feel, f.Hidden} {
				if text != "" && !sentence.MatchString(text) {
					t.Errorf("%s.%s: %q is no sentence", k.ID, f.ID, text)
				}
			}
		}
	}
}

var (
	sentence    = regexp.MustCompile(`^[A-Z][^{}]*\.$`)
	placeholder = regexp.MustCompile(`\{[^}]*\}`)
)

// What the rows say is printed as it stands.
func TestRowsSpeakInSentences(t *testing.T) {
	for _, r := range own(t).Rules() {
		for what, text := range map[string]string{"reason": r.Reason, "if_left": r.IfLeft, "next": r.Next} {
			for _, word := range placeholder.FindAllString(text, -1) {
				if !slices.Contains([]string{"{surface}", "{gear}", "{part}"}, word) {
					t.Errorf("%s: %s: nothing is known for %s", r.ID, what, word)
				}
			}
			if text != "" && !sentence.MatchString(placeholder.ReplaceAllString(text, "x")) {
				t.Errorf("%s: %s: %q is no sentence", r.ID, what, text)
			}
		}
		if r.IfLeft != "" && !strings.Contains(r.IfLeft, " may ") {
			t.Errorf("%s: if_left promises too much: %q", r.ID, r.IfLeft)
		}
		if strings.Count(r.Reason, ". ") > 0 {
			t.Errorf("%s: its reason is more than one sentence: %q", r.ID, r.Reason)
		}
		if r.AskMate != "" && (unicode.IsUpper(rune(r.AskMate[0])) || strings.HasSuffix(r.AskMate, ".")) {
			t.Errorf("%s: ask_mate is said inside a sentence: %q", r.ID, r.AskMate)
		}
		if r.Reviewed != "" {
			t.Errorf("%s: says that %s reviewed it; nobody did yet", r.ID, r.Reviewed)
		}
	}
}

// Cases that may occur and on which no row speaks, on purpose: the rounding of
// a lead-in end does not reach down into the root of a tooth.
func TestGapsAreOnPurpose(t *testing.T) {
	v := own(t).Coverage()
	if v.Covered == 0 || v.CannotOccur == 0 || v.Reviewed != 0 {
		t.Errorf("covered %d, cannot occur %d, reviewed %d", v.Covered, v.CannotOccur, v.Reviewed)
	}
	for _, c := range v.Gaps {
		if c.Damage != term.RoundedTeeth || c.Zone != term.StressedZone {
			t.Errorf("no row speaks of %s, %s, on %s.%s, %s", c.Damage, c.Severity, c.Kind, c.Surface, c.Zone)
		}
	}
}
