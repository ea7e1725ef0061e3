package inspection

import (
	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/report"
)

// Marks returns what a drawing of the part tells of its surfaces, by their ids:
// verdict, looked at or not, how many findings stand.
func (n *Inspection) Marks(part *Part) map[string]drawing.Mark {
	r := n.Record()
	marks := make(map[string]drawing.Mark, len(part.Surfaces))
	for i := range part.Surfaces {
		f := &part.Surfaces[i]
		looked := r.Parts[part.ID].Surfaces[f.ID]
		marks[f.ID] = drawing.Mark{Verdict: f.Verdict, Looked: looked.Eye || looked.Touch}
	}
	for _, f := range r.Findings {
		if m, ok := marks[f.Surface]; ok && f.Part == part.ID && f.Withdrawn == "" && f.Severity != term.NotFound {
			m.Findings++
			marks[f.Surface] = m
		}
	}
	return marks
}

// DrawPart draws a part as it stands, nil where it has no surfaces. What runs on
// the chosen surface, if one is, stands there faintly.
func (n *Inspection) DrawPart(id record.ID, chosen string, o drawing.Options) *drawing.List {
	part, ok := n.Assessment().Part(id)
	if !ok {
		return nil
	}
	specs := n.bench.Specs()
	kind, ok := specs.Kind(part.Kind)
	if !ok || len(kind.Surfaces) == 0 {
		return nil
	}
	profile, _ := specs.Profile(part.Kind, n.Record().Unit.Type, part.Place)
	return drawing.Part(profile, kind, drawing.State{Marks: n.Marks(part), Chosen: chosen, Mates: n.mates(part, kind, chosen)}, o)
}

// DrawBare draws a part alone, without numbers; nil where nobody has drawn its kind.
func (n *Inspection) DrawBare(id record.ID, o drawing.Options) *drawing.List {
	part, ok := n.Assessment().Part(id)
	if !ok {
		return nil
	}
	specs := n.bench.Specs()
	kind, ok := specs.Kind(part.Kind)
	profile, drawn := specs.Profile(part.Kind, n.Record().Unit.Type, part.Place)
	if !ok || !drawn {
		return nil
	}
	o.Bare = true
	return drawing.Part(profile, kind, drawing.State{}, o)
}

// mates lists what runs on a surface of a part.
func (n *Inspection) mates(part *Part, kind *spec.Kind, surface string) []drawing.Mate {
	specs := n.bench.Specs()
	unit, known := specs.Unit(n.Record().Unit.Type)
	own, _, ok := kind.Surface(surface)
	if !known || !ok {
		return nil
	}
	var mates []drawing.Mate
	for _, end := range unit.MatesOf(part.Place, surface) {
		place, _, ok := unit.Place(end.Place)
		if !ok {
			continue
		}
		if profile, ok := specs.Profile(place.Kind, unit.ID, place.ID); ok {
			mates = append(mates, drawing.Mate{Surface: surface, Its: end.Surface, Profile: profile, Meshes: own.Role == term.Flank})
		}
	}
	return mates
}

// DrawUnit draws the whole unit as it stands, with names only where there is
// something to do or to look at; nil where its type is not known. Chosen is a
// place, empty for none.
func (n *Inspection) DrawUnit(chosen string, o drawing.Options) *drawing.List {
	specs := n.bench.Specs()
	unit, ok := specs.Unit(n.Record().Unit.Type)
	if !ok {
		return nil
	}
	parts := n.Assessment().Parts
	marks, quiet := map[string]drawing.Mark{}, map[string]bool{}
	for i := range parts {
		part := &parts[i]
		if part.Place == "" {
			continue
		}
		quiet[part.Place] = part.Consumable || part.Verdict == term.Sound
		if !part.Consumable {
			marks[part.Place] = drawing.Mark{Verdict: part.Verdict, Looked: true}
		}
	}
	stands := drawing.Stands(specs, unit, marks)
	for i := range stands {
		if _, there := marks[stands[i].Place.ID]; !there || quiet[stands[i].Place.ID] {
			stands[i].Name = ""
		}
	}
	return drawing.Unit(stands, chosen, o)
}

func (n *Inspection) drawings() report.Drawings {
	return report.Drawings{
		Part: func(id record.ID, o drawing.Options) *drawing.List { return n.DrawPart(id, "", o) },
		Unit: func(o drawing.Options) *drawing.List { return n.DrawUnit("", o) },
	}
}
