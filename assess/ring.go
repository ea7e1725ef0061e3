package assess

import (
	"slices"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// openPlaces is why a reading is open that was taken at too few places.
const openPlaces = "measured at too few places"

// roundPlaces are needed round a part before its narrowest place is known.
const roundPlaces = 3

// lieRound tells how a dimension that is taken round a part lies there. Places of
// which no angle was written stand in even steps.
func (out *Measurement) lieRound(m record.Reading) {
	points := out.round
	for _, p := range out.Result.Places {
		at := out.Measured
		at.Value = p.Mean
		points = append(points, gauge.GapPoint{Gap: at, Angle: p.Angle})
	}
	out.few = len(points) < roundPlaces
	if !slices.ContainsFunc(m.Values, func(v record.Value) bool { return v.Angle != "" }) {
		gaps := make([]gauge.Measured, len(points))
		for i, p := range points {
			gaps[i] = p.Gap
		}
		points = gauge.SpacedEvenly(gaps...)
	}
	// The limit is decided apart from this; how a ring lies needs none.
	if ring, err := gauge.SynchroGap(points, gauge.Micrometre, out.Rule); err == nil {
		out.Ring = &ring
	}
}

// saysRound adds to what a reading says how it lies round the part. At too few
// places it may condemn, but not pass.
func (out *Measurement) saysRound(r *Reason) {
	switch {
	case out.few && out.HasLimit && out.Judgement.Discard.Decision == gauge.Conforms:
		out.Open = openPlaces
		r.Verdicts, r.Remedy = all(term.Undecided), ""
		r.Text += " It may be narrower elsewhere round the part."
		r.next = "Measure the " + out.Name + " at three places or more, evenly round."
	case out.Ring != nil && out.Ring.Tilted:
		r.Text += " It sits tilted, with " + out.Ring.Tilt.Text(out.Unit, cmpOr(out.Measured.Resolution, gauge.Micrometre)) +
			" more on one side than on the other: press it home evenly and measure again, or look for a bend."
	}
}
