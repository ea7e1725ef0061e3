package gauge

// Indicated is where the hand of a dial indicator stands, counted from its zero:
// above, below or on it. It is no size of a part; the difference of two is how far
// the tip moved.
func Indicated(at Length, in Instrument) (Measured, error) {
	in, err := in.Completed()
	if err != nil {
		return Measured{}, err
	}
	if in.Kind.Interval() {
		return Measured{}, bad("instrument kind", "a %s shows no number", in.Kind)
	}
	m := Measured{Value: at, Resolution: in.Resolution, Budget: []Contribution{
		{Name: LineRepeatability, U: float64(in.Repeatability), C: 1, DoF: in.RepeatDoF},
		{Name: LineResolution, U: ResolutionUncertainty(in.Resolution), C: 1},
		{Name: LineError, U: float64(in.Error) / Rectangular, C: 1, Shared: in.key()},
	}}
	return m, finite("reading", at)
}

// travel is how far an indicator moved. The error that it may have is that of its
// travel: it counts once, and does not fall out of the difference as that of two
// sizes by one micrometer does.
func travel(from, to Measured) (Measured, error) {
	var most Contribution
	without := func(m Measured) Measured {
		kept := make([]Contribution, 0, len(m.Budget))
		for _, c := range m.Budget {
			switch {
			case c.Name != LineError:
				kept = append(kept, c)
			case c.Size() > most.Size():
				most = c
			}
		}
		m.Budget = kept
		return m
	}
	d, err := Difference(without(to), without(from))
	if err != nil {
		return Measured{}, err
	}
	if most.Size() > 0 {
		most.Shared = ""
		d.Budget = append(d.Budget, most)
	}
	return d, nil
}
