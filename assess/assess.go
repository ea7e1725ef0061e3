package assess

import (
	"cmp"
	"maps"
	"slices"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Case is what there is to judge: a record, and the trial fits of other
// records that touch its parts.
type Case struct {
	Record *record.Record
	Fits   []record.TrialFit
	// Wear are the shop's own shares of the wear allowance; zero for the usual ones.
	Wear Wear
	// Rule is by which rule readings are decided; the zero value is the usual one.
	Rule gauge.Rule
	// Instruments are the shop's own, of which one may decide what another can't.
	Instruments []record.Instrument
}

// Assess judges a case by the specs for one duty. It returns a complete
// assessment for any record, also one that names kinds, places or damages that
// no spec knows: what can't be judged is undecided, and says so.
func Assess(c Case, specs *spec.Set, duty term.Duty) *Assessment {
	a := newAssessor(c, specs, duty)
	a.weighAll()
	for i := range a.works {
		a.say(&a.works[i])
	}
	for i := range a.works {
		a.sets(&a.works[i])
	}
	out := &Assessment{Duty: duty, Hold: c.Record.Hold, Parts: make([]Part, len(a.works))}
	for i := range a.works {
		out.Parts[i] = a.works[i].Part
	}
	a.outcome(out)
	a.order(out)
	a.causes(out)
	return out
}

// Verdicts returns the verdicts of a case's parts alone, as [Assess] comes to
// them, without reasons and steps.
func Verdicts(c Case, specs *spec.Set) map[record.ID]ByDuty {
	a := newAssessor(c, specs, term.Road)
	a.terse = true
	a.weighAll()
	verdicts := make(map[record.ID]ByDuty, len(a.works))
	for i := range a.works {
		verdicts[a.works[i].ID] = a.works[i].Verdicts
	}
	return verdicts
}

// weighAll comes to all verdicts.
func (a *assessor) weighAll() {
	for i := range a.works {
		a.judge(&a.works[i])
		a.workOut(&a.works[i])
	}
	a.doubtTorqueCarriers()
	for i := range a.works {
		a.askMates(&a.works[i])
		a.tellClearances(&a.works[i])
	}
	for i := range a.works {
		a.grade(&a.works[i])
	}
}

// work is a part while it is being judged.
type work struct {
	Part
	entry record.Part
	kind  *spec.Kind // nil where no spec knows it
	place *spec.Place
	// findings are those of each surface that are not withdrawn, by their numbers.
	findings map[string][]found
}

type found struct {
	id record.ID
	record.Finding
}

type assessor struct {
	record *record.Record
	specs  *spec.Set
	unit   *spec.Unit // nil where no spec knows it
	duty   int
	// seen are all findings that count, in the order of their ids; fits, readings,
	// workings and overrides are those of each part.
	seen      []seen
	fits      map[record.ID][]fit
	readings  map[record.ID][]reading
	workings  map[record.ID][]kept
	overrides map[record.ID][]override
	wear      Wear
	rules     gauge.Rule
	// instruments are the shop's own.
	instruments []record.Instrument
	works       []work
	// at finds the parts of this record by their place, mates what runs on a surface.
	at    map[string][]*work
	mates map[spec.End][]spec.End
	// places finds the ranks of the unit's places.
	places map[string]int
	// terse leaves out all that is only said.
	terse bool
}

// seen is what a cause is told by.
type seen struct {
	id       record.ID
	damage   term.Damage
	severity term.Severity
}

type fit struct {
	id record.ID
	record.TrialFit
	// again says that the same two parts were tried again later, deburred or
	// cleaned as they then were.
	again bool
}

type reading struct {
	id record.ID
	record.Reading
}

type kept struct {
	id record.ID
	record.Working
}

type override struct {
	id record.ID
	record.Override
}

func newAssessor(c Case, specs *spec.Set, duty term.Duty) *assessor {
	r := c.Record
	a := &assessor{
		record: r, specs: specs, duty: dutyIndex(duty), wear: cmpOr(c.Wear, UsualWear()), rules: c.Rule, instruments: c.Instruments,
		fits: map[record.ID][]fit{}, readings: map[record.ID][]reading{}, workings: map[record.ID][]kept{}, overrides: map[record.ID][]override{},
		works: make([]work, 0, len(r.Parts)), at: make(map[string][]*work, len(r.Parts)),
	}
	if a.unit, _ = specs.Unit(r.Unit.Type); a.unit != nil {
		a.mates = a.unit.AllMates()
		a.places = make(map[string]int, len(a.unit.Places))
		for i := range a.unit.Places {
			a.places[a.unit.Places[i].ID] = i
		}
	}
	a.collectFits(c)
	for id, m := range record.InOrder(r.Readings) {
		if m.Withdrawn == "" {
			a.readings[m.Part] = append(a.readings[m.Part], reading{id, m})
		}
	}
	for id, w := range record.InOrder(r.Workings) {
		if w.Withdrawn == "" {
			a.workings[w.Part] = append(a.workings[w.Part], kept{id, w})
		}
	}
	for id, o := range record.InOrder(r.Overrides) {
		if o.Withdrawn == "" {
			a.overrides[o.Part] = append(a.overrides[o.Part], override{id, o})
		}
	}
	a.seen = make([]seen, 0, len(r.Findings))
	byPart := make(map[record.ID]map[string][]found, len(r.Parts))
	for id, f := range record.InOrder(r.Findings) {
		if f.Withdrawn != "" {
			continue
		}
		a.seen = append(a.seen, seen{id, f.Damage, f.Severity})
		if byPart[f.Part] == nil {
			byPart[f.Part] = map[string][]found{}
		}
		byPart[f.Part][f.Surface] = append(byPart[f.Part][f.Surface], found{id: id, Finding: f})
	}
	for id, p := range record.InOrder(r.Parts) {
		a.works = append(a.works, a.begin(id, p, byPart[id]))
	}
	slices.SortStableFunc(a.works, func(x, y work) int { return cmp.Compare(x.Order, y.Order) })
	for i := range a.works {
		w := &a.works[i]
		a.at[w.Place] = append(a.at[w.Place], w)
	}
	return a
}

// last is the rank of a part that has no place in the unit.
const last = 1 << 20

// placeOf returns a place of the unit, nil for none.
func (a *assessor) placeOf(id string) *spec.Place {
	if i, ok := a.places[id]; ok {
		return &a.unit.Places[i]
	}
	return nil
}

func (a *assessor) begin(id record.ID, p record.Part, findings map[string][]found) work {
	// Their numbers, not their ids, are what a person knows them by.
	for _, list := range findings {
		slices.SortStableFunc(list, func(x, y found) int { return cmp.Compare(x.Number, y.Number) })
	}
	w := work{entry: p, findings: findings}
	w.Part = Part{ID: id, Kind: p.Kind, Place: p.Place, Name: p.Kind, Order: last}
	if k, ok := a.specs.Kind(p.Kind); ok {
		w.kind, w.Name, w.Consumable = k, k.Name, k.Consumable
	}
	if a.unit != nil {
		if order, ok := a.places[p.Place]; ok {
			w.place, w.Order = &a.unit.Places[order], order
			w.Name = w.place.Name
		}
	}
	return w
}

// collectFits gathers the trial fits of each part. Of two tries of the same two
// parts the later one counts.
func (a *assessor) collectFits(c Case) {
	here := c.Record.ID
	add := func(id record.ID, f record.TrialFit) {
		if f.Withdrawn != "" {
			return
		}
		for _, end := range [...]record.PartOf{f.A, f.B} {
			if end.Record != here {
				continue
			}
			list := a.fits[end.Part]
			for i := range list {
				list[i].again = list[i].again || list[i].sameAs(f)
			}
			a.fits[end.Part] = append(list, fit{id: id, TrialFit: f})
		}
	}
	for id, f := range record.InOrder(c.Record.TrialFits) {
		add(id, f)
	}
	for _, f := range c.Fits {
		add("", f)
	}
}

// sameAs reports whether two trial fits are tries of the same two parts.
func (f *fit) sameAs(other record.TrialFit) bool {
	return f.Pair == other.Pair && f.Unworn == other.Unworn && f.A == other.A && f.B == other.B
}

// judge is the first pass: the part's own state and its surfaces' own findings.
func (a *assessor) judge(w *work) {
	if w.kind == nil {
		w.Reasons = append(w.Reasons, Reason{
			Text:   "No spec knows this kind of part, so there is nothing to judge it by.",
			Source: noRule, next: askAHand, work: ToAsk,
		})
		a.strayFindings(w)
		return
	}
	if reason, settled := a.stateOf(w); settled {
		w.Reasons = append(w.Reasons, reason)
		return
	}
	w.Surfaces = make([]Surface, 0, len(w.kind.Surfaces))
	for i := range w.kind.Surfaces {
		w.Surfaces = append(w.Surfaces, a.surface(w, &w.kind.Surfaces[i], i+1))
	}
	a.strayFindings(w)
	a.measure(w)
	a.fit(w)
}

// stateOf judges a part that needs no looking at.
func (a *assessor) stateOf(w *work) (Reason, bool) {
	switch {
	case w.Consumable:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.AlwaysReplace, Source: w.kind.Source,
			Text: "Used once only: a new one goes in at every rebuild."}, true
	case w.entry.State == term.Missing:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: "the strip",
			Text: "It was not in the unit when it was stripped."}, true
	case w.entry.State == term.WrongPart:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: "the strip",
			Text: "A part that does not belong here was found in its place."}, true
	case w.entry.State == term.ScrapAtFirstLook:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: "the strip",
			Text: "Scrap at first look."}, true
	}
	return Reason{}, false
}

// strayFindings keeps findings on surfaces that the spec does not name from being
// lost: they make the part undecided, and what belongs to the safety set condemns
// it wherever it is.
func (a *assessor) strayFindings(w *work) {
	for _, surface := range slices.Sorted(maps.Keys(w.findings)) {
		if w.kind != nil {
			if _, _, ok := w.kind.Surface(surface); ok {
				continue
			}
		}
		for i := range w.findings[surface] {
			one := &w.findings[surface][i]
			r := Reason{
				Text:   "Finding " + itoa(one.Number) + " is on a surface that the spec does not name.",
				Source: noRule, Of: one.id, next: askAHand, work: ToAsk, How: how(one), from: fromFinding, number: one.Number,
			}
			if term.Safety(one.Damage, one.Severity, one.Zone) {
				r.Verdicts, r.Remedy, r.Safety, r.next = all(term.Condemned), term.Replace, true, ""
				r.Source = safetySet
				r.Text = upperFirst(a.noun(one.Damage)) + " belongs to the safety set: it is never put up with."
			}
			w.Reasons = append(w.Reasons, r)
		}
	}
}
