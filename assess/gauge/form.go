package gauge

import "math"

// Form is how far a surface departs from its shape, as far as the reading
// shows. All lengths are diametral: the difference of two diameters.
type Form struct {
	// OutOfRound is the largest difference between two angles at one position.
	OutOfRound Measured
	// HasOutOfRound says that a position was measured at two angles or more, At
	// which one differs most.
	HasOutOfRound bool
	At            string
	// Taper is the difference between the means of the two positions that differ
	// most; From is the smaller one.
	Taper    Measured
	HasTaper bool
	From, To string
}

// OddLobes is the caution that goes with every two-point out-of-round.
const OddLobes = "Measured across two points: an odd number of lobes (three, five) hides from it. Turn the part in a V-block or between centres to be sure."

// formOf finds out-of-round and taper. Differences of readings by one instrument
// keep its repeatability and resolution; its error falls out.
func formOf(groups []group, s, resolution Length) Form {
	var f Form
	type line struct {
		name        string
		least, most group
		sum         float64
		n           int
	}
	var lines []line
	for _, g := range groups {
		if g.Position == "" {
			continue
		}
		at := -1
		for i := range lines {
			if lines[i].name == g.Position {
				at = i
			}
		}
		if at < 0 {
			lines = append(lines, line{name: g.Position, least: g, most: g})
			at = len(lines) - 1
		}
		l := &lines[at]
		if g.Mean < l.least.Mean {
			l.least = g
		}
		if g.Mean > l.most.Mean {
			l.most = g
		}
		l.sum += float64(g.Mean)
		l.n++
	}
	for _, l := range lines {
		d := l.most.Mean - l.least.Mean
		if l.n > 1 && (!f.HasOutOfRound || d > f.OutOfRound.Value) {
			f.HasOutOfRound, f.At = true, l.name
			f.OutOfRound = between(d, s, resolution, l.least.Repeats, l.most.Repeats)
		}
	}
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			x, y := a, b
			if x.sum/float64(x.n) > y.sum/float64(y.n) {
				x, y = y, x
			}
			d := Length(y.sum/float64(y.n) - x.sum/float64(x.n))
			if !f.HasTaper || d > f.Taper.Value {
				f.HasTaper, f.From, f.To = true, x.name, y.name
				f.Taper = between(d, s, resolution, x.n, y.n)
			}
		}
	}
	return f
}

// between is a difference of two means of so many values each.
func between(d, s, resolution Length, n1, n2 int) Measured {
	share := math.Sqrt(1/float64(n1) + 1/float64(n2))
	return Measured{Value: d, Resolution: resolution, Budget: []Contribution{
		{Name: LineRepeatability, U: float64(s), C: share},
		{Name: LineResolution, U: ResolutionUncertainty(resolution), C: math.Sqrt2},
	}}
}
