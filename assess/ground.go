package assess

import (
	"cmp"
	"slices"

	"fettlebook/assess/term"
)

// Ground is one reason for the verdict of a part, by where it stands.
type Ground struct {
	// Surface is the surface among whose reasons it stands, empty for a reason of
	// the part as a whole.
	Surface string `json:"surface,omitzero"`
	// Reason is its place among these reasons, from 0.
	Reason int `json:"reason"`
}

// Ground returns the reason to which a ground of this part points, and its
// surface, which is nil for a reason of the part as a whole. The reason is nil
// for a ground of another part.
func (p *Part) Ground(g Ground) (*Reason, *Surface) {
	reasons, surface := p.Reasons, (*Surface)(nil)
	if g.Surface != "" {
		var ok bool
		if surface, ok = p.Surface(g.Surface); !ok {
			return nil, nil
		}
		reasons = surface.Reasons
	}
	if g.Reason < 0 || g.Reason >= len(reasons) {
		return nil, nil
	}
	return &reasons[g.Reason], surface
}

// RunnersUp returns the reasons that did not decide and speak for another
// verdict than sound at some duty, in the order of their weight.
func (s *Surface) RunnersUp() []Reason {
	var list []Reason
	for _, r := range s.Reasons {
		if !r.Decides && r.Verdicts != all(term.Sound) {
			list = append(list, r)
		}
	}
	return list
}

// weigh puts the reasons in the order of their weight at the duty: a person's
// verdict that holds, then the hardest. It marks the one that decides.
func (a *assessor) weigh(reasons []Reason, verdict term.Verdict) {
	slices.SortStableFunc(reasons, func(x, y Reason) int { return heavier(&x, &y, a.duty) })
	for i := range reasons {
		reasons[i].Decides = i == 0 && (reasons[i].Verdicts[a.duty] == verdict || reasons[i].overrules)
	}
}

// heavier orders two reasons by their weight at a duty. What is alike in all else
// keeps the order of the findings' numbers, not that of their ids.
func heavier(x, y *Reason, duty int) int {
	if x.overrules != y.overrules {
		return cmp.Compare(b2i(y.overrules), b2i(x.overrules))
	}
	if v, u := x.Verdicts[duty], y.Verdicts[duty]; v != u {
		if v.Worse(u) {
			return -1
		}
		return 1
	}
	if x.Safety != y.Safety {
		return cmp.Compare(b2i(y.Safety), b2i(x.Safety))
	}
	for i := range x.Verdicts {
		if v, u := x.Verdicts[i], y.Verdicts[i]; v.Worse(u) {
			return -1
		} else if u.Worse(v) {
			return 1
		}
	}
	return cmp.Or(
		cmp.Compare(b2i(x.Of == ""), b2i(y.Of == "")),
		cmp.Compare(cmpOr(x.number, last), cmpOr(y.number, last)),
		cmp.Compare(x.Text, y.Text),
	)
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// grounds gathers what decides the part, and what comes after it: of the reasons
// for sound no more than one.
func (a *assessor) grounds(w *work) {
	var list []Ground
	add := func(surface string, reasons []Reason) {
		for i := range reasons {
			if r := &reasons[i]; r.Decides || r.Verdicts != all(term.Sound) {
				list = append(list, Ground{surface, i})
			}
		}
	}
	add("", w.Reasons)
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if s.overruled { // what a person judged otherwise does not speak for the part
			add(s.ID, s.Reasons[:1])
			continue
		}
		add(s.ID, s.Reasons)
	}
	slices.SortStableFunc(list, func(x, y Ground) int {
		p, q := a.atPart(w, x), a.atPart(w, y)
		return heavier(&p, &q, a.duty)
	})
	sound := func(g Ground) bool { r, _ := w.Ground(g); return r.Verdicts == all(term.Sound) }
	for i, g := range list {
		if i == 0 || !sound(g) {
			w.Grounds = append(w.Grounds, g)
		}
	}
}

// atPart is the reason of a ground as it weighs at the part: a person's verdict of
// one surface holds no further than that surface, and between surfaces that weigh
// alike their own order counts.
func (a *assessor) atPart(w *work, g Ground) Reason {
	r, s := w.Ground(g)
	one := Reason{Verdicts: r.Verdicts, Safety: r.Safety, Of: r.Of, number: -1, overrules: r.overrules && s == nil}
	return one
}
