package gauge

import (
	"strings"
	"time"
)

// Standing is what an instrument's calibration was worth on a day.
type Standing string

// The standings of a calibration.
const (
	CalibrationUnknown Standing = "not known"
	CalibrationCurrent Standing = "current"
	CalibrationOverdue Standing = "overdue"
)

// usualInterval is how long a calibration holds where no due date is given, in
// months: common practice, no source.
const usualInterval = 12

// Calibration says how an instrument's calibration stood on the day of a
// reading.
type Calibration struct {
	Standing Standing
	// Due is the day from which it no longer held, empty where nothing is known.
	Due string
	// Assumed says that the due day is the usual twelve months on.
	Assumed bool
}

// CalibrationOn tells how the calibration stood on a day. Both days are
// arguments: nothing here reads the clock. The due day itself still counts. A
// day that is none gives an error; so does a calibration that is due before it
// was made. An instrument that was calibrated only after the reading is not known
// to have been right.
func (in Instrument) CalibrationOn(day string) (Calibration, error) {
	if err := first(needDay("day of the reading", day), aDay("instrument calibrated", in.Calibrated), aDay("instrument calibration due", in.Due)); err != nil {
		return Calibration{}, err
	}
	c := Calibration{Standing: CalibrationUnknown, Due: in.Due}
	if in.Due == "" && in.Calibrated != "" {
		made, _ := time.Parse(time.DateOnly, in.Calibrated)
		c.Due, c.Assumed = made.AddDate(0, usualInterval, 0).Format(time.DateOnly), true
	}
	switch {
	case in.Due != "" && in.Calibrated != "" && in.Due < in.Calibrated:
		return Calibration{}, bad("instrument calibration due", "%s is before %s, when it was calibrated", in.Due, in.Calibrated)
	case c.Due == "" || in.Calibrated != "" && day < in.Calibrated:
	case day > c.Due:
		c.Standing = CalibrationOverdue
	default:
		c.Standing = CalibrationCurrent
	}
	return c, nil
}

func aDay(field, day string) error {
	if day == "" {
		return nil
	}
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		return bad(field, "%q is not a day; write 2026-05-12", shortened(strings.TrimSpace(day)))
	}
	return nil
}

func needDay(field, day string) error {
	if day == "" {
		return &FieldError{Field: field, Err: errMissing}
	}
	return aDay(field, day)
}
