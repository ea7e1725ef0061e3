package inspection_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// takenAt is a photo file in which a camera recorded its clock (2026-05-12 HH:MM:SS)
// and, unless it is empty, its zone.
func takenAt(t *testing.T, name, clock, zone string, width int) string {
	t.Helper()
	path := picture(t, name, width, 30)
	plain, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	texts := []struct {
		tag  uint16
		text string
	}{{0x9003, "2026:05:12 " + clock + "\x00"}}
	if zone != "" {
		texts = append(texts, struct {
			tag  uint16
			text string
		}{0x9011, zone + "\x00"})
	}
	le := binary.LittleEndian
	const camera = 8 + 2 + 12 + 4 // where the camera's directory begins
	tiff := le.AppendUint32([]byte("II*\x00"), 8)
	tiff = le.AppendUint16(tiff, 1)
	tiff = le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(tiff, 0x8769), 4), 1), camera)
	tiff = le.AppendUint32(tiff, 0)
	tiff = le.AppendUint16(tiff, uint16(len(texts)))
	at, tail := camera+2+12*len(texts)+4, ""
	for _, x := range texts {
		tiff = le.AppendUint32(le.AppendUint16(le.AppendUint16(tiff, x.tag), 2), uint32(len(x.text)))
		tiff = le.AppendUint32(tiff, uint32(at+len(tail)))
		tail += x.text
	}
	tiff = append(le.AppendUint32(tiff, 0), tail...)
	block := append([]byte("Exif\x00\x00"), tiff...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(block)+2))
	whole := slices.Concat(plain[:2], segment, block, plain[2:])
	if bytes.Equal(whole, plain) || os.WriteFile(path, whole, 0o644) != nil {
		t.Fatal("the photo can't be written")
	}
	return path
}

// TestByTaken holds that photos of two cameras in two zones lie in the order in which
// they were taken, and that the zone of the shop stands in for one not recorded.
func TestByTaken(t *testing.T) {
	for name, c := range map[string]struct {
		shop   string
		photos []string // clock and zone
		want   string
	}{
		"two zones":                      {"+01:00", []string{"15:00:00 +02:00", "14:30:00 +01:00", "14:10:00 +01:00"}, "0 2 1"},
		"one clock":                      {"+01:00", []string{"15:00:02 ", "15:00:00 ", "15:00:01 "}, "1 2 0"},
		"no zone is the shop's":          {"+01:00", []string{"15:00:00 +02:00", "14:20:00 ", "13:55:00 ", "14:30:00 +01:00"}, "2 0 1 3"},
		"in another shop":                {"-05:00", []string{"15:00:00 +02:00", "14:20:00 ", "07:55:00 ", "14:30:00 +01:00"}, "2 0 3 1"},
		"over midnight of one of them":   {"+00:00", []string{"00:30:00 +13:00", "23:45:00 -11:00", "11:00:00 +00:00"}, "0 2 1"},
		"one moment as they were given":  {"+01:00", []string{"15:00:00 +02:00", "14:00:00 +01:00", "14:00:00 "}, "0 1 2"},
		"without a time last, as given":  {"+01:00", []string{" ", "15:00:00 +02:00", " +01:00", "14:00:00 +02:00"}, "3 1 0 2"},
		"a day with the clock put ahead": {"Europe/Berlin", []string{"15:00:00 ", "13:30:00 +01:00", "13:30:00 +00:00"}, "1 0 2"},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := inspection.Open(t.Context(), inspection.Options{Dir: t.TempDir(), Who: "Edda Quillan", Now: nowIn(t, c.shop)})
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			n := begun(t, b)
			var names []string
			for i := range c.photos {
				names = append(names, fmt.Sprintf("%c.jpg", 'a'+i))
			}
			ids, _ := withPhotos(t, n, names...)
			for i, p := range c.photos {
				clock, zone, _ := strings.Cut(p, " ")
				if clock != "" {
					clock = "2026-05-12T" + clock
				}
				err := n.Do(record.ChangePhoto("taken", ids[i], func(p *record.Photo) { p.Taken = record.Taken{Local: clock, Zone: zone} }))
				if err != nil {
					t.Fatal(err)
				}
			}
			var got []string
			for _, id := range n.ByTaken(ids) {
				got = append(got, fmt.Sprint(slices.Index(ids, id)))
			}
			if strings.Join(got, " ") != c.want {
				t.Errorf("the order is %s, want %s", strings.Join(got, " "), c.want)
			}
		})
	}
}

// nowIn is a clock on the wall of a shop in a zone, as an offset or by its name.
func nowIn(t *testing.T, zone string) func() time.Time {
	t.Helper()
	place, err := time.LoadLocation(zone)
	if err != nil {
		at, err := time.Parse("-07:00", zone)
		if err != nil {
			t.Fatal(err)
		}
		_, offset := at.Zone()
		place = time.FixedZone("", offset)
	}
	return func() time.Time { return time.Date(2026, 12, 1, 9, 0, 0, 0, place) }
}

// TestNumbersFollowTheTime holds that photos of two cameras taken in at once are
// numbered across their zones.
func TestNumbersFollowTheTime(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	paths := []string{
		takenAt(t, "late.jpg", "14:30:00", "+01:00", 40),
		takenAt(t, "early.jpg", "15:00:00", "+02:00", 41),
		takenAt(t, "middle.jpg", "13:10:00", "+00:00", 42),
	}
	job := n.AttachPhotos(t.Context(), nil, term.AsFound, paths)
	if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
		t.Fatal(err, job.Failed())
	}
	var got []string
	for _, id := range job.Taken() {
		p := n.Record().Photos[id]
		got = append(got, fmt.Sprint(p.Number, " ", strings.TrimSuffix(filepath.Base(p.Name), ".jpg"), p.Taken.Zone))
	}
	if want := "1 early+02:00, 2 middle+00:00, 3 late+01:00"; strings.Join(got, ", ") != want {
		t.Errorf("they are %s, want %s", strings.Join(got, ", "), want)
	}
}
