package report

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

var inWords = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// count says a number of things as a person would.
func count(n int, one, many string) string {
	what := many
	if n == 1 {
		what = one
	}
	if n < len(inWords) {
		return inWords[n] + " " + what
	}
	return fmt.Sprintf("%d %s", n, what)
}

// outcome is the sentence that a reader of page one alone must take away.
func (p *pages) outcome() string {
	a := p.order.Assessment
	replace, mend, open := 0, 0, 0
	for i := range a.Parts {
		part := &a.Parts[i]
		switch {
		case part.Consumable:
		case part.Verdict == term.Condemned:
			replace++
		case part.Verdict == term.Repairable:
			mend++
		case part.Verdict == term.Undecided:
			open++
		}
	}
	var rest []string
	if replace > 0 {
		rest = append(rest, count(replace, "part must be replaced", "parts must be replaced"))
	}
	if mend > 0 {
		rest = append(rest, count(mend, "can be repaired", "can be repaired"))
	}
	says := map[assess.Outcome]string{
		assess.WorthRebuilding: "Worth rebuilding.", assess.Donor: "Not worth rebuilding; a donor of parts.",
		assess.Scrap: "Scrap.", assess.NotDecided: "Not decided yet.",
	}[a.Outcome]
	if len(rest) > 0 {
		says += " " + capital(strings.Join(rest, ", ")) + "."
	}
	if open > 0 {
		says += " " + capital(count(open, "part still has", "parts still have")) + " to be inspected before the box can be closed."
	}
	return says
}

func capital(s string) string { return firstLetter(s, unicode.ToUpper) }
func lower(s string) string   { return firstLetter(s, unicode.ToLower) }

// firstLetter changes the first letter, of however many bytes it is made.
func firstLetter(s string, to func(rune) rune) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 || r == utf8.RuneError {
		return s
	}
	return string(to(r)) + s[size:]
}

// subtitle says which unit of whom, when, for what duty.
func (p *pages) subtitle() string {
	r := p.order.Record
	parts := []string{r.Unit.Says()}
	add := func(format, value string) {
		if value != "" {
			parts = append(parts, fmt.Sprintf(format, value))
		}
	}
	add("variant %s", r.Unit.Variant)
	add("%s", r.Unit.Service)
	add("owner %s", r.Owner.Name)
	add("claim %s", r.Owner.Claim)
	add("received %s", day(r.Dates.Received))
	add("stripped %s", day(r.Dates.Stripped))
	add("judged for %s duty", string(r.Duty))
	return strings.Join(parts, " · ")
}

// day says a day as 12 May 2026.
func day(iso string) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return t.Format("2 January 2006")
}

// taken says when the camera took a photo, and that it told no zone.
func taken(t record.Taken) string {
	if t.Local == "" {
		return "time not recorded"
	}
	at, err := time.Parse("2006-01-02T15:04:05", t.Local)
	if err != nil {
		return t.Local
	}
	says := "taken " + at.Format("2 January 2006, 15:04:05")
	if t.Zone == "" {
		return says + " (zone not recorded)"
	}
	return says + " (UTC" + t.Zone + ")"
}

// verdicts says a verdict for each duty, alike ones together: "condemned for
// road and hard duty, usable for yard duty".
func verdicts(b assess.ByDuty) string {
	var order []term.Verdict
	duties := map[term.Verdict][]string{}
	for i := len(term.Duties) - 1; i >= 0; i-- {
		v := b[i]
		if duties[v] == nil {
			order = append(order, v)
		}
		duties[v] = append([]string{string(term.Duties[i])}, duties[v]...)
	}
	if len(order) == 1 {
		return order[0].String() + " for every duty"
	}
	says := make([]string, len(order))
	for i, v := range order {
		says[i] = v.String() + " for " + join(duties[v]) + " duty"
	}
	return strings.Join(says, ", ")
}

func join(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// does says what to do about a part.
func does(actions []assess.Action) string {
	says := make([]string, len(actions))
	for i, a := range actions {
		says[i] = term.Plain(a.Do)
		if len(a.With) > 0 {
			says[i] += ", with its " + join(a.With)
		}
	}
	return strings.Join(says, "; ")
}
