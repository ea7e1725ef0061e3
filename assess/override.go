package assess

import (
	"slices"
	"strings"

	"fettlebook/assess/term"
)

// overrideSurface puts a person's verdict over the computed one of a surface.
func (a *assessor) overrideSurface(w *work, s *Surface) {
	computed := s.Verdicts
	a.override(w, s.ID, isSafety(s.Reasons), computed, func(r Reason, verdicts ByDuty) {
		s.Reasons = append(s.Reasons, r)
		if r.overrules {
			s.Verdicts, s.overruled = verdicts, true
		}
	})
	s.Verdict = s.Verdicts[a.duty]
}

// overridePart puts a person's verdict over that of the part as a whole.
func (a *assessor) overridePart(w *work) {
	safety := isSafety(w.Reasons) || slices.ContainsFunc(w.Surfaces, func(s Surface) bool { return isSafety(s.Reasons) })
	computed := w.Verdicts
	held := a.override(w, "", safety, computed, func(r Reason, verdicts ByDuty) {
		w.Reasons = append(w.Reasons, r)
		if r.overrules {
			w.Verdicts = verdicts
		}
	})
	if held != nil {
		w.Override = &held.Override
	}
}

// override hands out what persons said of a surface, or of the part for no
// surface, each with the verdicts that would hold by it. Of several the last one
// holds; the others are said as well. It returns the one that holds, nil for none.
func (a *assessor) override(w *work, surface string, safety bool, computed ByDuty, say func(Reason, ByDuty)) *override {
	var held *override
	list := a.overrides[w.ID]
	for i := range list {
		if list[i].Surface == surface {
			held = &list[i]
		}
	}
	if held == nil {
		return nil
	}
	for i := range list {
		o := &list[i]
		if o.Surface != surface {
			continue
		}
		r, verdicts := overruled(o, computed, safety, a.duty)
		if o != held {
			r.overrules = false
			r.Text += " " + held.By + " judged it later, and that holds."
		} else if !r.overrules {
			held = nil
		}
		say(r, verdicts)
	}
	return held
}

// overruled says what holds after a person's verdict. What belongs to the
// safety set can only be made stricter, at any duty.
func overruled(o *override, computed ByDuty, safety bool, duty int) (Reason, ByDuty) {
	r := Reason{
		Of: o.id, Source: o.By, Verdicts: all(o.Verdict), overrules: true, from: fromPerson,
	}
	why := strings.TrimRight(o.Reason, ". ")
	r.Text = o.By + " judges it " + o.Verdict.String() + ": " + why + ". By the rules alone it is " + computed[duty].String() + "."
	if o.Verdict == term.Undecided {
		r.next, r.work = "Settle what "+o.By+" left open: "+why+".", ToAsk
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

func isSafety(reasons []Reason) bool {
	return slices.ContainsFunc(reasons, func(r Reason) bool { return r.Safety })
}
