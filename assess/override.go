package assess

import (
	"iter"
	"slices"

	"fettlebook/assess/record"
)

// overrideSurface puts a person's verdict over the computed one of a surface.
func (a *assessor) overrideSurface(w *work, s *Surface) {
	for id, o := range a.overrides(w, s.ID) {
		reason, verdicts := overruled(id, o, s.Verdicts, isSafety(s), a.duty)
		s.Reasons = append(s.Reasons, reason)
		s.Verdicts, s.Verdict, s.WhatIf = verdicts, verdicts[a.duty], ""
		s.overruled = reason.overrules
	}
}

// overridePart puts a person's verdict over that of the part as a whole.
func (a *assessor) overridePart(w *work) {
	safety := slices.ContainsFunc(w.Surfaces, func(s Surface) bool { return isSafety(&s) })
	for id, o := range a.overrides(w, "") {
		reason, verdicts := overruled(id, o, w.Verdicts, safety, a.duty)
		w.Reasons, w.Verdicts = append(w.Reasons, reason), verdicts
		if reason.overrules {
			w.Override = &o
		}
	}
}

// overrides yields the overrides of a surface, or of the part for no surface,
// that were not withdrawn.
func (a *assessor) overrides(w *work, surface string) iter.Seq2[record.ID, record.Override] {
	return func(yield func(record.ID, record.Override) bool) {
		if len(a.record.Overrides) == 0 {
			return
		}
		for id, o := range record.InOrder(a.record.Overrides) {
			if o.Part == w.ID && o.Surface == surface && o.Withdrawn == "" && !yield(id, o) {
				return
			}
		}
	}
}

// overruled says what holds after a person's verdict. What belongs to the
// safety set can only be made stricter, at any duty.
func overruled(id record.ID, o record.Override, computed ByDuty, safety bool, duty int) (Reason, ByDuty) {
	r := Reason{
		Of: id, Source: o.By, Verdicts: all(o.Verdict), overrules: true,
		Text: o.By + " judges it " + o.Verdict.String() + ": " + o.Reason + ". By the rules alone it is " + computed[duty].String() + ".",
	}
	if !safety {
		return r, r.Verdicts
	}
	r.Verdicts = computed.worst(all(o.Verdict))
	if r.Verdicts == computed && computed != all(o.Verdict) {
		r.overrules = false
		r.Text += " This does not count: what belongs to the safety set can only be judged more strictly."
	}
	return r, r.Verdicts
}

func isSafety(s *Surface) bool {
	return slices.ContainsFunc(s.Reasons, func(r Reason) bool { return r.Safety })
}
