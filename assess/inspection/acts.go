package inspection

import (
	"fmt"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// PartName says which part an id names, in the words of the unit's spec.
func (n *Inspection) PartName(id record.ID) string {
	if p, ok := n.Assessment().Part(id); ok {
		return p.Name
	}
	return "a part that is not in the record"
}

// SurfaceName says which surface of a part is meant.
func (n *Inspection) SurfaceName(id record.ID, surface string) string {
	if p, ok := n.Assessment().Part(id); ok {
		if s, ok := p.Surface(surface); ok {
			return s.Name
		}
	}
	return surface
}

// FindingEntry is what a person says of one damage. Outline is the outline that
// shows it, if there is one already.
type FindingEntry struct {
	record.Finding
	Outline record.ID
}

// AddFinding adds a finding. Who finds a damage on a surface has looked at it,
// and who found it by touch has felt it; both are noted with it. It is one
// gesture.
func (n *Inspection) AddFinding(e FindingEntry) (record.ID, error) {
	id := record.NewID()
	return id, n.Do(n.found(id, e))
}

func (n *Inspection) found(id record.ID, e FindingEntry) record.Gesture {
	f := e.Finding
	if f.By == "" {
		f.By = n.bench.Who()
	}
	if f.Method == "" {
		f.Method = methodFor(f.Severity)
	}
	says := n.saysFinding(f)
	gestures := []record.Gesture{record.AddFinding(says, id, f), n.lookedBy(f)}
	if e.Outline != "" {
		gestures = append(gestures, record.ChangeOutline("", e.Outline, func(o *record.Outline) { o.Finding = id }), n.shownBy(e.Outline, f.Part))
	}
	return record.Together(says, gestures...)
}

// ChangeFinding edits a finding, as one gesture.
func (n *Inspection) ChangeFinding(id record.ID, edit func(*record.Finding)) error {
	g, err := n.changed(id, edit)
	if err != nil {
		return err
	}
	return n.Do(g)
}

func (n *Inspection) changed(id record.ID, edit func(*record.Finding)) (record.Gesture, error) {
	f, ok := n.Record().Findings[id]
	if !ok {
		return record.Gesture{}, fmt.Errorf("there is no such finding in this record any more")
	}
	edit(&f)
	says := fmt.Sprintf("finding %d changed: %s", f.Number, n.saysFinding(f))
	return record.Together(says, record.ChangeFinding(says, id, edit), n.lookedBy(f)), nil
}

func methodFor(s term.Severity) term.Method {
	if s == term.Felt || s == term.Deep {
		return term.Touch
	}
	return term.ByEye
}

// lookedBy notes that who made a finding has looked at the surface.
func (n *Inspection) lookedBy(f record.Finding) record.Gesture {
	return record.ChangePart("", f.Part, func(p *record.Part) {
		if p.Surfaces == nil {
			p.Surfaces = map[string]record.Looked{}
		}
		l := p.Surfaces[f.Surface]
		l.Eye = true
		l.Touch = l.Touch || f.Method == term.Touch || f.Severity == term.Felt || f.Severity == term.Deep
		if l.By == "" {
			l.By = f.By
		}
		p.Surfaces[f.Surface] = l
	})
}

func (n *Inspection) saysFinding(f record.Finding) string {
	says := fmt.Sprintf("%s, %s, on the %s of %s", term.Plain(f.Damage), f.Severity.Says(),
		n.SurfaceName(f.Part, f.Surface), strings.ToLower(n.PartName(f.Part)))
	if f.Tooth != "" {
		says += ", tooth " + f.Tooth
	}
	return says
}

// Look notes how one surface was inspected.
func (n *Inspection) Look(part record.ID, surface string, l record.Looked) error {
	if l.By == "" {
		l.By = n.bench.Who()
	}
	if l == (record.Looked{By: l.By}) {
		l.By = ""
	}
	says := fmt.Sprintf("%s of %s: %s", n.SurfaceName(part, surface), strings.ToLower(n.PartName(part)), saysLooked(l))
	return n.Do(record.Look(says, part, map[string]record.Looked{surface: l}))
}

func saysLooked(l record.Looked) string {
	var done []string
	for _, d := range []struct {
		yes  bool
		word string
	}{{l.Eye, "looked at"}, {l.Touch, "felt"}, {l.Clean, "clean"}} {
		if d.yes {
			done = append(done, d.word)
		}
	}
	if len(done) == 0 {
		return "not looked at"
	}
	return strings.Join(done, ", ")
}

// WholePartSound notes that every surface of a part was clean, looked at and
// felt. It says nothing of the findings that are there.
func (n *Inspection) WholePartSound(part record.ID) error {
	p, ok := n.Assessment().Part(part)
	if !ok {
		return fmt.Errorf("there is no such part in this record any more")
	}
	looked := map[string]record.Looked{}
	for _, s := range p.Surfaces {
		looked[s.ID] = record.Looked{Eye: true, Touch: true, Clean: true, By: n.bench.Who()}
	}
	says := fmt.Sprintf("%s: whole part clean, looked at and felt by %s", p.Name, n.bench.Who())
	return n.Do(record.Look(says, part, looked))
}

// Extents measures a finding on the photos on which it is outlined.
func (n *Inspection) Extents(finding record.ID) []Extent { return assess.Extents(n.Record(), finding) }

// ExtentOf measures one outline or line on its photo; ok is false where nothing can
// be measured.
func (n *Inspection) ExtentOf(outline record.ID) (x Extent, ok bool) {
	return assess.ExtentOf(n.Record(), outline)
}

// TryScale tells whether an outline would give the photo a scale if what it shows
// were of a known size, and from how far the lens looked at it: 0 where nothing
// tells.
func (n *Inspection) TryScale(outline record.ID, known record.Known) (lens gauge.Length, err error) {
	after, err := n.Record().After(record.ChangeOutline("", outline, func(o *record.Outline) { o.Known = known }))
	if err != nil {
		return 0, err
	}
	return assess.CheckScale(after, outline)
}
