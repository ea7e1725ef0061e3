package inspection

import (
	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// WhatIf returns what would be said of the record after a gesture. Nothing is
// changed.
func (n *Inspection) WhatIf(g record.Gesture) (*Assessment, error) {
	r, err := n.Record().After(g)
	if err != nil {
		return nil, err
	}
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.judged(r, r.Duty), nil
}

// WhatIfFound returns what would be said if the record held a finding: in place
// of the one with that id, or besides all others for an empty id.
func (n *Inspection) WhatIfFound(id record.ID, f record.Finding) (*Assessment, error) {
	if id == "" {
		return n.WhatIf(n.found(record.NewID(), FindingEntry{Finding: f}))
	}
	g, err := n.changed(id, func(old *record.Finding) { *old = f })
	if err != nil {
		return nil, err
	}
	return n.WhatIf(g)
}

// AssessmentFor judges the record as it stands for another duty.
func (n *Inspection) AssessmentFor(d term.Duty) *Assessment {
	n.mu.Lock()
	defer n.mu.Unlock()
	return n.judged(n.state.Record, d)
}

// judged assesses a record in place of this one's, with all else that bears on
// it. The caller holds the lock.
func (n *Inspection) judged(r *record.Record, d term.Duty) *Assessment {
	gauges := n.bench.Gauges()
	return assess.Assess(assess.Case{
		Record: r, Fits: n.elsewhere, Wear: n.bench.Wear(), Rule: gauges.Rule(), Instruments: gauges.Instruments,
	}, n.bench.specs, d)
}
