package gauge

// GoNoGo is what a feeler or plug gauge tells: the thickest that goes in and the
// thinnest that does not. Zero for Stops means that no thicker one was tried,
// zero for Goes that not even the thinnest went in.
type GoNoGo struct {
	Goes, Stops Length
	Instrument  Instrument
}

// Measured returns the interval between the two as a length, every value in it
// equally likely, with the gauges' own tolerance. Where only one of the two was
// tried the length is open on the other side, and decides only what that side
// can decide.
func (g GoNoGo) Measured() (Measured, error) {
	in, err := g.Instrument.Completed()
	if err != nil {
		return Measured{}, err
	}
	if err := first(notNegative("gauge that goes", g.Goes), notNegative("gauge that does not go", g.Stops)); err != nil {
		return Measured{}, err
	}
	m := Measured{Resolution: in.Resolution, Budget: []Contribution{{Name: LineBlade, U: float64(in.Error) / Rectangular, C: 1}}}
	switch {
	case g.Goes == 0 && g.Stops == 0:
		return Measured{}, &FieldError{Field: "gauge that goes", Err: errMissing}
	case g.Stops == 0:
		m.Value, m.Open = g.Goes, Above
	case g.Goes == 0:
		m.Value, m.Open = g.Stops, Below
	case g.Stops <= g.Goes:
		return Measured{}, bad("gauge that does not go", "%s is not larger than the one that goes, %s",
			g.Stops.Text(Millimetre, Micrometre), g.Goes.Text(Millimetre, Micrometre))
	default:
		m.Value, m.Half = (g.Goes+g.Stops)/2, (g.Stops-g.Goes)/2
	}
	return m, nil
}
