package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/image/tiff"

	"fettlebook/assess/photo"
)

// fuzzLimits keep a fuzzed picture small enough for many tries a second.
var fuzzLimits = photo.Limits{Megapixels: 1, MemoryBytes: 8 << 20}

func addSeeds(f *testing.F) {
	seeds := [][]byte{smallPhoto(f), smallPNG(f)}
	full := []entry{turned(6), str(tMake, "Bench"), str(tModel, "Model 7"), str(tChanged, "2026:05:12 09:10:00")}
	camera := []entry{str(tOriginal, "2026:05:12 09:10:00"), str(tZoneOrig, "+02:00"), str(tSubsecOrig, "05")}
	for _, order := range []byteOrder{binary.BigEndian, binary.LittleEndian} {
		block := exifBlock(order, full, camera)
		png := smallPNG(f)
		seeds = append(seeds, jpegWith(f, block),
			append(append(bytes.Clone(png[:33]), chunk("eXIf", block)...), png[33:]...))
	}
	grey := image.NewGray(image.Rect(0, 0, 9, 7))
	seeds = append(seeds, encodeJPEG(f, grey), encodePNG(f, image.NewNRGBA64(image.Rect(0, 0, 5, 5))))
	seeds = append(seeds, tiffOf(f, tiff.Uncompressed), tiffOf(f, tiff.Deflate), fixture(f, "quarters-90x61.webp"), fixture(f, "quarters-90x61.heic"))
	for _, b := range badFiles(f) {
		if len(b.data) < 4<<10 {
			seeds = append(seeds, b.data)
		}
	}
	if len(seeds) < 30 {
		f.Fatalf("only %d seeds", len(seeds))
	}
	for _, s := range seeds {
		f.Add(s)
	}
}

func checkFuzzed(t *testing.T, err error) {
	t.Helper()
	var e *photo.Error
	if !errors.As(err, &e) || e.Kind == "" || e.What == "" || e.Do == "" || e.Name != "f.jpg" {
		t.Fatalf("a refusal of another sort: %#v", err)
	}
	if e.Kind == photo.Changed || e.Kind == photo.Unreadable || e.Kind == photo.Missing || e.Kind == photo.IsFolder {
		t.Fatalf("bytes at rest are %q: %v", e.Kind, err)
	}
}

func FuzzProbe(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := photo.New(context.Background(), "f.jpg", bytes.NewReader(data), int64(len(data)), fuzzLimits)
		if err != nil {
			checkFuzzed(t, err)
			return
		}
		i := file.Info()
		if i.Width <= 0 || i.Height <= 0 || i.Width*i.Height > 1_000_000 || !i.Orientation.Valid() {
			t.Fatalf("let through: %+v", i)
		}
		for _, s := range append([]string{i.Make, i.Model, i.Taken.String()}, i.Notes...) {
			if !utf8.ValidString(s) || len(s) > 400 {
				t.Fatalf("unsafe text %q", s)
			}
			for _, r := range s {
				if !unicode.IsPrint(r) {
					t.Fatalf("unsafe text %q", s)
				}
			}
		}
		if _, known := i.Taken.Instant(); known != (i.Taken.Zone != "") {
			t.Fatalf("%+v: instant known %v", i.Taken, known)
		}
	})
}

func FuzzDecode(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := photo.New(context.Background(), "f.jpg", bytes.NewReader(data), int64(len(data)), fuzzLimits)
		if err != nil {
			checkFuzzed(t, err)
			return
		}
		img, err := file.Decode(context.Background())
		if err != nil {
			checkFuzzed(t, err)
			if img != nil {
				t.Fatal("a picture beside an error")
			}
			return
		}
		i := file.Info()
		if img.Bounds() != image.Rect(0, 0, i.Width, i.Height) {
			t.Fatalf("decoded %v, probed %d × %d", img.Bounds(), i.Width, i.Height)
		}
		v, err := photo.MakeViews(context.Background(), img)
		if err != nil || len(v.Preview.JPEG) == 0 || len(v.Thumbnail.JPEG) == 0 {
			t.Fatalf("views: %v", err)
		}
	})
}
