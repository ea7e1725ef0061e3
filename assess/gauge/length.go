// Package gauge holds the numbers of the trade: lengths with their units, and
// the decision of a reading against its limit. It knows nothing of records.
package gauge

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

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

// perUnit is exact: one inch is 25.4 mm (the international inch of 1959).
var perUnit = map[Unit]decimal.Decimal{
	Millimetre: decimal.New(1, 0),
	Inch:       decimal.New(254, -1),
	Thou:       decimal.New(254, -4),
}

// maxLength bounds what an entry may be: 10 m, in millimetres.
const maxLength = 10_000

// ErrAmbiguous says that an entry may be read in two ways and must be asked
// about: a comma followed by three digits.
var ErrAmbiguous = errors.New("may be read in two ways: write 1.000 for one, or 1000 for a thousand")

var (
	entryForm    = regexp.MustCompile(`^([+-]?(?:\d+[.,]?\d*|[.,]\d+))\s*(mm|in|inch|"|thou)?$`)
	fractionForm = regexp.MustCompile(`^(?:(\d+)[ -])?(\d+)/(\d+)\s*(in|inch|")?$`)
	ambiguous    = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
)

// ParseLength reads a length as a person enters it: "18.44", "18,44",
// ".726 in", "3 thou", `23/32"`. A number without a unit is in the unit given.
func ParseLength(text string, unit Unit) (Length, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	if m := fractionForm.FindStringSubmatch(text); m != nil {
		return fraction(text, m)
	}
	m := entryForm.FindStringSubmatch(text)
	if m == nil || len(text) > 40 {
		return 0, fmt.Errorf("%q is not a length; write 18.44, .726 in, 3 thou or 23/32\"", shortened(text))
	}
	if ambiguous.MatchString(m[1]) {
		return 0, fmt.Errorf("%q %w", text, ErrAmbiguous)
	}
	number, err := decimal.NewFromString(strings.Replace(m[1], ",", ".", 1))
	if err != nil {
		return 0, fmt.Errorf("%q is not a length: %w", text, err)
	}
	factor, ok := perUnit[named(m[2], unit)]
	if !ok {
		return 0, fmt.Errorf("%q is not a unit of length; known are mm, in, thou", unit)
	}
	return bounded(text, number.Mul(factor))
}

func fraction(text string, m []string) (Length, error) {
	var parts [3]decimal.Decimal
	for i, digits := range m[1:4] {
		if digits == "" {
			continue
		}
		d, err := decimal.NewFromString(digits)
		if err != nil || len(digits) > 6 {
			return 0, fmt.Errorf("%q is not a fraction of an inch", shortened(text))
		}
		parts[i] = d
	}
	if parts[2].IsZero() {
		return 0, fmt.Errorf("%q divides by nothing", text)
	}
	inches := parts[0].Add(parts[1].DivRound(parts[2], 16))
	return bounded(text, inches.Mul(perUnit[Inch]))
}

func bounded(text string, millimetres decimal.Decimal) (Length, error) {
	mm, _ := millimetres.Float64()
	if math.Abs(mm) > maxLength {
		return 0, fmt.Errorf("%q is over 10 m; is the unit right?", text)
	}
	return Length(mm), nil
}

func named(word string, otherwise Unit) Unit {
	switch word {
	case "mm", "thou":
		return Unit(word)
	case "in", "inch", `"`:
		return Inch
	}
	return otherwise
}

func shortened(text string) string {
	if runes := []rune(text); len(runes) > 40 {
		return string(runes[:40]) + "…"
	}
	return text
}
