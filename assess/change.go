package assess

import (
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// The single changes that might turn a verdict, each tried on its own.

func (t *turning) cleaned() {
	e := t.evidence()
	if t.f.Hidden != "" || e.looked.Clean || !e.looked.Eye && !e.looked.Touch {
		return
	}
	e.looked.Clean = true
	t.try("if it were cleaned and looked at again, and nothing more were found", &e, nil)
}

func (t *turning) looked() {
	e := t.evidence()
	how := "if it were looked at and nothing were found"
	asked := slices.ContainsFunc(t.others, func(r Reason) bool { return r.from == fromMate })
	switch state := lookOf(t.f, e.looked); {
	case state == untried:
		how = "if its substitute test were done and came out well"
	case state == seenOnly, state == inspected && asked && !e.looked.Touch:
		how = "if it were felt and nothing were found"
	case asked, t.f.Feel != "":
		how = "if it were looked at clean and felt, and nothing were found"
	}
	if was := e.looked; t.f.Hidden == "" {
		e.looked.Eye, e.looked.Clean = true, true
		e.looked.Touch = was.Touch || asked || t.f.Feel != ""
	} else {
		e.looked.Touch = true
	}
	t.try(how, &e, func(r *Reason) bool { return r.from == fromMate })
}

// tried looks at trial fits: one that a row waits for, or another try of one that
// speaks against the part with an unworn partner.
func (t *turning) tried() {
	e := t.evidence()
	for i := range e.findings {
		is := t.rule(t.w, t.f, &e, &e.findings[i])
		if !is.waits {
			continue
		}
		if pair := t.pairOf(is.row.UntilTested.Fit); pair != nil {
			e.fitted = true
			how := "if it fitted well in a trial fit (" + pair.Name + ")"
			if t.triedWorn(is.row.UntilTested.Fit) {
				how = "if it fitted as well with an unworn partner (" + pair.Name + ")"
			}
			if t.try(how, &e, nil) {
				return
			}
			e.fitted = false
		}
	}
	worn := func(r *Reason) bool { return r.from == fromFit && r.wornPartner }
	if slices.ContainsFunc(t.others, func(r Reason) bool { return worn(&r) }) {
		t.try("if it fitted well with an unworn partner", &e, worn)
	}
}

// pairOf returns the first kind of trial fit in which this surface takes part.
func (t *turning) pairOf(ids []string) *spec.Pair {
	for _, id := range ids {
		if pair, ok := t.specs.Pair(id); ok && slices.Contains(slices.Concat(pair.A, pair.B), t.w.Kind+"."+t.f.ID) {
			return pair
		}
	}
	return nil
}

func (t *turning) triedWorn(ids []string) bool {
	return slices.ContainsFunc(t.fits[t.w.ID], func(f fit) bool { return f.Unworn == "" && slices.Contains(ids, f.Pair) })
}

// measured looks at readings: one that a row waits for, or a finer instrument for
// one that decides nothing.
func (t *turning) measured() {
	e := t.evidence()
	if t.hasLimit() {
		e.measured = true
		if t.try("if it were measured and lay within its limit", &e, nil) {
			return
		}
		e.measured = false
	}
	for i := range t.others {
		if t.others[i].Verdicts[t.duty] != term.Undecided {
			continue
		}
		finer, how := t.settledSame(t.w, &t.others[i])
		if finer == nil {
			continue
		}
		v := term.Worst(t.restOf(&e, i), finer.Verdicts[t.duty])
		// It may turn out either way, and both are worth knowing.
		if v != term.Undecided && v != t.s.Verdict {
			t.found = turn{how: how, to: v}
			return
		}
	}
}

// restOf is the surface's verdict without one of the other reasons.
func (t *turning) restOf(e *evidence, without int) term.Verdict {
	v := lookOf(t.f, e.looked).verdict()
	for i := range e.findings {
		v = term.Worst(v, t.rule(t.w, t.f, e, &e.findings[i]).verdicts[t.duty])
	}
	for i := range t.others {
		if i != without {
			v = term.Worst(v, t.others[i].Verdicts[t.duty])
		}
	}
	return v
}

func (t *turning) hasLimit() bool {
	for _, l := range t.record.Limits {
		if l.Part == t.w.ID && l.Surface == t.f.ID && l.Withdrawn == "" {
			return true
		}
	}
	return t.unit != nil && slices.ContainsFunc(t.unit.Limits, func(l spec.Limit) bool {
		return l.Place == t.w.Place && l.Surface == t.f.ID
	})
}

// tests looks at tests that would come out clean: of what is suspected, and of
// what a row waits for.
func (t *turning) tests() {
	e := t.evidence()
	n := len(e.findings)
	for i := range n {
		one := e.findings[i]
		damage, by := one.Damage, []term.Method(nil)
		known, _ := t.specs.Damage(one.Damage)
		is := t.rule(t.w, t.f, &e, &one)
		switch {
		case is.waits:
			damage, by = is.row.UntilTested.For, is.row.UntilTested.By
		case one.Severity == term.Suspected:
			by = settledBy(known)
		default:
			continue
		}
		e.findings = append(e.findings[:n:n], found{Finding: record.Finding{
			Damage: damage, Severity: term.NotFound, Zone: one.Zone, Method: by[0],
		}})
		if t.try("if "+t.cleanTest(damage, by), &e, nil) {
			t.found.crackTest = damage == term.Crack && by[0] != term.ByEye
			return
		}
		e.findings = e.findings[:n]
	}
}

// cleanTest is the clause "a test with penetrant or magnetic particles found no crack".
func (a *assessor) cleanTest(damage term.Damage, by []term.Method) string {
	what := "no " + a.noun(damage)
	if !slices.Contains(by, term.ByEye) && slices.ContainsFunc(by, func(m term.Method) bool { return slices.Contains(laboratory, m) }) {
		return "a test " + ways(by) + " found " + what
	}
	return "it were checked " + ways(by) + " and " + what + " were found"
}

// ways lists ways of finding: "with penetrant or magnetic particles".
func ways(by []term.Method) string {
	var says, last string
	for i, m := range by {
		way := m.Says()
		preposition, thing, _ := strings.Cut(way, " ")
		if preposition == last {
			way = thing
		}
		switch {
		case i > 0 && i == len(by)-1:
			says += " or "
		case i > 0:
			says += ", "
		}
		says, last = says+way, preposition
	}
	return says
}

// done are the repairs as what was done.
var done = map[term.Remedy]string{
	term.Clean: "cleaned", term.Dress: "dressed", term.ReBush: "re-bushed", term.Sleeve: "sleeved",
	term.Insert: "given a thread insert", term.Grind: "ground", term.Straighten: "straightened",
}

// repaired takes away at once all findings that one remedy mends.
func (t *turning) repaired() {
	whole := t.evidence()
	for i := range whole.findings {
		is := t.rule(t.w, t.f, &whole, &whole.findings[i])
		if is.row == nil || done[is.row.Remedy] == "" || is.verdicts[t.duty] != t.s.Verdict {
			continue
		}
		remedy := is.row.Remedy
		e := whole
		e.findings = slices.DeleteFunc(slices.Clone(whole.findings), func(x found) bool {
			other := t.rule(t.w, t.f, &whole, &x)
			return other.row != nil && other.row.Remedy == remedy && !other.waits
		})
		if t.try("once it is "+done[remedy], &e, nil) {
			return
		}
	}
}

// milder tries each finding one step down on its scale.
func (t *turning) milder() {
	e := t.evidence()
	e.findings = slices.Clone(e.findings)
	for i := range e.findings {
		was := e.findings[i].Severity
		rank := was.Rank()
		if rank < 2 || was.Scale() == term.ByPresence {
			continue
		}
		e.findings[i].Severity = was.Scale().Severities()[rank-2]
		name := t.noun(e.findings[i].Damage)
		how := "if a fingernail only just caught on the " + name
		if rank == 2 {
			how = "if the " + name + " could be seen and not felt"
		}
		if t.try(how, &e, nil) {
			return
		}
		e.findings[i].Severity = was
	}
}

// gone tries the surface without each of its findings.
func (t *turning) gone() {
	whole := t.evidence()
	for i := range whole.findings {
		e := whole
		e.findings = slices.Delete(slices.Clone(whole.findings), i, i+1)
		if t.try("without finding "+itoa(whole.findings[i].Number), &e, nil) {
			return
		}
	}
}
