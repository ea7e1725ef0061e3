package ui_test

import (
	"fmt"
	"hash/fnv"
	"image"
	"image/color"
	"math"
	"testing"

	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/ui"
)

// plain is a picture of one grey.
func plain(width, height int, grey uint8) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for i := range img.Pix {
		img.Pix[i] = grey
	}
	return img
}

// compose draws the view as the window would.
func compose(h *photoHand) *image.RGBA {
	size := h.Size()
	return h.Compose(int(size.Width), int(size.Height)).(*image.RGBA)
}

// shot tells frames apart.
func shot(h *photoHand) string {
	sum := fnv.New64a()
	sum.Write(compose(h).Pix)
	return fmt.Sprint(sum.Sum64())
}

// at is the colour over a pixel of a fitted photo of 400 × 300.
func at(img *image.RGBA, x, y int) color.RGBA { return img.RGBAAt(x+margin, y+margin) }

func inkOf(v term.Verdict) color.RGBA {
	ink := drawing.BandOf(v).Ink
	return color.RGBA{R: uint8(ink >> 16), G: uint8(ink >> 8), B: uint8(ink), A: 255}
}

var (
	white = color.RGBA{R: 255, G: 255, B: 255, A: 255}
	black = color.RGBA{A: 255}
)

// paintings are the kinds of pictures that decoders make.
func paintings() map[string]image.Image {
	const w, h = 400, 300
	paint := func(x, y int) color.RGBA {
		return color.RGBA{R: uint8(x / 2), G: uint8(y / 2), B: uint8((x + y) / 4), A: 255}
	}
	rgba, nrgba := image.NewRGBA(image.Rect(0, 0, w, h)), image.NewNRGBA(image.Rect(0, 0, w, h))
	planes := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	grey := image.NewGray16(image.Rect(5, 7, w+5, h+7))
	for y := range h {
		for x := range w {
			c := paint(x, y)
			rgba.SetRGBA(x, y, c)
			nrgba.Set(x, y, c)
			i := planes.YOffset(x, y)
			planes.Y[i], planes.Cb[i], planes.Cr[i] = color.RGBToYCbCr(c.R, c.G, c.B)
			grey.Set(x+5, y+7, c)
		}
	}
	cut := image.NewRGBA(image.Rect(0, 0, w+20, h+30))
	for y := range h {
		for x := range w {
			cut.SetRGBA(x+10, y+20, paint(x, y))
		}
	}
	return map[string]image.Image{"RGBA": rgba, "NRGBA": nrgba, "YCbCr": planes, "Gray16 off the origin": grey,
		"part of a larger one": cut.SubImage(image.Rect(10, 20, w+10, h+20))}
}

func close4(a, b color.RGBA, tolerance int) bool {
	for _, d := range []int{int(a.R) - int(b.R), int(a.G) - int(b.G), int(a.B) - int(b.B)} {
		if d > tolerance || d < -tolerance {
			return false
		}
	}
	return true
}

func TestPhotoFrameShowsThePicture(t *testing.T) {
	for name, picture := range paintings() {
		t.Run(name, func(t *testing.T) {
			h := lookAt(t, upright)
			h.SetPhoto(upright, picture)
			truth := func(x, y int) color.RGBA {
				b := picture.Bounds()
				x, y = min(max(x, 0), 399), min(max(y, 0), 299)
				return color.RGBAModel.Convert(picture.At(b.Min.X+x, b.Min.Y+y)).(color.RGBA)
			}
			img := compose(h)
			for _, p := range []image.Point{{0, 0}, {399, 0}, {0, 299}, {399, 299}, {200, 150}, {17, 231}} {
				if got, want := at(img, p.X, p.Y), truth(p.X, p.Y); !close4(got, want, 1) {
					t.Errorf("one to one, pixel %v is %v, want %v", p, got, want)
				}
			}
			// Magnified five times about its middle: pixel (200, 150) is a square there.
			h.does("move 200,150 out")
			h.ZoomBy(5)
			img = compose(h)
			for _, d := range []image.Point{{0, 0}, {5, 0}, {-5, 10}, {100, -50}} {
				if got, want := at(img, 202+d.X, 152+d.Y), truth(200+d.X/5, 150+d.Y/5); !close4(got, want, 1) {
					t.Errorf("magnified, %v is %v, want %v", d, got, want)
				}
			}
		})
	}
}

// Magnified a little, what lies between two pixels is mixed from them, in place.
func TestPhotoFrameMixesNeighbours(t *testing.T) {
	slope := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			slope.SetRGBA(x, y, color.RGBA{R: uint8(min(max(6*(x-180), 0), 255)), G: uint8(min(max(6*(y-130), 0), 255)), A: 255})
		}
	}
	h := lookAt(t, upright)
	h.SetPhoto(upright, slope)
	h.does("move 200,150 out")
	h.ZoomBy(2.5)
	img := compose(h)
	for _, d := range []image.Point{{0, 0}, {3, 0}, {5, 2}, {-7, 4}, {20, -30}, {-31, 33}} {
		// The middle of the frame's pixel, on the photo, less the half pixel to the
		// middle of its own first one.
		x, y := 200+(float64(d.X)+0.5)/2.5-0.5, 150+(float64(d.Y)+0.5)/2.5-0.5
		want := color.RGBA{R: uint8(6*(x-180) + 0.5), G: uint8(6*(y-130) + 0.5), A: 255}
		if got := at(img, 200+d.X, 150+d.Y); !close4(got, want, 1) {
			t.Errorf("%v from the middle: %v, want %v", d, got, want)
		}
	}
}

// Shrunk far, fine stripes are the grey between them, not a pattern of their own.
func TestPhotoFrameShrinksWithoutPatterns(t *testing.T) {
	const w, h = 2001, 1501 // odd, so that halving has a last one left over
	striped := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(255 * (x % 2))
			striped.SetRGBA(x, y, color.RGBA{R: v, G: 255 - v, B: uint8(255 * (y % 2)), A: 255})
		}
	}
	hand := lookAt(t, record.Photo{File: "s", Number: 1, Width: w, Height: h, Orientation: 1})
	hand.SetPhoto(record.Photo{File: "s", Number: 1, Width: w, Height: h, Orientation: 1}, striped)
	img := compose(hand)
	for y := 1; y < 299; y += 7 {
		for x := 1; x < 399; x += 3 {
			if got := at(img, x, y); !close4(got, color.RGBA{R: 128, G: 128, B: 128}, 8) {
				t.Fatalf("at %d, %d: %v, want grey", x, y, got)
			}
		}
	}
}

func TestPhotoFrameDrawsOutlines(t *testing.T) {
	h := lookAt(t, upright)
	o := box("a", 100, 100, 300, 200)
	o.Number = 7
	h.SetOutlines([]ui.ShownOutline{o})
	img := compose(h)
	ink := inkOf(term.Condemned)
	for what, c := range map[string]struct {
		x, y int
		want color.RGBA
	}{
		"the line":         {200, 200, ink},
		"the other line":   {300, 150, ink},
		"the casing":       {200, 202, white},
		"inside":           {200, 150, black},
		"outside":          {200, 210, black},
		"the label's rim":  {91, 84, white},
		"the label's ring": {91, 86, ink},
	} {
		if got := at(img, c.x, c.y); !close4(got, c.want, 40) {
			t.Errorf("%s: %v, want %v", what, got, c.want)
		}
	}
	h.does("click 200,150")
	img = compose(h)
	if got := at(img, 300, 200); got != white {
		t.Errorf("in the handle: %v", got)
	}
	if got := at(img, 300-7, 200-7); got.R > 60 {
		t.Errorf("on the handle's rim: %v", got)
	}
	h.SetDisabled(true)
	if got := at(compose(h), 294, 194); got != black {
		t.Errorf("a photo for looking only has a handle: %v", got)
	}
}

// On a white photo nothing but the number itself is dark.
func TestPhotoFrameLaysNumbersOnWhite(t *testing.T) {
	h := lookAt(t, upright)
	h.SetPhoto(upright, plain(400, 300, 255))
	o := box("a", 100, 100, 300, 200)
	o.Number = 8
	h.SetOutlines([]ui.ShownOutline{o})
	img := compose(h)
	dark := 0
	for y := 75; y < 120; y++ {
		for x := 70; x < 120; x++ {
			if c := at(img, x, y); c.R < 60 && c.G < 60 && c.B < 60 {
				if dark++; math.Hypot(float64(x)-91, float64(y)-95.5) > 9 {
					t.Fatalf("pixel %d, %d is %v", x, y, c)
				}
			}
		}
	}
	if dark < 5 {
		t.Error("there is no number")
	}
}

// Dashes differ by verdict: along one edge there are gaps down to the casing.
func TestPhotoFrameTellsVerdictsByPattern(t *testing.T) {
	for _, v := range term.Verdicts {
		h := lookAt(t, upright)
		o := box("a", 50, 100, 350, 200)
		o.Verdict = v
		o.Outline.Points[2][1] += 50 // through the middle of a row of pixels
		o.Outline.Points[3][1] += 50
		h.SetOutlines([]ui.ShownOutline{o})
		img := compose(h)
		dash, strokes, whole := drawing.BandOf(v).Dash, 0.0, 0.0
		for i, part := range dash {
			whole += part
			if i%2 == 0 {
				strokes += part
			}
		}
		want := 1.0
		if len(dash) > 0 {
			want = strokes / whole
		}
		ink, sum := inkOf(v), 0.0
		for x := 60; x < 340; x++ {
			sum += float64(255-int(at(img, x, 200).G)) / float64(255-int(ink.G))
		}
		if got := sum / 280; math.Abs(got-want) > 0.03 {
			t.Errorf("%v: its ink covers %.2f of the line, want %.2f", v, got, want)
		}
	}
}

// A pattern lies still on the photo when it is panned, also where the line begins
// out of view.
func TestPhotoFramePatternStays(t *testing.T) {
	photo := record.Photo{File: "l", Number: 2, Width: 4000, Height: 300, Orientation: 1}
	h := lookAt(t, photo)
	o := box("a", 150, 100, 3900, 200)
	o.Verdict, o.Number = term.Repairable, 0 // no label, which would stay in view
	h.SetOutlines([]ui.ShownOutline{o})
	h.does("type 1")
	for range 10 {
		h.does("middle 0,0 drag 400,0 up") // to the left edge, with its margin
	}
	before := append([]uint8(nil), compose(h).Pix...)
	h.does("middle 300,0 drag 100,0 up") // now the line begins out of view
	after := compose(h).Pix
	line := 4 * 428 * (100 + margin)
	for x := range 200 {
		a, b := before[line+4*(200+x)], after[line+4*x]
		if d := int(a) - int(b); d > 2 || d < -2 {
			t.Fatalf("%d pixels in, the line is %d before and %d after panning", x, a, b)
		}
	}
}

// Nothing that lies outside a frame may be written to, whatever the zoom.
func TestPhotoFrameAtAllZooms(t *testing.T) {
	h := lookAt(t, upright)
	h.SetPhoto(upright, paintings()["YCbCr"])
	far := polygon("far", 0, 0, 400, 0, 400, 300, 0, 300)
	far.Verdict = term.Undecided
	h.SetOutlines([]ui.ShownOutline{far, oval("b", 350, 250, 400, 300)})
	h.does("key Space move 399,299")
	for range 30 {
		h.does("wheel up")
		compose(h)
	}
	if h.Zoom() != 32 {
		t.Errorf("zoom %v", h.Zoom())
	}
	for _, size := range []image.Point{{1, 1}, {3, 500}, {428, 2}} {
		if got := h.Compose(size.X, size.Y).Bounds().Size(); got != size {
			t.Errorf("a frame of %v is %v", size, got)
		}
	}
}

func TestPhotoFrameDoesNotAllocate(t *testing.T) {
	h := lookAt(t, upright)
	h.SetPhoto(upright, paintings()["YCbCr"])
	h.SetOutlines([]ui.ShownOutline{box("a", 100, 100, 300, 200), oval("b", 20, 20, 90, 90)})
	h.does("click 200,150 type +")
	for range 3 {
		compose(h)
	}
	if n := testing.AllocsPerRun(20, func() { compose(h) }); n > 0 {
		t.Errorf("%v allocations a frame", n)
	}
	turn := false
	if n := testing.AllocsPerRun(20, func() {
		turn = !turn
		h.ZoomBy(map[bool]float64{true: 1.25, false: 0.8}[turn])
		compose(h)
	}); n > 8 {
		t.Errorf("%v allocations a frame with a zoom", n)
	}
}
