package inspection

import (
	"maps"

	"fettlebook/assess"
	"fettlebook/assess/record"
)

// WhatIf returns what would be said of the record if it held the finding: in
// place of the one with that id, or besides all others for an empty id. Nothing
// is changed.
func (n *Inspection) WhatIf(id record.ID, f record.Finding) (*Assessment, error) {
	n.mu.Lock()
	r, elsewhere := *n.state.Record, n.elsewhere
	n.mu.Unlock()
	r.Findings = maps.Clone(r.Findings)
	if r.Findings == nil {
		r.Findings = map[record.ID]record.Finding{}
	}
	if id == "" {
		id = record.NewID()
	}
	r.Findings[id] = f
	g := n.lookedBy(f)
	r.Parts = maps.Clone(r.Parts)
	if err := g.Apply(&r); err != nil {
		return nil, err
	}
	return assess.Assess(assess.Case{Record: &r, Fits: elsewhere}, n.bench.specs, r.Duty), nil
}
