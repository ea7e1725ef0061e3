package assess

import (
	"cmp"
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// grade closes a part: verdicts of its surfaces and of the whole, the headline,
// what to do and what is to be inspected.
func (a *assessor) grade(w *work) {
	whole := all(term.Sound)
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		a.weigh(s.Reasons)
		s.Verdicts = all(term.Sound)
		for _, r := range s.Reasons {
			s.Verdicts = s.Verdicts.worst(r.Verdicts)
		}
		s.Verdict = s.Verdicts[a.duty]
		s.WhatIf = a.whatIf(w, &w.kind.Surfaces[i], s)
		whole = whole.worst(s.Verdicts)
	}
	for _, r := range w.Reasons {
		whole = whole.worst(r.Verdicts)
	}
	w.Verdicts, w.Computed = whole, whole[a.duty]
	a.override(w)
	w.Verdict = w.Verdicts[a.duty]
	a.weigh(w.Reasons)
	w.Grade = a.headline(w)
	w.Why = a.why(w)
	a.actions(w)
	a.toInspect(w)
}

// weigh puts the reasons that decide at the duty first.
func (a *assessor) weigh(reasons []Reason) {
	slices.SortStableFunc(reasons, func(x, y Reason) int {
		switch {
		case x.Verdicts[a.duty] == y.Verdicts[a.duty]:
			return cmp.Compare(b2i(x.Of == ""), b2i(y.Of == ""))
		case x.Verdicts[a.duty].Worse(y.Verdicts[a.duty]):
			return -1
		}
		return 1
	})
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// override puts a person's verdict over the computed one. What is in the safety
// set can only be made stricter.
func (a *assessor) override(w *work) {
	for id, o := range record.InOrder(a.record.Overrides) {
		if o.Part != w.ID || o.Withdrawn != "" {
			continue
		}
		reason := Reason{Verdicts: all(o.Verdict), Of: id, Source: o.By, Text: o.By + " judges it " + o.Verdict.String() + ": " + o.Reason}
		if hasSafety(w) && o.Verdict.Serves() {
			reason.Verdicts = w.Verdicts
			reason.Text += " This does not count: what belongs to the safety set can only be judged more strictly."
			w.Reasons = append(w.Reasons, reason)
			continue
		}
		w.Override = &o
		w.Verdicts = all(o.Verdict)
		w.Reasons = append(w.Reasons, reason)
	}
}

func hasSafety(w *work) bool {
	for i := range w.Surfaces {
		if slices.ContainsFunc(w.Surfaces[i].Reasons, func(r Reason) bool { return r.Safety }) {
			return true
		}
	}
	return false
}

func (a *assessor) headline(w *work) string {
	yard, road := w.Verdicts.For(term.Yard), w.Verdicts.For(term.Road)
	switch {
	case w.Consumable:
		return "always replaced"
	case w.entry.State == term.Missing, w.entry.State == term.WrongPart:
		return term.Plain(w.entry.State)
	case w.Override == nil && yard.Serves() && road == term.Condemned:
		return yardOnly
	case w.Verdict == term.Undecided:
		return "to be inspected"
	case w.Verdict.Serves() && a.otherVariant(w):
		return w.Verdict.String() + ", for " + w.entry.Variant
	}
	return w.Verdict.String()
}

// why finds the sentence that explains the grade. A part for yard duty only is
// explained by what rules it out on the road.
func (a *assessor) why(w *work) string {
	duty := a.duty
	if w.Grade == yardOnly {
		duty = dutyIndex(term.Road)
	}
	decides := func(r Reason) bool { return r.Verdicts[duty] == w.Verdicts[duty] }
	if i := slices.IndexFunc(w.Reasons, decides); i >= 0 {
		return w.Reasons[i].Text
	}
	if w.Verdict == term.Sound {
		return ""
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if j := slices.IndexFunc(s.Reasons, decides); j >= 0 {
			return upperFirst(s.Name) + ": " + s.Reasons[j].Text
		}
	}
	return ""
}

const yardOnly = "yard duty only"

// otherVariant reports whether the part is of a variant that differs from the unit's.
func (a *assessor) otherVariant(w *work) bool {
	return w.place != nil && w.place.Differs && w.entry.Variant != "" &&
		a.record.Unit.Variant != "" && w.entry.Variant != a.record.Unit.Variant
}

// actions collects what to do: the remedies of the reasons that decide.
func (a *assessor) actions(w *work) {
	if w.Verdict == term.Sound {
		return
	}
	add := func(r Reason) {
		v := r.Verdicts[a.duty]
		if r.Remedy == "" || v == term.Sound || w.Verdict.Worse(v) && v != term.Repairable && v != term.Usable {
			return
		}
		if v != term.Condemned && (w.Verdict == term.Condemned || r.Remedy.Replaces()) {
			return
		}
		if slices.ContainsFunc(w.Actions, func(x Action) bool { return x.Do == r.Remedy }) {
			return
		}
		act := Action{Do: r.Remedy, Why: r.Text}
		if r.Remedy.Replaces() {
			act.With = a.with(w, r.Remedy == term.ReplaceWithMate)
		}
		w.Actions = append(w.Actions, act)
	}
	for _, r := range w.Reasons {
		add(r)
	}
	for i := range w.Surfaces {
		for _, r := range w.Surfaces[i].Reasons {
			add(r)
		}
	}
	if w.Verdict == term.Condemned && len(w.Actions) == 0 {
		w.Actions = append(w.Actions, Action{Do: term.Replace, With: a.with(w, false)})
	}
}

// with names what is replaced together with this part: the kinds of its set,
// and, where the row asks for it, the parts that its flanks mesh with.
func (a *assessor) with(w *work, mates bool) []string {
	if w.kind == nil {
		return nil
	}
	var names []string
	for _, id := range w.kind.With {
		if k, ok := a.specs.Kind(id); ok {
			names = append(names, k.Name)
		}
	}
	if !mates || a.unit == nil {
		return names
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if s.Verdict != w.Verdict {
			continue
		}
		for _, end := range a.unit.MatesOf(w.Place, s.ID) {
			place, _, ok := a.unit.Place(end.Place)
			if ok && !slices.Contains(names, lowerFirst(place.Name)) {
				names = append(names, lowerFirst(place.Name))
			}
		}
	}
	return names
}

// toInspect lists what is still to be inspected. Once a part is condemned, the
// rest of it needs no more looking at.
func (a *assessor) toInspect(w *work) {
	if w.Verdict == term.Condemned || w.Override != nil {
		for i := range w.Surfaces {
			w.Surfaces[i].Inspect = nil
		}
		return
	}
	for _, r := range w.Reasons {
		if r.Verdicts[a.duty] == term.Undecided && r.next != "" {
			w.Inspect = append(w.Inspect, Step{Text: r.next})
		}
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		for _, r := range s.Reasons {
			if r.Verdicts[a.duty] == term.Undecided && r.next != "" && !slices.Contains(s.Inspect, r.next) {
				s.Inspect = append(s.Inspect, r.next)
			}
		}
		for _, text := range s.Inspect {
			w.Inspect = append(w.Inspect, Step{Surface: s.ID, Text: text})
		}
	}
}
