package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/photo"
)

func TestTimeTaken(t *testing.T) {
	const at = "2026:05:12 09:10:00"
	for name, c := range map[string]struct {
		ifd0, camera []entry
		text         string
		instant      string // RFC 3339, "" when not known
		basis        photo.Basis
		notes        int
	}{
		"no zone": {nil, []entry{str(tOriginal, at)},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"zone": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "+02:00")},
			"2026-05-12 09:10:00 +02:00", "2026-05-12T07:10:00Z", photo.ByExposure, 0},
		"zone west": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "-09:30")},
			"2026-05-12 09:10:00 -09:30", "2026-05-12T18:40:00Z", photo.ByExposure, 0},
		"zone Z": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "Z")},
			"2026-05-12 09:10:00 +00:00", "2026-05-12T09:10:00Z", photo.ByExposure, 0},
		"zone without colon": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "+0545")},
			"2026-05-12 09:10:00 +05:45", "2026-05-12T03:25:00Z", photo.ByExposure, 0},
		"blank zone": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "   :  ")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"nonsense zone": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "local")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 1},
		"zone too far": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "+19:00")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 1},
		"zone too far west": {nil, []entry{str(tOriginal, at), str(tZoneOrig, "-19:00")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 1},
		"zone of another time": {nil, []entry{str(tOriginal, at), str(tZone, "+02:00"), str(tZoneDig, "+02:00")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"subsecond with a leading zero": {nil, []entry{str(tOriginal, at), str(tSubsecOrig, "05"), str(tZoneOrig, "+02:00")},
			"2026-05-12 09:10:00.05 +02:00", "2026-05-12T07:10:00.05Z", photo.ByExposure, 0},
		"long subsecond, no zone": {nil, []entry{str(tOriginal, at), str(tSubsecOrig, "007120")},
			"2026-05-12 09:10:00.007120, zone not recorded", "", photo.ByExposure, 0},
		"subsecond of another time": {nil, []entry{str(tOriginal, at), str(tSubsec, "77")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"blank subsecond": {nil, []entry{str(tOriginal, at), str(tSubsecOrig, "  ")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"digitized only": {[]entry{str(tChanged, "2026:06:01 10:00:00")}, []entry{str(tDigitized, at), str(tZoneDig, "+01:00")},
			"2026-05-12 09:10:00 +01:00", "2026-05-12T08:10:00Z", photo.ByDigitizing, 0},
		"changed only": {[]entry{str(tChanged, at)}, []entry{str(tZone, "+02:00")},
			"2026-05-12 09:10:00 +02:00", "2026-05-12T07:10:00Z", photo.ByChange, 0},
		"all three": {[]entry{str(tChanged, "2026:06:02 10:00:00")}, []entry{str(tOriginal, at), str(tDigitized, "2026:06:01 10:00:00")},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByExposure, 0},
		"blank time": {nil, []entry{str(tOriginal, "    :  :     :  :  ")}, "not recorded", "", "", 0},
		"zero time":  {nil, []entry{str(tOriginal, "0000:00:00 00:00:00")}, "not recorded", "", "", 0},
		"no time":    {nil, []entry{str(tZoneOrig, "+02:00")}, "not recorded", "", "", 0},
		"13th month": {nil, []entry{str(tOriginal, "2026:13:12 09:10:00")}, "not recorded", "", "", 1},
		"13th month, then good": {nil, []entry{str(tOriginal, "2026:13:12 09:10:00"), str(tDigitized, at)},
			"2026-05-12 09:10:00, zone not recorded", "", photo.ByDigitizing, 1},
		"words for time": {nil, []entry{str(tOriginal, "yesterday after tea")}, "not recorded", "", "", 1},
		"nothing":        {nil, nil, "not recorded", "", "", 0},
	} {
		for _, order := range []byteOrder{binary.BigEndian, binary.LittleEndian} {
			info := open(t, "x.jpg", jpegWith(t, exifBlock(order, c.ifd0, c.camera))).Info()
			if got := info.Taken.String(); got != c.text {
				t.Errorf("%s: %q, want %q", name, got, c.text)
			}
			if info.Taken.Basis != c.basis || info.Taken.IsZero() != (c.basis == "") {
				t.Errorf("%s: basis %q, want %q", name, info.Taken.Basis, c.basis)
			}
			if len(info.Notes) != c.notes {
				t.Errorf("%s: notes %q, want %d", name, info.Notes, c.notes)
			}
			at, known := info.Taken.Instant()
			if known != (c.instant != "") || (known && at.Format(time.RFC3339Nano) != c.instant) {
				t.Errorf("%s: instant %v %v, want %q", name, at, known, c.instant)
			}
		}
	}
}

func TestCameraIsReadAndCleaned(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"plain":                  {"Model 7", "Model 7"},
		"padded":                 {"  Model   7  ", "Model 7"},
		"control":                {"Mod\x1b[31mel\r\n7", "Mod[31mel7"},
		"right-to-left override": {"Mo\u202edel", "Model"},
		"not utf-8":              {"Mod\xffel", "Mod\ufffdel"},
		"endless":                {strings.Repeat("ä", 200), strings.Repeat("ä", 80)},
		"beyond limit":           {strings.Repeat("x", 600), ""},
	} {
		block := exifBlock(binary.LittleEndian, []entry{str(tMake, "Bench"), str(tModel, c.in), turned(6)}, nil)
		info := open(t, "x.jpg", jpegWith(t, block)).Info()
		if info.Model != c.want || info.Make != "Bench" || info.Orientation != photo.Turn90 {
			t.Errorf("%s: make %q model %q orientation %d, want model %q", name, info.Make, info.Model, info.Orientation, c.want)
		}
	}
}

func TestOddEXIFNeverStopsAPhoto(t *testing.T) {
	whole := exifBlock(binary.BigEndian, []entry{turned(8), str(tMake, "A long enough make")}, []entry{str(tOriginal, "2026:05:12 09:10:00")})
	loop := exifBlock(binary.BigEndian, []entry{turned(8)}, []entry{str(tOriginal, "2026:05:12 09:10:00"), {tExifIFD, 4, uint32(8)}})
	for name, c := range map[string]struct {
		block []byte
		turn  photo.Orientation
		notes int
	}{
		"empty":             {nil, photo.Normal, 1},
		"two bytes":         {[]byte("MM"), photo.Normal, 1},
		"not a block":       {[]byte("hello, this is no block at all"), photo.Normal, 1},
		"cut in a tag":      {whole[:26], photo.Turn270, 1},
		"cut in a value":    {whole[:len(whole)-30], photo.Turn270, 1},
		"points to itself":  {loop, photo.Turn270, 0},
		"directory far off": {[]byte("MM\x00*\x7f\xff\xff\xff"), photo.Normal, 1},
		"orientation 0":     {exifBlock(binary.BigEndian, []entry{turned(0)}, nil), photo.Normal, 0},
		"orientation 9":     {exifBlock(binary.BigEndian, []entry{turned(9)}, nil), photo.Normal, 1},
		"orientation text":  {exifBlock(binary.BigEndian, []entry{str(tOrientation, "6")}, nil), photo.Normal, 1},
		"unknown type":      {exifBlock(binary.BigEndian, []entry{turned(8), {tModel, 77, uint32(1)}}, nil), photo.Turn270, 1},
	} {
		f := open(t, "x.jpg", jpegWith(t, c.block))
		info := f.Info()
		if info.Orientation != c.turn || len(info.Notes) != c.notes {
			t.Errorf("%s: orientation %d, notes %q", name, info.Orientation, info.Notes)
		}
		if _, err := f.Decode(t.Context()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestEXIFIsFoundWhereItStands(t *testing.T) {
	block := exifBlock(binary.LittleEndian, []entry{turned(3)}, nil)
	app1 := jpegSegment(0xe1, append([]byte("Exif\x00\x00"), block...))
	other := jpegSegment(0xe1, exifSecond())
	xmp := jpegSegment(0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00<x/>"))
	colour := jpegSegment(0xe2, bytes.Repeat([]byte{0xff, 0xe1, 0, 8}, 5000))
	jpg, png := smallPhoto(t), smallPNG(t)
	exif, text := chunk("eXIf", block), chunk("tEXt", []byte("Comment\x00eXIf"))
	huge := chunk("eXIf", append(bytes.Clone(block), make([]byte, 1<<20)...))
	insert := func(at int, parts ...[]byte) []byte {
		b := bytes.Clone(png[:at])
		for _, p := range parts {
			b = append(b, p...)
		}
		return append(b, png[at:]...)
	}
	for name, c := range map[string]struct {
		data  []byte
		turn  photo.Orientation
		notes int
	}{
		"JPEG without":            {jpg, photo.Normal, 0},
		"JPEG":                    {afterSOI(jpg, app1), photo.Turn180, 0},
		"JPEG behind others":      {afterSOI(jpg, xmp, colour, app1), photo.Turn180, 0},
		"JPEG, the first counts":  {afterSOI(jpg, app1, other), photo.Turn180, 0},
		"JPEG behind fill bytes":  {afterSOI(jpg, []byte{0xff, 0xff}, app1), photo.Turn180, 0},
		"JPEG behind stray bytes": {afterSOI(jpg, xmp, []byte{1, 2, 3}, app1), photo.Turn180, 0},
		"PNG without":             {png, photo.Normal, 0},
		"PNG":                     {insert(33, text, exif), photo.Turn180, 0},
		"PNG behind the picture":  {insert(len(png)-12, exif), photo.Turn180, 0},
		"PNG, too much of it":     {insert(33, huge), photo.Normal, 1},
	} {
		f := open(t, "x", c.data)
		if got := f.Info(); got.Orientation != c.turn || len(got.Notes) != c.notes {
			t.Errorf("%s: orientation %d, notes %q", name, got.Orientation, got.Notes)
		}
		if _, err := f.Decode(context.Background()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func exifSecond() []byte {
	return append([]byte("Exif\x00\x00"), exifBlock(binary.BigEndian, []entry{turned(8)}, nil)...)
}
