package ui

import (
	"image"
	"image/color"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"

	"fettlebook/assess/drawing"
)

// rasterised paints the strokes and fills of a drawing at so many pixels for a
// millimetre of paper. Texts are left to the canvas, which sets them sharper.
func rasterised(l *drawing.List, palette *drawing.Palette, pixels float64) *image.RGBA {
	width, height := int(l.Width*pixels+0.999), int(l.Height*pixels+0.999)
	img := image.NewRGBA(image.Rect(0, 0, max(width, 1), max(height, 1)))
	paint(l, palette, pixels, img.Bounds(), &boxScanner{on: img})
	return img
}

func paint(l *drawing.List, palette *drawing.Palette, pixels float64, on image.Rectangle, scanner rasterx.Scanner) {
	width, height := on.Dx(), on.Dy()
	filler := rasterx.NewFiller(width, height, scanner)
	stroker := rasterx.NewStroker(width, height, scanner)
	filler.SetWinding(true)
	stroker.SetWinding(true)
	for i := range l.Items {
		item := &l.Items[i]
		switch item.Op {
		case drawing.Fill:
			filler.SetColor(inkColor(palette, item.Ink))
			for _, path := range item.Paths {
				trace(filler, path, pixels, true)
			}
			filler.Draw()
			filler.Clear()
		case drawing.Stroke:
			stroker.SetColor(inkColor(palette, item.Ink))
			// Thinner than a pixel a line only fades.
			thick := max(item.Width*pixels, 1)
			stroker.SetStroke(fixed.Int26_6(thick*64), fixed.I(4), rasterx.ButtCap, nil, nil, rasterx.MiterClip)
			for _, path := range item.Paths {
				closed := len(path) > 2 && path[0] == path[len(path)-1]
				trace(stroker, path, pixels, closed)
			}
			stroker.Draw()
			stroker.Clear()
		}
	}
}

func trace(to rasterx.Adder, path []drawing.Point, pixels float64, closed bool) {
	if len(path) < 2 {
		return
	}
	at := func(p drawing.Point) fixed.Point26_6 {
		return fixed.Point26_6{X: fixed.Int26_6(p.X * pixels * 64), Y: fixed.Int26_6(p.Y * pixels * 64)}
	}
	to.Start(at(path[0]))
	last := len(path)
	if closed && path[0] == path[last-1] {
		last--
	}
	for _, p := range path[1:last] {
		to.Line(at(p))
	}
	to.Stop(closed)
}

func inkColor(p *drawing.Palette, ink drawing.Ink) color.Color {
	c := p.Colour(ink)
	return color.NRGBA{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c), A: 255}
}
