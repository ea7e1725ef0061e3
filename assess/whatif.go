package assess

import (
	"fmt"
	"slices"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// whatIf says the smallest single change that would turn the verdict of a
// surface to a kinder one: the deciding finding one step milder, else gone.
// It is empty where two things decide alike, since then no single one turns it.
func (a *assessor) whatIf(w *work, f *spec.Surface, s *Surface) string {
	if s.Verdict == term.Sound || s.Verdict == term.Undecided {
		return ""
	}
	deciding, rest := -1, term.Sound
	for i, r := range s.Reasons {
		v := r.Verdicts[a.duty]
		if v != s.Verdict {
			rest = term.Worst(rest, v)
			continue
		}
		if deciding >= 0 {
			return ""
		}
		deciding = i
	}
	at := slices.IndexFunc(w.findings[f.ID], func(x found) bool { return x.id == s.Reasons[deciding].Of })
	if at < 0 {
		return ""
	}
	one := w.findings[f.ID][at]
	if text := a.milder(w, f, s, one, rest); text != "" {
		return text
	}
	if s.Verdict.Worse(rest) {
		return fmt.Sprintf("Without finding %d it would be %s.", one.Number, rest)
	}
	return ""
}

// milder tries the finding one step down on its scale.
func (a *assessor) milder(w *work, f *spec.Surface, s *Surface, one found, rest term.Verdict) string {
	rank := one.Severity.Rank()
	if rank < 2 || one.Severity.Scale() == term.ByPresence {
		return ""
	}
	one.Severity = one.Severity.Scale().Severities()[rank-2]
	then := term.Worst(rest, a.finding(w, f, w.entry.Surfaces[f.ID], one).Verdicts[a.duty])
	if then == term.Undecided || !s.Verdict.Worse(then) {
		return ""
	}
	if one.Severity == term.Seen {
		return fmt.Sprintf("It would be %s if the %s could be seen and not felt.", then, term.Plain(one.Damage))
	}
	return fmt.Sprintf("It would be %s if a fingernail just caught on the %s.", then, term.Plain(one.Damage))
}
