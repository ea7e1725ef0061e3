package record

import "time"

// takenForm is how the camera's clock is kept.
const takenForm = "2006-01-02T15:04:05"

// Instant returns when a photo was taken: the camera's clock in the zone that the
// camera recorded, or, where it recorded none, as if it had shown the time of a place.
// It returns false where no time was recorded.
func (t Taken) Instant(place *time.Location) (time.Time, bool) {
	if t.Local == "" {
		return time.Time{}, false
	}
	if zone, err := time.Parse("-07:00", t.Zone); err == nil {
		_, offset := zone.Zone()
		place = time.FixedZone("", offset)
	}
	at, err := time.ParseInLocation(takenForm, t.Local, place)
	return at, err == nil
}
