package gauge

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"
)

// ErrAmbiguous says that an entry may be read in two ways and must be asked
// about: a comma followed by three digits, where both readings are lengths of a
// part.
var ErrAmbiguous = errors.New("may be read in two ways: write 1.000 for one, or 1000 for a thousand")

// ErrMixedUnits says that the values of one row are not in one unit.
var ErrMixedUnits = errors.New("the values of one row are in different units; enter them all in one")

var (
	entryForm    = regexp.MustCompile(`^([+-]?(?:\d+[.,]?\d*|[.,]\d+))\s*(mm|in|inch|"|″|”|thou)?$`)
	fractionForm = regexp.MustCompile(`^(?:(\d+)[ -])?(\d+)/(\d+)\s*(in|inch|"|″|”)?$`)
	ambiguous    = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
)

// Entry is a length as a person typed it.
type Entry struct {
	// Text is what was typed, without the blanks around it.
	Text string
	// Length is what it means.
	Length Length
	// Unit is the unit that it was typed in; a fraction is in inches.
	Unit Unit
	// Step is what one in the last place typed is worth: 0.01 mm for "18.44",
	// a thirty-second of an inch for 23/32". The length is known no better.
	Step Length
}

// ParseLength reads a length as a person enters it: "18.44", "18,44",
// ".726 in", "3 thou", `23/32"`. A number without a unit is in the unit given.
// It may be negative or zero, as a deviation is.
func ParseLength(text string, unit Unit) (Length, error) {
	e, err := ParseEntry(text, unit)
	return e.Length, err
}

// ParseEntry reads a length as [ParseLength] does and keeps how it was typed.
func ParseEntry(text string, unit Unit) (Entry, error) {
	typed := strings.TrimSpace(text)
	lower := spelled(typed)
	if m := fractionForm.FindStringSubmatch(lower); m != nil {
		return fraction(typed, m)
	}
	m := entryForm.FindStringSubmatch(lower)
	if m == nil || len(lower) > 40 {
		return Entry{}, fmt.Errorf("%q is not a length; write 18.44, .726 in, 3 thou or 23/32\"", shortened(typed))
	}
	number, err := decimal.NewFromString(strings.Replace(m[1], ",", ".", 1))
	if err != nil {
		return Entry{}, fmt.Errorf("%q is not a length: %w", typed, err)
	}
	u := named(m[2], unit)
	factor, ok := perUnit[u]
	if !ok {
		return Entry{}, fmt.Errorf("%q is not a unit of length; known are mm, in, thou", shortened(string(unit)))
	}
	// Of 18,440 mm the thousands would be over 10 m: only one meaning is left.
	thousands := number.Abs().Mul(decimal.New(1000, 0)).Mul(factor)
	if ambiguous.MatchString(m[1]) && thousands.LessThanOrEqual(decimal.New(maxLength, 0)) {
		return Entry{}, fmt.Errorf("%q %w", typed, ErrAmbiguous)
	}
	length, err := bounded(typed, number.Mul(factor))
	step, _ := decimal.New(1, number.Exponent()).Mul(factor).Float64()
	return Entry{Text: typed, Length: length, Unit: u, Step: Length(step)}, err
}

// oneSign spells out what phones and spreadsheets write as one sign.
var oneSign = strings.NewReplacer("−", "-", "⁄", "/", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// spelled is an entry in lower case and plain signs.
func spelled(text string) string { return strings.ToLower(strings.TrimSpace(oneSign.Replace(text))) }

// ParseRow reads the values of one reading, which must be in one unit. Field
// names the row in errors; each names the value by its place from 1.
func ParseRow(field string, texts []string, unit Unit) ([]Entry, error) {
	if len(texts) == 0 {
		return nil, &FieldError{Field: field, Err: errors.New("has no value; enter at least one")}
	}
	row := make([]Entry, len(texts))
	for i, text := range texts {
		e, err := ParseEntry(text, unit)
		if err != nil {
			return nil, &FieldError{Field: fmt.Sprintf("%s, value %d", field, i+1), Err: err}
		}
		if i > 0 && e.Unit != row[0].Unit {
			return nil, &FieldError{Field: fmt.Sprintf("%s, value %d", field, i+1),
				Err: fmt.Errorf("%q is in %s and the first value in %s: %w", e.Text, e.Unit, row[0].Unit, ErrMixedUnits)}
		}
		row[i] = e
	}
	return row, nil
}

func fraction(typed string, m []string) (Entry, error) {
	var parts [3]decimal.Decimal
	for i, digits := range m[1:4] {
		if digits == "" {
			continue
		}
		d, err := decimal.NewFromString(digits)
		if err != nil || len(digits) > 6 {
			return Entry{}, fmt.Errorf("%q is not a fraction of an inch", shortened(typed))
		}
		parts[i] = d
	}
	if parts[2].IsZero() {
		return Entry{}, fmt.Errorf("%q divides by nothing", typed)
	}
	inch := perUnit[Inch]
	length, err := bounded(typed, parts[0].Add(parts[1].DivRound(parts[2], 16)).Mul(inch))
	step, _ := inch.DivRound(parts[2], 16).Float64()
	return Entry{Text: typed, Length: length, Unit: Inch, Step: Length(step)}, err
}

func bounded(text string, millimetres decimal.Decimal) (Length, error) {
	mm, _ := millimetres.Float64()
	if math.Abs(mm) > maxLength {
		return 0, fmt.Errorf("%q is over 10 m; is the unit right?", text)
	}
	return Length(mm), nil
}

// WithUnit adds the unit to a length as typed that names none; a fraction is in
// inches.
func WithUnit(text string, unit Unit) string {
	text = strings.TrimSpace(text)
	plain := spelled(text)
	switch {
	case plain == "" || !strings.ContainsRune("0123456789.,", rune(plain[len(plain)-1])):
		return text
	case strings.Contains(plain, "/"):
		return text + " " + string(Inch)
	}
	return text + " " + string(unit)
}

func named(word string, otherwise Unit) Unit {
	switch word {
	case "mm", "thou":
		return Unit(word)
	case "in", "inch", `"`, "″", "”":
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
