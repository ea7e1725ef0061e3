package assess_test

import (
	"slices"
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// surface returns what is said of one surface of the first part.
func surface(t testing.TB, a *assess.Assessment, id record.ID, name string) *assess.Surface {
	t.Helper()
	s, ok := part(t, a, id).Surface(name)
	if !ok {
		t.Fatalf("nothing is said of %s", name)
	}
	return s
}

func TestTheReasonThatDecidesStandsFirstAndAlone(t *testing.T) {
	r, ids := core(4)
	finding(r, ids[0], "s1", term.RustPits, term.Seen, term.WorkingFace, term.ByEye)
	finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	finding(r, ids[0], "s2", term.Crack, term.Suspected, term.StressedZone, term.ByEye)
	p := part(t, judge(t, r, term.Road), ids[0])
	s, _ := p.Surface("s1")
	var decide []string
	for _, reason := range s.Reasons {
		if reason.Decides {
			decide = append(decide, reason.Rule)
		}
	}
	if !slices.Equal(decide, []string{"pits-felt"}) || s.Reasons[0].Rule != "pits-felt" {
		t.Errorf("%q decide, and %q stands first", decide, s.Reasons[0].Rule)
	}
	if up := s.RunnersUp(); len(up) != 1 || up[0].Rule != "pits-seen" {
		t.Errorf("its runners-up are %+v", up)
	}
	var rules []string
	for _, g := range p.Grounds {
		reason, at := p.Ground(g)
		if at == nil {
			t.Fatalf("the ground %+v is of no surface", g)
		}
		rules = append(rules, at.ID+" "+reason.Rule)
	}
	if want := []string{"s1 pits-felt", "s2 crack-maybe", "s1 pits-seen"}; !slices.Equal(rules, want) {
		t.Errorf("the part rests on %q, want %q", rules, want)
	}
	for _, g := range []assess.Ground{{Surface: "s9"}, {Reason: 3}, {Surface: "s1", Reason: -1}, {Surface: "s1", Reason: 99}} {
		if reason, _ := p.Ground(g); reason != nil {
			t.Errorf("%+v points to %q", g, reason.Text)
		}
	}
}

func TestARowThatGaveWayIsTold(t *testing.T) {
	w := laidOut(t, ownSpecs(t))
	w.found(t, "input-bearing", "outer-seat creep present working-face touch")
	a := assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road)
	r := surface(t, a, w.at["input-bearing"], "outer-seat").Reasons[0]
	if r.Rule != "ball-bearing-crept" || len(r.Passed) != 1 || r.Passed[0].Rule != "seat-creep" || r.Passed[0].Since != "the other is for this kind of part" {
		t.Errorf("%s decided over %+v", r.Rule, r.Passed)
	}
}

func TestATestIsToldWithItsMethodAndItsOperator(t *testing.T) {
	for _, c := range []struct {
		severity term.Severity
		suspect  bool
		says     string
	}{
		{term.NotFound, false, "No crack was found. Tested with penetrant (Wren)."},
		{term.Present, false, "It is broken. Found with penetrant (Wren)."},
		{term.NotFound, true, "The suspected crack was looked for with penetrant (Wren) and not found."},
	} {
		r, ids := core(4)
		if c.suspect {
			finding(r, ids[0], "s1", term.Crack, term.Suspected, term.StressedZone, term.ByEye)
		}
		id := finding(r, ids[0], "s1", term.Crack, c.severity, term.StressedZone, term.Penetrant)
		f := r.Findings[id]
		f.By = "Wren"
		r.Findings[id] = f
		s := surface(t, judge(t, r, term.Road), ids[0], "s1")
		if !slices.ContainsFunc(s.Reasons, func(x assess.Reason) bool { return x.Text == c.says }) {
			t.Errorf("%s: %+v", c.severity, s.Reasons)
		}
	}
}

func TestTouchThatWasCalledForIsMissedAlsoBesideAFinding(t *testing.T) {
	r, ids := core(4)
	r.Parts[ids[0]].Surfaces["s1"] = record.Looked{Eye: true, Clean: true, By: "Edda"}
	finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	s := surface(t, judge(t, r, term.Road), ids[0], "s1")
	if s.Verdict != term.Condemned || !slices.ContainsFunc(s.RunnersUp(), func(x assess.Reason) bool {
		return strings.Contains(x.Text, "calls for a finger (Edda)")
	}) {
		t.Errorf("%v: %+v", s.Verdict, s.Reasons)
	}
}

// Of two verdicts of persons the later one holds, and both are said.
func TestTheLaterOfTwoOverridesHolds(t *testing.T) {
	for _, at := range []string{"s1", ""} {
		r, ids := core(4)
		finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
		r.Overrides = map[record.ID]record.Override{}
		for _, o := range []record.Override{{Verdict: term.Repairable, By: "Wren", Reason: "it polishes out"}, {Verdict: term.Usable, By: "Edda", Reason: "I have seen worse"}} {
			o.Part, o.Surface = ids[0], at
			r.Overrides[record.NewID()] = o
		}
		p := part(t, judge(t, r, term.Road), ids[0])
		reasons := p.Reasons
		if at != "" {
			reasons = surface(t, judge(t, r, term.Road), ids[0], at).Reasons
		}
		if p.Verdict != term.Usable || p.Computed != term.Condemned || !reasons[0].Decides || !strings.Contains(reasons[0].Text, "Edda judges it usable") {
			t.Errorf("on %q: %v, computed %v, first %q", at, p.Verdict, p.Computed, reasons[0].Text)
		}
		told := 0
		for _, reason := range reasons {
			if strings.Contains(reason.Text, "By the rules alone it is condemned.") {
				told++
			}
		}
		if told != 2 || !slices.ContainsFunc(reasons, func(x assess.Reason) bool { return strings.Contains(x.Text, "Wren judges it repairable") && !x.Decides }) {
			t.Errorf("on %q: %+v", at, reasons)
		}
	}
}

// What belongs to the safety set is condemned also where no spec knows the place,
// and no person can make it serve.
func TestTheSafetySetHoldsWhereNoSpecSpeaks(t *testing.T) {
	for name, c := range map[string]func(r *record.Record, id record.ID){
		"a surface that no spec names": func(r *record.Record, id record.ID) {
			finding(r, id, "underside", term.Crack, term.Present, term.StressedZone, term.Penetrant)
		},
		"a kind that no spec knows": func(r *record.Record, id record.ID) {
			p := r.Parts[id]
			p.Kind = "flux-ring"
			r.Parts[id] = p
			finding(r, id, "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
		},
		"a damage of which no row speaks": func(r *record.Record, id record.ID) {
			finding(r, id, "s1", term.JumpsOut, term.Present, term.WorkingFace, term.Touch)
		},
	} {
		r, ids := core(4)
		c(r, ids[0])
		override(r, ids[0], term.Sound)
		for _, duty := range term.Duties {
			if p := part(t, judge(t, r, duty), ids[0]); p.Verdict != term.Condemned {
				t.Errorf("%s: overridden as sound it is %v for %s duty", name, p.Verdict, duty)
			}
		}
	}
}
