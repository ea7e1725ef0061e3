package record_test

import (
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"fettlebook/assess/record"
)

// Thousands are made within one millisecond, and a list shows them in the order
// of their ids.
func TestIDsSortByTheTimeOfMaking(t *testing.T) {
	const n = 20_000
	ids := make([]record.ID, n)
	start := time.Now()
	for i := range ids {
		ids[i] = record.NewID()
	}
	if perMilli := n / max(1, time.Since(start).Milliseconds()); perMilli < 2 {
		t.Fatalf("%d ids a millisecond show nothing", perMilli)
	}
	for i, id := range ids {
		if i > 0 && ids[i-1].Compare(id) >= 0 {
			t.Fatalf("id %d, %s, does not sort behind %s", i, id, ids[i-1])
		}
		if u, err := uuid.Parse(string(id)); err != nil || u.Version() != 7 || u.Variant() != uuid.RFC4122 {
			t.Fatalf("%s is not a UUID version 7: %v", id, err)
		}
		if parsed, err := record.ParseID(string(id)); err != nil || parsed != id {
			t.Fatalf("%s is read as %q: %v", id, parsed, err)
		}
	}
}

func TestIDsMadeAtOnceDiffer(t *testing.T) {
	made := make([][]record.ID, 8)
	var all sync.WaitGroup
	for i := range made {
		all.Go(func() {
			for range 2000 {
				made[i] = append(made[i], record.NewID())
			}
		})
	}
	all.Wait()
	seen := map[record.ID]bool{}
	for _, ids := range made {
		if !slices.IsSorted(ids) {
			t.Error("ids made one after the other do not sort")
		}
		for _, id := range ids {
			seen[id] = true
		}
	}
	if len(seen) != 16_000 {
		t.Errorf("%d ids differ, want 16000", len(seen))
	}
}

func TestWhatIsNoIDIsRefused(t *testing.T) {
	for _, text := range []string{
		"", "0", "0197f3a0-1c2b-7def-8123-456789abcde", "0197f3a0-1c2b-7def-8123-456789abcdef0",
		"0197F3A0-1C2B-7DEF-8123-456789ABCDEF", "0197f3a0-1c2b-4def-8123-456789abcdef", "0197f3a0-1c2b-7def-c123-456789abcdef",
		"0197f3a0-1c2b-7def-0123-456789abcdef", "0197f3a01c2b7def8123456789abcdef", "{0197f3a0-1c2b-7def-8123-456789abcdef}",
		"urn:uuid:0197f3a0-1c2b-7def-8123-456789abcdef", "0197f3a0-1c2b-7def-8123-456789abcdeg", "0197f3a0_1c2b-7def-8123-456789abcdef",
	} {
		if id, err := record.ParseID(text); err == nil {
			t.Errorf("%q was read as %s", text, id)
		}
	}
}

func TestAStampGivesBackTheMomentAndTheClockOnTheWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offset := rapid.IntRange(-14*60-59, 14*60+59).Draw(t, "minutes east")
		at := time.UnixMilli(rapid.Int64Range(0, 4e12).Draw(t, "ms")).In(time.FixedZone("", offset*60))
		stamp := record.StampOf(at)
		got, err := stamp.Time()
		if err != nil {
			t.Fatal(err)
		}
		if !got.Equal(at) || got.Format(time.RFC3339Nano) != at.Format(time.RFC3339Nano) {
			t.Fatalf("%v is kept as %+v and given back as %v", at, stamp, got)
		}
	})
}

// Zones of the tz database with odd offsets, on both sides of a change of clocks.
func TestAStampKeepsTheOffsetThatHeldAtTheMoment(t *testing.T) {
	for _, c := range []struct {
		zone, at string
		want     record.Stamp
	}{
		{"Europe/Berlin", "2026-10-25T00:59:59.999Z", record.Stamp{UTC: "2026-10-25T00:59:59.999Z", Zone: "+02:00"}},
		{"Europe/Berlin", "2026-10-25T01:00:00Z", record.Stamp{UTC: "2026-10-25T01:00:00.000Z", Zone: "+01:00"}},
		{"Asia/Kathmandu", "2026-05-12T20:00:00Z", record.Stamp{UTC: "2026-05-12T20:00:00.000Z", Zone: "+05:45"}},
		{"America/St_Johns", "2026-01-12T20:00:00Z", record.Stamp{UTC: "2026-01-12T20:00:00.000Z", Zone: "-03:30"}},
		{"Pacific/Kiritimati", "2026-05-12T20:00:00Z", record.Stamp{UTC: "2026-05-12T20:00:00.000Z", Zone: "+14:00"}},
		{"UTC", "2026-05-12T20:00:00.123456Z", record.Stamp{UTC: "2026-05-12T20:00:00.123Z", Zone: "+00:00"}},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		at, err := time.Parse(time.RFC3339Nano, c.at)
		if err != nil {
			t.Fatal(err)
		}
		got := record.StampOf(at.In(zone))
		if got != c.want {
			t.Errorf("%s in %s is %+v, want %+v", c.at, c.zone, got, c.want)
		}
		if back, err := got.Time(); err != nil || !back.Equal(at.Truncate(time.Millisecond)) {
			t.Errorf("%+v is given back as %v (%v)", got, back, err)
		}
	}
}

func TestWhatIsNoStampIsRefused(t *testing.T) {
	for _, s := range []record.Stamp{
		{}, {UTC: "2026-05-12T07:10:00Z"}, {Zone: "+01:00"},
		{UTC: "2026-05-12T07:10:00+00:00", Zone: "+01:00"}, {UTC: "2026-05-12T7:10:00Z", Zone: "+01:00"}, {UTC: "2026-05-12 07:10:00Z", Zone: "+01:00"},
		{UTC: "2026-05-12T07:10:00,5Z", Zone: "+01:00"}, {UTC: "2026-05-12T07:10:00.1234Z", Zone: "+01:00"}, {UTC: "2026-02-30T07:10:00Z", Zone: "+01:00"},
		{UTC: "2026-05-12T07:10:60Z", Zone: "+01:00"}, {UTC: "2026-05-12T07:10:00Z", Zone: "Z"}, {UTC: "2026-05-12T07:10:00Z", Zone: "+24:00"},
		{UTC: "2026-05-12T07:10:00Z", Zone: "+01:60"}, {UTC: "2026-05-12T07:10:00Z", Zone: "+0100"}, {UTC: "2026-05-12T07:10:00Z", Zone: "01:00"},
	} {
		if at, err := s.Time(); err == nil {
			t.Errorf("%+v is taken for %v", s, at)
		}
	}
}
