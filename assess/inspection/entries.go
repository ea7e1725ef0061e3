package inspection

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// shelf is what a reference part that stands in no record is called.
const shelf = "an unworn reference part"

// EndName says which part one end of a trial fit is.
func (n *Inspection) EndName(end record.PartOf) string {
	switch end.Record {
	case "":
		return shelf
	case n.ID():
		return strings.ToLower(n.PartName(end.Part))
	}
	n.mu.Lock()
	defer n.mu.Unlock()
	return firstOf(n.names[end], "a part of another core")
}

// TrialFit returns the gesture that notes a trial fit under an id: a new one, or
// that of one that is changed.
func (n *Inspection) TrialFit(id record.ID, f record.TrialFit) record.Gesture {
	if f.By == "" {
		f.By = n.bench.Who()
	}
	says := fmt.Sprintf("trial fit of %s and %s: %s", n.EndName(f.A), n.EndName(f.B), term.Plain(term.Role(f.Outcome)))
	return record.AddTrialFit(says, id, f)
}

// Judge returns the gesture that puts a person's verdict over the computed one.
func (n *Inspection) Judge(id record.ID, o record.Override) record.Gesture {
	of := n.PartName(o.Part)
	if o.Surface != "" {
		of = fmt.Sprintf("%s of %s", n.SurfaceName(o.Part, o.Surface), strings.ToLower(of))
	}
	return record.SetOverride(fmt.Sprintf("%s judged %s by %s: %s", of, o.Verdict, o.By, o.Reason), id, o)
}

// Sign returns the gesture that notes what a person holds the findings to be
// consistent with.
func (n *Inspection) Sign(id record.ID, o record.Opinion) record.Gesture {
	return record.AddOpinion(fmt.Sprintf("%s holds the findings to be consistent with %s", o.By, n.CauseName(o.Cause)), id, o)
}

// CauseName names a cause in the spec's words.
func (n *Inspection) CauseName(id string) string {
	for _, c := range n.bench.specs.Causes() {
		if c.ID == id {
			return c.Name
		}
	}
	return id
}

// Hold stops all cleaning and taking further, with the reason that is told
// everywhere; an empty reason releases the record.
func (n *Inspection) Hold(why string) error {
	why = strings.TrimSpace(why)
	says := "on hold: " + why
	if why == "" {
		says = "released from its hold"
	}
	return n.Do(record.Set(says, func(r *record.Record) { r.Hold = why }))
}

// Withdraw strikes a mistaken entry through (a finding, reading, working, trial fit,
// verdict, limit or opinion), with who and why.
func (n *Inspection) Withdraw(id record.ID, why string) error {
	if why = strings.TrimSpace(why); why == "" {
		why = "entered by mistake"
	}
	who, r := n.bench.Who(), n.Record()
	if f, ok := r.Findings[id]; ok {
		return n.Do(record.Withdraw(id, f.Number, who, why))
	}
	what := ""
	if _, ok := r.Readings[id]; ok {
		what = "reading"
	} else if w, ok := r.Workings[id]; ok {
		what = strings.ToLower(WorkingName(w.What))
	} else if _, ok := r.TrialFits[id]; ok {
		what = "trial fit"
	} else if o, ok := r.Overrides[id]; ok {
		what = "verdict of " + o.By
	} else if l, ok := r.Limits[id]; ok {
		what = fmt.Sprintf("limit of the %s of %s", strings.ReplaceAll(l.Dimension, "-", " "), n.SurfaceName(l.Part, l.Surface))
	} else if o, ok := r.Opinions[id]; ok {
		what = "opinion of " + o.By
	} else {
		return fmt.Errorf("there is no such entry in this record any more")
	}
	return n.Do(record.WithdrawEntry(fmt.Sprintf("%s withdrawn by %s: %s", what, who, why), id, who, why))
}

// Fits returns the kinds of trial fit in which a part takes part by a surface,
// or by any of its surfaces for an empty one: first those with what it runs with
// in the unit.
func (n *Inspection) Fits(part record.ID, surface string) []*spec.Pair {
	r := n.Record()
	kind := r.Parts[part].Kind
	var pairs []*spec.Pair
	for _, p := range n.bench.specs.Pairs() {
		if _, by, ok := p.Side(kind); ok && (surface == "" || by == surface) {
			pairs = append(pairs, p)
		}
	}
	unit, known := n.bench.specs.Unit(r.Unit.Type)
	if !known {
		return pairs
	}
	apart := func(p *spec.Pair) int {
		side, by, _ := p.Side(kind)
		ends := p.Ends(map[string]string{"a": "b", "b": "a"}[side])
		if slices.ContainsFunc(unit.MatesOf(r.Parts[part].Place, by), func(mate spec.End) bool {
			place, _, ok := unit.Place(mate.Place)
			return ok && slices.Contains(ends, spec.End{Place: place.Kind, Surface: mate.Surface})
		}) {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(pairs, func(x, y *spec.Pair) int { return apart(x) - apart(y) })
	return pairs
}
