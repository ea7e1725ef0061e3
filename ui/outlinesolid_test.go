package ui

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fettlebook/assess/plane"
)

// A solid line round an oval lays its ink on each pixel once: no gap and no seam where
// its edges meet. Half the ink shows either.
func TestSolidLineIsLaidOnOnce(t *testing.T) {
	for name, r := range map[string]plane.Point{"small": {X: 7, Y: 7}, "round": {X: 60, Y: 60}, "flat": {X: 80, Y: 30}, "far": {X: 900, Y: 900}} {
		t.Run(name, func(t *testing.T) {
			p := outlinePen{to: image.NewRGBA(image.Rect(0, 0, 200, 160)), strength: 128}
			middle := plane.Point{X: 100.3, Y: 80.6}
			if name == "far" {
				middle = plane.Point{X: 700, Y: 700}
			}
			const width = 6
			p.stroke(plane.AppendOval(nil, middle.Minus(r), middle.Plus(r), 0.25), true, width, color.RGBA{R: 255, A: 255}, nil)
			inside := 0
			for y := range 160 {
				for x := range 200 {
					// How far it is from the oval, to first order.
					dx, dy := float64(x)+0.5-middle.X, float64(y)+0.5-middle.Y
					f := math.Hypot(dx/r.X, dy/r.Y)
					off := math.Abs(f-1) * f / math.Hypot(dx/(r.X*r.X), dy/(r.Y*r.Y))
					got := p.to.RGBAAt(x, y).R
					if off < width/2-1.2 {
						inside++
						if got < 126 || got > 130 {
							t.Fatalf("in the line, at %d, %d, there is %d of the ink, want half", x, y, got)
						}
					} else if off > width/2+1.2 && got != 0 {
						t.Fatalf("%.1f from the line, at %d, %d, there is ink", off, x, y)
					}
				}
			}
			if inside < 80 {
				t.Errorf("only %d pixels lie in the line", inside)
			}
		})
	}
}

func TestSolidLineOfFewCorners(t *testing.T) {
	ink := color.RGBA{R: 255, A: 255}
	for name, c := range map[string]struct {
		corners []plane.Point
		closed  bool
		in, out image.Point
	}{
		"none":             {nil, true, image.Pt(-1, -1), image.Pt(20, 20)},
		"one":              {[]plane.Point{{X: 20, Y: 20}}, true, image.Pt(20, 20), image.Pt(26, 20)},
		"two that are one": {[]plane.Point{{X: 20, Y: 20}, {X: 20, Y: 20}}, true, image.Pt(20, 20), image.Pt(26, 20)},
		"its end is round": {[]plane.Point{{X: 5, Y: 20}, {X: 20, Y: 20}}, false, image.Pt(21, 20), image.Pt(24, 20)},
		"a sharp corner":   {[]plane.Point{{X: 5, Y: 20}, {X: 20, Y: 20}, {X: 5, Y: 24}}, false, image.Pt(21, 20), image.Pt(25, 20)},
		"many in a pixel":  {[]plane.Point{{X: 5, Y: 20}, {X: 20, Y: 20}, {X: 20.1, Y: 20}, {X: 20.2, Y: 20}, {X: 35, Y: 20}}, false, image.Pt(20, 20), image.Pt(20, 25)},
	} {
		p := outlinePen{to: image.NewRGBA(image.Rect(0, 0, 40, 40)), strength: 256}
		p.stroke(c.corners, c.closed, 5, ink, nil)
		if c.in.X >= 0 && p.to.RGBAAt(c.in.X, c.in.Y).R < 200 {
			t.Errorf("%s: at %v there is no ink", name, c.in)
		}
		if p.to.RGBAAt(c.out.X, c.out.Y).R != 0 {
			t.Errorf("%s: at %v there is ink", name, c.out)
		}
	}
}
