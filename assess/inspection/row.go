package inspection

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// row makes what the register shows and searches of a record.
func row(r *record.Record, a *assess.Assessment, changed string) Row {
	words := []string{r.Owner.Contact, r.Owner.Claim, r.Complaint, r.Unit.Variant, r.Unit.Oil, string(r.Duty)}
	for _, p := range r.People {
		words = append(words, p.Name)
	}
	for _, p := range record.InOrder(r.Parts) {
		if p.Tag != "" {
			words = append(words, p.Tag)
		}
	}
	for _, f := range record.InOrder(r.TrialFits) {
		for _, end := range []record.PartOf{f.A, f.B} {
			if end.Record != r.ID && end.Record != "" {
				words = append(words, reference(end.Record))
			}
		}
	}
	out := Row{
		Record: r.ID, Unit: strings.TrimSpace(r.Unit.Maker + " " + firstOf(r.Unit.Model, r.Unit.Type)),
		Serial: r.Unit.Serial, Owner: r.Owner.Name, Outcome: Summary(a),
		Words: strings.Join(words, " "), Received: r.Dates.Received, Changed: changed,
	}
	for _, p := range record.InOrder(r.Photos) {
		out.Photo, out.Orientation, out.Turned = record.Hash(p.File), p.Orientation, p.Turned
		break
	}
	return out
}

// Summary says the outcome of a core and how many parts have which grade.
func Summary(a *Assessment) string {
	var counts []string
	for _, v := range []term.Verdict{term.Sound, term.Usable, term.Repairable, term.Condemned} {
		if n := a.Count(v); n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, v))
		}
	}
	if n := a.Count(term.Undecided); n > 0 {
		counts = append(counts, fmt.Sprintf("%d to be inspected", n))
	}
	outcome := strings.ToUpper(string(a.Outcome[:1])) + string(a.Outcome[1:])
	if a.Hold != "" {
		outcome = "On hold (" + a.Hold + "). " + outcome
	}
	if len(counts) == 0 {
		return outcome
	}
	return outcome + ": " + strings.Join(counts, ", ")
}

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

// reference is the word under which a record is found in the rows of those
// whose trial fits name its parts: one word, whatever splits at hyphens.
func reference(id record.ID) string { return "record" + strings.ReplaceAll(string(id), "-", "") }
