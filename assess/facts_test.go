package assess_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/assets"

	"os"
)

// fact is one judgement that an experienced rebuilder comes to. All are common
// practice, without a published source.
type fact struct {
	Says  string `toml:"says"`
	Place string `toml:"place"`
	// Kind puts a part of a kind that the gearbox has no place for beside it.
	Kind string `toml:"kind"`
	// Found are findings as "surface damage severity zone method", with "share=12"
	// behind where the share was judged. Mate are the same on another place, which
	// comes first: "ring-4 cone wiped-crests felt working-face touch".
	Found []string `toml:"found"`
	Mate  []string `toml:"mate"`
	// Open lists surfaces that nobody looked at, Dirty those that were not clean,
	// Eye those that were looked at and not felt. MateOpen is "place.surface".
	Open     []string `toml:"open"`
	Dirty    []string `toml:"dirty"`
	Eye      []string `toml:"eye"`
	MateOpen []string `toml:"mate_open"`
	// Fit is "pair outcome otherplace", with "unworn" behind for an unworn partner.
	Fit []string `toml:"fit"`
	// Read is "surface dimension nominal discard unit error values…", all lengths in
	// the unit.
	Read []string `toml:"read"`
	// Variant is the part's, the unit being of the variant A; State the part's state.
	Variant string         `toml:"variant"`
	State   term.PartState `toml:"state"`
	Hold    string         `toml:"hold"`
	// Override is "verdict" of a person for the whole part.
	Override string `toml:"override"`
	// Yard, Road and Hard are the verdicts of the whole part; one that is left out
	// is the same as Road.
	Yard string `toml:"yard"`
	Road string `toml:"road"`
	Hard string `toml:"hard"`
	// Grade is the headline for road duty, where it matters.
	Grade string `toml:"grade"`
	// Because is a part of a reason, note or step that must be given.
	Because string `toml:"because"`
	// Do is a remedy that must be named, With what goes together with it.
	Do   string   `toml:"do"`
	With []string `toml:"with"`
	// Other is what must be said of another part: "place: words", its verdict being
	// one of the words.
	Other []string `toml:"other"`
}

func facts(t *testing.T) []fact {
	t.Helper()
	var file struct {
		Fact []fact `toml:"fact"`
	}
	b, err := os.ReadFile("../testdata/facts.toml")
	if err == nil {
		err = toml.NewDecoder(strings.NewReader(string(b))).DisallowUnknownFields().Decode(&file)
	}
	if err != nil {
		t.Fatal(err)
	}
	if len(file.Fact) < 40 {
		t.Fatalf("only %d facts of the trade are held against the rules", len(file.Fact))
	}
	for _, f := range file.Fact {
		if f.Because == "" && f.Road != "sound" {
			t.Errorf("%s: no reason is expected", f.Says)
		}
	}
	return file.Fact
}

// bench is a generic gearbox of which every surface was clean, looked at and felt.
type workbench struct {
	record *record.Record
	at     map[string]record.ID
}

func laidOut(t testing.TB, specs *spec.Set) *workbench {
	t.Helper()
	unit, ok := specs.Unit("four-speed")
	if !ok {
		t.Fatal("there is no generic unit")
	}
	w := &workbench{record: record.New(record.Unit{Type: unit.ID}, term.Road), at: map[string]record.ID{}}
	w.record.Parts = map[record.ID]record.Part{}
	for _, place := range unit.Places {
		p := record.Part{Kind: place.Kind, Place: place.ID, State: term.InHand, Surfaces: map[string]record.Looked{}}
		kind, _ := specs.Kind(place.Kind)
		for _, s := range kind.Surfaces {
			p.Surfaces[s.ID] = record.Looked{Eye: true, Touch: true, Clean: true}
		}
		id := record.NewID()
		w.record.Parts[id], w.at[place.ID] = p, id
	}
	return w
}

func (w *workbench) found(t *testing.T, place, text string) {
	t.Helper()
	words := strings.Fields(text)
	if len(words) < 5 {
		t.Fatalf("%q is no finding", text)
	}
	id := finding(w.record, w.at[place], words[0], term.Damage(words[1]), term.Severity(words[2]), term.Zone(words[3]), term.Method(words[4]))
	f := w.record.Findings[id]
	for _, more := range words[5:] {
		if share, ok := strings.CutPrefix(more, "share="); ok {
			f.Share = share
		}
	}
	w.record.Findings[id] = f
}

func (w *workbench) apply(t *testing.T, specs *spec.Set, f *fact) {
	t.Helper()
	if f.Kind != "" {
		f.Place = f.Kind
		p := record.Part{Kind: f.Kind, State: term.InHand, Surfaces: map[string]record.Looked{}}
		kind, ok := specs.Kind(f.Kind)
		if !ok {
			t.Fatalf("there is no kind %q", f.Kind)
		}
		for _, s := range kind.Surfaces {
			p.Surfaces[s.ID] = record.Looked{Eye: true, Touch: true, Clean: true}
		}
		id := record.NewID()
		w.record.Parts[id], w.at[f.Kind] = p, id
	}
	id, ok := w.at[f.Place]
	if !ok {
		t.Fatalf("there is no place %q", f.Place)
	}
	p := w.record.Parts[id]
	p.Variant, p.State = f.Variant, cmp.Or(f.State, term.InHand)
	w.record.Parts[id] = p
	w.record.Hold = f.Hold
	if f.Variant != "" {
		w.record.Unit.Variant = "A"
	}
	for _, s := range f.Open {
		delete(p.Surfaces, s)
	}
	for _, s := range f.Dirty {
		p.Surfaces[s] = record.Looked{Eye: true, Touch: true}
	}
	for _, s := range f.Eye {
		p.Surfaces[s] = record.Looked{Eye: true, Clean: true}
	}
	for _, name := range f.MateOpen {
		place, s, _ := strings.Cut(name, ".")
		delete(w.record.Parts[w.at[place]].Surfaces, s)
	}
	for _, text := range f.Found {
		w.found(t, f.Place, text)
	}
	for _, text := range f.Mate {
		place, rest, _ := strings.Cut(text, " ")
		w.found(t, place, rest)
	}
	w.record.TrialFits = map[record.ID]record.TrialFit{}
	for _, text := range f.Fit {
		words := strings.Fields(text)
		fit := record.TrialFit{Pair: words[0], Outcome: words[1],
			A: record.PartOf{Record: w.record.ID, Part: id}, B: record.PartOf{Record: w.record.ID, Part: w.at[words[2]]}}
		if slices.Contains(words, "unworn") {
			fit.Unworn, fit.B = "b", record.PartOf{}
		}
		w.record.TrialFits[record.NewID()] = fit
	}
	for _, text := range f.Read {
		w.read(t, id, text)
	}
	if f.Override != "" {
		var v term.Verdict
		if err := v.UnmarshalText([]byte(f.Override)); err != nil {
			t.Fatal(err)
		}
		override(w.record, id, v)
	}
	if problems := w.record.Check(); len(problems) > 0 {
		t.Fatal(problems)
	}
}

// read takes a reading against a limit that was typed in out of a manual.
func (w *workbench) read(t *testing.T, id record.ID, text string) {
	t.Helper()
	words := strings.Fields(text)
	if len(words) < 7 {
		t.Fatalf("%q is no reading", text)
	}
	surface, dimension, unit := words[0], words[1], words[4]
	m := record.Reading{Part: id, Surface: surface, Dimension: dimension, Unit: unit, Soaked: true, PartTemperature: "20",
		Instrument: record.Instrument{Name: "micrometer", Error: words[5] + " " + unit, Resolution: words[5] + " " + unit}}
	for i, v := range words[6:] {
		m.Values = append(m.Values, record.Value{Text: v, Position: itoa(i + 1)})
	}
	w.record.Readings = map[record.ID]record.Reading{record.NewID(): m}
	w.record.Limits = map[record.ID]record.Limit{record.NewID(): {Part: id, Surface: surface, Dimension: dimension,
		Nominal: words[2] + " " + unit, Discard: words[3] + " " + unit, Manual: "workshop manual", Page: "31", By: "Edda Quillan"}}
}

func itoa(n int) string { return string(rune('0' + n)) }

// said is all that the assessment says of a part, for a person to read.
func said(p *assess.Part) string {
	lines := []string{p.Grade, p.Why}
	for _, r := range p.Reasons {
		lines = append(lines, r.Text, r.IfLeft)
	}
	for _, s := range p.Surfaces {
		for _, r := range s.Reasons {
			if r.Of != "" || r.Verdicts.For(term.Road) != term.Sound {
				lines = append(lines, s.Name+": "+r.Text, r.IfLeft)
			}
		}
		lines = append(lines, s.Notes...)
		lines = append(lines, s.WhatIf)
	}
	for _, s := range p.Inspect {
		lines = append(lines, "to be inspected: "+s.Text)
	}
	for _, a := range p.Actions {
		lines = append(lines, "do: "+string(a.Do)+" "+strings.Join(a.With, ", "))
	}
	return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n")
}

// ownSpecs are the program's own specs.
func ownSpecs(t testing.TB) *spec.Set {
	t.Helper()
	specs, problems, err := spec.Load(assets.Specs(), nil)
	if err != nil {
		t.Fatal(err, problems)
	}
	return specs
}

func TestFactsOfTheTrade(t *testing.T) {
	specs := ownSpecs(t)
	kinds := map[string]bool{}
	for _, f := range facts(t) {
		t.Run(f.Says, func(t *testing.T) {
			w := laidOut(t, specs)
			w.apply(t, specs, &f)
			want := map[term.Duty]string{term.Yard: f.Yard, term.Road: f.Road, term.HardDuty: f.Hard}
			for _, duty := range term.Duties {
				a := assess.Assess(assess.Case{Record: w.record}, specs, duty)
				p := part(t, a, w.at[f.Place])
				kinds[p.Kind] = true
				if wanted := cmp.Or(want[duty], f.Road); p.Verdict.String() != wanted {
					t.Errorf("for %s duty it is %s, an old hand says %s:\n%s", duty, p.Verdict, wanted, said(p))
				}
				if duty == term.Road {
					w.heard(t, a, &f)
				}
			}
		})
	}
	for _, k := range specs.Kinds() {
		if !k.Consumable && !kinds[k.ID] {
			t.Errorf("no fact of the trade speaks of the kind %q", k.ID)
		}
	}
}

// heard checks what must be said for road duty.
func (w *workbench) heard(t *testing.T, a *assess.Assessment, f *fact) {
	t.Helper()
	p := part(t, a, w.at[f.Place])
	has := func(p *assess.Part, words string) bool {
		return strings.Contains(strings.ToLower(said(p)), strings.ToLower(words))
	}
	if !has(p, f.Because) {
		t.Errorf("nothing is said of %q:\n%s", f.Because, said(p))
	}
	if f.Grade != "" && p.Grade != f.Grade {
		t.Errorf("the headline is %q, want %q", p.Grade, f.Grade)
	}
	var with []string
	does := f.Do == ""
	for _, x := range p.Actions {
		does = does || string(x.Do) == f.Do
		with = append(with, x.With...)
	}
	if !does {
		t.Errorf("the remedy %s is not named:\n%s", f.Do, said(p))
	}
	for _, name := range f.With {
		if !slices.Contains(with, name) {
			t.Errorf("%q does not go with it; %q does", name, with)
		}
	}
	for _, text := range f.Other {
		place, words, _ := strings.Cut(text, ": ")
		other := part(t, a, w.at[place])
		if !has(other, words) && other.Verdict.String() != words {
			t.Errorf("of the %s nothing is said of %q:\n%s %s", place, words, other.Verdict, said(other))
		}
	}
}
