package photo_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"image"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/photo"
)

// secret stands in every place in which a camera may tell more than it should.
const secret = "SECRET-4711"

// tellTale is a photo that tells its place and serial in every way there is.
func tellTale(t testing.TB) []byte {
	t.Helper()
	block := exifBlock(binary.LittleEndian,
		[]entry{str(tMake, "Bench"), str(tModel, "Model 7"), turned(6), str(0x013b, secret+" artist"), str(0xc62f, secret+" serial")},
		[]entry{str(tOriginal, "2026:05:12 09:10:00"), str(tZoneOrig, "+02:00"), str(tSubsecOrig, "05"), str(0x927c, secret+" maker note"),
			str(0xa430, secret+" owner"), str(0xa431, secret+" body"), str(0xa435, secret+" lens")})
	data := afterSOI(smallPhoto(t),
		jpegSegment(0xe0, []byte("JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00")),
		jpegSegment(0xe1, append([]byte("Exif\x00\x00"), block...)),
		jpegSegment(0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00<x>"+secret+"</x>")),
		jpegSegment(0xe2, []byte("ICC_PROFILE\x00\x01\x01a profile")),
		jpegSegment(0xe2, []byte("MPF\x00"+secret)),
		jpegSegment(0xed, []byte("Photoshop 3.0\x00"+secret)),
		jpegSegment(0xfe, []byte(secret)))
	return append(data, []byte("behind the picture: "+secret)...)
}

func TestStrippedCopyTellsNeitherPlaceNorSerial(t *testing.T) {
	data := tellTale(t)
	if n := bytes.Count(data, []byte(secret)); n < 10 {
		t.Fatalf("the photo tells its secret %d times only", n)
	}
	f := open(t, "x.jpg", data)
	got, err := f.Stripped(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(got.JPEG, []byte(secret)) {
		t.Error("the copy tells it still")
	}
	if !bytes.Contains(got.JPEG, []byte("a profile")) {
		t.Error("the colour profile is gone")
	}
	copied := open(t, "copy.jpg", got.JPEG)
	was, is := f.Info(), copied.Info()
	if is.Taken != was.Taken || is.Make != was.Make || is.Model != was.Model || is.Orientation != photo.Turn90 || len(is.Notes) != 0 {
		t.Errorf("the copy says %+v, the original %+v", is, was)
	}
	if !slices.Equal(got.Kept, []string{"orientation", "make and model", "time (taken)"}) {
		t.Errorf("kept %q", got.Kept)
	}
	a, b := decode(t, data).(*image.YCbCr), decode(t, got.JPEG).(*image.YCbCr)
	if !bytes.Equal(a.Y, b.Y) || !bytes.Equal(a.Cb, b.Cb) || !bytes.Equal(a.Cr, b.Cr) {
		t.Error("the picture is another")
	}
	for _, h := range []struct {
		what string
		hash photo.Hash
		of   []byte
	}{{"copy", got.Hash, got.JPEG}, {"original", got.Original, data}} {
		if sum := sha256.Sum256(h.of); string(h.hash) != hex.EncodeToString(sum[:]) {
			t.Errorf("the hash of the %s is wrong", h.what)
		}
	}
	again, err := copied.Stripped(t.Context())
	if err != nil || again.Hash != got.Hash {
		t.Errorf("a copy of the copy is another: %v", err)
	}
}

func TestStrippingWhatTellsNothing(t *testing.T) {
	data := smallPhoto(t)
	got, err := open(t, "x.jpg", data).Stripped(t.Context())
	if err != nil || len(got.Kept) != 0 || !bytes.Equal(got.JPEG, data) {
		t.Errorf("%d bytes of %d, kept %q, %v", len(got.JPEG), len(data), got.Kept, err)
	}
}

// Every time that EXIF knows goes over as the time that it is.
func TestStrippedTimes(t *testing.T) {
	for name, c := range map[string][2][]entry{
		"digitized": {nil, {str(tDigitized, "2026:05:12 09:10:00"), str(tZoneDig, "-03:30")}},
		"changed":   {{str(tChanged, "2026:05:12 09:10:00")}, {str(tZone, "+01:00"), str(tSubsec, "5")}},
		"no zone":   {nil, {str(tOriginal, "2026:05:12 09:10:00")}},
	} {
		f := open(t, name, jpegWith(t, exifBlock(binary.BigEndian, c[0], c[1])))
		got, err := f.Stripped(t.Context())
		if err != nil {
			t.Fatal(name, err)
		}
		if is := open(t, name, got.JPEG).Info(); is.Taken != f.Info().Taken || is.Taken.IsZero() {
			t.Errorf("%s: %+v, was %+v", name, is.Taken, f.Info().Taken)
		}
	}
}

func TestWhatCannotBeStripped(t *testing.T) {
	_, err := open(t, "x.png", smallPNG(t)).Stripped(t.Context())
	if photo.KindOf(err) != photo.Unsupported || !strings.Contains(err.Error(), "JPEG") {
		t.Errorf("a PNG: %v", err)
	}
	whole := tellTale(t)
	for _, n := range []int{len(whole) / 2, len(whole) - len("behind the picture: ") - len(secret) - 2} {
		f, err := photo.New(t.Context(), "cut.jpg", bytes.NewReader(whole[:n]), int64(n), photo.Limits{})
		if err == nil {
			_, err = f.Stripped(t.Context())
		}
		if kind := photo.KindOf(err); kind != photo.Damaged && kind != photo.Truncated {
			t.Errorf("cut at %d: %v", n, err)
		}
	}
}

func FuzzStripped(f *testing.F) {
	addSeeds(f)
	f.Add(tellTale(f))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := photo.New(t.Context(), "f.jpg", bytes.NewReader(data), int64(len(data)), fuzzLimits)
		if err != nil {
			return
		}
		got, err := file.Stripped(t.Context())
		if err != nil {
			checkFuzzed(t, err)
			return
		}
		if bytes.Contains(got.JPEG, []byte(secret)) && bytes.Contains(tellTale(t), data) {
			t.Fatal("the copy tells it still")
		}
		// What could be decoded must still be, and to the same picture.
		if img, err := file.Decode(t.Context()); err == nil {
			again, err := photo.New(t.Context(), "f.jpg", bytes.NewReader(got.JPEG), int64(len(got.JPEG)), photo.Limits{})
			if err != nil {
				t.Fatalf("the copy: %v", err)
			}
			copied, err := again.Decode(t.Context())
			if err != nil || copied.Bounds() != img.Bounds() {
				t.Fatalf("the copy: %v", err)
			}
		}
	})
}
