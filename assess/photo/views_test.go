package photo_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"runtime"
	"testing"

	"fettlebook/assess/photo"

	"pgregory.net/rapid"
)

func views(t testing.TB, img image.Image) photo.Views {
	t.Helper()
	v, err := photo.MakeViews(context.Background(), img)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func viewImage(t testing.TB, v photo.View) image.Image {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(v.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if img.Bounds() != image.Rect(0, 0, v.Width, v.Height) {
		t.Fatalf("the view says %d × %d, its JPEG is %v", v.Width, v.Height, img.Bounds())
	}
	return img
}

func TestViewSizes(t *testing.T) {
	for _, c := range []struct{ w, h, pw, ph, tw, th int }{
		{4000, 3000, 1600, 1200, 320, 240},
		{3000, 4000, 1200, 1600, 240, 320},
		{2000, 1501, 1600, 1201, 320, 240},
		{1600, 1200, 1600, 1200, 320, 240},
		{1601, 1, 1600, 1, 320, 1},
		{400, 300, 400, 300, 320, 240},
		{3, 2, 3, 2, 3, 2},
		{1, 1, 1, 1, 1, 1},
	} {
		v := views(t, noisy(c.w, c.h))
		got := []int{v.Preview.Width, v.Preview.Height, v.Thumbnail.Width, v.Thumbnail.Height}
		if want := []int{c.pw, c.ph, c.tw, c.th}; !slicesEqual(got, want) {
			t.Errorf("%d × %d: views %v, want %v", c.w, c.h, got, want)
		}
		viewImage(t, v.Preview)
		viewImage(t, v.Thumbnail)
	}
}

func slicesEqual(a, b []int) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return len(a) == len(b)
}

// quarters has another colour in each quarter, so that a view that is
// turned, mirrored, shifted or wrongly coloured shows.
var quarters = [4]color.NRGBA{{200, 40, 40, 255}, {40, 160, 60, 255}, {50, 60, 190, 255}, {210, 200, 190, 255}}

func quarter(x, y, w, h int) color.NRGBA {
	i := 0
	if x >= w/2 {
		i++
	}
	if y >= h/2 {
		i += 2
	}
	return quarters[i]
}

type settable interface {
	image.Image
	Set(x, y int, c color.Color)
}

type ycc struct{ *image.YCbCr }

func (i ycc) Set(x, y int, c color.Color) {
	v := color.YCbCrModel.Convert(c).(color.YCbCr)
	i.Y[i.YOffset(x, y)] = v.Y
	i.Cb[i.COffset(x, y)], i.Cr[i.COffset(x, y)] = v.Cb, v.Cr
}

func TestViewsShowThePictureAsStored(t *testing.T) {
	const w, h = 1700, 400
	r := image.Rect(0, 0, w, h)
	palette := color.Palette{color.Black}
	for _, q := range quarters {
		palette = append(palette, q)
	}
	pictures := map[string]settable{
		"NRGBA": image.NewNRGBA(r), "RGBA": image.NewRGBA(r), "NRGBA64": image.NewNRGBA64(r),
		"RGBA64": image.NewRGBA64(r), "CMYK": image.NewCMYK(r), "palette": image.NewPaletted(r, palette),
		"grey": image.NewGray(r), "grey 16": image.NewGray16(r),
		"part":      image.NewNRGBA(image.Rect(0, 0, w+50, h+70)).SubImage(image.Rect(50, 70, w+50, h+70)).(*image.NRGBA),
		"grey part": image.NewGray(image.Rect(0, 0, w+50, h+70)).SubImage(image.Rect(50, 70, w+50, h+70)).(*image.Gray),
	}
	for name, ratio := range map[string]image.YCbCrSubsampleRatio{
		"444": image.YCbCrSubsampleRatio444, "422": image.YCbCrSubsampleRatio422, "420": image.YCbCrSubsampleRatio420,
		"440": image.YCbCrSubsampleRatio440, "411": image.YCbCrSubsampleRatio411, "410": image.YCbCrSubsampleRatio410,
	} {
		pictures[name] = ycc{image.NewYCbCr(r, ratio)}
	}
	// As the decoder hands them out: padded to whole blocks.
	padded := image.NewYCbCr(image.Rect(0, 0, w+16, h+16), image.YCbCrSubsampleRatio420)
	pictures["padded"] = ycc{padded.SubImage(r).(*image.YCbCr)}
	odd := image.NewYCbCr(image.Rect(0, 0, w+51, h+71), image.YCbCrSubsampleRatio420)
	pictures["odd part"] = ycc{odd.SubImage(image.Rect(51, 71, w+51, h+71)).(*image.YCbCr)}
	for name, img := range pictures {
		b := img.Bounds()
		for y := range h {
			for x := range w {
				img.Set(b.Min.X+x, b.Min.Y+y, quarter(x, y, w, h))
			}
		}
		var plain image.Image = img
		if y, ok := img.(ycc); ok {
			plain = y.YCbCr
		}
		v := views(t, plain)
		for _, view := range []photo.View{v.Preview, v.Thumbnail} {
			got := viewImage(t, view)
			for _, p := range [][2]int{{1, 1}, {view.Width - 2, 1}, {1, view.Height - 2}, {view.Width - 2, view.Height - 2},
				{view.Width/2 - 16, view.Height/2 - 16}, {view.Width/2 + 16, view.Height/2 + 16}} {
				want := plain.ColorModel().Convert(quarter(p[0], p[1], view.Width, view.Height))
				if !near(got.At(p[0], p[1]), want) {
					t.Errorf("%s, %d wide: at %v %v, want %v", name, view.Width, p, got.At(p[0], p[1]), want)
				}
			}
		}
	}
}

func TestTransparentBecomesWhite(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 500, 400))
	for i := 0; i < len(img.Pix)/2; i += 4 { // the upper half stays fully transparent
		j := len(img.Pix)/2 + i
		img.Pix[j], img.Pix[j+3] = 200, 128
	}
	got := viewImage(t, views(t, decode(t, encodePNG(t, img))).Preview)
	if c := got.At(250, 50); !near(c, color.White) {
		t.Errorf("transparent became %v", c)
	}
	if c, want := got.At(250, 350), (color.NRGBA{227, 127, 127, 255}); !near(c, want) {
		t.Errorf("half transparent became %v, want %v", c, want)
	}
}

// TestFlatStaysFlat: averaging must not change what is even, whatever the
// sizes; and no view leaves the range of its picture by more than the JPEG
// does.
func TestFlatStaysFlat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 3000).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		if rapid.Bool().Draw(t, "upright") {
			w, h = h, w
		}
		v := byte(rapid.IntRange(0, 255).Draw(t, "v"))
		img := image.NewGray(image.Rect(0, 0, w, h))
		for i := range img.Pix {
			img.Pix[i] = v
		}
		made, err := photo.MakeViews(context.Background(), img)
		if err != nil {
			t.Fatal(err)
		}
		got, err := jpeg.Decode(bytes.NewReader(made.Preview.JPEG))
		if err != nil {
			t.Fatal(err)
		}
		g := got.(*image.Gray)
		b := g.Bounds()
		for y := range b.Dy() {
			for x := range b.Dx() {
				if d := int(g.GrayAt(x, y).Y) - int(v); d > 2 || d < -2 {
					t.Fatalf("%d × %d of %d: %d at (%d, %d)", w, h, v, g.GrayAt(x, y).Y, x, y)
				}
			}
		}
	})
}

func TestViewsAverageWholeAreas(t *testing.T) {
	// Fine stripes, 2.5 to one: picking pixels would give black and white
	// beats, averaging gives grey near their mean.
	img := image.NewGray(image.Rect(0, 0, 4000, 400))
	for i := range img.Pix {
		if i%2 == 0 {
			img.Pix[i] = 255
		}
	}
	got := viewImage(t, views(t, img).Thumbnail).(*image.Gray)
	for x := range got.Bounds().Dx() {
		if v := got.GrayAt(x, 10).Y; v < 118 || v > 138 {
			t.Fatalf("column %d is %d, want about 128", x, v)
		}
	}
}

func TestViewsAreTheSameEveryTime(t *testing.T) {
	img := noisy(2100, 1300)
	a, b := views(t, img), views(t, img)
	if !bytes.Equal(a.Preview.JPEG, b.Preview.JPEG) || !bytes.Equal(a.Thumbnail.JPEG, b.Thumbnail.JPEG) {
		t.Error("the same picture gave other bytes")
	}
}

func TestViewsOfNothing(t *testing.T) {
	for _, img := range []image.Image{nil, image.NewGray(image.Rectangle{}), image.NewYCbCr(image.Rect(0, 0, 0, 9), 0)} {
		if _, err := photo.MakeViews(t.Context(), img); err == nil {
			t.Errorf("%v: no error", img)
		}
	}
}

// TestLargeJPEGKeepsItsPlanes: 48 megapixels take their planes and little
// more, both to decode and to reduce.
func TestLargeJPEGKeepsItsPlanes(t *testing.T) {
	const w, h = 8000, 6000
	data := encodeJPEG(t, image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420))
	f := open(t, "48 megapixels.jpg", data)
	var before, decoded, reduced runtime.MemStats
	runtime.ReadMemStats(&before)
	img, err := f.Decode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&decoded)
	views(t, img)
	runtime.ReadMemStats(&reduced)
	if _, ok := img.(*image.YCbCr); !ok {
		t.Errorf("decoded as %T", img)
	}
	const planes, small = w * h * 3 / 2, 2 << 20
	if got := decoded.TotalAlloc - before.TotalAlloc; got > planes+small {
		t.Errorf("decoding allocated %d MB, the planes are %d MB", got>>20, planes>>20)
	}
	if got := reduced.TotalAlloc - decoded.TotalAlloc; got > 8<<20 {
		t.Errorf("the views allocated %d MB", got>>20)
	}
}
