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

// A surface that calls for no finger is asked for one when its mate is damaged,
// with the reasons and without them.
func TestADamagedMateCallsForAFinger(t *testing.T) {
	specs := ownSpecs(t)
	w := laidOut(t, specs)
	id := w.at["gear-3-bush"]
	w.record.Parts[id].Surfaces["outside"] = record.Looked{Eye: true, Clean: true}
	if v := assess.Verdicts(assess.Case{Record: w.record}, specs)[id]; v.For(term.Road) != term.Sound {
		t.Fatalf("looked at, the outside of the bush is %v", v)
	}
	w.found(t, "gear-3", "bore creep present working-face touch")
	p := part(t, assess.Assess(assess.Case{Record: w.record}, specs, term.Road), id)
	alone := assess.Verdicts(assess.Case{Record: w.record}, specs)[id]
	if p.Verdict != term.Undecided || alone != p.Verdicts || !strings.Contains(steps(p), "ring and seat wear together") {
		t.Errorf("beside a crept bore it is %v, alone %v: %s", p.Verdicts, alone, steps(p))
	}
}

func TestStepsComeInTheOrderThatSavesMostWork(t *testing.T) {
	r, ids := core(2)
	finding(r, ids[0], "s1", term.Crack, term.Suspected, term.StressedZone, term.ByEye)
	finding(r, ids[0], "s4", term.Galling, term.Seen, term.WorkingFace, term.ByEye)
	delete(r.Parts[ids[0]].Surfaces, "s5")
	r.Parts[ids[0]].Surfaces["s6"] = record.Looked{Eye: true, Touch: true}
	reading(r, ids[0], "19.01", "0.03 mm")
	p := part(t, judge(t, r, term.Road), ids[0])
	var got []string
	for _, s := range p.Inspect {
		got = append(got, string(s.Work)+" "+s.Surface)
	}
	want := []string{"clean s6", "look s5", "feel s5", "measure s2", "test s1", "ask s4"}
	if !slices.Equal(got, want) {
		t.Errorf("to be done: %q, want %q", got, want)
	}
	finding(r, ids[0], "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
	if p := part(t, judge(t, r, term.Road), ids[0]); len(p.Inspect) > 0 {
		t.Errorf("condemned, it is still to be looked at: %v", p.Inspect)
	}
}

// Each case is one part of a generic gearbox in which all else is sound.
func TestTheSmallestChangeThatTurnsAPart(t *testing.T) {
	specs := ownSpecs(t)
	for name, c := range map[string]struct {
		place, found string
		change       func(w *workbench, id record.ID)
		want         string
	}{
		"a clean test": {"layshaft", "flanks-2 crack suspected stressed-zone eye", nil,
			"Flanks of the 2nd gear: it would be sound if a test with penetrant or magnetic particles found no crack."},
		"a clean test beats a milder finding": {"layshaft", "flanks-2 dents felt stressed-zone touch", nil,
			"Flanks of the 2nd gear: it would be repairable if a test with penetrant or magnetic particles found no crack."},
		"a trial fit": {"main-shaft", "sliding-spline knife-edges seen working-face eye", nil,
			"Sliding spline: it would be usable if it fitted well in a trial fit (sliding gear on its spline)."},
		"a trial fit with an unworn partner": {"main-shaft", "sliding-spline knife-edges seen working-face eye", func(w *workbench, id record.ID) {
			w.fit("gear-on-spline", "snug", "sliding-gear", "main-shaft", "")
		}, "Sliding spline: it would be usable if it fitted as well with an unworn partner (sliding gear on its spline)."},
		"an unworn partner for one that rocked": {"sliding-gear", "", func(w *workbench, id record.ID) {
			w.fit("gear-on-spline", "rocks", "sliding-gear", "main-shaft", "")
		}, "Bore spline: it would be sound if it fitted well with an unworn partner."},
		"but not for one that rocked on an unworn one": {"sliding-gear", "", func(w *workbench, id record.ID) {
			w.fit("gear-on-spline", "rocks", "sliding-gear", "main-shaft", "b")
		}, ""},
		"cleaning": {"gear-3", "flanks deposit seen working-face eye", func(w *workbench, id record.ID) {
			w.record.Parts[id].Surfaces["flanks"] = record.Looked{Eye: true, Touch: true}
		}, "Tooth flanks: it would be sound if it were cleaned and looked at again, and nothing more were found."},
		"a finger": {"gear-3", "", func(w *workbench, id record.ID) {
			w.record.Parts[id].Surfaces["cone"] = record.Looked{Eye: true, Clean: true}
		}, "Synchroniser cone: it would be sound if it were felt and nothing were found."},
		"a look": {"gear-3", "", func(w *workbench, id record.ID) { delete(w.record.Parts[id].Surfaces, "cone") },
			"Synchroniser cone: it would be sound if it were looked at clean and felt, and nothing were found."},
		"the substitute test": {"input-bearing", "", func(w *workbench, id record.ID) { delete(w.record.Parts[id].Surfaces, "races") },
			"Races and balls: it would be usable if its substitute test were done and came out well."},
		"a finer instrument": {"input-shaft", "", func(w *workbench, id record.ID) {
			w.read(t, id, "pilot diameter 0.726 0.725 in 0.001 0.7259")
		}, "Pilot nose: it would be sound if a finer instrument read the same."},
		"a finer instrument may also condemn": {"input-shaft", "", func(w *workbench, id record.ID) {
			w.read(t, id, "pilot diameter 0.726 0.725 in 0.001 0.7249")
		}, "Pilot nose: it would be condemned if a finer instrument read the same."},
		"a reading within its limit": {"thrust-washer-rear", "thrust-face wear felt working-face touch", func(w *workbench, id record.ID) {
			w.record.Limits = map[record.ID]record.Limit{record.NewID(): {Part: id, Surface: "thrust-face", Dimension: "thickness", Discard: "3.8 mm", Manual: "x", By: "x"}}
		}, "Thrust face: it would be usable if it were measured and lay within its limit."},
		"dressing": {"reverse-idler", "flanks burr felt elsewhere touch", nil, "Tooth flanks: it would be sound once it is dressed."},
		"a crack test after a broken tooth": {"gear-3", "", func(w *workbench, id record.ID) {
			w.found(t, "gear-2", "flanks missing-metal present working-face eye")
		}, "It would be sound if a test with penetrant or magnetic particles found no crack."},
		"a hardness test for a blue band is for the yard only": {"main-shaft", "journal-3 heat-tint present working-face eye", nil, "Journal under 3rd gear: it would be sound without finding 1."},
		"two surfaces": {"gear-3", "cone scoring felt working-face touch", func(w *workbench, id record.ID) {
			w.found(t, "gear-3", "flanks rust-pits felt working-face touch")
		}, ""},
		"nothing to turn": {"gear-3", "", nil, ""},
	} {
		t.Run(name, func(t *testing.T) {
			w := laidOut(t, specs)
			if c.found != "" {
				w.found(t, c.place, c.found)
			}
			if c.change != nil {
				c.change(w, w.at[c.place])
			}
			p := part(t, assess.Assess(assess.Case{Record: w.record}, specs, term.Road), w.at[c.place])
			if p.WhatIf != c.want {
				t.Errorf("%v: got %q, want %q\n%s", p.Verdict, p.WhatIf, c.want, said(p))
			}
		})
	}
}

// fit puts two parts of the gearbox together.
func (w *workbench) fit(pair, outcome, a, b, unworn string) {
	if w.record.TrialFits == nil {
		w.record.TrialFits = map[record.ID]record.TrialFit{}
	}
	w.record.TrialFits[record.NewID()] = record.TrialFit{Pair: pair, Outcome: outcome, Unworn: unworn,
		A: record.PartOf{Record: w.record.ID, Part: w.at[a]}, B: record.PartOf{Record: w.record.ID, Part: w.at[b]}}
}

func TestWhereBothMatesAreDamagedEachSaysSoOnce(t *testing.T) {
	specs := ownSpecs(t)
	for _, mate := range []string{
		"main-shaft pilot-journal brinelling felt working-face touch", // which asks for its mate as well
		"main-shaft pilot-journal dents seen working-face eye",        // which does not
	} {
		w := laidOut(t, specs)
		w.found(t, "input-shaft", "needle-bore brinelling felt working-face touch")
		place, rest, _ := strings.Cut(mate, " ")
		w.found(t, place, rest)
		a := assess.Assess(assess.Case{Record: w.record}, specs, term.Road)
		for place, name := range map[string]string{"input-shaft": "needle-bore", "main-shaft": "pilot-journal"} {
			n := 0
			notes := surface(t, a, w.at[place], name).Notes
			for _, note := range notes {
				if strings.Contains(note, "Its mate (main shaft, ") || strings.Contains(note, "Its mate (input shaft, ") {
					n++
				}
			}
			if n != 1 {
				t.Errorf("on the %s: %q", place, notes)
			}
		}
	}
}

func TestOnHoldNothingIsCleanedOrTakenFurther(t *testing.T) {
	specs := ownSpecs(t)
	w := laidOut(t, specs)
	w.record.Hold = "adjuster to view"
	w.record.Parts[w.at["input-shaft"]].Surfaces["pilot"] = record.Looked{Eye: true, Touch: true}
	w.found(t, "input-shaft", "pilot heat-tint present working-face eye")
	w.found(t, "input-shaft", "cone surface-rust felt working-face touch")
	w.found(t, "input-shaft", "clutch-spline crack suspected stressed-zone eye")
	p := part(t, assess.Assess(assess.Case{Record: w.record}, specs, term.Road), w.at["input-shaft"])
	if len(p.Inspect) < 4 || !strings.HasPrefix(p.Inspect[0].Text, "On hold (adjuster to view)") {
		t.Errorf("to be done: %s", steps(p))
	}
	for _, s := range p.Inspect[1:] {
		if !strings.HasPrefix(s.Text, "Leave it as it is (adjuster to view)") {
			t.Errorf("on hold it says %q", s.Text)
		}
	}
}
