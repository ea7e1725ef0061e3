package assess

import (
	"slices"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// A bore and what runs in it are told by the names of their dimensions in the specs.
const (
	boreDimension     = "bore"
	diameterDimension = "diameter"
)

// tellClearances notes, on both surfaces, what a measured bore and the measured
// shaft in it come to. It changes no verdict: the readings are held to their own
// limits, and what clearance a pair may have its manual says.
func (a *assessor) tellClearances(w *work) {
	if a.unit == nil || w.Place == "" || a.terse {
		return
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		bore := a.measured(s, boreDimension)
		if bore == nil {
			continue
		}
		for _, end := range a.matesOf(w, s.ID) {
			for _, mate := range a.at[end.Place] {
				if m, ok := mate.Surface(end.Surface); ok {
					a.tellClearance(w, s, bore, mate, m)
				}
			}
		}
	}
}

func (a *assessor) tellClearance(w *work, s *Surface, bore *Measurement, mate *work, m *Surface) {
	shaft := a.measured(m, diameterDimension)
	if shaft == nil {
		return
	}
	play, err := gauge.Clearance(bore.Measured, shaft.Measured)
	over := ""
	if needles, between := a.needlesBetween(w, s, mate, m); between {
		if needles == nil {
			return // without the rollers' size the two sizes say nothing
		}
		play, err = gauge.NeedleClearance(bore.Measured, shaft.Measured, needles.Measured)
		over = " over the rollers as measured"
	}
	if err != nil {
		return // sizes that can't belong together: each reading asks about its own slip
	}
	what := "a clearance of "
	if play.Value < 0 {
		what, play.Value = "an interference of ", -play.Value
	}
	says := what + sizeSays(play, bore.Unit) + over + "; what it may be the manual says."
	s.note("With its mate (" + lowerFirst(mate.Name) + ", " + m.Name + ") it has " + says)
	m.note("With its mate (" + lowerFirst(w.Name) + ", " + s.Name + ") it has " + says)
}

// measured returns what the latest reading of a dimension of a surface comes to, nil
// where there is none.
func (a *assessor) measured(s *Surface, dimension string) *Measurement {
	var out *Measurement
	latest := record.ID("")
	for i := range s.Reasons {
		r := &s.Reasons[i]
		m, ok := a.record.Readings[r.Of]
		if ok && r.Measurement != nil && m.Dimension == dimension && r.Of > latest { // ids grow with time
			out, latest = r.Measurement, r.Of
		}
	}
	return out
}

// needlesBetween reports whether something runs between two surfaces, as rollers do
// that touch both of them, and what its diameter was measured as, nil where it was
// not. Taken for the shaft itself, rollers leave the bore too small, which the gauge
// refuses.
func (a *assessor) needlesBetween(w *work, s *Surface, mate *work, m *Surface) (rollers *Measurement, between bool) {
	inside := a.matesOf(mate, m.ID)
	for _, end := range a.matesOf(w, s.ID) {
		if slices.Contains(inside, end) {
			return a.rollers(end), true
		}
	}
	return nil, false
}

func (a *assessor) rollers(end spec.End) *Measurement {
	for _, w := range a.at[end.Place] {
		if s, ok := w.Surface(end.Surface); ok {
			if x := a.measured(s, diameterDimension); x != nil {
				return x
			}
		}
	}
	return nil
}
