package assess

import "fettlebook/assess/term"

// grade comes to the verdicts of a part's surfaces and of the whole.
func (a *assessor) grade(w *work) {
	computed, whole := all(term.Sound), all(term.Sound)
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		s.Verdicts = worstOf(s.Reasons)
		s.Verdict = s.Verdicts[a.duty]
		computed = computed.worst(s.Verdicts)
		a.overrideSurface(w, s)
		whole = whole.worst(s.Verdicts)
	}
	own := worstOf(w.Reasons)
	w.Computed = computed.worst(own)[a.duty]
	w.Verdicts = whole.worst(own)
	a.overridePart(w)
	w.Verdict = w.Verdicts[a.duty]
}

// say puts a graded part into words: what decides, what would turn it, the
// headline and what is to be inspected.
func (a *assessor) say(w *work) {
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if !s.overruled {
			s.turn = a.whatIf(w, &w.kind.Surfaces[i], s)
			s.WhatIf = s.turn.says("")
		}
		a.weigh(s.Reasons, s.Verdict)
	}
	a.weigh(w.Reasons, w.Verdict)
	a.grounds(w)
	w.Grade = a.headline(w)
	w.Why = a.why(w)
	w.WhatIf = a.partTurn(w)
	a.toInspect(w)
}

func worstOf(reasons []Reason) ByDuty {
	worst := all(term.Sound)
	for _, r := range reasons {
		worst = worst.worst(r.Verdicts)
	}
	return worst
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

// why finds the sentence that explains the grade: what decides. A part for yard
// duty only is explained by what rules it out on the road.
func (a *assessor) why(w *work) string {
	if w.Grade == yardOnly {
		return because(w, dutyIndex(term.Road))
	}
	if len(w.Grounds) == 0 || w.Verdict == term.Sound && w.Grounds[0].Surface != "" {
		return ""
	}
	r, s := w.Ground(w.Grounds[0])
	if s != nil {
		return upperFirst(s.Name) + ": " + r.Text
	}
	return r.Text
}

// because returns the weightiest reason for the verdict at a duty.
func because(w *work, duty int) string {
	text, best := "", (*Reason)(nil)
	take := func(surface string, reasons []Reason) {
		for i := range reasons {
			r := &reasons[i]
			if r.Verdicts[duty] == w.Verdicts[duty] && (best == nil || heavier(r, best, duty) < 0) {
				best, text = r, surface+r.Text
			}
		}
	}
	take("", w.Reasons)
	for i := range w.Surfaces {
		take(upperFirst(w.Surfaces[i].Name)+": ", w.Surfaces[i].Reasons)
	}
	return text
}

const yardOnly = "yard duty only"

// otherVariant reports whether the part is of a variant that differs from the unit's.
func (a *assessor) otherVariant(w *work) bool {
	return w.place != nil && w.place.Differs && w.entry.Variant != "" &&
		a.record.Unit.Variant != "" && w.entry.Variant != a.record.Unit.Variant
}
