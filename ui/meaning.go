package ui

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// outlineMeaning asks what an outline that was just drawn is of: a new damage, which the
// rest of the sheet asks for, a zone of the surface, something of known size, or a
// finding that is there already.
type outlineMeaning struct {
	s       *findingSheet
	new     *choices
	already *choices
	object  fyne.CanvasObject
}

// mostJoined is how many findings of a surface are offered: the newest ones.
const mostJoined = 7

func newOutlineMeaning(s *findingSheet) *outlineMeaning {
	m := &outlineMeaning{s: s}
	m.new = newChoices(s.p.f, nil, m.chose)
	m.already = newChoices(s.p.f, nil, m.join)
	for _, c := range []*choices{m.new, m.already} {
		c.Small, c.Deliberate = true, true
	}
	m.new.OnKey = func(name fyne.KeyName) bool {
		switch {
		case name == fyne.KeyDown && !m.already.Hidden:
			s.p.f.focus(m.above())
		case name == fyne.KeyDown:
			s.p.f.focus(s.filter)
		default:
			return false
		}
		return true
	}
	m.already.OnKey = func(name fyne.KeyName) bool {
		switch name {
		case fyne.KeyUp:
			s.p.f.focus(m.new)
		case fyne.KeyDown:
			s.p.f.focus(s.filter)
		default:
			return false
		}
		return true
	}
	m.object = column(4, m.new, m.already)
	m.show()
	return m
}

// show offers what fits the outline and the surface.
func (m *outlineMeaning) show() {
	s := m.s
	r := s.p.n.Record()
	o, drawn := r.Outlines[s.outline]
	options := []choice{{ID: "damage", Label: "new damage"}}
	// A zone has an extent, which a spot has not.
	if known := s.known(); known != nil && o.Shape != record.Spot {
		for _, z := range known.Zones {
			if z != term.Elsewhere {
				options = append(options, zoneWords[z])
			}
		}
	}
	if o.Shape == record.Polygon && len(o.Points) == 4 {
		options = append(options, choice{ID: "size", Label: "known size"})
	}
	var findings []choice
	for id, f := range record.InOrder(r.Findings) {
		if f.Part == s.f.Part && f.Surface == s.f.Surface && f.Withdrawn == "" {
			findings = append(findings, choice{ID: string(id), Label: fmt.Sprintf("finding %d again", f.Number)})
		}
	}
	m.new.SetOptions(options)
	m.new.Mark("damage")
	m.already.SetOptions(findings[max(len(findings)-mostJoined, 0):])
	m.new.Hidden = !drawn || len(options)+len(findings) == 1
	m.already.Hidden = !drawn || len(findings) == 0
}

// above is where the keys go from the field below, nil where nothing is asked. The
// finding that was entered last is the likeliest.
func (m *outlineMeaning) above() fyne.Focusable {
	switch {
	case !m.already.Hidden:
		if m.already.index() < 0 {
			m.already.Mark(m.already.Options[len(m.already.Options)-1].ID)
		}
		return m.already
	case !m.new.Hidden:
		return m.new
	}
	return nil
}

// chose takes an outline as the shape of a zone, or asks for its size.
func (m *outlineMeaning) chose(id string) {
	s := m.s
	switch id {
	case "damage":
		s.p.f.focus(s.filter)
	case "size":
		s.p.showScale(s.outline)
	default:
		face := record.Face{Part: s.f.Part, Surface: s.f.Surface, Zone: term.Zone(id)}
		if s.p.tried("The outline was not changed.", s.p.n.OutlineFace(s.outline, face)) {
			s.p.viewer.stay(s.outline)
			s.p.side.close()
			s.p.refreshSoon()
		}
	}
}

// join has the outline show a finding that is there already.
func (m *outlineMeaning) join(id string) {
	s := m.s
	if s.p.tried("The outline was not changed.", s.p.n.OutlineFinding(s.outline, record.ID(id))) {
		s.p.viewer.stay(s.outline)
		s.p.side.close()
		s.p.chooseFinding(record.ID(id))
	}
}
