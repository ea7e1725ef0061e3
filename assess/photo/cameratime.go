package photo

import (
	"strings"
	"time"
)

// CameraTime is a time as the camera's own clock showed it. A clock reading
// without a zone is no instant: it is kept as the text it is, and nothing
// turns it into one by assuming a zone.
type CameraTime struct {
	// Clock is the reading, as 2026-05-12 09:10:00; "" when no time is
	// recorded.
	Clock string
	// Subsecond is the recorded decimals of the second, as 05 for 0.05 s; ""
	// when not recorded.
	Subsecond string
	// Zone is the clock's recorded distance from UTC, as +02:00; "" when not
	// recorded.
	Zone string
	// Basis says what was recorded at that time; "" when none is.
	Basis Basis
}

// Basis says which event a [CameraTime] is the time of.
type Basis string

// The events, in the order of preference.
const (
	// ByExposure is when the picture was taken.
	ByExposure Basis = "taken"
	// ByDigitizing is when it became a file; for a camera the same moment.
	ByDigitizing Basis = "digitized"
	// ByChange is when a program last wrote the file's data: the picture was
	// taken then or at some time before.
	ByChange Basis = "file changed"
)

// IsZero tells whether no time is recorded.
func (t CameraTime) IsZero() bool { return t.Clock == "" }

// Instant returns the instant in UTC, and false when it is not known because
// the time or its zone is not recorded.
func (t CameraTime) Instant() (time.Time, bool) {
	if t.IsZero() || t.Zone == "" {
		return time.Time{}, false
	}
	text := t.Clock
	if t.Subsecond != "" {
		text += "." + t.Subsecond
	}
	at, err := time.Parse("2006-01-02 15:04:05-07:00", text+t.Zone)
	return at.UTC(), err == nil
}

// String returns the time for people, as "2026-05-12 09:10:00.05 +02:00",
// "2026-05-12 09:10:00, zone not recorded" or "not recorded".
func (t CameraTime) String() string {
	if t.IsZero() {
		return "not recorded"
	}
	s := t.Clock
	if t.Subsecond != "" {
		s += "." + t.Subsecond
	}
	if t.Zone == "" {
		return s + ", zone not recorded"
	}
	return s + " " + t.Zone
}

// parseClock reads 2026:05:12 09:10:00. Blanks and zeros, which stand for
// "not known" in EXIF, give "" and true.
func parseClock(s string) (clock string, ok bool) {
	s = strings.TrimSpace(s)
	if strings.Trim(s, "0: ") == "" {
		return "", true
	}
	for _, layout := range []string{"2006:01:02 15:04:05", "2006-01-02 15:04:05", "2006-01-02T15:04:05"} {
		if t, err := time.Parse(layout, s); err == nil && t.Nanosecond() == 0 {
			return t.Format("2006-01-02 15:04:05"), true
		}
	}
	return "", false
}

// parseZone reads +02:00, also written +0200 or Z. Blanks give "" and true.
func parseZone(s string) (zone string, ok bool) {
	s = strings.TrimSpace(s)
	if strings.Trim(s, ": ") == "" {
		return "", true
	}
	for _, layout := range []string{"Z07:00", "Z0700"} {
		t, err := time.Parse(layout, s)
		if err != nil {
			continue
		}
		if _, sec := t.Zone(); sec < -14*3600 || sec > 14*3600 {
			return "", false
		}
		return t.Format("-07:00"), true
	}
	return "", false
}
