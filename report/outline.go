package report

import (
	"fmt"

	"fettlebook/assess/drawing"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
	"fettlebook/report/pdf"
)

// The lines of an outline over a photo, in millimetres: a light casing under
// the band of the finding's verdict, so that it shows on any ground. What shows no
// finding, a scale or a zone, is drawn thinner and in a quiet ink.
const (
	casing      = 1.1
	stroke      = 0.55
	quietStroke = 0.3
	spotRadius  = 1.5
)

func (p *pages) outline(o record.Outline, ph photo, placed pdf.Placed) {
	paint := pdf.Paint{Stroke: inkQuiet, Width: quietStroke}
	if p.judged(o) {
		band := drawing.BandOf(p.order.Assessment.OfFinding(p.order.Record, o.Finding))
		paint = pdf.Paint{Stroke: pdf.Hex(band.Ink), Width: stroke}
		for _, d := range band.Dash {
			paint.Dash = append(paint.Dash, d*stroke)
		}
	}
	points := onPage(o, ph, placed)
	for _, paint := range []pdf.Paint{{Stroke: pdf.White, Width: casing - stroke + paint.Width}, paint} {
		switch o.Shape {
		case record.Spot:
			p.page.Circle(points[0], spotRadius, paint)
		case record.Line:
			p.page.Polyline(points, paint)
		default:
			p.page.Polygon(points, paint)
		}
	}
}

// judged reports whether an outline shows a finding, which a verdict was come to on.
func (p *pages) judged(o record.Outline) bool {
	_, ok := p.order.Record.Findings[o.Finding]
	return ok
}

// onPage gives an outline's corners on the page; an oval as a polygon that can't be
// told from it in print, edges as the corners in which they meet.
func onPage(o record.Outline, ph photo, placed pdf.Placed) []pdf.Point {
	stored := make([]plane.Point, len(o.Points))
	for i, at := range o.Points {
		stored[i] = plane.Point{X: float64(at[0]), Y: float64(at[1])}
	}
	if o.Shape == record.Oval {
		long := float64(max(ph.Width, ph.Height) * 100)
		stored = plane.Oval(stored[0], stored[1], long/5000)
	}
	if o.Shape == record.Edges {
		stored = plane.Rectangle(stored)
	}
	points := make([]pdf.Point, len(stored))
	for i, at := range stored {
		points[i] = placed.At(at.X/float64(ph.Width*100), at.Y/float64(ph.Height*100))
	}
	return points
}

// badge sets the finding's number at the outline's highest point. An outline that
// shows none has its own, with a letter before it, unless it is a scale or a zone,
// which no text calls by number.
func (p *pages) badge(o record.Outline, ph photo, placed pdf.Placed) {
	const radius = 2.5
	label, ink := fmt.Sprint("o", o.Number), inkQuiet
	switch {
	case p.judged(o):
		label = fmt.Sprint(p.order.Record.Findings[o.Finding].Number)
		ink = pdf.Hex(drawing.BandOf(p.order.Assessment.OfFinding(p.order.Record, o.Finding)).Ink)
	case o.Known != (record.Known{}) || o.Face != (record.Face{}) || o.Shape == record.Edges:
		return
	}
	var best pdf.Point
	for i, pt := range onPage(o, ph, placed) {
		if i == 0 || pt.Y < best.Y {
			best = pt
		}
	}
	if o.Shape == record.Spot {
		best.Y -= spotRadius + radius // beside what it points at, not on it
	}
	best.X = min(max(best.X, placed.Box.X+radius), placed.Box.Right()-radius)
	best.Y = min(max(best.Y, placed.Box.Y+radius), placed.Box.Bottom()-radius)
	p.page.Badge(best, radius, label, ink, pdf.Paint{Fill: pdf.White, Stroke: ink, Width: 0.4})
}
