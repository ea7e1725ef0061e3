package record

import (
	"fmt"
	"regexp"
	"time"
)

// Stamp is a moment in UTC together with the offset of the clock on the wall
// where it was taken.
type Stamp struct {
	// UTC is RFC 3339 with a final Z, to the millisecond at most.
	UTC string `json:"utc"`
	// Zone is the offset as +hh:mm.
	Zone string `json:"zone"`
}

// What the standard library's parser would take besides: fractions of any
// length, a comma, hours of one digit, offsets of a day.
var (
	momentForm = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$`)
	shareForm  = regexp.MustCompile(`^(100|\d{1,2}([.,]\d{1,2})?)$`)
	tiltForm   = regexp.MustCompile(`^(45|([1-9]|[1-3]\d|4[0-4])([.,]\d{1,2})?)$`)
	zoneForm   = regexp.MustCompile(`^[+-](0\d|1[0-4]):[0-5]\d$`)
)

// StampOf keeps the moment, to the millisecond, and the zone of a time.
func StampOf(t time.Time) Stamp {
	return Stamp{UTC: t.UTC().Format("2006-01-02T15:04:05.000Z"), Zone: t.Format("-07:00")}
}

// Time gives the moment in its own zone.
func (s Stamp) Time() (time.Time, error) {
	t, err := time.Parse(time.RFC3339Nano, s.UTC)
	if err != nil || !momentForm.MatchString(s.UTC) {
		return time.Time{}, fmt.Errorf("%q is not a moment in UTC such as 2026-05-12T08:10:00.000Z", s.UTC)
	}
	zone, err := time.Parse("-07:00", s.Zone)
	if err != nil || !zoneForm.MatchString(s.Zone) {
		return time.Time{}, fmt.Errorf("%q is not an offset from UTC such as +01:00", s.Zone)
	}
	_, offset := zone.Zone()
	return t.In(time.FixedZone("", offset)), nil
}
