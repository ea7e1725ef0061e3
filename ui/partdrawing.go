package ui

import (
	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
)

// drawPart draws the chosen part with what is known of its surfaces, and faintly
// what runs on it.
func (p *inspectionPlace) drawPart(width float64) *drawing.List {
	return p.n.DrawPart(p.part, p.surface, drawing.Options{Width: width, Height: p.drawingHeight()})
}

// drawTile draws a part small, without numbers.
func (p *inspectionPlace) drawTile(id string, width, height float64) *drawing.List {
	return p.n.DrawBare(record.ID(id), drawing.Options{Width: width, Height: height, Line: 0.3})
}

// drawUnit draws the whole unit as an exploded row of parts: where the trouble is.
func (p *inspectionPlace) drawUnit(width float64) *drawing.List {
	return p.n.DrawUnit(p.n.Record().Parts[p.part].Place, drawing.Options{Width: width})
}

// placeSays names a part of the unit with its grade.
func (p *inspectionPlace) placeSays(place string) string {
	for _, part := range p.n.Assessment().Parts {
		if part.Place == place {
			return part.Name + ": " + part.Grade
		}
	}
	return ""
}

// drawingHeight is what the drawing may take down, in millimetres of paper: less
// on a low window, where the verdict must stay in sight.
func (p *inspectionPlace) drawingHeight() float64 {
	height := p.f.window.Canvas().Size().Height
	return float64(min(max(height*0.235, 120), 270) / paperUnits())
}
