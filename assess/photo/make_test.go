package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"testing"

	"fettlebook/assess/photo"
)

// open opens bytes as a photo and fails the test when they are refused.
func open(t testing.TB, name string, data []byte) *photo.File {
	t.Helper()
	f, err := photo.New(context.Background(), name, bytes.NewReader(data), int64(len(data)), photo.Limits{})
	if err != nil {
		t.Fatalf("New(%q): %v", name, err)
	}
	return f
}

func decode(t testing.TB, data []byte) image.Image {
	t.Helper()
	img, err := open(t, "a photo", data).Decode(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func encodeJPEG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func encodePNG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// noisy is a picture that compresses about as badly as a photo of a worn
// part: soft shapes under grain.
func noisy(w, h int) *image.YCbCr {
	rnd := rand.New(rand.NewPCG(7, 11))
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		row := img.Y[y*img.YStride : y*img.YStride+w]
		for x := range row {
			row[x] = byte(70 + (x*90)/w + (y*50)/h + ((x/97+y/61)%3)*9 + rnd.IntN(24))
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = byte(118+(i/89)%12+rnd.IntN(4)), byte(124+(i/143)%10+rnd.IntN(4))
	}
	return img
}

// smallPhoto is a JPEG of 64 × 48 pixels.
func smallPhoto(t testing.TB) []byte { return encodeJPEG(t, noisy(64, 48)) }

func smallPNG(t testing.TB) []byte {
	img := image.NewNRGBA(image.Rect(0, 0, 64, 48))
	for i := range img.Pix {
		img.Pix[i] = byte(i*31 + i/64*7)
	}
	return encodePNG(t, img)
}

func chunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// pngOf is a PNG with the given header and then the given chunks.
func pngOf(w, h uint32, depth, colour, interlace byte, chunks ...[]byte) []byte {
	ihdr := binary.BigEndian.AppendUint32(nil, w)
	ihdr = binary.BigEndian.AppendUint32(ihdr, h)
	b := append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(ihdr, depth, colour, 0, 0, interlace))...)
	for _, c := range chunks {
		b = append(b, c...)
	}
	return b
}

// patchFrame overwrites the frame header of a JPEG.
func patchFrame(t testing.TB, data []byte, patch func(sof []byte)) []byte {
	t.Helper()
	b := bytes.Clone(data)
	i := bytes.Index(b, []byte{0xff, 0xc0, 0x00})
	if i < 0 {
		t.Fatal("the JPEG has no frame header")
	}
	patch(b[i:])
	return b
}

func withSize(w, h int) func([]byte) {
	return func(sof []byte) {
		binary.BigEndian.PutUint16(sof[5:], uint16(h))
		binary.BigEndian.PutUint16(sof[7:], uint16(w))
	}
}

func jpegSegment(marker byte, body []byte) []byte {
	b := []byte{0xff, marker}
	return append(binary.BigEndian.AppendUint16(b, uint16(len(body)+2)), body...)
}

// afterSOI puts segments behind a JPEG's first marker.
func afterSOI(data []byte, segments ...[]byte) []byte {
	b := bytes.Clone(data[:2])
	for _, s := range segments {
		b = append(b, s...)
	}
	return append(b, data[2:]...)
}

// entry is one tag of an EXIF directory.
type entry struct {
	tag, typ uint16
	value    any // string, uint16 or uint32
}

func str(tag uint16, s string) entry { return entry{tag, 2, s} }

// The tags that the tests write.
const (
	tOrientation = 0x0112
	tMake        = 0x010f
	tModel       = 0x0110
	tChanged     = 0x0132
	tOriginal    = 0x9003
	tDigitized   = 0x9004
	tZone        = 0x9010
	tZoneOrig    = 0x9011
	tZoneDig     = 0x9012
	tSubsec      = 0x9290
	tSubsecOrig  = 0x9291
	tExifIFD     = 0x8769
)

func turned(o uint16) entry { return entry{tOrientation, 3, o} }

type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// exifBlock writes EXIF data: a TIFF header, the first directory, and the
// camera's directory that it points to.
func exifBlock(order byteOrder, ifd0, camera []entry) []byte {
	b := []byte("MM\x00*\x00\x00\x00\x08")
	if order.Uint16([]byte{1, 0}) == 1 {
		b = []byte("II*\x00\x08\x00\x00\x00")
	}
	if camera != nil {
		ifd0 = append(ifd0, entry{tExifIFD, 4, uint32(0)})
	}
	b, pointer := directory(order, b, ifd0)
	if camera != nil {
		order.PutUint32(b[pointer:], uint32(len(b)))
		b, _ = directory(order, b, camera)
	}
	return b
}

// directory appends a directory and its values, and tells where its last
// value stands.
func directory(order byteOrder, b []byte, entries []entry) ([]byte, int) {
	b = order.AppendUint16(b, uint16(len(entries)))
	values := len(b) + 12*len(entries) + 4
	var tail []byte
	last := 0
	for _, e := range entries {
		b = order.AppendUint16(order.AppendUint16(b, e.tag), e.typ)
		last = len(b) + 4
		switch v := e.value.(type) {
		case uint16:
			b = order.AppendUint16(order.AppendUint32(b, 1), v)
			b = append(b, 0, 0)
		case uint32:
			b = order.AppendUint32(order.AppendUint32(b, 1), v)
		case string:
			v += "\x00"
			b = order.AppendUint32(b, uint32(len(v)))
			if len(v) <= 4 {
				b = append(b, (v + "\x00\x00\x00\x00")[:4]...)
				continue
			}
			b = order.AppendUint32(b, uint32(values+len(tail)))
			tail = append(tail, v...)
		}
	}
	return append(append(b, 0, 0, 0, 0), tail...), last
}

// jpegWith is a small photo with the given EXIF block.
func jpegWith(t testing.TB, block []byte) []byte {
	return afterSOI(smallPhoto(t), jpegSegment(0xe1, append([]byte("Exif\x00\x00"), block...)))
}

// near tells whether two colours look the same after JPEG compression.
func near(a, b color.Color) bool {
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range []int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if d > 12<<8 || d < -12<<8 {
			return false
		}
	}
	return true
}

// nearly is near with another tolerance, in steps of 8 bits.
func nearly(a, b color.Color, steps int) bool {
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range []int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if d > steps<<8 || d < -steps<<8 {
			return false
		}
	}
	return true
}
