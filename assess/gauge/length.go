// Package gauge holds the numbers of the trade: lengths with their units,
// instruments, readings with their uncertainty, the decision of a reading
// against its limit, fits, rock and float, gear teeth and the gap of a
// synchroniser. It knows nothing of records, reads no clock and no file.
//
// Lengths are millimetres inside. What comes of a measurement is a [Measured]: a
// value with the budget of its uncertainty after the GUM (JCGM 100:2008).
// Whatever refuses an entry returns a [*FieldError] that names it.
package gauge

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// Length is a length in millimetres.
type Length float64

// Unit is a unit in which lengths are entered and shown.
type Unit string

// The units. Thou is a thousandth of an inch.
const (
	Millimetre Unit = "mm"
	Inch       Unit = "in"
	Thou       Unit = "thou"
)

// Micrometre is a thousandth of a millimetre.
const Micrometre Length = 0.001

// Units are all units, in the order in which they are offered.
var Units = []Unit{Millimetre, Inch, Thou}

// perUnit is exact: one inch is 25.4 mm (the international inch of 1959).
var perUnit = map[Unit]decimal.Decimal{
	Millimetre: decimal.New(1, 0),
	Inch:       decimal.New(254, -1),
	Thou:       decimal.New(254, -4),
}

// maxLength bounds what an entry may be: 10 m, in millimetres.
const maxLength = 10_000

// In returns the length as a number of the unit; an unknown unit gives
// millimetres.
func (l Length) In(u Unit) float64 {
	switch u {
	case Inch:
		return float64(l) / 25.4
	case Thou:
		return float64(l) / 0.0254
	}
	return float64(l)
}

// Text shows the length in the unit at the resolution of the instrument it was
// measured with, with the unit behind: "18.420 mm", "0.7252 in". A resolution
// that is no round step of the unit is taken as the nearest step of 1, 2 or 5, as
// instruments with two scales do (0.001 in and 0.02 mm, 0.01 mm and 0.0005 in),
// so that no digit is invented and none is lost. A resolution that is not above
// zero shows a thousandth of a millimetre or half a ten-thousandth of an inch.
func (l Length) Text(u Unit, resolution Length) string {
	return l.number(u, resolution) + " " + string(known(u))
}

// WholeText shows the length as [Length.Text] does where that loses nothing of it,
// else to a thousandth of a millimetre: a limit is never rounded to what an
// instrument shows.
func (l Length) WholeText(u Unit, resolution Length) string {
	says := l.Text(u, resolution)
	if again, err := ParseLength(says, u); err != nil || math.Abs(float64(again-l)) > 1e-9 {
		return l.Text(u, Micrometre)
	}
	return says
}

func (l Length) number(u Unit, resolution Length) string {
	if !(resolution > 0) {
		resolution = Micrometre
	}
	step, places := stepIn(known(u), resolution)
	value := math.Round(l.In(u)/step) * step
	if value == 0 {
		value = 0 // no minus before a zero
	}
	return strconv.FormatFloat(value, 'f', places, 64)
}

func known(u Unit) Unit {
	if _, ok := perUnit[u]; !ok {
		return Millimetre
	}
	return u
}

// stepIn returns the step in which a length of a resolution is shown, and how
// many decimals that takes. A decimal step of the unit stays what it is; others
// become the nearest of 1, 2 and 5, by ratio.
func stepIn(u Unit, resolution Length) (step float64, places int) {
	exact := resolution.In(u)
	power := math.Pow(10, math.Floor(math.Log10(exact)))
	best := 0.0
	for _, candidate := range [...]float64{1, 2, 5, 10} {
		s := candidate * power
		if best == 0 || math.Abs(math.Log(s/exact)) < math.Abs(math.Log(best/exact)) {
			best = s
		}
	}
	places = max(0, -int(math.Floor(math.Log10(best)+1e-9)))
	return best, places
}
