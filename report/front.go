package report

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/drawing"
	"fettlebook/assess/term"
	"fettlebook/report/pdf"
)

// front is page one: a reader who sees no other knows the outcome.
func (p *pages) front() {
	p.newPage("")
	if p.err != nil {
		return
	}
	p.page.Bookmark(0, 0, "Outcome")
	p.page.Text(margin, p.y+7, title, pdf.Left, "Condition report")
	p.shop()
	p.y += 11
	p.page.Line(pdf.Point{X: margin, Y: p.y}, pdf.Point{X: margin + p.width(), Y: p.y}, pdf.Paint{Stroke: inkText, Width: 0.4})
	p.space(3)
	p.paragraph(body.In(inkQuiet), p.subtitle())
	if p.order.Reader != Customer {
		p.paragraph(quiet, p.order.Reader.says()+".")
	}
	p.space(3)
	p.paragraph(lead, p.outcome())
	p.space(1)
	p.paragraph(body.In(inkQuiet), strings.Join(p.order.Assessment.Why, " "))
	if hold := p.order.Assessment.Hold; hold != "" {
		p.space(1)
		p.paragraph(strong.At(10), "On hold: "+hold+". Nothing is cleaned or taken further until it is released.")
	}
	if c := p.order.Record.Complaint; c != "" {
		p.space(1)
		p.paragraph(body, "Complaint: "+c)
	}
	p.space(3)
	if !p.laidOut() {
		p.strip()
	}
	p.whatToDo()
	p.toInspect()
	p.allGrades()
}

func (p *pages) shop() {
	s := p.order.Shop
	y := p.y + 2
	for i, line := range []string{s.Name, s.Address, s.Contact} {
		if line == "" {
			continue
		}
		st := quiet
		if i == 0 {
			st = strong
		}
		p.page.Text(margin+p.width(), y, st, pdf.Right, p.doc.Shorten(st, line, p.width()/2))
		y += 3.8
	}
}

// strip is the unit laid out in order: one box a part, with the band of its
// verdict and its letter, and a legend below.
func (p *pages) strip() {
	parts := p.order.Assessment.Parts
	if len(parts) == 0 {
		return
	}
	const height = 11.0
	perRow := min(len(parts), 42)
	width := min(p.width()/float64(perRow), 14)
	rows := (len(parts) + perRow - 1) / perRow
	p.room(float64(rows)*(height+1.5) + 8)
	if p.err != nil {
		return
	}
	for i := range parts {
		x := margin + float64(i%perRow)*width
		y := p.y + float64(i/perRow)*(height+1.5)
		p.tile(&parts[i], pdf.Rect{X: x + 0.3, Y: y, W: width - 0.6, H: height})
	}
	p.y += float64(rows)*(height+1.5) + 3
	p.legend()
	p.space(2)
}

func (p *pages) tile(part *assess.Part, box pdf.Rect) {
	p.page.Rect(box, pdf.Paint{Fill: inkPaper, Stroke: inkRule, Width: 0.15})
	center := box.X + box.W/2
	if part.Consumable {
		p.page.Text(center, box.Y+box.H/2+1, quiet, pdf.Center, "–")
		return
	}
	band := drawing.BandOf(part.Verdict)
	ink := pdf.Hex(band.Ink)
	p.band(pdf.Point{X: box.X + 0.5, Y: box.Bottom() - 1.6}, pdf.Point{X: box.Right() - 0.5, Y: box.Bottom() - 1.6}, band)
	p.page.Text(center, box.Y+box.H/2+0.8, strong.In(ink), pdf.Center, band.Letter)
	if a := p.anchors[part.ID]; a != nil {
		p.page.Link(box, a)
	}
}

// bandWidth is the ordinary width of a band, in millimetres.
const bandWidth = 0.9

func (p *pages) band(from, to pdf.Point, b drawing.Band) {
	dash := make([]float64, len(b.Dash))
	for i, d := range b.Dash {
		dash[i] = d * bandWidth * 0.6
	}
	p.page.Line(from, to, pdf.Paint{Stroke: pdf.Hex(b.Ink), Width: bandWidth * b.Width, Dash: dash, Square: true})
}

func (p *pages) legend() {
	x := margin
	for _, v := range term.Verdicts {
		band := drawing.BandOf(v)
		p.band(pdf.Point{X: x, Y: p.y - 0.9}, pdf.Point{X: x + 8, Y: p.y - 0.9}, band)
		label := fmt.Sprintf("%s  %s: %d", band.Letter, gradeWord(v), p.order.Assessment.Count(v))
		x += 10 + p.page.Text(x+10, p.y, quiet, pdf.Left, label) + 6
	}
	p.y += 3
}

func gradeWord(v term.Verdict) string {
	if v == term.Undecided {
		return "to be inspected"
	}
	return v.String()
}

// work is what is to be done, the hardest first, as the rows of a table.
func (p *pages) work() (columns []column, rows [][]cell) {
	for _, v := range []term.Verdict{term.Condemned, term.Repairable, term.Usable} {
		for i := range p.order.Assessment.Parts {
			part := &p.order.Assessment.Parts[i]
			if part.Verdict == v && toDo(part) {
				rows = append(rows, []cell{
					{text: part.Name, style: strong.At(8.4), link: p.anchors[part.ID]},
					small(part.Grade), small(does(part.Actions)), small(part.Why),
				})
			}
		}
	}
	return p.columns(0.17, 0.135, 0.165, 0.53, "Part", "Grade", "What to do", "Why"), rows
}

// toDo reports whether a part stands in the table of work.
func toDo(part *assess.Part) bool {
	switch part.Verdict {
	case term.Condemned, term.Repairable:
		return !part.Consumable
	case term.Usable:
		return !part.Consumable && len(part.Actions) > 0
	}
	return false
}

// whatToDo lists the recommended replacements and repairs.
func (p *pages) whatToDo() {
	columns, rows := p.work()
	p.head(0, "What to do")
	if len(rows) == 0 {
		p.paragraph(body, "Nothing has to be replaced or repaired by what was seen so far.")
	} else {
		p.tableHead(columns)
		for _, cells := range rows {
			p.row(columns, cells)
		}
	}
	p.alwaysReplaced()
}

func (p *pages) alwaysReplaced() {
	if text := p.alwaysSays(); text != "" {
		p.space(1)
		p.paragraph(quiet, text)
	}
}

func (p *pages) alwaysSays() string {
	var names []string
	for i := range p.order.Assessment.Parts {
		if part := &p.order.Assessment.Parts[i]; part.Consumable {
			names = append(names, lower(part.Name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Always replaced: " + join(names) + ". Split pins, prevailing-torque nuts and other single-use fasteners are never used again."
}

func (p *pages) columns(a, b, c, d float64, names ...string) []column {
	shares := []float64{a, b, c, d}
	columns := make([]column, len(names))
	for i, name := range names {
		columns[i] = column{name: name, width: shares[i] * p.width()}
	}
	return columns
}

// toInspect says in a line each which parts wait for what; the steps in full
// stand with the parts.
func (p *pages) toInspect() {
	lines := p.waiting()
	if len(lines) == 0 {
		return
	}
	p.head(0, "Still to be inspected")
	for _, line := range lines {
		p.paragraph(body, line)
		p.space(0.6)
	}
}

func (p *pages) waiting() []string {
	var lines []string
	for _, id := range p.order.Assessment.Next {
		part, _ := p.order.Assessment.Part(id)
		line := part.Name + ": " + part.Inspect[0].Text
		if more := len(part.Inspect) - 1; more > 0 {
			line += fmt.Sprintf(" (and %s)", count(more, "thing more", "things more"))
		}
		lines = append(lines, line)
	}
	return lines
}

func (p *pages) grade(part *assess.Part, x, width float64) {
	grade := part.Grade
	style := tiny.In(inkText)
	name := style
	if part.Verdict == term.Condemned {
		style = style.With(pdf.Bold)
	}
	w := p.page.Text(x+width, p.y+2.9, style, pdf.Right, grade)
	p.page.Text(x, p.y+2.9, name, pdf.Left, p.doc.Shorten(name, part.Name, width-w-1.5))
	p.page.Line(pdf.Point{X: x, Y: p.y + 3.9}, pdf.Point{X: x + width, Y: p.y + 3.9}, pdf.Paint{Stroke: inkRule, Width: 0.1})
	if a := p.anchors[part.ID]; a != nil {
		p.page.Link(pdf.Rect{X: x, Y: p.y, W: width, H: 4.4}, a)
	}
}
