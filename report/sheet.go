package report

import (
	"context"
	"fmt"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/report/pdf"
)

// The grid of a page, in millimetres.
const (
	margin     = 18.0
	top        = 16.0
	bottom     = 20.0
	gap        = 4.0
	betweenRow = 1.6
)

// The inks of a page.
var (
	inkText  = pdf.Hex(0x141414)
	inkQuiet = pdf.Hex(0x5C5C5C)
	inkRule  = pdf.Hex(0xC9C9C4)
	inkPaper = pdf.Hex(0xF6F6F3)
)

// The styles of a page: one typeface in few sizes.
var (
	title   = pdf.Style{Face: pdf.Bold, Size: 21, Color: inkText}
	lead    = pdf.Style{Face: pdf.Bold, Size: 13.5, Color: inkText, Leading: 1.3}
	heading = pdf.Style{Face: pdf.Bold, Size: 11.5, Color: inkText}
	strong  = pdf.Style{Face: pdf.Bold, Size: 9.2, Color: inkText}
	body    = pdf.Style{Size: 9.2, Color: inkText}
	quiet   = pdf.Style{Size: 8, Color: inkQuiet}
	tiny    = pdf.Style{Size: 7, Color: inkQuiet}
)

// pages is a report in the making: a column of text that flows from page to page.
type pages struct {
	ctx   context.Context
	order Order
	doc   *pdf.Document
	page  *pdf.Page
	// y is where the next thing goes, in millimetres from the top of the page.
	y       float64
	running string
	err     error
	// frontPages is how many pages the front takes: no part begins on its last.
	frontPages int

	// photosOf and so on are the record, sorted for the pages.
	photosOf   map[record.ID][]photo
	loose      []photo
	leftOut    []record.Photo
	outlinesOf map[record.ID][]record.Outline
	// gone are the files of photos that can't be had, with why.
	gone     map[string]error
	anchors  map[record.ID]*pdf.Anchor
	cautions *pdf.Anchor
}

type photo struct {
	id record.ID
	record.Photo
}

// collect sorts photos and outlines by what they show.
func (p *pages) collect() {
	r := p.order.Record
	p.photosOf, p.outlinesOf = map[record.ID][]photo{}, map[record.ID][]record.Outline{}
	p.gone = map[string]error{}
	p.anchors, p.cautions = map[record.ID]*pdf.Anchor{}, p.doc.Anchor()
	for id, ph := range record.InOrder(r.Photos) {
		if len(ph.Subjects) == 0 {
			p.loose = append(p.loose, photo{id, ph})
		}
		seen := map[record.ID]bool{}
		for _, s := range ph.Subjects {
			if !seen[s.Part] {
				p.photosOf[s.Part] = append(p.photosOf[s.Part], photo{id, ph})
			}
			seen[s.Part] = true
		}
	}
	for _, o := range record.InOrder(r.Outlines) {
		if r.Findings[o.Finding].Withdrawn != "" || o.Repeats != "" {
			continue // it is told of in words and not shown
		}
		p.outlinesOf[o.Photo] = append(p.outlinesOf[o.Photo], o)
	}
	for i := range p.order.Assessment.Parts {
		part := &p.order.Assessment.Parts[i]
		if p.worthAPage(part) {
			p.anchors[part.ID] = p.doc.Anchor()
		}
	}
}

// worthAPage reports whether a part has something to show: photos, findings,
// readings, what was worked out, a grade that must be explained, or what was
// withdrawn.
func (p *pages) worthAPage(part *assess.Part) bool {
	if len(p.photosOf[part.ID]) > 0 || part.Override != nil || len(part.Workings) > 0 || p.anyWithdrawn(part) {
		return true
	}
	for i := range part.Surfaces {
		for _, reason := range part.Surfaces[i].Reasons {
			if reason.Of != "" {
				return true
			}
		}
	}
	for _, reason := range part.Reasons {
		if reason.Of != "" {
			return true
		}
	}
	return p.order.Reader == Archive && !part.Consumable
}

func (p *pages) width() float64 { return p.order.paper().Width - 2*margin }
func (p *pages) floor() float64 { return p.order.paper().Height - bottom }

func (o Order) paper() pdf.Paper {
	if o.Paper == (pdf.Paper{}) {
		return pdf.A4
	}
	return o.Paper
}

// newPage begins a page under a running title.
func (p *pages) newPage(running string) {
	if p.err != nil {
		return
	}
	page, err := p.doc.NewPage(p.ctx)
	if err != nil {
		p.err = err
		return
	}
	page.Label = running
	p.page, p.y, p.running = page, top, running
	if page.Number > 1 {
		p.y = top + 8
	}
}

// room makes sure that so much height is left, on a new page if need be.
func (p *pages) room(height float64) {
	if p.y+height > p.floor() {
		p.newPage(p.running)
	}
}

func (p *pages) space(height float64) { p.y += height }

// flow sets text of any length in a column, over as many pages as it takes.
func (p *pages) flow(x, width float64, st pdf.Style, text string) {
	lines := p.doc.Wrap(st, text, width)
	for len(lines) > 0 && p.err == nil {
		fits := int((p.floor() - p.y) / st.LineHeight())
		if fits < 1 {
			p.newPage(p.running)
			continue
		}
		now := min(fits, len(lines))
		p.y = p.page.Lines(x, p.y, width, st, pdf.Start, lines[:now])
		lines = lines[now:]
	}
}

func (p *pages) paragraph(st pdf.Style, text string) { p.flow(margin, p.width(), st, text) }

// head sets a heading that never stands alone at the foot of a page.
func (p *pages) head(level int, text string) {
	p.room(16)
	p.space(3.5)
	p.bookmark(level, text)
	p.paragraph(heading, text)
	p.space(1)
}

func (p *pages) bookmark(level int, text string) {
	if p.err == nil {
		p.page.Bookmark(level, p.y, text)
	}
}

func (p *pages) rule() {
	if p.err == nil {
		p.page.Line(pdf.Point{X: margin, Y: p.y}, pdf.Point{X: margin + p.width(), Y: p.y}, pdf.Paint{Stroke: inkRule, Width: 0.2})
	}
}

// decorate adds what needs the number of pages.
func (p *pages) decorate(page *pdf.Page, number, of int) {
	y := page.Height - 11
	page.Line(pdf.Point{X: margin, Y: y - 4}, pdf.Point{X: page.Width - margin, Y: y - 4}, pdf.Paint{Stroke: inkRule, Width: 0.2})
	page.Text(margin, y, tiny, pdf.Left, "What was seen on the day. A visual inspection does not find every crack. See the cautions at the end.")
	page.Text(page.Width-margin, y, tiny, pdf.Right, fmt.Sprintf("page %d of %d", number, of))
	page.Link(pdf.Rect{X: margin, Y: y - 3, W: 100, H: 4}, p.cautions)
	if hold := p.order.Assessment.Hold; hold != "" {
		page.Text(page.Width/2, y+4, strong, pdf.Center, p.doc.Shorten(strong, "On hold: "+hold, p.width()))
	}
	if number > 1 {
		unit := p.doc.Shorten(tiny, p.order.Record.Unit.Says(), p.width()/2)
		page.Text(margin, top, tiny, pdf.Left, unit)
		page.Text(page.Width-margin, top, tiny, pdf.Right, p.doc.Shorten(tiny, page.Label, p.width()/2))
		page.Line(pdf.Point{X: margin, Y: top + 2}, pdf.Point{X: page.Width - margin, Y: top + 2}, pdf.Paint{Stroke: inkRule, Width: 0.2})
	}
}
