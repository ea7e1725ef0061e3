package photo_test

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"fettlebook/assess/photo"
)

// scene is a picture of soft blobs; the same seed gives the same scene, and shift
// moves it.
func scene(seed uint64, w, h int, shift float64) *image.YCbCr {
	rnd := rand.New(rand.NewPCG(seed, 5))
	type blob struct{ x, y, r, v float64 }
	var blobs []blob
	for range 40 {
		blobs = append(blobs, blob{rnd.Float64(), rnd.Float64(), 0.03 + 0.15*rnd.Float64(), 160*rnd.Float64() - 80})
	}
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			v := 120.0
			for _, b := range blobs {
				dx, dy := float64(x)/float64(w)-b.x+shift, (float64(y)/float64(h)-b.y)*0.75
				if d := (dx*dx + dy*dy) / (b.r * b.r); d < 6 {
					v += b.v * math.Exp(-d)
				}
			}
			img.Y[y*img.YStride+x] = byte(min(max(v, 0), 255))
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 128, 128
	}
	return img
}

func likeness(t testing.TB, img image.Image, o photo.Orientation) photo.Likeness {
	t.Helper()
	l, err := photo.LikenessOf(t.Context(), img, o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestNearDuplicatesAreFoundAndOthersNot(t *testing.T) {
	img := scene(1, 800, 600, 0)
	l := likeness(t, img, photo.Normal)
	brighter := scene(1, 800, 600, 0)
	for i, v := range brighter.Y {
		brighter.Y[i] = byte(20 + int(v)*4/5)
	}
	for name, c := range map[string]struct {
		img  image.Image
		o    photo.Orientation
		near bool
	}{
		"itself":                {img, photo.Normal, true},
		"its thumbnail":         {viewImage(t, views(t, img).Thumbnail), photo.Normal, true},
		"packed anew":           {decode(t, encodeJPEG(t, img)), photo.Normal, true},
		"half the size":         {scene(1, 400, 300, 0), photo.Normal, true},
		"brighter":              {brighter, photo.Normal, true},
		"turned by a program":   {photo.UprightImage(img, photo.Turn90), photo.Turn270, true},
		"next of a burst":       {scene(1, 800, 600, 0.002), photo.Normal, true},
		"seen turned":           {img, photo.Turn180, false},
		"mirrored":              {img, photo.FlipH, false},
		"moved by a tenth":      {scene(1, 800, 600, 0.1), photo.Normal, false},
		"another scene":         {scene(2, 800, 600, 0), photo.Normal, false},
		"a sheet of one colour": {image.NewGray(image.Rect(0, 0, 800, 600)), photo.Normal, false},
	} {
		got := likeness(t, c.img, c.o)
		if l.Near(got) != c.near || got.Near(l) != c.near {
			t.Errorf("%s: differs in %d places", name, l.Differs(got))
		}
	}
	empty := likeness(t, image.NewGray(image.Rect(0, 0, 8, 6)), photo.Normal)
	if empty.Near(empty) {
		t.Error("two sheets of one colour are no duplicates")
	}
	if _, err := photo.LikenessOf(t.Context(), nil, photo.Normal); err == nil {
		t.Error("of no picture: no error")
	}
}

// Of many scenes, no two are taken for one another.
func TestUnlikeScenesStayApart(t *testing.T) {
	var all []photo.Likeness
	least := 256
	for seed := range uint64(40) {
		l := likeness(t, scene(seed+10, 160, 120, 0), photo.Normal)
		for _, o := range all {
			least = min(least, l.Differs(o))
		}
		all = append(all, l)
	}
	if least < 40 {
		t.Errorf("two scenes differ in %d places only", least)
	}
}
