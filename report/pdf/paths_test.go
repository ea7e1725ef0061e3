package pdf_test

import (
	"image/color"
	"io"
	"math"
	"testing"

	"fettlebook/report/pdf"
)

func square(x, y, size float64, clockwise bool) []pdf.Point {
	s := []pdf.Point{{X: x, Y: y}, {X: x + size, Y: y}, {X: x + size, Y: y + size}, {X: x, Y: y + size}}
	if !clockwise {
		s[1], s[3] = s[3], s[1]
	}
	return s
}

// TestPaths draws several lines in one paint and looks at points of them.
func TestPaths(t *testing.T) {
	black, thick := pdf.Paint{Fill: pdf.Black}, pdf.Paint{Stroke: pdf.Black, Width: 4, Square: true}
	ring := append(square(20, 20, 40, true), pdf.Point{X: 20, Y: 20})
	for name, c := range map[string]struct {
		paths [][]pdf.Point
		paint pdf.Paint
		want  map[pdf.Point]color.RGBA
	}{
		"two lines":         {[][]pdf.Point{{{X: 10, Y: 20}, {X: 60, Y: 20}}, {{X: 10, Y: 40}, {X: 60, Y: 40}}}, thick, map[pdf.Point]color.RGBA{{X: 30, Y: 20}: ink, {X: 30, Y: 40}: ink, {X: 30, Y: 30}: paper, {X: 64, Y: 20}: paper}},
		"an open corner":    {[][]pdf.Point{square(20, 20, 40, true)}, thick, map[pdf.Point]color.RGBA{{X: 40, Y: 20}: ink, {X: 20, Y: 40}: paper}},
		"a closed ring":     {[][]pdf.Point{ring}, thick, map[pdf.Point]color.RGBA{{X: 20, Y: 40}: ink, {X: 18.5, Y: 18.5}: ink, {X: 40, Y: 40}: paper}},
		"one way is filled": {[][]pdf.Point{square(20, 20, 60, true), square(40, 40, 20, true)}, black, map[pdf.Point]color.RGBA{{X: 50, Y: 50}: ink, {X: 30, Y: 30}: ink}},
		"a hole turns back": {[][]pdf.Point{square(20, 20, 60, true), square(40, 40, 20, false)}, black, map[pdf.Point]color.RGBA{{X: 50, Y: 50}: paper, {X: 30, Y: 30}: ink}},
		"nothing":           {[][]pdf.Point{nil, {{X: 5, Y: 5}}}, thick, map[pdf.Point]color.RGBA{{X: 5, Y: 5}: paper}},
	} {
		t.Run(name, func(t *testing.T) {
			page := render(t, checked(t, build(t, options(t), func(_ *pdf.Document, p *pdf.Page) { p.Paths(c.paths, c.paint) })))
			for at, want := range c.want {
				if got, ok := near(page, at, want); !ok {
					t.Errorf("at %v is %v, want %v", at, got, want)
				}
			}
		})
	}
}

func TestAPathThatGoesNowhereIsAnError(t *testing.T) {
	d, err := pdf.New(io.Discard, options(t))
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.NewPage(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	p.Paths([][]pdf.Point{{{X: 0, Y: 0}, {X: math.NaN(), Y: 1}}}, pdf.Paint{Stroke: pdf.Black, Width: 1})
	failed := d.Err()
	if failed == nil {
		t.Error("a point that is no number is drawn")
	}
}
