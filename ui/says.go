package ui

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// firstOf returns the first text that is not empty.
func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// and joins words as they are said: "a, b and c".
func and(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// verdictWord is the word for a verdict where it stands alone. Undecided asks for
// something, so it is said by what it asks for.
func verdictWord(v term.Verdict) string {
	if v == term.Undecided {
		return "to be inspected"
	}
	return v.String()
}

// dutyWord names a duty in a sentence.
func dutyWord(d term.Duty) string { return term.Plain(d) }

// verdictSays tells a surface's verdict for all duties in one sentence, the
// harder verdicts first: "condemned for road and hard, usable for yard".
func verdictSays(by [3]term.Verdict) string {
	var groups []string
	for i := len(term.Verdicts) - 1; i >= 0; i-- {
		v := term.Verdicts[i]
		var duties []string
		for k, d := range term.Duties {
			if by[k] == v {
				duties = append(duties, dutyWord(d))
			}
		}
		switch len(duties) {
		case 0:
		case len(term.Duties):
			return v.String()
		default:
			groups = append(groups, v.String()+" for "+and(duties))
		}
	}
	return strings.Join(groups, ", ")
}

// foretell says what a part would be graded once an act is kept, on which
// surface if it is of one, and the reason that the act gives.
func foretell(part *inspection.Part, surface string, act record.ID) []piece {
	says, reasons := part.Name+": "+part.Grade+". ", part.Reasons
	if on, ok := part.Surface(surface); ok {
		says, reasons = capital(on.Name)+": "+verdictSays(on.Verdicts)+". "+says, on.Reasons
	}
	pieces := []piece{{Text: says, Bold: true}}
	if at := slices.IndexFunc(reasons, func(r inspection.Reason) bool { return r.Of == act }); at >= 0 {
		pieces = append(pieces, piece{Text: reasons[at].Text})
	}
	return pieces
}

// countsSay tells how many parts have which verdict.
func countsSay(a *inspection.Assessment) string {
	var counts []string
	for _, v := range []term.Verdict{term.Sound, term.Usable, term.Repairable, term.Condemned, term.Undecided} {
		if n := a.Count(v); n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, verdictWord(v)))
		}
	}
	return strings.Join(counts, ", ")
}

// lookedSays tells what was done to judge a surface.
func lookedSays(l record.Looked) string {
	var done []string
	if l.Eye {
		done = append(done, "looked at")
	}
	if l.Touch {
		done = append(done, "felt")
	}
	switch {
	case len(done) == 0 && l.Clean:
		return "clean"
	case len(done) == 0:
		return "not looked at"
	case !l.Clean:
		done = append(done, "not clean")
	}
	return strings.Join(done, ", ")
}

// findingSays tells a finding in a line.
func findingSays(f record.Finding) string {
	says := capital(term.Plain(f.Damage)) + ", " + term.Plain(f.Severity)
	if f.Zone == term.StressedZone {
		says += ", stressed zone"
	}
	if f.Tooth != "" {
		says += ", tooth " + f.Tooth
	}
	if f.Flank != "" {
		says += ", " + string(f.Flank)
	}
	return says
}

// takenSays tells when a photo was taken, by the camera's own clock.
func takenSays(t record.Taken) string {
	if t.Local == "" {
		return "time not recorded"
	}
	says := strings.Replace(t.Local, "T", " ", 1)
	if t.Zone == "" {
		return says + " (camera's clock, zone not recorded)"
	}
	return says + " " + t.Zone
}
