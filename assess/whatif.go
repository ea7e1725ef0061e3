package assess

import (
	"fmt"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// turn is a single change that would turn a verdict.
type turn struct {
	// how is the end of "It would be usable …", empty for no such change.
	how string
	to  term.Verdict
	// crackTest says that the change is a crack test that came out clean.
	crackTest bool
}

// says is the sentence, with the surface in front of it where it is told of a part.
func (t turn) says(surface string) string {
	switch {
	case t.how == "":
		return ""
	case surface != "":
		return fmt.Sprintf("%s: it would be %s %s.", upperFirst(surface), t.to, t.how)
	}
	return fmt.Sprintf("It would be %s %s.", t.to, t.how)
}

// turning looks for the smallest single change that would turn the verdict of one
// surface. What costs least comes first: cleaning, looking, a trial fit, a finer
// instrument, a test, a repair; then what the damage itself would have to be.
type turning struct {
	*assessor
	w *work
	f *spec.Surface
	s *Surface
	// others are the reasons that come neither from findings nor from looking.
	others []Reason
	found  turn
}

func (a *assessor) whatIf(w *work, f *spec.Surface, s *Surface) turn {
	if s.Verdict == term.Sound {
		return turn{}
	}
	t := turning{assessor: a, w: w, f: f, s: s}
	for i := range s.Reasons {
		if from := s.Reasons[i].from; from != fromFinding && from != fromLook {
			t.others = append(t.others, s.Reasons[i])
		}
	}
	for _, step := range [...]func(){t.cleaned, t.looked, t.tried, t.measured, t.tests, t.repaired, t.milder, t.gone} {
		if step(); t.found.how != "" {
			break
		}
	}
	return t.found
}

func (t *turning) evidence() evidence { return evidenceOf(t.w, t.f) }

// try judges the surface on changed evidence, without the reasons that drop
// names, and keeps the change if it turns the verdict.
func (t *turning) try(how string, e *evidence, drop func(*Reason) bool) bool {
	v := lookOf(t.f, e.looked).verdict()
	for i := range e.findings {
		v = term.Worst(v, t.rule(t.w, t.f, e, &e.findings[i]).verdicts[t.duty])
	}
	for i := range t.others {
		if r := &t.others[i]; drop == nil || !drop(r) {
			v = term.Worst(v, r.Verdicts[t.duty])
		}
	}
	return t.turns(how, v)
}

// turns keeps a change that leads to a kinder verdict which decides.
func (t *turning) turns(how string, v term.Verdict) bool {
	if v == term.Undecided || !t.s.Verdict.Worse(v) {
		return false
	}
	t.found = turn{how: how, to: v}
	return true
}

// partTurn looks for the smallest single change that would turn the verdict of
// the part: it must lie where alone the verdict comes from.
func (a *assessor) partTurn(w *work) string {
	if w.Verdict == term.Sound || w.Override != nil {
		return ""
	}
	var at *Surface
	rest, holds := term.Sound, 0
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if s.Verdict == w.Verdict {
			at, holds = s, holds+1
			continue
		}
		rest = term.Worst(rest, s.Verdict)
	}
	var own *Reason
	shock := false
	for i := range w.Reasons {
		r := &w.Reasons[i]
		switch {
		case r.Verdicts[a.duty] != w.Verdict:
			rest = term.Worst(rest, r.Verdicts[a.duty])
		case r.from == fromShock:
			shock = true
		default:
			own, holds = r, holds+1
		}
	}
	var t turn
	where := ""
	switch {
	case holds > 1, own != nil && shock:
		return ""
	case own != nil && own.from == fromFit && own.wornPartner:
		t = turn{how: "if it fitted well with an unworn partner", to: rest}
	case at == nil && shock:
		t = turn{how: "if " + a.cleanTest(term.Crack, laboratory[:2]), to: rest}
	case at != nil && (!shock || at.turn.crackTest):
		t, where = at.turn, at.Name
		t.to = term.Worst(rest, t.to)
	}
	if t.to == term.Undecided || t.to == w.Verdict {
		return ""
	}
	return t.says(where)
}
