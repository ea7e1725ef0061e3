package assess_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// finding puts a finding on a part and returns its id.
func finding(r *record.Record, part record.ID, surface string, d term.Damage, s term.Severity, z term.Zone, m term.Method) record.ID {
	if r.Findings == nil {
		r.Findings = map[record.ID]record.Finding{}
	}
	r.Numbers.Finding++
	id := record.NewID()
	r.Findings[id] = record.Finding{Number: r.Numbers.Finding, Part: part, Surface: surface, Damage: d, Severity: s, Zone: z, Method: m}
	return id
}

func judge(t testing.TB, r *record.Record, duty term.Duty) *assess.Assessment {
	t.Helper()
	return assess.Assess(assess.Case{Record: r}, small(t, len(r.Parts)), duty)
}

func part(t testing.TB, a *assess.Assessment, id record.ID) *assess.Part {
	t.Helper()
	p, ok := a.Part(id)
	if !ok {
		t.Fatalf("the assessment says nothing of part %s", id)
	}
	return p
}

// Each case changes a core of four sound wheels; want is the grade of the first.
func TestGrades(t *testing.T) {
	for name, c := range map[string]struct {
		change func(r *record.Record, ids []record.ID)
		duty   term.Duty
		want   string
		step   string // a part of what is to be inspected, where something is
	}{
		"sound when all was looked at and felt": {func(*record.Record, []record.ID) {}, term.Road, "sound", ""},
		"not looked at":                         {func(r *record.Record, ids []record.ID) { delete(r.Parts[ids[0]].Surfaces, "s3") }, term.Road, "to be inspected", "Look at it."},
		"only looked at where a finger is called for": {func(r *record.Record, ids []record.ID) {
			r.Parts[ids[0]].Surfaces["s3"] = record.Looked{Eye: true, Clean: true}
		}, term.Road, "to be inspected", "Feel it."},
		"looked at dirty": {func(r *record.Record, ids []record.ID) {
			r.Parts[ids[0]].Surfaces["s3"] = record.Looked{Eye: true, Touch: true}
		}, term.Road, "to be inspected", "Clean it"},
		"pits seen": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Seen, term.WorkingFace, term.ByEye)
		}, term.Road, "usable", ""},
		"pits felt, upper gears, on the road": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
		}, term.Road, "yard duty only", ""},
		"pits felt at hard duty are for the yard all the same": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
		}, term.HardDuty, "yard duty only", ""},
		"pits in a root wait for a crack test": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.StressedZone, term.Touch)
		}, term.Road, "to be inspected", "Crack-test it."},
		"pits in a root condemn a hard-worked part untested": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.StressedZone, term.Touch)
		}, term.HardDuty, "condemned", ""},
		"pits in a root, crack-tested": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.StressedZone, term.Touch)
			finding(r, ids[0], "s1", term.Crack, term.NotFound, term.StressedZone, term.Penetrant)
		}, term.HardDuty, "usable", ""},
		"the eye is no crack test": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.Crack, term.Suspected, term.StressedZone, term.ByEye)
			finding(r, ids[0], "s1", term.Crack, term.NotFound, term.StressedZone, term.ByEye)
		}, term.Road, "to be inspected", "Crack-test it."},
		"a clean test settles a suspicion": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.Crack, term.Suspected, term.StressedZone, term.ByEye)
			finding(r, ids[0], "s1", term.Crack, term.NotFound, term.StressedZone, term.MagneticParticles)
		}, term.Road, "sound", ""},
		"no rule speaks": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.Galling, term.Seen, term.WorkingFace, term.ByEye)
		}, term.Road, "to be inspected", "Ask an experienced hand."},
		"colour on a dirty surface says nothing": {func(r *record.Record, ids []record.ID) {
			r.Parts[ids[0]].Surfaces["s1"] = record.Looked{Eye: true, Touch: true}
			finding(r, ids[0], "s1", term.WaterStain, term.Seen, term.WorkingFace, term.ByEye)
		}, term.Road, "to be inspected", "Clean it with solvent"},
		"a stain on a clean one is sound": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.WaterStain, term.Seen, term.WorkingFace, term.ByEye)
		}, term.Road, "sound", ""},
		"condemned beats what was not looked at": {func(r *record.Record, ids []record.ID) {
			delete(r.Parts[ids[0]].Surfaces, "s3")
			finding(r, ids[0], "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
		}, term.Road, "condemned", ""},
		"a withdrawn finding does not count": {func(r *record.Record, ids []record.ID) {
			id := finding(r, ids[0], "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
			f := r.Findings[id]
			f.Withdrawn = "Wren: wrong tray"
			r.Findings[id] = f
		}, term.Road, "sound", ""},
		"missing": {func(r *record.Record, ids []record.ID) {
			p := r.Parts[ids[0]]
			p.State = term.Missing
			r.Parts[ids[0]] = p
		}, term.Road, "missing", ""},
		"of another variant": {func(r *record.Record, ids []record.ID) {
			p := r.Parts[ids[0]]
			p.Variant = "B"
			r.Parts[ids[0]] = p
		}, term.Road, "sound, for B", ""},
		"measured past its limit": {func(r *record.Record, ids []record.ID) {
			reading(r, ids[0], "18.95", "0.004 mm")
		}, term.Road, "condemned", ""},
		"too near to the limit for a caliper": {func(r *record.Record, ids []record.ID) {
			reading(r, ids[0], "19.01", "0.03 mm")
		}, term.Road, "to be inspected", "finer instrument"},
		"within the limit, half used": {func(r *record.Record, ids []record.ID) {
			reading(r, ids[0], "19.45", "0.004 mm")
		}, term.Road, "usable", ""},
		"within the limit, little used": {func(r *record.Record, ids []record.ID) {
			reading(r, ids[0], "19.9", "0.004 mm")
		}, term.Road, "sound", ""},
		"a reading without an instrument decides nothing": {func(r *record.Record, ids []record.ID) {
			reading(r, ids[0], "19.9", "")
		}, term.Road, "to be inspected", "Correct the reading."},
		"rocks on its partner": {func(r *record.Record, ids []record.ID) {
			r.TrialFits = map[record.ID]record.TrialFit{record.NewID(): {Pair: "rock", Outcome: "rocks",
				A: record.PartOf{Record: r.ID, Part: ids[0]}, B: record.PartOf{Record: r.ID, Part: ids[1]}}}
		}, term.Road, "condemned", ""},
		"judged more strictly by a person": {func(r *record.Record, ids []record.ID) {
			override(r, ids[0], term.Condemned)
		}, term.Road, "condemned", ""},
		"judged more kindly by a person": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
			override(r, ids[0], term.Usable)
		}, term.Road, "usable", ""},
		"the safety set can't be judged more kindly": {func(r *record.Record, ids []record.ID) {
			finding(r, ids[0], "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
			override(r, ids[0], term.Usable)
		}, term.Yard, "condemned", ""},
	} {
		t.Run(name, func(t *testing.T) {
			r, ids := core(4)
			c.change(r, ids)
			p := part(t, judge(t, r, c.duty), ids[0])
			if p.Grade != c.want {
				t.Errorf("grade is %q, want %q (%s)", p.Grade, c.want, p.Why)
			}
			if c.want != "sound" && p.Why == "" && c.want != "sound, for B" {
				t.Errorf("the grade %q is not explained", p.Grade)
			}
			steps := ""
			for _, s := range p.Inspect {
				steps += s.Text + "\n"
			}
			if c.step == "" && steps != "" || !strings.Contains(steps, c.step) {
				t.Errorf("to be inspected is %q, want %q in it", steps, c.step)
			}
		})
	}
}

// steps are all that is to be inspected of a part, as one text.
func steps(p *assess.Part) string {
	text := ""
	for _, s := range p.Inspect {
		text += string(s.Work) + ": " + s.Text + "\n"
	}
	return text
}

func reading(r *record.Record, part record.ID, value, plusMinus string) {
	r.Readings = map[record.ID]record.Reading{record.NewID(): {Part: part, Surface: "s2", Dimension: "width", Unit: "mm",
		Values: []record.Value{{Text: "19.99"}, {Text: value}}, Instrument: record.Instrument{Name: "micrometer", Error: plusMinus}}}
}

func override(r *record.Record, part record.ID, v term.Verdict) {
	r.Overrides = map[record.ID]record.Override{record.NewID(): {Part: part, Verdict: v, Reason: "I know it", By: "Edda"}}
}

// Whatever the safety set condemns stays at least as hard as it was.
func TestAnOverrideNeverLoosensTheSafetySet(t *testing.T) {
	for _, v := range term.Verdicts {
		for _, surface := range []string{"", "s1", "s5"} {
			r, ids := core(4)
			finding(r, ids[0], "s1", term.Crack, term.Present, term.StressedZone, term.Penetrant)
			override(r, ids[0], v)
			for id, o := range r.Overrides {
				o.Surface = surface
				r.Overrides[id] = o
			}
			for _, duty := range term.Duties {
				if p := part(t, judge(t, r, duty), ids[0]); p.Verdict != term.Condemned {
					t.Errorf("cracked, with %q overridden as %v, at %s duty: %v", surface, v, duty, p.Verdict)
				}
			}
		}
	}
}

func TestAnOverrideOfASurfaceSpeaksOfThatSurface(t *testing.T) {
	r, ids := core(4)
	finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	override(r, ids[0], term.Sound)
	at := func(surface string) *assess.Part {
		for id, o := range r.Overrides {
			o.Surface = surface
			r.Overrides[id] = o
		}
		return part(t, judge(t, r, term.Road), ids[0])
	}
	if p := at("s5"); p.Verdict != term.Condemned || len(p.Actions) == 0 {
		t.Errorf("an override of another surface makes the part %v (%v)", p.Verdict, p.Actions)
	}
	p := at("s1")
	if p.Verdict != term.Sound || p.Computed != term.Condemned || len(p.Actions) != 0 {
		t.Errorf("overridden, the part is %v, computed %v, to do %v", p.Verdict, p.Computed, p.Actions)
	}
	s, _ := p.Surface("s1")
	if !strings.Contains(s.Reasons[0].Text, "Edda judges it sound") || !strings.Contains(s.Reasons[0].Text, "By the rules alone it is condemned") {
		t.Errorf("the surface says first %q, want both verdicts", s.Reasons[0].Text)
	}
}

func TestAnOverriddenPartHasNothingToDo(t *testing.T) {
	r, ids := core(4)
	finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	override(r, ids[0], term.Usable)
	if p := part(t, judge(t, r, term.Road), ids[0]); len(p.Actions) != 0 || p.Computed != term.Condemned {
		t.Errorf("computed %v, to do %v", p.Computed, p.Actions)
	}
}

func TestADamagedSurfaceAsksForItsMate(t *testing.T) {
	r, ids := core(4)
	delete(r.Parts[ids[1]].Surfaces, "s0")
	finding(r, ids[0], "s0", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	mate := part(t, judge(t, r, term.Road), ids[1])
	if mate.Verdict != term.Undecided || !strings.Contains(steps(mate), "pits may have printed") {
		t.Errorf("the mate is %v with %v", mate.Verdict, mate.Inspect)
	}
	r.Parts[ids[1]].Surfaces["s0"] = record.Looked{Eye: true, Touch: true, Clean: true}
	mate = part(t, judge(t, r, term.Road), ids[1])
	s, _ := mate.Surface("s0")
	notes := strings.Join(s.Notes, "\n")
	if mate.Verdict != term.Sound || !strings.Contains(notes, "is damaged: pits may have printed") || !strings.Contains(notes, "passed to run with a new one") {
		t.Errorf("a clean mate is %v with the notes %q; want sound, with both facts said", mate.Verdict, notes)
	}
	if third := part(t, judge(t, r, term.Road), ids[2]); third.Verdict != term.Sound {
		t.Errorf("doubt spread to a part that is no mate: %v", third.Verdict)
	}
}

func TestBrokenMetalDoubtsAllThatCarriedTheTorque(t *testing.T) {
	r, ids := core(4)
	finding(r, ids[0], "s0", term.MissingMetal, term.Present, term.WorkingFace, term.ByEye)
	if other := part(t, judge(t, r, term.Road), ids[2]); other.Verdict != term.Undecided {
		t.Errorf("on the road an untested torque carrier is %v", other.Verdict)
	}
	if other := part(t, judge(t, r, term.Yard), ids[2]); other.Verdict != term.Sound {
		t.Errorf("in the yard it is %v", other.Verdict)
	}
	finding(r, ids[2], "s5", term.Crack, term.NotFound, term.StressedZone, term.Penetrant)
	if other := part(t, judge(t, r, term.Road), ids[2]); other.Verdict != term.Sound {
		t.Errorf("crack-tested it is %v", other.Verdict)
	}
}

func TestOutcomeOfACore(t *testing.T) {
	for name, c := range map[string]struct {
		condemn, open []int
		want          assess.Outcome
	}{
		"all sound":                  {nil, nil, assess.WorthRebuilding},
		"a little condemned":         {[]int{1, 2}, nil, assess.WorthRebuilding},
		"the heart condemned":        {[]int{0}, nil, assess.Donor},
		"more than half condemned":   {[]int{1, 2, 3, 4, 5}, nil, assess.Donor},
		"nearly all condemned":       {[]int{0, 1, 2, 3, 4, 5, 6, 7}, nil, assess.Scrap},
		"the heart not looked at":    {nil, []int{0}, assess.NotDecided},
		"too much not looked at":     {nil, []int{1, 2, 3, 4, 5}, assess.NotDecided},
		"donor or scrap not decided": {[]int{0, 1, 2, 3, 4, 5, 6}, []int{7, 8, 9}, assess.NotDecided},
	} {
		t.Run(name, func(t *testing.T) {
			r, ids := core(10)
			for _, i := range c.condemn {
				finding(r, ids[i], "s0", term.Crack, term.Present, term.WorkingFace, term.Penetrant)
			}
			for _, i := range c.open {
				clear(r.Parts[ids[i]].Surfaces)
			}
			a := judge(t, r, term.Road)
			if a.Outcome != c.want || len(a.Why) == 0 {
				t.Errorf("outcome is %q (%s), want %q", a.Outcome, a.Why, c.want)
			}
		})
	}
}

// anyCore draws a core with any findings, looked at or not.
func anyCore(t *rapid.T) (*record.Record, []record.ID) {
	r, ids := core(4)
	for i := range rapid.IntRange(0, 6).Draw(t, "not looked at") {
		delete(r.Parts[ids[i%4]].Surfaces, "s"+string(rune('0'+rapid.IntRange(0, 7).Draw(t, "surface"))))
	}
	for range rapid.IntRange(0, 5).Draw(t, "findings") {
		draw(t, r, ids)
	}
	return r, ids
}

func draw(t *rapid.T, r *record.Record, ids []record.ID) record.ID {
	d := rapid.SampledFrom(term.Damages).Draw(t, "damage")
	return finding(r, rapid.SampledFrom(ids).Draw(t, "part"), "s"+string(rune('0'+rapid.IntRange(0, 7).Draw(t, "surface"))), d,
		rapid.SampledFrom(d.Scale().Severities()).Draw(t, "severity"), rapid.SampledFrom(term.Zones).Draw(t, "zone"),
		rapid.SampledFrom(term.Methods).Draw(t, "method"))
}

func TestWhatAlwaysHolds(t *testing.T) {
	set := small(t, 4)
	rapid.Check(t, func(t *rapid.T) {
		r, ids := anyCore(t)
		duty := rapid.SampledFrom(term.Duties).Draw(t, "duty")
		a := assess.Assess(assess.Case{Record: r}, set, duty)
		for _, p := range a.Parts {
			for _, s := range p.Surfaces {
				looked := r.Parts[p.ID].Surfaces[s.ID]
				if s.Verdict == term.Sound && !(looked.Eye && looked.Touch && looked.Clean) {
					t.Fatalf("%s of %s is sound and nobody looked at it", s.ID, p.Name)
				}
				if len(s.Reasons) == 0 || slices.ContainsFunc(s.Reasons, func(x assess.Reason) bool { return x.Text == "" || x.Source == "" }) {
					t.Fatalf("%s of %s has a verdict without reason and source", s.ID, p.Name)
				}
				if s.Verdict.Worse(p.Verdict) {
					t.Fatalf("%s is %v and its part %v", s.ID, s.Verdict, p.Verdict)
				}
			}
		}
		d := rapid.SampledFrom(term.Damages).Draw(t, "one more")
		worse := d.Scale().Severities()[2]
		finding(r, ids[0], "s1", d, worse, term.WorkingFace, term.ByEye)
		b := assess.Assess(assess.Case{Record: r}, set, duty)
		for i := range a.Parts {
			if a.Parts[i].Verdict.Worse(b.Parts[i].Verdict) {
				t.Fatalf("one more %s made %s better: %v, then %v", d, a.Parts[i].Name, a.Parts[i].Verdict, b.Parts[i].Verdict)
			}
		}
	})
}

func TestTheRecordIsLeftAsItWas(t *testing.T) {
	r, ids := core(4)
	finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	before, err := r.Marshal()
	if err != nil {
		t.Fatal(err)
	}
	judge(t, r, term.Road)
	after, err := r.Marshal()
	if err != nil || string(before) != string(after) {
		t.Errorf("the assessment changed the record (%v)", err)
	}
}

func TestAnUnknownUnitKindOrSurfaceIsUndecidedAndSaysSo(t *testing.T) {
	r, ids := core(2)
	r.Unit.Type = "unheard-of"
	strange := record.NewID()
	r.Parts = maps.Clone(r.Parts)
	r.Parts[strange] = record.Part{Kind: "flux-ring", State: term.InHand}
	finding(r, ids[0], "underside", term.RustPits, term.Seen, term.WorkingFace, term.ByEye)
	a := judge(t, r, term.Road)
	if a.Outcome != assess.NotDecided || !strings.Contains(a.Why[0], "unheard-of") {
		t.Errorf("outcome %q, %q", a.Outcome, a.Why)
	}
	for _, id := range []record.ID{strange, ids[0]} {
		if p := part(t, a, id); p.Verdict != term.Undecided || len(p.Inspect) == 0 {
			t.Errorf("%s is %v, %v", p.Name, p.Verdict, p.Inspect)
		}
	}
}

func TestWhatWouldTurnAVerdict(t *testing.T) {
	for name, c := range map[string]struct {
		findings []term.Severity
		want     string
	}{
		"a step milder":             {[]term.Severity{term.Felt}, "It would be usable if the rust pits could be seen and not felt."},
		"a step milder is no help":  {[]term.Severity{term.Deep}, "It would be sound without finding 1."},
		"two decide alike":          {[]term.Severity{term.Felt, term.Felt}, ""},
		"the mildest gone":          {[]term.Severity{term.Seen}, "It would be sound without finding 1."},
		"nothing to turn":           {nil, ""},
		"the rest still holds back": {[]term.Severity{term.Deep, term.Seen}, "It would be usable without finding 1."},
	} {
		t.Run(name, func(t *testing.T) {
			r, ids := core(2)
			for _, s := range c.findings {
				finding(r, ids[0], "s1", term.RustPits, s, term.WorkingFace, term.Touch)
			}
			s, _ := part(t, judge(t, r, term.Road), ids[0]).Surface("s1")
			if s.WhatIf != c.want {
				t.Errorf("got %q, want %q", s.WhatIf, c.want)
			}
		})
	}
}
