package assess_test

import (
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// dial is an indicator of the usual kind with all its numbers.
var dial = record.Instrument{Kind: "dial-indicator", Name: "dial indicator", Serial: "17", Resolution: "0.01 mm", Error: "0.015 mm", Repeatability: "0.003 mm"}

// rock is one of 0.10 mm at the nose for each 0.40 mm at the indicator, out of a manual.
func rock(moved string) record.Working {
	return record.Working{What: "rock", Surface: "pilot", Unit: "mm", Instrument: dial, Manual: "workshop manual", Page: "31", By: "Edda Quillan",
		Entries: map[string]string{"rock": moved, "at": "200", "arm": "50", "rock-limit": "0.10"}}
}

// workedOut lays a unit out with every surface of the input shaft inspected, keeps the
// workings with it and assesses it.
func workedOut(t *testing.T, claim string, rule gauge.Rule, all ...record.Working) (*assess.Part, *assess.Assessment) {
	t.Helper()
	w := laidOut(t, ownSpecs(t))
	id := w.at["input-shaft"]
	w.record.Owner.Claim = claim
	w.record.Workings = map[record.ID]record.Working{}
	for _, one := range all {
		one.Part = id
		w.record.Workings[record.NewID()] = one
	}
	a := assess.Assess(assess.Case{Record: w.record, Rule: rule}, ownSpecs(t), term.Road)
	part, ok := a.Part(id)
	if !ok {
		t.Fatal("there is no input shaft")
	}
	quick := assess.Verdicts(assess.Case{Record: w.record, Rule: rule}, ownSpecs(t))
	if quick[id] != part.Verdicts {
		t.Errorf("by verdicts alone it is %v, else %v", quick[id], part.Verdicts)
	}
	return part, a
}

func TestAWorkingIsHeldToItsLimitAsAReadingIs(t *testing.T) {
	with := func(w record.Working, change func(*record.Working)) record.Working { change(&w); return w }
	overdue := func(w *record.Working) {
		w.Instrument.Calibrated, w.At = "2024-05-12", record.Stamp{UTC: "2026-05-12T08:00:00Z", Zone: "+01:00"}
	}
	for name, c := range map[string]struct {
		working  record.Working
		claim    string
		rule     gauge.Rule
		want     term.Verdict
		says, to string
	}{
		"within":                       {working: rock("0.20"), want: term.Sound, says: "limit 0.100 mm: within it"},
		"past it":                      {working: rock("0.60"), want: term.Condemned, says: "Diametral clearance by rock 0.150 mm"},
		"on it":                        {working: rock("0.40"), want: term.Undecided, says: "cannot be decided with this instrument", to: "Measure the diametral clearance by rock with"},
		"no manual, past it":           {working: with(rock("0.60"), func(w *record.Working) { w.Manual = "" }), want: term.Undecided, says: "The limit has no source", to: "Name the manual and the page"},
		"no manual, within":            {working: with(rock("0.20"), func(w *record.Working) { w.Manual = "" }), want: term.Undecided, says: "The limit has no source", to: "Name the manual and the page"},
		"no instrument":                {working: with(rock("0.60"), func(w *record.Working) { w.Instrument = record.Instrument{} }), want: term.Undecided, says: "Nobody said with what", to: "Say with what"},
		"overdue":                      {working: with(rock("0.60"), overdue), want: term.Condemned, says: "calibration was overdue on that day (since 2025-05-12)"},
		"overdue in a warranty record": {working: with(rock("0.60"), overdue), claim: "W 17", want: term.Undecided, says: "calibration was overdue", to: "instrument whose calibration holds"},
		"no limit":                     {working: with(rock("0.60"), func(w *record.Working) { w.Entries = map[string]string{"rock": "0.60", "at": "200", "arm": "50"} }), want: term.Sound},
		"of the part as a whole":       {working: with(rock("0.60"), func(w *record.Working) { w.Surface = "" }), want: term.Condemned, says: "worn past it"},
		"of a surface of no spec":      {working: with(rock("0.60"), func(w *record.Working) { w.Surface = "elsewhere" }), want: term.Condemned, says: "worn past it"},
		"a limit and something missing": {working: with(rock("0.60"), func(w *record.Working) { w.Entries = map[string]string{"rock": "0.60", "rock-limit": "0.1"} }),
			want: term.Undecided, says: "still to be written", to: "Correct it: rock of a shaft."},
		"a limit and something wrong": {working: with(rock("0.60"), func(w *record.Working) { w.Entries["at"] = "far" }), want: term.Undecided, says: "is not a length", to: "Correct it"},
		"withdrawn":                   {working: with(rock("0.60"), func(w *record.Working) { w.Withdrawn = "Edda: another shaft" }), want: term.Sound},
		"unknown here":                {working: with(rock("0.60"), func(w *record.Working) { w.What = "hoop-stress" }), want: term.Sound},
		"ring gap": {working: record.Working{What: "ring-gap", Unit: "mm", Instrument: record.Instrument{Kind: "feeler-gauge"}, Manual: "workshop manual",
			Entries: map[string]string{"gaps": "0.95-1.00 0.70-0.75 0.95-1.00", "gap-least": "0.80"}}, want: term.Condemned, says: "between 0.700 mm and 0.750 mm"},
		"thinned by the maker": {working: record.Working{What: "pins", Unit: "mm", Instrument: record.Instrument{Kind: "pins"}, Manual: "workshop manual",
			Entries: map[string]string{"module": "2", "teeth": "20", "pin": "3.5", "over-pins": "44.60", "loss-limit": "0.05"}},
			want: term.Undecided, says: "That proves nothing yet", to: "Measure an unworn one in the same way."},
		"run-out": {working: record.Working{What: "run-out", Unit: "in", Instrument: dial, Manual: "workshop manual",
			Entries: map[string]string{"lowest": "0", "highest": ".006", "run-out-limit": ".002"}}, want: term.Condemned, says: "limit 0.0020 in: worn past it"},
		"backlash": {working: record.Working{What: "backlash", Unit: "mm", Instrument: dial, Manual: "workshop manual",
			Entries: map[string]string{"module": "2.5", "teeth": "25", "moved": "0.60", "touches": "31.25", "backlash-limit": "0.40"}},
			want: term.Condemned, says: "limit 0.40 mm: worn past it"},
		"undecided by the older rule only": {working: rock("0.380"), want: term.Sound},
		"the same by the older rule":       {working: rock("0.380"), rule: gauge.ByU, want: term.Undecided, says: "cannot be decided"},
	} {
		t.Run(name, func(t *testing.T) {
			part, _ := workedOut(t, c.claim, c.rule, c.working)
			if part.Verdict != c.want {
				t.Errorf("the part is %s, want %s: %s", part.Verdict, c.want, part.Why)
			}
			said, to := reasonsOf(part), ""
			for _, step := range part.Inspect {
				to += step.Text + " "
			}
			if !strings.Contains(said, c.says) || !strings.Contains(to, c.to) {
				t.Errorf("it says %q and asks %q, want %q and %q", said, to, c.says, c.to)
			}
			if told := len(part.Workings); (c.working.Withdrawn == "") != (told == 1) {
				t.Fatalf("%d workings are told", told)
			}
			if c.want == term.Condemned && !strings.Contains(part.Workings[0].Decided, "past it") {
				t.Errorf("it is decided as %q", part.Workings[0].Decided)
			}
		})
	}
}

func reasonsOf(part *assess.Part) string {
	said := ""
	for _, r := range part.Reasons {
		said += r.Text + " "
	}
	for _, s := range part.Surfaces {
		for _, r := range s.Reasons {
			said += r.Text + " "
		}
		said += strings.Join(s.Notes, " ")
	}
	return said
}

// A band is set at assembly: outside it no part is worn, and the shim is named.
func TestABandNeverCondemns(t *testing.T) {
	float := record.Working{What: "shims", Surface: "pilot", Unit: "mm", Instrument: dial, Manual: "workshop manual", Page: "40", By: "Edda Quillan",
		Entries: map[string]string{"one-end": "0.05", "other-end": "0.65", "sizes": "0.40 0.50", "float-from": "0.05", "float-to": "0.15"}}
	torque := record.Working{What: "turning-torque", Unit: "mm", Entries: map[string]string{"force": "60", "radius": "50", "torque-to": "0.5"}}
	part, _ := workedOut(t, "", gauge.By95, float, torque)
	if part.Verdict != term.Sound || len(part.Workings) != 2 {
		t.Fatalf("the part is %s with %d workings: %s", part.Verdict, len(part.Workings), part.Why)
	}
	x := part.Workings[0]
	if !strings.HasPrefix(x.Set, "fit a shim of 0.50 mm: 0.10 mm ±") || !strings.Contains(x.Decided, "outside its band, from 0.05 mm to 0.15 mm") {
		t.Errorf("it is %q, to be set is %q", x.Decided, x.Set)
	}
	if want := "workshop manual, p. 40 (typed in by Edda Quillan)"; x.Source != want {
		t.Errorf("the band comes from %q, want %q", x.Source, want)
	}
	if x.Measurement == nil || x.Measurement.HasLimit || x.Measurement.Says() != "0.60 mm ± 0.021 mm" {
		t.Errorf("the float has a limit: %v; it is %s", x.Measurement.HasLimit, x.Measurement.Says())
	}
	if got := part.Workings[1].Set; !strings.HasPrefix(got, "set the preload") {
		t.Errorf("of the torque is to be set %q", got)
	}
}

// Within a limit loosens nothing: what waits for a reading still waits, and what is
// found stays found.
func TestWithinLoosensNothing(t *testing.T) {
	w := laidOut(t, ownSpecs(t))
	id := w.at["input-shaft"]
	unseen := w.record.Parts[id]
	unseen.Surfaces = nil
	w.record.Parts[id] = unseen
	before, _ := assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road).Part(id)
	one := rock("0.10")
	one.Part = id
	w.record.Workings = map[record.ID]record.Working{record.NewID(): one}
	after, _ := assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road).Part(id)
	if after.Verdicts != before.Verdicts || before.Verdict != term.Undecided {
		t.Errorf("a shaft at which nobody looked is %v, and %v before", after.Verdicts, before.Verdicts)
	}
}

// What a finer instrument would make of it is said, as of a reading.
func TestAFinerInstrumentIsOffered(t *testing.T) {
	part, _ := workedOut(t, "", gauge.By95, rock("0.41"))
	s, ok := part.Surface("pilot")
	if !ok || !strings.Contains(s.WhatIf, "if a finer instrument read the same") {
		t.Errorf("it says %q", s.WhatIf)
	}
}

// A working of a newer program stands as it was typed.
func TestAnUnknownWorkingStandsAsTyped(t *testing.T) {
	part, _ := workedOut(t, "", gauge.By95, record.Working{What: "hoop-stress", Surface: "pilot", Unit: "in", Entries: map[string]string{"wall-left": "4,5", "at": "x"}})
	x := part.Workings[0]
	if x.Name != "Hoop stress" || x.Lines[0] != "at x (lengths in in), wall left 4,5 (lengths in in)" || len(x.Notes) != 1 {
		t.Errorf("it is told as %+v", x)
	}
}
