package assess

import (
	"cmp"
	"slices"

	"fettlebook/assess/term"
)

// grade closes a part: verdicts of its surfaces and of the whole, the headline,
// what to do and what is to be inspected.
func (a *assessor) grade(w *work) {
	computed, whole := all(term.Sound), all(term.Sound)
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		s.Verdicts = worstOf(s.Reasons)
		s.Verdict = s.Verdicts[a.duty]
		s.WhatIf = a.whatIf(w, &w.kind.Surfaces[i], s)
		computed = computed.worst(s.Verdicts)
		a.overrideSurface(w, s)
		a.weigh(s.Reasons)
		whole = whole.worst(s.Verdicts)
	}
	own := worstOf(w.Reasons)
	w.Computed = computed.worst(own)[a.duty]
	w.Verdicts = whole.worst(own)
	a.overridePart(w)
	w.Verdict = w.Verdicts[a.duty]
	a.weigh(w.Reasons)
	w.Grade = a.headline(w)
	w.Why = a.why(w)
	a.actions(w)
	a.toInspect(w)
}

func worstOf(reasons []Reason) ByDuty {
	worst := all(term.Sound)
	for _, r := range reasons {
		worst = worst.worst(r.Verdicts)
	}
	return worst
}

// weigh puts the reasons that decide at the duty first, and a person's before
// those of the rules.
func (a *assessor) weigh(reasons []Reason) {
	slices.SortStableFunc(reasons, func(x, y Reason) int {
		switch {
		case x.overrules != y.overrules:
			return cmp.Compare(b2i(y.overrules), b2i(x.overrules))
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
	add := func(r Reason, of term.Verdict) {
		v := r.Verdicts[a.duty]
		if v.Worse(of) { // a person judged otherwise
			return
		}
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
		add(r, w.Verdict)
	}
	for i := range w.Surfaces {
		for _, r := range w.Surfaces[i].Reasons {
			add(r, kinder(w.Surfaces[i].Verdict, w.Verdict))
		}
	}
	if w.Verdict == term.Condemned && len(w.Actions) == 0 {
		w.Actions = append(w.Actions, Action{Do: term.Replace, With: a.with(w, false)})
	}
}

// kinder returns the kinder of two verdicts.
func kinder(x, y term.Verdict) term.Verdict {
	if x.Worse(y) {
		return y
	}
	return x
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
		if s.overruled {
			s.Inspect = nil
			continue
		}
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
