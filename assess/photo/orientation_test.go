package photo_test

import (
	"encoding/binary"
	"image"
	"image/color"
	"testing"

	"fettlebook/assess/photo"

	"pgregory.net/rapid"
)

// stored is a picture of 3 × 2 pixels, told apart by letters.
//
//	A B C
//	D E F
const stored = "ABC/DEF"

// upright is how it must be seen in each of the eight orientations, by the
// words of EXIF: where the first row and the first column are seen.
var upright = map[photo.Orientation]string{
	photo.Normal:     "ABC/DEF",  // row at the top, column at the left
	photo.FlipH:      "CBA/FED",  // top, right
	photo.Turn180:    "FED/CBA",  // bottom, right
	photo.FlipV:      "DEF/ABC",  // bottom, left
	photo.Transpose:  "AD/BE/CF", // left, top
	photo.Turn90:     "DA/EB/FC", // right, top
	photo.Transverse: "FC/EB/DA", // right, bottom
	photo.Turn270:    "CF/BE/AD", // left, bottom
}

func draw3x2() *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, 3, 2))
	for i := range 6 {
		img.SetNRGBA(i%3, i/3, color.NRGBA{byte(40 * (i + 1)), 99, 200, 255})
	}
	return img
}

func letters(img image.Image) string {
	s := ""
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		if y > b.Min.Y {
			s += "/"
		}
		for x := b.Min.X; x < b.Max.X; x++ {
			r, _, _, _ := img.At(x, y).RGBA()
			s += string(rune('A' + int(r>>8)/40 - 1))
		}
	}
	return s
}

func TestEightOrientations(t *testing.T) {
	img := draw3x2()
	if got := letters(img); got != stored {
		t.Fatalf("the picture itself is %s", got)
	}
	for o := photo.Orientation(1); o <= 8; o++ {
		want := upright[o]
		up := photo.UprightImage(img, o)
		if got := letters(up); got != want {
			t.Errorf("orientation %d: upright %s, want %s", o, got, want)
		}
		w, h := o.Size(3, 2)
		if up.Bounds().Dx() != w || up.Bounds().Dy() != h {
			t.Errorf("orientation %d: Size = %d × %d, the picture is %v", o, w, h, up.Bounds())
		}
		// The middle of each stored pixel lands on the middle of its own
		// upright pixel, and comes back.
		for i := range 6 {
			x, y := 100*(i%3)+50, 100*(i/3)+50
			ux, uy := o.Upright(x, y, 3, 2)
			if ux%100 != 50 || uy%100 != 50 || up.At(ux/100, uy/100) != img.At(i%3, i/3) {
				t.Errorf("orientation %d: pixel %d lands at (%d, %d)", o, i, ux, uy)
			}
			if bx, by := o.Stored(ux, uy, 3, 2); bx != x || by != y {
				t.Errorf("orientation %d: pixel %d comes back to (%d, %d)", o, i, bx, by)
			}
		}
	}
	for _, o := range []photo.Orientation{0, -1, 9} {
		x, y := o.Upright(7, 8, 3, 2)
		if o.Valid() || letters(photo.UprightImage(img, o)) != stored || x != 7 || y != 8 || o.Inverse() != photo.Normal {
			t.Errorf("orientation %d does not act as normal", o)
		}
	}
}

// TestOrientationFromFile goes the whole way: recorded in a file, read, and
// used on the decoded picture.
func TestOrientationFromFile(t *testing.T) {
	for o := uint16(1); o <= 8; o++ {
		for _, order := range []byteOrder{binary.BigEndian, binary.LittleEndian} {
			png := encodePNG(t, draw3x2())
			block := exifBlock(order, []entry{turned(o)}, nil)
			data := append(append(append([]byte{}, png[:33]...), chunk("eXIf", block)...), png[33:]...)
			f := open(t, "x.png", data)
			info := f.Info()
			if info.Orientation != photo.Orientation(o) || len(info.Notes) != 0 {
				t.Fatalf("orientation %d read as %d, notes %q", o, info.Orientation, info.Notes)
			}
			img, err := f.Decode(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if got := letters(img); got != stored {
				t.Errorf("orientation %d: decoded %s, want it as stored", o, got)
			}
			if got := letters(photo.UprightImage(img, info.Orientation)); got != upright[info.Orientation] {
				t.Errorf("orientation %d: upright %s", o, got)
			}
			jpg := open(t, "x.jpg", jpegWith(t, block)).Info()
			if jpg.Orientation != photo.Orientation(o) {
				t.Errorf("JPEG: orientation %d read as %d", o, jpg.Orientation)
			}
		}
	}
}

func TestUserTurnsAfterCamera(t *testing.T) {
	img := draw3x2()
	for o := photo.Orientation(1); o <= 8; o++ {
		for degrees, turn := range map[int]photo.Orientation{
			0: 1, 90: 6, 180: 3, 270: 8, 360: 1, 450: 6, -90: 8, -180: 3, -270: 6,
		} {
			both, err := o.Turned(degrees)
			if err != nil {
				t.Fatal(err)
			}
			want := letters(photo.UprightImage(photo.UprightImage(img, o), turn))
			if got := letters(photo.UprightImage(img, both)); got != want {
				t.Errorf("orientation %d then %d degrees = %d shows %s, want %s", o, degrees, both, got, want)
			}
		}
		for _, degrees := range []int{1, 45, -89, 91} {
			if _, err := o.Turned(degrees); err == nil {
				t.Errorf("a turn by %d degrees is let through", degrees)
			}
		}
	}
}

func TestPointsGoThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 100_000).Draw(t, "w"), rapid.IntRange(1, 100_000).Draw(t, "h")
		// Outlines may lie partly outside the photo.
		x, y := rapid.IntRange(-1e6, 2e7).Draw(t, "x"), rapid.IntRange(-1e6, 2e7).Draw(t, "y")
		o := photo.Orientation(rapid.IntRange(1, 8).Draw(t, "o"))
		ux, uy := o.Upright(x, y, w, h)
		if bx, by := o.Stored(ux, uy, w, h); bx != x || by != y {
			t.Fatalf("(%d, %d) -> (%d, %d) -> (%d, %d)", x, y, ux, uy, bx, by)
		}
		uw, uh := o.Size(w, h)
		inside := x >= 0 && x <= 100*w && y >= 0 && y <= 100*h
		if uInside := ux >= 0 && ux <= 100*uw && uy >= 0 && uy <= 100*uh; inside != uInside {
			t.Fatalf("(%d, %d) inside %v, upright (%d, %d) inside %v", x, y, inside, ux, uy, uInside)
		}
		if o.Inverse().Inverse() != o {
			t.Fatalf("the inverse of the inverse of %d is another", o)
		}
		// A quarter turn of the result equals the combined orientation.
		more, _ := o.Turned(90)
		qx, qy := photo.Turn90.Upright(ux, uy, uw, uh)
		if mx, my := more.Upright(x, y, w, h); mx != qx || my != qy {
			t.Fatalf("one step (%d, %d), two steps (%d, %d)", mx, my, qx, qy)
		}
	})
}
