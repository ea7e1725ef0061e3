package ui

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func (s *surfacePane) showFindings(r *record.Record) {
	var items []rowItem
	a := s.p.n.Assessment()
	for id, f := range record.InOrder(r.Findings) {
		if f.Part != s.p.part || f.Surface != s.p.surface {
			continue
		}
		item := rowItem{ID: string(id), Lead: fmt.Sprint(f.Number), Text: findingSays(f), Struck: f.Withdrawn != ""}
		if photos := photosOf(r, id); len(photos) > 0 {
			item.Word = "photo " + strings.Join(photos, ", ")
		}
		if f.Withdrawn == "" {
			item.Judged, item.Verdict = true, verdictOf(a, id, f)
		}
		items = append(items, item)
	}
	if !slices.Equal(items, s.findings.Items) {
		s.findings.SetItems(items)
	}
	s.findings.Mark(string(s.p.finding))
	s.findings.Hidden = len(items) == 0
	chosen, ok := r.Findings[s.p.finding]
	s.more.Hidden = !ok
	if ok {
		s.more.Set(piece{Text: moreOf(chosen), Color: colorQuiet, Small: true})
	}
	if ok && chosen.Withdrawn == "" && s.p.editable() {
		s.handle.Show()
	} else {
		s.handle.Hide()
	}
}

// photosOf lists the numbers of the photos on which a finding is outlined.
func photosOf(r *record.Record, finding record.ID) []string {
	var numbers []string
	for _, o := range record.InOrder(r.Outlines) {
		number := fmt.Sprint(r.Photos[o.Photo].Number)
		if o.Finding == finding && !slices.Contains(numbers, number) {
			numbers = append(numbers, number)
		}
	}
	return numbers
}

// noteInPane is how many characters of a note the pane shows; the whole stands in
// the finding's own sheet.
const noteInPane = 300

// moreOf tells what a finding's row has no room for.
func moreOf(f record.Finding) string {
	says := capital(f.Method.Says()) + ", " + term.Plain(f.Zone)
	if f.By != "" {
		says += ", by " + f.By
	}
	says += "."
	if f.Withdrawn != "" {
		says += " Withdrawn by " + sentence(f.Withdrawn)
	}
	if f.Note != "" {
		says += " " + sentence(shortened(oneLine(f.Note), noteInPane))
	}
	return says
}
