package gauge

import "math"

// Clearance returns the actual diametral clearance of a measured bore on a
// measured shaft; below zero it is interference. Both are diameters.
func Clearance(bore, shaft Measured) (Measured, error) {
	if err := first(positive("bore", bore.Value), positive("shaft", shaft.Value)); err != nil {
		return Measured{}, err
	}
	return Difference(bore, shaft)
}

// Fit is what may come of a hole and a shaft within their tolerances: diametral
// clearance at the least and at the most, below zero interference.
type Fit struct{ Least, Most Length }

// Says names the sort of fit: clearance, interference, or transition where
// either may come of it.
func (f Fit) Says() string {
	switch {
	case f.Least >= 0:
		return "clearance"
	case f.Most <= 0:
		return "interference"
	}
	return "transition"
}

// FitOf returns the fit of two classes at a nominal size.
func FitOf(nominal Length, hole, shaft Class) (Fit, error) {
	if !hole.Hole || shaft.Hole {
		return Fit{}, bad("class", "%s and %s are not a hole and a shaft; write the hole first, as in H7/k6", hole, shaft)
	}
	h, err := hole.Sizes(nominal)
	if err != nil {
		return Fit{}, err
	}
	s, err := shaft.Sizes(nominal)
	return fitOf(h, s), err
}

// fitOf rounds to a tenth of a micrometre, so that a difference of table cells is
// again a table's number.
func fitOf(hole, shaft Tolerance) Fit {
	return Fit{Least: tenth(hole.Lower - shaft.Upper), Most: tenth(hole.Upper - shaft.Lower)}
}

func tenth(l Length) Length { return Length(math.Round(float64(l)*1e4) / 1e4) }

// Warmed returns how much larger in diameter a bore becomes against the ring in
// it when both are warmed by so many kelvin: 0.057 mm for an aluminium housing
// on a steel ring of 62 mm from 20 to 100 °C. Coefficients are per kelvin.
func Warmed(size Length, kelvin, boreExpansion, ringExpansion float64) (Length, error) {
	if err := first(positive("size", size), within("warming", kelvin, -100, 300),
		within("expansion of the bore", boreExpansion, 0, 1e-3), within("expansion of the ring", ringExpansion, 0, 1e-3)); err != nil {
		return 0, err
	}
	return size * Length(kelvin*(boreExpansion-ringExpansion)), nil
}
