package assess_test

import (
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
	// Found are findings as "surface damage severity zone method", with "share=12"
	// behind where the share was judged. Mate are the same on another place, which
	// comes first: "ring-4 cone wiped-crests felt working-face touch".
	Found []string `toml:"found"`
	Mate  []string `toml:"mate"`
	// Open lists surfaces that nobody looked at, Dirty those that were not clean,
	// Eye those that were looked at and not felt.
	Open  []string `toml:"open"`
	Dirty []string `toml:"dirty"`
	Eye   []string `toml:"eye"`
	// Fit is "pair outcome otherplace", with "unworn" behind for an unworn partner.
	Fit []string `toml:"fit"`
	// Yard, Road and Hard are the verdicts of the whole part; one that is left out
	// is the same as Road.
	Yard string `toml:"yard"`
	Road string `toml:"road"`
	Hard string `toml:"hard"`
	// Because is a part of a reason, note or step that must be given; Not must not.
	Because string `toml:"because"`
	Do      string `toml:"do"`
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
	return file.Fact
}

// bench is a generic gearbox of which every surface was clean, looked at and felt.
type workbench struct {
	record *record.Record
	at     map[string]record.ID
}

func laidOut(t *testing.T, specs *spec.Set) *workbench {
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

func (w *workbench) apply(t *testing.T, f fact) {
	t.Helper()
	id, ok := w.at[f.Place]
	if !ok {
		t.Fatalf("there is no place %q", f.Place)
	}
	surfaces := w.record.Parts[id].Surfaces
	for _, s := range f.Open {
		delete(surfaces, s)
	}
	for _, s := range f.Dirty {
		surfaces[s] = record.Looked{Eye: true, Touch: true}
	}
	for _, s := range f.Eye {
		surfaces[s] = record.Looked{Eye: true, Clean: true}
	}
	for _, text := range f.Found {
		w.found(t, f.Place, text)
	}
	for _, text := range f.Mate {
		place, rest, _ := strings.Cut(text, " ")
		w.found(t, place, rest)
	}
	for _, text := range f.Fit {
		words := strings.Fields(text)
		fit := record.TrialFit{Pair: words[0], Outcome: words[1],
			A: record.PartOf{Record: w.record.ID, Part: id}, B: record.PartOf{Record: w.record.ID, Part: w.at[words[2]]}}
		if slices.Contains(words, "unworn") {
			fit.Unworn = "b"
		}
		w.record.TrialFits = map[record.ID]record.TrialFit{record.NewID(): fit}
	}
	if problems := w.record.Check(); len(problems) > 0 {
		t.Fatal(problems)
	}
}

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
			w.apply(t, f)
			want := map[term.Duty]string{term.Yard: f.Yard, term.Road: f.Road, term.HardDuty: f.Hard}
			for _, duty := range term.Duties {
				a := assess.Assess(assess.Case{Record: w.record}, specs, duty)
				p := part(t, a, w.at[f.Place])
				kinds[p.Kind] = true
				wanted := want[duty]
				if wanted == "" {
					wanted = f.Road
				}
				if p.Verdict.String() != wanted {
					t.Errorf("for %s duty it is %s, an old hand says %s:\n%s", duty, p.Verdict, wanted, said(p))
				}
				if duty == term.Road && !strings.Contains(strings.ToLower(said(p)), strings.ToLower(f.Because)) {
					t.Errorf("nothing is said of %q:\n%s", f.Because, said(p))
				}
				if duty == term.Road && f.Do != "" && !slices.ContainsFunc(p.Actions, func(x assess.Action) bool { return string(x.Do) == f.Do }) {
					t.Errorf("the remedy %s is not named:\n%s", f.Do, said(p))
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
