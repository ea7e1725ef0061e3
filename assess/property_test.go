package assess_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// bench draws records of the generic gearbox as they come about on a bench: real
// parts and surfaces, anything found on them, tried and measured.
type benchDraw struct {
	*rapid.T
	specs *spec.Set
	*workbench
	places []string
}

func drawBench(tb *testing.T, t *rapid.T, specs *spec.Set) *benchDraw {
	w := laidOut(tb, specs)
	d := &benchDraw{T: t, specs: specs, workbench: w}
	d.places = neighbours(t, specs, w)
	for range rapid.IntRange(0, 4).Draw(t, "not thorough") {
		place, surface := d.somewhere()
		if surface != "" {
			w.record.Parts[w.at[place]].Surfaces[surface] = record.Looked{
				Eye: rapid.Bool().Draw(t, "eye"), Touch: rapid.Bool().Draw(t, "touch"), Clean: rapid.Bool().Draw(t, "clean"),
			}
		}
	}
	w.record.Hold = rapid.SampledFrom([]string{"", "", "", "adjuster to view"}).Draw(t, "hold")
	for range rapid.IntRange(0, 6).Draw(t, "findings") {
		d.find(true)
	}
	w.record.TrialFits = map[record.ID]record.TrialFit{}
	for range rapid.IntRange(0, 3).Draw(t, "fits") {
		d.try()
	}
	w.record.Readings, w.record.Limits = map[record.ID]record.Reading{}, map[record.ID]record.Limit{}
	if rapid.Bool().Draw(t, "measured") {
		d.measure()
	}
	return d
}

// neighbours draws a place and up to four that run on it: what is found in so
// small a room bears on each other.
func neighbours(t *rapid.T, specs *spec.Set, w *workbench) []string {
	unit, _ := specs.Unit("four-speed")
	places := []string{rapid.SampledFrom(slices.Sorted(maps.Keys(w.at))).Draw(t, "where")}
	kind, _ := specs.Kind(w.record.Parts[w.at[places[0]]].Kind)
	for _, f := range kind.Surfaces {
		for _, end := range unit.MatesOf(places[0], f.ID) {
			if !slices.Contains(places, end.Place) && len(places) < 5 {
				places = append(places, end.Place)
			}
		}
	}
	return places
}

// somewhere draws a place and one of its surfaces, none for a consumable.
func (d *benchDraw) somewhere() (place, surface string) {
	place = rapid.SampledFrom(d.places).Draw(d.T, "place")
	kind, _ := d.specs.Kind(d.record.Parts[d.at[place]].Kind)
	if len(kind.Surfaces) > 0 {
		surface = kind.Surfaces[rapid.IntRange(0, len(kind.Surfaces)-1).Draw(d.T, "surface")].ID
	}
	return place, surface
}

// find puts a finding somewhere; of damage alone where clean tests are not wanted.
func (d *benchDraw) find(clean bool) record.ID {
	place, surface := d.somewhere()
	if surface == "" {
		place, surface = "gear-3", "flanks"
	}
	if len(d.record.Findings) > 0 && rapid.IntRange(0, 1).Draw(d.T, "again") == 0 {
		ids := slices.Sorted(maps.Keys(d.record.Findings))
		at := d.record.Findings[rapid.SampledFrom(ids).Draw(d.T, "beside")]
		place, surface = d.record.Parts[at.Part].Place, at.Surface
	}
	kind, _ := d.specs.Kind(d.record.Parts[d.at[place]].Kind)
	f, _, _ := kind.Surface(surface)
	damages := f.Damages
	if rapid.IntRange(0, 3).Draw(d.T, "rare") == 0 {
		damages = append([]term.Damage{term.Crack, term.Crack, term.Looseness, term.Softness}, term.Damages...)
	}
	damage := rapid.SampledFrom(damages).Draw(d.T, "damage")
	severities := damage.Scale().Severities()
	if !clean && severities[0] == term.NotFound {
		severities = severities[1:]
	}
	id := finding(d.record, d.at[place], surface, damage, rapid.SampledFrom(severities).Draw(d.T, "severity"),
		rapid.SampledFrom(f.Zones).Draw(d.T, "zone"), rapid.SampledFrom(term.Methods).Draw(d.T, "method"))
	one := d.record.Findings[id]
	one.Share = rapid.SampledFrom([]string{"", "", "2.5", "40"}).Draw(d.T, "share")
	one.By = rapid.SampledFrom([]string{"", "Wren"}).Draw(d.T, "by")
	d.record.Findings[id] = one
	return id
}

func (d *benchDraw) try() {
	pair := rapid.SampledFrom(d.specs.Pairs()).Draw(d.T, "pair")
	of := func(side string) record.PartOf {
		var ids []record.ID
		for _, place := range slices.Sorted(maps.Keys(d.at)) {
			if pair.Takes(side, d.record.Parts[d.at[place]].Kind) {
				ids = append(ids, d.at[place])
			}
		}
		return record.PartOf{Record: d.record.ID, Part: rapid.SampledFrom(ids).Draw(d.T, "part "+side)}
	}
	fit := record.TrialFit{Pair: pair.ID, Outcome: rapid.SampledFrom(pair.Outcomes).Draw(d.T, "outcome").ID, A: of("a"), B: of("b"),
		Unworn: rapid.SampledFrom([]string{"", "a", "b"}).Draw(d.T, "unworn")}
	if rapid.Bool().Draw(d.T, "the other way round") {
		fit.A, fit.B = fit.B, fit.A
	}
	d.record.TrialFits[record.NewID()] = fit
}

func (d *benchDraw) measure() {
	id := d.at["input-shaft"]
	m := record.Reading{Part: id, Surface: "pilot", Dimension: "diameter", Unit: "mm", Soaked: true, PartTemperature: "20",
		Instrument: record.Instrument{Name: "micrometer", Error: rapid.SampledFrom([]string{"0.002 mm", "0.02 mm"}).Draw(d.T, "error")}}
	for range rapid.IntRange(1, 3).Draw(d.T, "values") {
		m.Values = append(m.Values, record.Value{Text: fmt.Sprintf("18.4%02d", rapid.IntRange(0, 40).Draw(d.T, "value"))})
	}
	d.record.Readings[record.NewID()] = m
	d.record.Limits[record.NewID()] = record.Limit{Part: id, Surface: "pilot", Dimension: "diameter", Nominal: "18.440 mm", Discard: "18.415 mm",
		Manual: "manual", By: "Edda"}
}

// all are the verdicts of every part, for every duty, by part.
func (d *benchDraw) all() map[record.ID]assess.ByDuty {
	return assess.Verdicts(assess.Case{Record: d.record}, d.specs)
}

// kinder finds a part that is judged more kindly now than before. Undecided waits
// for a test: it may become anything, and only what was condemned may not become
// undecided.
func kinder(before, now map[record.ID]assess.ByDuty) (record.ID, bool) {
	for id, was := range before {
		for i, v := range was {
			if is := now[id][i]; v != term.Undecided && v.Worse(is) {
				return id, true
			}
		}
	}
	return "", false
}

func (d *benchDraw) name(id record.ID) string { return d.record.Parts[id].Place }

func TestAWorseSeverityIsNeverKinder(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		id := d.find(true)
		f := d.record.Findings[id]
		worse := f.Damage.Scale().Severities()[min(f.Severity.Rank(), 2)]
		before := d.all()
		f.Severity = worse
		d.record.Findings[id] = f
		if part, bad := kinder(before, d.all()); bad {
			rt.Fatalf("%s on the %s, now %s: the %s was %v and is %v", f.Damage, d.name(f.Part), worse, d.name(part), before[part], d.all()[part])
		}
	})
}

// Hard duty asks for as much as any other, of load and of shifting in each group.
func TestAHarderDutyIsNeverKinder(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		for id, v := range d.all() {
			if v[0].Worse(v[2]) || v[1].Worse(v[2]) {
				rt.Fatalf("the %s is %v", d.name(id), v)
			}
		}
	})
}

func TestOneMoreDamageIsNeverKinder(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		before := d.all()
		f := d.record.Findings[d.find(false)]
		now := d.all()
		for id, was := range before {
			for i := range was {
				if was[i].Worse(now[id][i]) {
					rt.Fatalf("%s, %s, on the %s: the %s was %v and is %v", f.Damage, f.Severity, d.name(f.Part), d.name(id), was, now[id])
				}
			}
		}
	})
}

// What improves a grade: a clean test, cleaning and dressing.
func TestWhatMayImproveAGrade(t *testing.T) {
	specs := ownSpecs(t)
	for name, c := range map[string]struct {
		before, after func(w *workbench)
		was, is       term.Verdict
	}{
		"a clean test": {
			func(w *workbench) { w.found(t, "layshaft", "flanks-2 crack suspected stressed-zone eye") },
			func(w *workbench) { w.found(t, "layshaft", "flanks-2 crack not-found stressed-zone penetrant") }, term.Undecided, term.Sound},
		"cleaning": {
			func(w *workbench) {
				w.record.Parts[w.at["layshaft"]].Surfaces["flanks-2"] = record.Looked{Eye: true, Touch: true}
			},
			func(w *workbench) {
				w.record.Parts[w.at["layshaft"]].Surfaces["flanks-2"] = record.Looked{Eye: true, Touch: true, Clean: true}
			}, term.Undecided, term.Sound},
		"dressing": {
			func(w *workbench) { w.found(t, "layshaft", "flanks-2 burr felt working-face touch") },
			func(w *workbench) {
				for id, f := range w.record.Findings {
					f.Withdrawn = "Edda: dressed off"
					w.record.Findings[id] = f
				}
			}, term.Repairable, term.Sound},
	} {
		w := laidOut(t, specs)
		at := func() term.Verdict {
			return assess.Verdicts(assess.Case{Record: w.record}, specs)[w.at["layshaft"]].For(term.Road)
		}
		c.before(w)
		was := at()
		c.after(w)
		if is := at(); was != c.was || is != c.is {
			t.Errorf("%s: from %v to %v, want %v to %v", name, was, is, c.was, c.is)
		}
	}
}

func TestNothingUnlookedAtIsSoundAndEveryVerdictHasItsReason(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		duty := rapid.SampledFrom(term.Duties).Draw(rt, "duty")
		a := assess.Assess(assess.Case{Record: d.record}, specs, duty)
		verdicts := d.all()
		for i := range a.Parts {
			p := &a.Parts[i]
			if p.Verdicts != verdicts[p.ID] {
				rt.Fatalf("the %s is %v, and %v without its reasons", p.Name, p.Verdicts, verdicts[p.ID])
			}
			kind, _ := specs.Kind(p.Kind)
			for j := range p.Surfaces {
				f, looked := kind.Surfaces[j], d.record.Parts[p.ID].Surfaces[p.Surfaces[j].ID]
				if p.Surfaces[j].Verdict == term.Sound && (f.Hidden != "" || !looked.Eye || !looked.Clean || f.Feel != "" && !looked.Touch) {
					rt.Fatalf("%s of the %s is sound, looked at as %+v", f.ID, p.Name, looked)
				}
			}
			if wrong := reasonless(p, duty); wrong != "" {
				rt.Fatalf("the %s: %s", p.Name, wrong)
			}
		}
	})
}

// reasonless says what a part's verdict lacks, empty for nothing.
func reasonless(p *assess.Part, duty term.Duty) string {
	lists := map[string][]assess.Reason{"": p.Reasons}
	for _, s := range p.Surfaces {
		lists[s.ID] = s.Reasons
		if len(s.Reasons) == 0 || !s.Reasons[0].Decides {
			return "nothing decides " + s.ID
		}
	}
	for of, reasons := range lists {
		for i, r := range reasons {
			switch {
			case r.Text == "" || r.Source == "":
				return fmt.Sprintf("a reason of %q says %q by %q", of, r.Text, r.Source)
			case r.Decides && i > 0:
				return fmt.Sprintf("two reasons decide %q", of)
			case i > 0 && of != "" && !reasons[0].Verdicts.For(duty).Worse(r.Verdicts.For(duty)) && reasons[0].Verdicts.For(duty) != r.Verdicts.For(duty) && r.Rule != "" && reasons[0].Rule != "":
				return fmt.Sprintf("of %q %q outweighs %q", of, r.Text, reasons[0].Text)
			}
		}
	}
	if len(p.Grounds) == 0 {
		return "it rests on nothing"
	}
	if r, _ := p.Ground(p.Grounds[0]); r.Verdicts.For(duty) != p.Verdict {
		return fmt.Sprintf("it is %v and rests on %q, %v", p.Verdict, r.Text, r.Verdicts)
	}
	if p.Why == "" && p.Verdict != term.Sound || p.Grade == "" {
		return fmt.Sprintf("it is %q, because %q", p.Grade, p.Why)
	}
	if p.Verdict == term.Undecided && len(p.Inspect) == 0 {
		return "it is undecided and nothing would decide it"
	}
	if p.Verdict == term.Condemned && len(p.Inspect) > 0 {
		return "it is condemned and still to be looked at"
	}
	return ""
}

// renamed gives every finding, part, photo, reading and trial fit another id, so
// that all of them come in another order.
func (d *benchDraw) renamed() (*record.Record, map[record.ID]record.ID) {
	r := *d.record
	names := map[record.ID]record.ID{}
	var old []record.ID
	for _, ids := range [][]record.ID{
		slices.Sorted(maps.Keys(r.Parts)), slices.Sorted(maps.Keys(r.Findings)), slices.Sorted(maps.Keys(r.Readings)), slices.Sorted(maps.Keys(r.TrialFits)),
		slices.Sorted(maps.Keys(r.Limits)),
	} {
		old = append(old, ids...)
	}
	for _, id := range rapid.Permutation(old).Draw(d.T, "order") {
		names[id] = record.NewID()
	}
	// Of two tries of the same parts the later one counts, so these stay in order.
	tries := slices.Sorted(maps.Keys(r.TrialFits))
	later := renamedIDs(tries, names)
	slices.Sort(later)
	for i, id := range tries {
		names[id] = later[i]
	}
	r.Parts, r.Findings = moved(r.Parts, names, func(*record.Part) {}), moved(r.Findings, names, func(f *record.Finding) { f.Part = names[f.Part] })
	r.Readings = moved(r.Readings, names, func(m *record.Reading) { m.Part = names[m.Part] })
	r.Limits = moved(r.Limits, names, func(l *record.Limit) { l.Part = names[l.Part] })
	r.TrialFits = moved(r.TrialFits, names, func(f *record.TrialFit) { f.A.Part, f.B.Part = names[f.A.Part], names[f.B.Part] })
	return &r, names
}

func moved[V any](from map[record.ID]V, names map[record.ID]record.ID, change func(*V)) map[record.ID]V {
	to := map[record.ID]V{}
	for id, v := range from {
		change(&v)
		to[names[id]] = v
	}
	return to
}

// told is all that is said of a part, without ids; notes in any order.
func told(p *assess.Part) string {
	text := fmt.Sprintf("%v %s %s %s %v\n", p.Verdicts, p.Grade, p.Why, p.WhatIf, p.Grounds)
	reasons := func(list []assess.Reason) {
		for _, r := range list {
			text += fmt.Sprintf("%v %s %s %s %v\n", r.Verdicts, r.Text, r.Rule, r.Source, r.Decides)
		}
	}
	reasons(p.Reasons)
	for _, s := range p.Surfaces {
		slices.Sort(s.Notes)
		text += fmt.Sprintf("%s %v %s %q\n", s.ID, s.Verdicts, s.WhatIf, s.Notes)
		reasons(s.Reasons)
	}
	for _, x := range p.Inspect {
		text += x.Surface + " " + x.Text + "\n"
	}
	for _, x := range p.Actions {
		text += string(x.Do) + " " + strings.Join(x.With, ", ") + "\n"
	}
	return text
}

func TestTheOrderOfWhatWasEnteredDoesNotMatter(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		r, names := d.renamed()
		duty := rapid.SampledFrom(term.Duties).Draw(rt, "duty")
		a := assess.Assess(assess.Case{Record: d.record}, specs, duty)
		b := assess.Assess(assess.Case{Record: r}, specs, duty)
		if a.Outcome != b.Outcome || !slices.Equal(a.Why, b.Why) || !slices.Equal(renamedIDs(a.Next, names), b.Next) {
			rt.Fatalf("%v %q %d, then %v %q %d", a.Outcome, a.Why, len(a.Next), b.Outcome, b.Why, len(b.Next))
		}
		for i := range a.Parts {
			p := &a.Parts[i]
			q, _ := b.Part(names[p.ID])
			if one, other := told(p), told(q); one != other {
				rt.Fatalf("the %s, in another order:\n%s\nwas:\n%s", p.Name, other, one)
			}
		}
	})
}

func renamedIDs(ids []record.ID, names map[record.ID]record.ID) []record.ID {
	list := make([]record.ID, len(ids))
	for i, id := range ids {
		list[i] = names[id]
	}
	return list
}

var (
	withoutFinding = regexp.MustCompile(`it would be (\w+) without finding (\d+)\.$`)
	cleanCrackTest = regexp.MustCompile(`^([^:]+): it would be (\w+) if a test with penetrant or magnetic particles found no crack\.$`)
)

// What would turn a verdict does turn it, at least as far.
func TestWhatWouldTurnAVerdictDoes(t *testing.T) {
	specs := ownSpecs(t)
	met := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		d := drawBench(t, rt, specs)
		duty := rapid.SampledFrom(term.Duties).Draw(rt, "duty")
		for _, p := range assess.Assess(assess.Case{Record: d.record}, specs, duty).Parts {
			changed := *d.record
			changed.Findings = maps.Clone(d.record.Findings)
			var to term.Verdict
			if m := withoutFinding.FindStringSubmatch(p.WhatIf); m != nil {
				for id, f := range changed.Findings {
					if fmt.Sprint(f.Number) == m[2] {
						delete(changed.Findings, id)
					}
				}
				_ = to.UnmarshalText([]byte(m[1]))
				met["without"]++
			} else if m := cleanCrackTest.FindStringSubmatch(p.WhatIf); m != nil {
				for _, s := range p.Surfaces {
					if strings.EqualFold(s.Name, m[1]) {
						finding(&changed, p.ID, s.ID, term.Crack, term.NotFound, term.StressedZone, term.Penetrant)
					}
				}
				_ = to.UnmarshalText([]byte(m[2]))
				met["tested"]++
			} else {
				continue
			}
			if now := assess.Verdicts(assess.Case{Record: &changed}, specs)[p.ID].For(duty); now.Worse(to) {
				rt.Fatalf("the %s is %v; %q; and then it is %v", p.Name, p.Verdict, p.WhatIf, now)
			}
		}
	})
	if met["without"] == 0 || met["tested"] == 0 {
		t.Errorf("of each kind of change: %v", met)
	}
}
