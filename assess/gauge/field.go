package gauge

import (
	"errors"
	"fmt"
	"math"
)

// A FieldError refuses one entry. Field names it in the words of the screen
// ("instrument resolution", "limit discard"), so that the message can stand at
// the place where the person typed.
type FieldError struct {
	Field string
	Err   error
}

func (e *FieldError) Error() string { return e.Field + ": " + e.Err.Error() }

// Unwrap returns the reason without the field.
func (e *FieldError) Unwrap() error { return e.Err }

var (
	errNotFinite = errors.New("is not a number; enter it anew")
	errMissing   = errors.New("is missing; enter it")
)

func bad(field, format string, args ...any) error {
	return &FieldError{Field: field, Err: fmt.Errorf(format, args...)}
}

// first returns the first of several errors, nil for none.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// finite refuses what is no number and what no bench can measure: over 10 m, in
// millimetres, in either direction.
func finite(field string, l Length) error {
	switch {
	case math.IsNaN(float64(l)) || math.IsInf(float64(l), 0):
		return &FieldError{Field: field, Err: errNotFinite}
	case math.Abs(float64(l)) > maxLength:
		return bad(field, "%g mm is over 10 m; is the unit right?", float64(l))
	}
	return nil
}

func positive(field string, l Length) error {
	if err := finite(field, l); err != nil {
		return err
	}
	if l <= 0 {
		return bad(field, "%g mm is not above zero; enter the length that was measured", float64(l))
	}
	return nil
}

func notNegative(field string, l Length) error {
	if err := finite(field, l); err != nil {
		return err
	}
	if l < 0 {
		return bad(field, "%g mm is below zero; enter it without a sign", float64(l))
	}
	return nil
}

// within refuses a plain number outside its range.
func within(field string, v, least, most float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return &FieldError{Field: field, Err: errNotFinite}
	case v < least || v > most:
		return bad(field, "%g is not between %g and %g", v, least, most)
	}
	return nil
}

func wholeWithin(field string, v, least, most int) error {
	if v < least || v > most {
		return bad(field, "%d is not between %d and %d", v, least, most)
	}
	return nil
}
