package gauge

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// EndFloat returns the float of a shaft or gear from the two ends of its travel
// as a dial indicator showed them. Their order does not matter; negative readings
// are allowed.
func EndFloat(one, other Measured) (Measured, error) {
	d, err := travel(other, one)
	if err != nil {
		return Measured{}, err
	}
	if d.Value < 0 {
		d.Value = -d.Value
	}
	return d, nil
}

// Shims is what a choice of a shim, a selective ring or a thrust washer is made
// from.
type Shims struct {
	// Float is the end float as measured with the Fitted shim in place; Fitted is
	// an exact zero where none was fitted.
	Float, Fitted Measured
	// Sizes are the thicknesses to be had; SizeTolerance is half the width within
	// which they hold.
	Sizes         []Length
	SizeTolerance Length
	// Band is where the float must lie.
	Band Tolerance
}

// Choose returns the sizes that bring the float into its band, the one nearest to
// the middle first, each with the float to expect; none where no size does. A
// thicker shim takes up float.
func (s Shims) Choose(rule Rule) ([]Choice, error) {
	if err := first(s.Band.Check("float band"), notNegative("fitted shim", s.Fitted.Value), notNegative("tolerance of the shims", s.SizeTolerance)); err != nil {
		return nil, err
	}
	if len(s.Sizes) == 0 {
		return nil, &FieldError{Field: "shim sizes", Err: errMissing}
	}
	var out []Choice
	for i, size := range s.Sizes {
		if err := positive(fmt.Sprintf("shim size %d", i+1), size); err != nil {
			return nil, err
		}
		expected, err := Sum(Term{Times: 1, Of: s.Float}, Term{Times: 1, Of: s.Fitted},
			Term{Times: -1, Of: PlusMinus(size, s.SizeTolerance, "tolerance of the shim")})
		if err != nil {
			return nil, err
		}
		if !s.Band.Holds(expected.Value) {
			continue
		}
		c := Choice{Size: size, Expected: expected}
		if c.Verdict, err = rule.Decide(s.Band, expected); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	nearest(out, s.Band)
	return out, nil
}

// nearest sorts choices by how near they come to the middle of a band, those that
// will not do last.
func nearest(choices []Choice, band Tolerance) {
	goal := band.Middle()
	switch {
	case !band.hasLower():
		goal = band.Upper
	case !band.hasUpper():
		goal = band.Lower
	}
	slices.SortStableFunc(choices, func(a, b Choice) int {
		if (a.Note == "") != (b.Note == "") {
			if a.Note == "" {
				return -1
			}
			return 1
		}
		// To a nanometre: equally near is equally near whatever the last bit says.
		away := func(c Choice) float64 { return math.Round(math.Abs(float64(c.Expected.Value-goal)) * 1e6) }
		return cmp.Or(cmp.Compare(away(a), away(b)), cmp.Compare(a.Size, b.Size))
	})
}
