package ui

import (
	"image"
	"testing"

	"github.com/srwiley/rasterx"

	"fettlebook/assess/drawing"
)

// What is painted box by box is what the library paints over the whole picture.
func TestPaintedBoxByBox(t *testing.T) {
	h := atWork(t)
	for _, pixels := range []float64{2.3, 5} {
		l := h.place().drawUnit(180)
		got := rasterised(l, &drawing.Paper, pixels)
		want := image.NewRGBA(got.Bounds())
		paint(l, &drawing.Paper, pixels, want.Bounds(), rasterx.NewScannerGV(got.Bounds().Dx(), got.Bounds().Dy(), want, want.Bounds()))
		inked, apart := 0, 0
		for i := range want.Pix {
			if want.Pix[i] != 0 {
				inked++
			}
			// Hundreds of faint edges over each other: the two round differently.
			if d := int(got.Pix[i]) - int(want.Pix[i]); d > 12 || d < -12 {
				apart++
			}
		}
		if inked < 10_000 || apart > 0 {
			t.Errorf("at %g pixels for a millimetre %d of %d values are apart", pixels, apart, inked)
		}
	}
}

// A picture of the unit on a window of 1280, and of one part.
func BenchmarkDrawingPicture(b *testing.B) {
	h := atWork(b)
	p := h.place()
	for name, l := range map[string]*drawing.List{"unit": p.drawUnit(140), "part": p.n.DrawPart(p.part, "", drawing.Options{Width: 140})} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				rasterised(l, &drawing.Paper, 3.78)
			}
		})
	}
}
