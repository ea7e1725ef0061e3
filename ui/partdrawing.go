package ui

import (
	"fettlebook/assess/drawing"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// drawPart draws the chosen part with what is known of its surfaces, and faintly
// what runs on it.
func (p *inspectionPlace) drawPart(width float64) *drawing.List {
	part, ok := p.n.Assessment().Part(p.part)
	if !ok {
		return nil
	}
	specs := p.f.bench.Specs()
	kind, ok := specs.Kind(part.Kind)
	if !ok || len(kind.Surfaces) == 0 {
		return nil
	}
	profile, _ := specs.Profile(part.Kind, p.n.Record().Unit.Type, part.Place)
	state := drawing.State{Marks: marksOf(p.n.Record(), part), Chosen: p.surface, Mates: p.matesOf(part)}
	return drawing.Part(profile, kind, state, drawing.Options{Width: width, Height: p.drawingHeight()})
}

// drawTile draws a part small, without numbers.
func (p *inspectionPlace) drawTile(id string, width, height float64) *drawing.List {
	part, ok := p.n.Assessment().Part(record.ID(id))
	if !ok {
		return nil
	}
	specs := p.f.bench.Specs()
	kind, ok := specs.Kind(part.Kind)
	profile, drawn := specs.Profile(part.Kind, p.n.Record().Unit.Type, part.Place)
	if !ok || !drawn {
		return nil
	}
	return drawing.Part(profile, kind, drawing.State{}, drawing.Options{Width: width, Height: height, Line: 0.3, Bare: true})
}

// drawUnit draws the whole unit as an exploded row of parts: where the trouble is.
func (p *inspectionPlace) drawUnit(width float64) *drawing.List {
	specs := p.f.bench.Specs()
	unit, ok := specs.Unit(p.n.Record().Unit.Type)
	if !ok {
		return nil
	}
	marks, chosen := map[string]drawing.Mark{}, ""
	for _, part := range p.n.Assessment().Parts {
		if part.Place == "" || part.Consumable {
			continue
		}
		marks[part.Place] = drawing.Mark{Verdict: part.Verdict, Looked: true}
		if part.ID == p.part {
			chosen = part.Place
		}
	}
	return drawing.Unit(drawing.Stands(specs, unit, marks), chosen, drawing.Options{Width: width})
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

func marksOf(r *record.Record, part *inspection.Part) map[string]drawing.Mark {
	marks := make(map[string]drawing.Mark, len(part.Surfaces))
	for i := range part.Surfaces {
		f := &part.Surfaces[i]
		looked := r.Parts[part.ID].Surfaces[f.ID]
		m := drawing.Mark{Verdict: f.Verdict, Looked: looked.Eye || looked.Touch}
		for _, x := range r.Findings {
			if x.Part == part.ID && x.Surface == f.ID && x.Withdrawn == "" && x.Severity != term.NotFound {
				m.Findings++
			}
		}
		marks[f.ID] = m
	}
	return marks
}

// matesOf lists what runs on the chosen surface.
func (p *inspectionPlace) matesOf(part *inspection.Part) []drawing.Mate {
	r, specs := p.n.Record(), p.f.bench.Specs()
	unit, ok := specs.Unit(r.Unit.Type)
	if !ok || p.surface == "" {
		return nil
	}
	kind, _ := specs.Kind(part.Kind)
	own, _, ok := kind.Surface(p.surface)
	if !ok {
		return nil
	}
	var mates []drawing.Mate
	for _, end := range unit.MatesOf(part.Place, p.surface) {
		place, _, ok := unit.Place(end.Place)
		if !ok {
			continue
		}
		if profile, ok := specs.Profile(place.Kind, unit.ID, place.ID); ok {
			mates = append(mates, drawing.Mate{Surface: p.surface, Its: end.Surface, Profile: profile, Meshes: own.Role == term.Flank})
		}
	}
	return mates
}
