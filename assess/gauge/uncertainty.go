package gauge

import (
	"math"
)

// Contribution is one line of a budget of uncertainty.
type Contribution struct {
	// Name says where it comes from: "repeatability", "resolution".
	Name string
	// U is the standard uncertainty of the input, in the input's own unit.
	U float64
	// C is the sensitivity: how much the result changes by one unit of the input.
	// Zero is a line that stands in the budget and adds nothing.
	C float64
	// DoF are the degrees of freedom of U; zero or infinity where it is known.
	DoF float64
	// Shared names what two results have in common, such as the micrometer with
	// which both were taken; empty where it is this result's alone.
	Shared string
}

// Size is what the line adds to the result, without a sign.
func (c Contribution) Size() float64 { return math.Abs(c.C * c.U) }

// Combine adds up the lines of a budget that do not depend on each other
// (GUM 5.1.2) and returns the combined standard uncertainty with its effective
// degrees of freedom after Welch and Satterthwaite (GUM G.4.1): infinity where no
// line with a finite number matters.
func Combine(budget []Contribution) (u, dof float64) {
	var variance, weak float64
	for _, c := range budget {
		square := c.Size() * c.Size()
		variance += square
		if c.DoF > 0 && !math.IsInf(c.DoF, 0) {
			weak += square * square / c.DoF
		}
	}
	if weak == 0 {
		return math.Sqrt(variance), math.Inf(1)
	}
	return math.Sqrt(variance), variance * variance / weak
}

// Measured is what is known of a length: its best estimate and the budget of
// its uncertainty. Lengths are in millimetres, and so is what a line adds.
type Measured struct {
	Value  Length
	Budget []Contribution
	// Half is the half-width of the interval in which a feeler or plug gauge
	// leaves the length, every value in it equally likely; zero for an instrument
	// that shows a number.
	Half Length
	// Open says that the value is only a bound.
	Open Side
	// Resolution is the step at which the value is shown.
	Resolution Length
}

// Side says on which side of a value the length may lie.
type Side int8

// The sides. Above is what a feeler that goes in leaves when no thicker one was
// tried; Below is what one that does not go in leaves.
const (
	Both  Side = 0
	Above Side = 1
	Below Side = -1
)

// Exactly is a length without uncertainty, such as a nominal size.
func Exactly(l Length) Measured { return Measured{Value: l} }

// PlusMinus is a length that lies within a half-width of the value, every place
// there equally likely: a bought roller or shim with its tolerance.
func PlusMinus(l, half Length, name string) Measured {
	return Measured{Value: l, Budget: []Contribution{{Name: name, U: float64(half) / Rectangular, C: 1}}}
}

// Standard returns the combined standard uncertainty in millimetres, with its
// effective degrees of freedom. The interval of a feeler gauge counts as a line
// of its own.
func (m Measured) Standard() (u Length, dof float64) {
	su, dof := m.gauss()
	if m.Half == 0 {
		return Length(su), dof
	}
	half := float64(m.Half) / Rectangular
	variance := su*su + half*half
	if !math.IsInf(dof, 0) && su > 0 {
		dof *= variance * variance / (su * su * su * su)
	}
	return Length(math.Sqrt(variance)), dof
}

// gauss is the standard uncertainty without the interval of a feeler gauge.
func (m Measured) gauss() (u, dof float64) { return Combine(m.Budget) }

// Expanded returns the half-width of the interval that holds the length with
// probability p, and the factor k that was used.
func (m Measured) Expanded(p float64) (half Length, k float64) {
	u, dof := m.Standard()
	k = Coverage(p, dof)
	return Length(k) * u, k
}

// Text shows the value with its expanded uncertainty at 95 %, at the resolution
// of the instrument: "18.420 mm ± 0.004 mm". The uncertainty has two digits at
// the most (GUM 7.2.6) and is never shown smaller than it is.
func (m Measured) Text(u Unit) string {
	half, _ := m.Expanded(0.95)
	return m.Value.Text(u, m.Resolution) + " ± " + UncertaintyText(half, u)
}

// UncertaintyText shows an uncertainty in the unit: to two digits where it starts
// with 1 or 2 and to one otherwise, rounded up.
func UncertaintyText(half Length, u Unit) string { return roundedText(half, u, math.Ceil, -1e-9) }

// LargestText shows what an uncertainty or an error may be at the most, to as many
// digits as [UncertaintyText] and never larger than it is.
func LargestText(half Length, u Unit) string { return roundedText(half, u, math.Floor, 1e-9) }

func roundedText(half Length, u Unit, round func(float64) float64, nudge float64) string {
	v := half.In(u)
	if !(v > 0) || math.IsInf(v, 0) {
		return "0 " + string(known(u))
	}
	places := -int(math.Floor(math.Log10(v)))
	if v*math.Pow(10, float64(places)) < 3 {
		places++
	}
	scale := math.Pow(10, float64(places))
	rounded := round(v*scale+nudge) / scale
	if places < 0 {
		places = 0
	}
	return formatFixed(rounded, places) + " " + string(known(u))
}

// Check refuses a measured length with numbers that are none. Field names it.
func (m Measured) Check(field string) error {
	if err := first(finite(field, m.Value), notNegative(field+" interval", m.Half), notNegative(field+" resolution", m.Resolution)); err != nil {
		return err
	}
	u, _ := m.gauss()
	if math.IsNaN(u) || u > maxLength {
		return bad(field+" uncertainty", "is not a number that can be used; check the instrument")
	}
	for _, c := range m.Budget {
		if c.U < 0 {
			return bad(field+" uncertainty", "%s is below zero; enter it without a sign", c.Name)
		}
	}
	return nil
}

// LargestError returns the largest permissible error, with a resolution no
// coarser than it, of an instrument by which the whole budget would come to no
// more than a standard uncertainty of u millimetres. It is zero where even a
// perfect instrument would not do, because hand and temperature add too much, and
// where the budget does not tell the instrument apart.
func (m Measured) LargestError(u Length) Length {
	rest := float64(u * u)
	var byError float64
	for _, c := range m.Budget {
		switch {
		case c.Name == LineError:
			byError += c.C * c.C / 3
		case c.Name == LineResolution:
			byError += c.C * c.C / 12
		case !ofInstrument(c.Name):
			rest -= c.Size() * c.Size()
		}
	}
	if rest <= 0 || byError == 0 {
		return 0
	}
	return Length(math.Sqrt(rest / byError))
}
