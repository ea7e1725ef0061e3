package ui

import (
	"strings"

	"fettlebook/assess/inspection"
	"fettlebook/assess/term"
)

// showReasons tells why a surface is judged as it is: what decides first, then
// what speaks besides, each with the verdict that it alone would give; then what
// is to be inspected and what would turn the verdict.
func (s *surfacePane) showReasons(a *inspection.Assessment, f *inspection.Surface) {
	s.reasons.RemoveAll()
	told := map[string]bool{}
	for i := range f.Reasons {
		r := &f.Reasons[i]
		if key := r.Text + r.Source; told[key] {
			continue
		} else {
			told[key] = true
		}
		s.reasons.Add(newParagraph(reasonPieces(r, a.Duty)...))
	}
	for _, step := range f.Inspect {
		s.reasons.Add(newParagraph(piece{Text: "To be inspected: ", Bold: true}, piece{Text: sentence(step)}))
	}
	if f.WhatIf != "" {
		s.reasons.Add(newParagraph(piece{Text: f.WhatIf}))
	}
	for _, says := range f.Notes {
		s.reasons.Add(quietly(sentence(says)))
	}
	s.reasons.Refresh()
}

// reasonPieces tell one reason. What decides stands in full ink, its runners-up
// behind it in quiet.
func reasonPieces(r *inspection.Reason, duty term.Duty) []piece {
	ink := colorQuiet
	if r.Decides {
		ink = ""
	}
	says := sentence(r.Text)
	if r.IfLeft != "" {
		says += " If left: " + lower(sentence(r.IfLeft))
	}
	pieces := []piece{
		{Text: capital(verdictWord(r.Verdicts.For(duty))) + ": ", Bold: true, Color: ink, Small: !r.Decides},
		{Text: says + " ", Color: ink, Small: !r.Decides},
		{Text: sourceSays(r), Color: colorQuiet, Small: !r.Decides},
	}
	for _, other := range r.Passed {
		if v := other.Verdicts.For(duty); v != r.Verdicts.For(duty) {
			pieces = append(pieces, piece{Color: colorQuiet, Small: !r.Decides,
				Text: " Another rule would say " + verdictWord(v) + "; it gives way: " + lower(sentence(other.Since))})
			break
		}
	}
	return pieces
}

// sourceSays names where a judgement comes from.
func sourceSays(r *inspection.Reason) string {
	var says []string
	if r.How != "" {
		says = append(says, "found "+r.How)
	}
	if r.Source != "" {
		says = append(says, "source: "+r.Source)
	}
	if r.Reviewed != "" {
		says = append(says, "reviewed by "+r.Reviewed)
	}
	if r.Safety {
		says = append(says, "belongs to the safety set, which nothing loosens")
	}
	return sentence(strings.Join(says, "; "))
}
