package assess

import (
	"cmp"
	"slices"
	"strings"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Work is what a step of the inspection asks of the hands, in the order of how
// little it costs.
type Work string

// The kinds of work. What is cheap comes first: it may end the matter before
// what is dear is begun.
const (
	ToClean   Work = "clean"
	ToLook    Work = "look"
	ToFeel    Work = "feel"
	ToTry     Work = "try"
	ToMeasure Work = "measure"
	ToTest    Work = "test"
	ToAsk     Work = "ask"
)

// works lists all kinds of work, the cheapest first.
var works = [...]Work{ToClean, ToLook, ToFeel, ToTry, ToMeasure, ToTest, ToAsk}

// Step is something that is to be inspected.
type Step struct {
	// Surface is empty for the part as a whole.
	Surface string `json:"surface,omitzero"`
	Text    string `json:"text"`
	Work    Work   `json:"work"`
	// doubted says that something was found there already: it is more likely to
	// end the matter than a surface that nobody looked at.
	doubted bool
}

// todo puts a step on a surface's list, once.
func (s *Surface) todo(work Work, text string, doubted bool) {
	i := slices.IndexFunc(s.steps, func(x Step) bool { return x.Text == text })
	if i < 0 {
		i = len(s.steps)
		s.steps = append(s.steps, Step{Surface: s.ID, Text: text, Work: work})
	}
	s.steps[i].doubted = s.steps[i].doubted || doubted
}

// workOf is what an undecided row's next step asks for: to ask, where the row says
// so, else what settles a suspicion of the damage.
func workOf(row *spec.Rule, one *found, known *spec.Damage) Work {
	by := settledBy(known)
	switch {
	case strings.Contains(row.Next, "experienced hand"):
		return ToAsk
	case one.Severity != term.Suspected, slices.Contains(by, term.ByEye):
		return ToLook
	case slices.ContainsFunc(by, func(m term.Method) bool { return slices.Contains(laboratory, m) }):
		return ToTest
	}
	return ToTry
}

// workOfTest is what the test asks for that a row waits for.
func workOfTest(u *spec.Untested) Work {
	switch {
	case slices.ContainsFunc(u.By, func(m term.Method) bool { return slices.Contains(laboratory, m) }):
		return ToTest
	case len(u.Fit) > 0, !u.Measured:
		return ToTry
	}
	return ToMeasure
}

// toInspect lists what is still to be inspected, in the order that saves most
// work: what is cheap before what is dear, and what is doubted already before
// what nobody looked at. Once a part is condemned, the rest of it needs no more
// looking at.
func (a *assessor) toInspect(w *work) {
	if w.Verdict == term.Condemned || w.Override != nil {
		for i := range w.Surfaces {
			w.Surfaces[i].Inspect, w.Surfaces[i].steps = nil, nil
		}
	}
	if w.Verdict == term.Condemned {
		return
	}
	for i := range w.Reasons {
		if r := &w.Reasons[i]; r.open(a.duty) && (w.Override == nil || r.overrules) {
			w.Inspect = append(w.Inspect, Step{Text: r.next, Work: cmpOr(r.work, ToLook), doubted: r.Of != ""})
		}
	}
	for i := range w.Surfaces {
		if w.Override == nil {
			w.Inspect = append(w.Inspect, a.stepsOf(&w.Surfaces[i])...)
		}
	}
	slices.SortStableFunc(w.Inspect, func(x, y Step) int {
		return cmp.Or(cmp.Compare(x.Work.cost(), y.Work.cost()), cmp.Compare(b2i(y.doubted), b2i(x.doubted)))
	})
	if a.record.Hold != "" && len(w.Inspect) > 0 {
		w.Inspect = slices.Insert(w.Inspect, 0, Step{Work: ToClean,
			Text: "On hold (" + a.record.Hold + "): leave it as it is until it is released."})
	}
}

// stepsOf lists what is still to be inspected of one surface. Where a person's
// verdict holds, it is what that person left open.
func (a *assessor) stepsOf(s *Surface) []Step {
	s.Inspect = nil
	if s.overruled {
		s.steps = nil
	}
	for i := range s.Reasons {
		if r := &s.Reasons[i]; r.open(a.duty) && (!s.overruled || r.overrules) {
			s.todo(cmpOr(r.work, ToLook), r.next, true)
		}
	}
	for _, step := range s.steps {
		s.Inspect = append(s.Inspect, step.Text)
	}
	return s.steps
}

func (k Work) cost() int { return slices.Index(works[:], k) }

// open reports whether a reason leaves the duty undecided and says what would
// decide it.
func (r *Reason) open(duty int) bool { return r.Verdicts[duty] == term.Undecided && r.next != "" }
