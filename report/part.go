package report

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/drawing"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/report/pdf"
)

// parts sets a page or more for each part that has something to show.
func (p *pages) parts() {
	for i := range p.order.Assessment.Parts {
		part := &p.order.Assessment.Parts[i]
		if p.anchors[part.ID] == nil {
			continue
		}
		p.openPart(part)
		p.part(part)
	}
}

// partNeeds is how much of a page must be left for a part without photos to
// begin on it, in millimetres.
const partNeeds = 95

// openPart begins a page for a part with photos; what has none follows on the
// same page where there is room.
func (p *pages) openPart(part *assess.Part) {
	fresh := p.page == nil || p.page.Number == p.frontPages
	photos := len(p.photosOf[part.ID]) > 0 && p.order.Reader != Archive
	if fresh || photos || p.y+partNeeds > p.floor() {
		p.newPage(part.Name)
		return
	}
	p.space(2)
	p.rule()
	p.space(5)
}

func (p *pages) part(part *assess.Part) {
	p.running = part.Name
	p.room(40)
	if p.err != nil {
		return
	}
	p.page.Label = part.Name
	p.page.Bookmark(0, p.y, part.Name+": "+part.Grade)
	p.page.Set(p.anchors[part.ID], p.y-4)
	p.page.Text(margin, p.y+5.5, title.At(16), pdf.Left, p.doc.Shorten(title.At(16), part.Name, p.width()*0.6))
	band := drawing.BandOf(part.Verdict)
	w := p.page.Text(margin+p.width(), p.y+5.5, title.At(13).In(pdf.Hex(band.Ink)), pdf.Right, part.Grade)
	p.band(pdf.Point{X: margin + p.width() - w, Y: p.y + 8}, pdf.Point{X: margin + p.width(), Y: p.y + 8}, band)
	p.y += 10
	p.paragraph(body.In(inkQuiet), p.about(part))
	if part.Why != "" {
		p.space(1)
		p.paragraph(strong.At(10), part.Why)
	}
	if text := does(part.Actions); text != "" {
		p.paragraph(body, "What to do: "+text+".")
	}
	if part.WhatIf != "" {
		p.paragraph(body, part.WhatIf)
	}
	p.override(part)
	p.space(2)
	p.drawn(part)
	p.photos(p.photosOf[part.ID])
	p.surfaces(part)
	p.reasons(part)
	p.withdrawn(part)
	p.readings(part)
	p.worked(part)
	p.fits(part)
	p.space(4)
}

// about says what lies in the tray.
func (p *pages) about(part *assess.Part) string {
	entry := p.order.Record.Parts[part.ID]
	says := []string{strings.ReplaceAll(part.Kind, "-", " ")}
	if entry.Tag != "" {
		says = append(says, "tag "+entry.Tag)
	}
	if entry.Variant != "" {
		says = append(says, "variant "+entry.Variant)
	}
	if entry.State != term.InHand {
		says = append(says, term.Plain(entry.State))
	}
	if entry.Count > 0 {
		says = append(says, count(entry.Count, "piece", "pieces"))
	}
	if len(part.Surfaces) > 0 {
		says = append(says, verdicts(part.Verdicts))
	}
	if entry.Note != "" {
		says = append(says, entry.Note)
	}
	return strings.Join(says, " · ")
}

func (p *pages) override(part *assess.Part) {
	if part.Override == nil {
		return
	}
	p.space(1)
	p.paragraph(strong, fmt.Sprintf("Judged %s by %s: %s. By the rules alone it would be %s.",
		part.Override.Verdict, part.Override.By, part.Override.Reason, part.Computed))
}

// surfaces lists every surface with what was done, found and judged.
func (p *pages) surfaces(part *assess.Part) {
	if len(part.Surfaces) == 0 {
		return
	}
	p.room(34)
	p.head(1, "Surfaces")
	columns := p.columns(0.05, 0.28, 0.45, 0.22, "No.", "Surface", "Looked at", "Verdict")
	p.tableHead(columns)
	entry := p.order.Record.Parts[part.ID]
	for i := range part.Surfaces {
		s := &part.Surfaces[i]
		verdict := gradeWord(s.Verdict)
		if part.Verdict == term.Condemned && s.Verdict == term.Undecided {
			verdict = "not needed"
		}
		style := body
		if s.Verdict == part.Verdict && s.Verdict != term.Sound {
			style = strong
		}
		p.row(columns, []cell{plain(fmt.Sprint(s.Number)), {text: s.Name, style: style}, plain(lookedAt(entry.Surfaces[s.ID])), {text: verdict, style: style}})
	}
}

func lookedAt(l record.Looked) string {
	var done []string
	if l.Eye {
		done = append(done, "looked at")
	}
	if l.Touch {
		done = append(done, "felt")
	}
	if len(done) == 0 {
		return "not looked at"
	}
	if !l.Clean {
		done = append(done, "not clean")
	}
	says := strings.Join(done, ", ")
	if l.By != "" {
		says += ", by " + l.By
	}
	return says
}

// reasons tells, for each surface with something to tell, why it is judged so.
func (p *pages) reasons(part *assess.Part) {
	any := false
	for i := range part.Surfaces {
		s := &part.Surfaces[i]
		if !tells(s) {
			continue
		}
		if !any {
			p.room(30)
			p.head(1, "Findings and reasons")
			any = true
		}
		p.room(14)
		p.space(1.5)
		p.paragraph(strong, fmt.Sprintf("%d  %s: %s", s.Number, capital(s.Name), verdicts(s.Verdicts)))
		for _, r := range s.Reasons {
			if p.order.Reader == Customer && r.Of == "" && s.Verdict != term.Undecided && len(s.Reasons) > 1 {
				continue // that nothing else was found goes without saying
			}
			p.reason(r)
		}
		if s.WhatIf != "" {
			p.flow(margin+4, p.width()-4, body, s.WhatIf)
		}
		for _, note := range s.Notes {
			p.flow(margin+4, p.width()-4, body, note)
		}
		for _, step := range s.Inspect {
			p.flow(margin+4, p.width()-4, body.With(pdf.Italic), "To be inspected: "+step)
		}
	}
	for _, r := range part.Reasons {
		if r.Text != part.Why && (part.Override == nil || r.Source != part.Override.By) {
			p.reason(r)
		}
	}
}

func tells(s *assess.Surface) bool {
	if len(s.Notes)+len(s.Inspect) > 0 {
		return true
	}
	for _, r := range s.Reasons {
		if r.Of != "" {
			return true
		}
	}
	return false
}

func (p *pages) reason(r assess.Reason) {
	p.room(8)
	p.space(0.8)
	if f, ok := p.order.Record.Findings[r.Of]; ok {
		p.flow(margin+4, p.width()-4, body, p.finding(r.Of, f))
	}
	text := r.Text
	if r.IfLeft != "" {
		text += " If it is left as it is: " + lower(r.IfLeft)
	}
	if r.Plain != "" && p.order.Reader == Customer {
		text += " " + r.Plain
	}
	p.flow(margin+4, p.width()-4, body, text)
	source := "Source: " + r.Source
	if r.Decides {
		source = "This decides. " + source
	}
	if r.Rule != "" && p.order.Reader != Customer {
		source += ", rule " + r.Rule
		if r.Reviewed == "" {
			source += ", not yet reviewed"
		} else {
			source += ", reviewed by " + r.Reviewed
		}
	}
	p.flow(margin+4, p.width()-4, tiny, source+".")
	if p.order.Reader == Customer {
		return
	}
	for _, other := range r.Passed {
		p.flow(margin+4, p.width()-4, tiny, fmt.Sprintf("Gave way: rule %s (%s), since %s.", other.Rule, verdicts(other.Verdicts), lower(strings.TrimSuffix(other.Since, "."))))
	}
}

// finding says one finding in a line, with the photos that show it.
func (p *pages) finding(id record.ID, f record.Finding) string {
	says := []string{fmt.Sprintf("Finding %d: %s, %s", f.Number, term.Plain(f.Damage), f.Severity.Says()), term.Plain(f.Zone)}
	if f.Tooth != "" {
		says = append(says, "tooth "+f.Tooth)
	}
	if f.Share != "" {
		says = append(says, f.Share+" % of the working face of the worst tooth")
	}
	if f.Standing != "" {
		says = append(says, string(f.Standing))
	}
	if f.Flank != "" {
		says = append(says, string(f.Flank)+" flank")
	}
	says = append(says, "found "+f.Method.Says())
	if f.By != "" {
		says[len(says)-1] += " by " + f.By
	}
	if shown := p.shownOn(id); shown != "" {
		says = append(says, shown)
	}
	for _, x := range assess.Extents(p.order.Record, id) {
		if x.Err == nil {
			says = append(says, fmt.Sprintf("on photo %d: %s", x.Photo, strings.TrimSuffix(x.Says(gauge.Millimetre), ".")))
		}
	}
	if f.Note != "" {
		says = append(says, f.Note)
	}
	return strings.Join(says, "; ") + "."
}

func (p *pages) shownOn(finding record.ID) string {
	var numbers []string
	seen := map[int]bool{}
	for _, o := range record.InOrder(p.order.Record.Outlines) {
		n := p.order.Record.Photos[o.Photo].Number
		if o.Finding == finding && !seen[n] {
			seen[n] = true
			numbers = append(numbers, fmt.Sprint(n))
		}
	}
	switch len(numbers) {
	case 0:
		return ""
	case 1:
		return "photo " + numbers[0]
	}
	return "photos " + join(numbers)
}
