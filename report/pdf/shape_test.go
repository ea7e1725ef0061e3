package pdf_test

import (
	"image/color"
	"testing"

	"fettlebook/report/pdf"
)

var (
	paper = color.RGBA{255, 255, 255, 255}
	ink   = color.RGBA{0, 0, 0, 255}
)

// TestShapes draws one shape on a page and looks at points of it.
func TestShapes(t *testing.T) {
	black := pdf.Paint{Fill: pdf.Black}
	thick := pdf.Paint{Stroke: pdf.Black, Width: 4}
	star := []pdf.Point{{X: 50, Y: 20}, {X: 70, Y: 80}, {X: 20, Y: 42}, {X: 80, Y: 42}, {X: 30, Y: 80}}
	for name, c := range map[string]struct {
		draw func(p *pdf.Page)
		want map[pdf.Point]color.RGBA
	}{
		"nothing": {func(p *pdf.Page) { p.Rect(pdf.Rect{X: 10, Y: 10, W: 50, H: 50}, pdf.Paint{}) },
			map[pdf.Point]color.RGBA{{X: 30, Y: 30}: paper, {X: 10, Y: 30}: paper}},
		"filled": {func(p *pdf.Page) { p.Rect(pdf.Rect{X: 10, Y: 10, W: 50, H: 30}, pdf.Paint{Fill: pdf.Hex(0x0072B2)}) },
			map[pdf.Point]color.RGBA{{X: 12, Y: 12}: {0, 0x72, 0xB2, 255}, {X: 58, Y: 38}: {0, 0x72, 0xB2, 255}, {X: 62, Y: 20}: paper, {X: 20, Y: 42}: paper}},
		"stroked": {func(p *pdf.Page) { p.Rect(pdf.Rect{X: 10, Y: 10, W: 50, H: 50}, thick) },
			map[pdf.Point]color.RGBA{{X: 10, Y: 30}: ink, {X: 60, Y: 30}: ink, {X: 30, Y: 30}: paper}},
		"open": {func(p *pdf.Page) {
			p.Polyline([]pdf.Point{{X: 10, Y: 10}, {X: 60, Y: 10}, {X: 60, Y: 60}}, pdf.Paint{Stroke: pdf.Black, Width: 4, Fill: pdf.Black})
		}, map[pdf.Point]color.RGBA{{X: 30, Y: 10}: ink, {X: 60, Y: 30}: ink, {X: 35, Y: 35}: paper, {X: 50, Y: 20}: paper}},
		"translucent fill, full stroke": {func(p *pdf.Page) {
			p.Rect(pdf.Rect{X: 10, Y: 10, W: 50, H: 50}, pdf.Paint{Fill: pdf.Black, Opacity: 0.5, Stroke: pdf.Black, Width: 4})
		}, map[pdf.Point]color.RGBA{{X: 10, Y: 30}: ink, {X: 30, Y: 30}: {127, 127, 127, 255}}},
		"opacity ends": {func(p *pdf.Page) {
			p.Rect(pdf.Rect{X: 10, Y: 10, W: 5, H: 5}, pdf.Paint{Fill: pdf.Black, Opacity: 0.1})
			p.Rect(pdf.Rect{X: 20, Y: 10, W: 5, H: 5}, black)
		}, map[pdf.Point]color.RGBA{{X: 22, Y: 12}: ink}},
		"star by even-odd": {func(p *pdf.Page) { p.Polygon(star, black) },
			map[pdf.Point]color.RGBA{{X: 50, Y: 50}: paper, {X: 50, Y: 30}: ink}},
		"dashed": {func(p *pdf.Page) {
			p.Line(pdf.Point{X: 10, Y: 20}, pdf.Point{X: 100, Y: 20}, pdf.Paint{Stroke: pdf.Black, Width: 2, Dash: []float64{10, 10}, Square: true})
		}, map[pdf.Point]color.RGBA{{X: 15, Y: 20}: ink, {X: 25, Y: 20}: paper, {X: 35, Y: 20}: ink}},
		"dashes end": {func(p *pdf.Page) {
			p.Line(pdf.Point{X: 10, Y: 20}, pdf.Point{X: 100, Y: 20}, pdf.Paint{Stroke: pdf.Black, Width: 2, Dash: []float64{10, 10}})
			p.Line(pdf.Point{X: 10, Y: 40}, pdf.Point{X: 100, Y: 40}, pdf.Paint{Stroke: pdf.Black, Width: 2, Dash: []float64{-1, 0}})
			p.Line(pdf.Point{X: 10, Y: 60}, pdf.Point{X: 100, Y: 60}, pdf.Paint{Stroke: pdf.Black, Width: 2})
		}, map[pdf.Point]color.RGBA{{X: 25, Y: 40}: ink, {X: 75, Y: 40}: ink, {X: 25, Y: 60}: ink}},
		"turned ellipse": {func(p *pdf.Page) { p.Ellipse(pdf.Point{X: 60, Y: 60}, 40, 10, 45, black) },
			map[pdf.Point]color.RGBA{{X: 60, Y: 60}: ink, {X: 85, Y: 85}: ink, {X: 35, Y: 35}: ink, {X: 85, Y: 35}: paper, {X: 95, Y: 60}: paper}},
		"clipped": {func(p *pdf.Page) {
			p.Clip([]pdf.Point{{X: 10, Y: 10}, {X: 60, Y: 10}, {X: 10, Y: 60}}, func() { p.Rect(pdf.Rect{W: 200, H: 200}, black) })
			p.Rect(pdf.Rect{X: 100, Y: 100, W: 20, H: 20}, black)
		}, map[pdf.Point]color.RGBA{{X: 15, Y: 15}: ink, {X: 50, Y: 50}: paper, {X: 110, Y: 110}: ink}},
		"text after a clip has its own colour": {func(p *pdf.Page) {
			p.ClipRect(pdf.Rect{W: 1, H: 1}, func() { p.Rect(pdf.Rect{W: 1, H: 1}, pdf.Paint{Fill: pdf.RGB(200, 0, 0)}) })
			p.Text(20, 60, pdf.Style{Size: 150, Color: pdf.RGB(200, 0, 0), Face: pdf.Bold}, pdf.Left, "■")
		}, map[pdf.Point]color.RGBA{{X: 45, Y: 45}: {200, 0, 0, 255}}},
		"badge": {func(p *pdf.Page) { p.Badge(pdf.Point{X: 50, Y: 50}, 20, "1", pdf.White, black) },
			map[pdf.Point]color.RGBA{{X: 35, Y: 50}: ink, {X: 52, Y: 50}: paper, {X: 72, Y: 50}: paper}},
	} {
		t.Run(name, func(t *testing.T) {
			page := render(t, checked(t, build(t, options(t), func(d *pdf.Document, p *pdf.Page) { c.draw(p) })))
			for at, want := range c.want {
				if got, ok := near(page, at, want); !ok {
					t.Errorf("at %v is %v, want %v", at, got, want)
				}
			}
		})
	}
}
