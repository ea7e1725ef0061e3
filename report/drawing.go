package report

import (
	"fettlebook/assess"
	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
	"fettlebook/report/pdf"
)

// Drawings makes the drawings of a report; either may be nil, or return nil
// where there is nothing to draw. Sizes are in millimetres of paper, the height
// what a drawing may take at most.
type Drawings struct {
	// Part draws a part with its surfaces, by its id.
	Part func(part record.ID, o drawing.Options) *drawing.List
	// Unit draws the whole unit. Its areas are named by places.
	Unit func(o drawing.Options) *drawing.List
}

// partHeight is what the drawing of a part may take of its page.
const partHeight = 58.0

// laidOut is the unit as an exploded view on page one, each part a way to its
// page; it reports whether there is one.
func (p *pages) laidOut() bool {
	if p.order.Drawings.Unit == nil {
		return false
	}
	l := p.order.Drawings.Unit(drawing.Options{
		Width: p.width(), Height: p.unitRoom(), Text: 2, Line: 0.25, Band: 0.7,
	})
	if l == nil || len(l.Items) == 0 {
		return false
	}
	p.room(l.Height + 8)
	if p.err != nil {
		return true
	}
	p.list(l, margin, p.y)
	for _, area := range l.Areas {
		if anchor := p.anchors[p.partAt(area.Of)]; anchor != nil && len(area.Polygon) == 4 {
			a, c := area.Polygon[0], area.Polygon[2]
			p.page.Link(pdf.Rect{X: margin + a.X, Y: p.y + a.Y, W: c.X - a.X, H: c.Y - a.Y}, anchor)
		}
	}
	p.y += l.Height + 3
	p.legend()
	return true
}

// partAt is the part that stands at a place of the unit, empty for none.
func (p *pages) partAt(place string) record.ID {
	for i := range p.order.Assessment.Parts {
		if part := &p.order.Assessment.Parts[i]; part.Place == place {
			return part.ID
		}
	}
	return ""
}

// drawn heads a part's page with its drawing.
func (p *pages) drawn(part *assess.Part) {
	if p.order.Drawings.Part == nil || p.err != nil {
		return
	}
	l := p.order.Drawings.Part(part.ID, drawing.Options{
		Width: p.width(), Height: partHeight, Text: 2.6, Line: 0.35, Band: 0.8, Names: true,
	})
	if l == nil || len(l.Items) == 0 {
		return
	}
	p.room(l.Height + 2)
	if p.err != nil {
		return
	}
	p.list(l, margin, p.y)
	p.y += l.Height + 2
}

// list draws a display list as vectors, its upper left corner at x and y.
func (p *pages) list(l *drawing.List, x, y float64) {
	for i := range l.Items {
		it := &l.Items[i]
		ink := pdf.Hex(drawing.Paper.Colour(it.Ink))
		if it.Op == drawing.Text {
			face := pdf.Regular
			if it.Bold {
				face = pdf.Bold
			}
			align := [...]pdf.Align{pdf.Left, pdf.Center, pdf.Right}[min(it.Anchor, drawing.End)]
			p.page.Text(x+it.At.X, y+it.At.Y, pdf.Style{Face: face, Size: it.Size * 72 / 25.4, Color: ink}, align, it.Text)
			continue
		}
		paths := make([][]pdf.Point, len(it.Paths))
		for j, path := range it.Paths {
			paths[j] = make([]pdf.Point, len(path))
			for k, q := range path {
				paths[j][k] = pdf.Point{X: x + q.X, Y: y + q.Y}
			}
		}
		if it.Op == drawing.Fill {
			p.page.Paths(paths, pdf.Paint{Fill: ink})
		} else {
			p.page.Paths(paths, pdf.Paint{Stroke: ink, Width: it.Width, Square: true})
		}
	}
}
