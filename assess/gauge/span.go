package gauge

import "math"

// Span returns the base tangent length over so many teeth, without thinning.
func (g Gear) Span(over int) (Length, error) {
	if err := first(g.Check(), wholeWithin("teeth spanned", over, 1, g.Teeth)); err != nil {
		return 0, err
	}
	k := float64(over)
	w := g.Module*math.Cos(g.alpha())*((k-0.5)*math.Pi+g.z()*Involute(g.transverse())) + 2*g.Shift*g.Module*math.Sin(g.alpha())
	return Length(w), nil
}

// SpanTeeth returns over how many teeth to measure, so that the faces touch near
// the middle of the flanks, and the unrounded number behind it.
func (g Gear) SpanTeeth() (over int, exact float64, err error) {
	if err := g.Check(); err != nil {
		return 0, 0, err
	}
	f := g.Shift / g.z()
	cos, sin, tan := math.Cos(g.beta()), math.Sin(g.beta()), math.Tan(g.alpha())
	a := cos*cos + tan*tan
	k := (1+sin*sin/a)*math.Sqrt(max(0, a*math.Pow(1/cos+2*f, 2)-1)) - Involute(g.transverse()) - 2*f*tan
	exact = g.z()*k/math.Pi + 0.5
	return min(g.Teeth, max(1, int(math.Round(exact)))), exact, nil
}

// FaceWidthForSpan is the least face width on which a span over helical teeth
// can be taken, in millimetres; 0 for spur teeth.
func (g Gear) FaceWidthForSpan(over int) (Length, error) {
	w, err := g.Span(over)
	return w * Length(math.Sin(g.baseHelix())), err
}

// BySpan returns the normal tooth thickness from a measured span.
func (g Gear) BySpan(over int, span Measured) (Measured, error) {
	nominal, err := g.Span(over)
	if err == nil {
		err = positive("span", span.Value)
	}
	if err != nil {
		return Measured{}, err
	}
	// A span grows by the thickness times the cosine of the pressure angle.
	scale := 1 / math.Cos(g.alpha())
	m, err := Sum(Term{Times: scale, Of: span})
	m.Value = Length(g.Thickness()) + (span.Value-nominal)*Length(scale)
	return m, first(err, plausibleThickness(g, m))
}

// plausibleThickness refuses a measured tooth that no wear explains.
func plausibleThickness(g Gear, m Measured) error {
	if ratio := float64(m.Value) / g.Thickness(); ratio < 0.5 || ratio > 1.2 {
		return bad("tooth thickness", "comes to %s where %.3f mm is nominal; check module, teeth, angles and what was measured",
			m.Value.Text(Millimetre, Micrometre), g.Thickness())
	}
	return nil
}
