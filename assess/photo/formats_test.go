package photo_test

import (
	"bytes"
	"image"
	"image/color"
	"testing"

	"golang.org/x/image/tiff"

	"fettlebook/assess/photo"
)

// fourQuarters is a picture of four quarters of different colours.
func fourQuarters(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBAModel.Convert(quarter(x, y, w, h)))
		}
	}
	return img
}

func tiffOf(t testing.TB, compression tiff.CompressionType) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := tiff.Encode(&b, fourQuarters(90, 61), &tiff.Options{Compression: compression}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestTIFFAndWebPAreDecoded(t *testing.T) {
	for name, c := range map[string]struct {
		data   []byte
		format photo.Format
		w, h   int
	}{
		"plain.tif":   {tiffOf(t, tiff.Uncompressed), photo.TIFF, 90, 61},
		"deflate.tif": {tiffOf(t, tiff.Deflate), photo.TIFF, 90, 61},
		"lossy.webp":  {fixture(t, "quarters-200x136.webp"), photo.WebP, 200, 136},
		"small.webp":  {fixture(t, "quarters-90x61.webp"), photo.WebP, 90, 61},
		"liar.jpg":    {fixture(t, "quarters-90x61.webp"), photo.WebP, 90, 61}, // told by its bytes, not by its name
	} {
		f := open(t, name, c.data)
		if info := f.Info(); info.Format != c.format || info.Width != c.w || info.Height != c.h {
			t.Errorf("%s: %+v", name, info)
		}
		img, err := f.Decode(t.Context())
		if err != nil {
			t.Fatal(name, err)
		}
		checkQuarters(t, name, img, photo.Normal, c.w, c.h)
		views(t, img)
	}
}

// What is cut off anywhere, or has a bit turned over, is refused or decoded, and
// never brings the program down.
func TestCutAndFlippedFilesOfEveryFormat(t *testing.T) {
	for name, whole := range map[string][]byte{
		"a.tif": tiffOf(t, tiff.Deflate), "b.webp": fixture(t, "quarters-90x61.webp"), "c.heic": fixture(t, "quarters-90x61.heic"),
		"d.jpg": smallPhoto(t), "e.png": smallPNG(t),
	} {
		refused := 0
		for _, at := range []int{1, len(whole) / 3, len(whole) / 2, len(whole) * 9 / 10, len(whole) - 1} {
			if takeBytes(t.Context(), name, whole[:at]) != nil {
				refused++
			}
			flipped := bytes.Clone(whole)
			flipped[at-1] ^= 0x10
			_ = takeBytes(t.Context(), name, flipped) // either answer is good
		}
		if refused < 3 {
			t.Errorf("%s: only %d of five cut files were refused", name, refused)
		}
	}
}
