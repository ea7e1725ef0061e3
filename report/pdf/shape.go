package pdf

import (
	"fmt"
	"math"

	"github.com/jung-kurt/gofpdf"
)

// Paint is how a shape is painted: filled, stroked, or both.
type Paint struct {
	Fill    Color   // none: not filled
	Opacity float64 // of the fill, from 0 to 1; 0 stands for 1
	Stroke  Color   // none: not stroked
	Width   float64 // of the stroke, millimetres
	// Dash is the pattern of the stroke: lengths of strokes and gaps in turn, in
	// millimetres. Empty: not dashed.
	Dash []float64
	// Square ends strokes at their last point with sharp corners, as technical
	// drawings have them; otherwise ends and corners are round.
	Square bool
}

// Line draws a straight stroke.
func (p *Page) Line(from, to Point, paint Paint) {
	p.Polyline([]Point{from, to}, paint)
}

// Rect draws an upright rectangle.
func (p *Page) Rect(r Rect, paint Paint) { p.Polygon(r.Corners(), paint) }

// Polyline draws an open line through points. It is not filled.
func (p *Page) Polyline(points []Point, paint Paint) {
	paint.Fill = Color{}
	p.path(points, paint, false)
}

// Polygon draws a closed shape. Where it crosses itself, the even-odd rule
// tells what is inside.
func (p *Page) Polygon(points []Point, paint Paint) { p.path(points, paint, true) }

func (p *Page) path(points []Point, paint Paint, closed bool) {
	if len(points) < 2 || !p.readyPoints("shape", points) {
		return
	}
	p.painted(paint, func(op string) {
		f := p.d.f
		f.MoveTo(points[0].X, points[0].Y)
		for _, q := range points[1:] {
			f.LineTo(q.X, q.Y)
		}
		if closed {
			f.ClosePath()
		}
		f.RawWriteStr(op)
	})
}

// Ellipse draws an ellipse with half axes rx and ry, turned by degrees clockwise
// as seen on the page.
func (p *Page) Ellipse(center Point, rx, ry, degrees float64, paint Paint) {
	if !p.ready("ellipse", center.X, center.Y, rx, ry, degrees) {
		return
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	at := func(x, y float64) (float64, float64) {
		return center.X + x*rx*cos - y*ry*sin, center.Y + x*rx*sin + y*ry*cos
	}
	p.painted(paint, func(op string) {
		// Four cubic curves; k puts their middles on the ellipse.
		const k = 4 * (math.Sqrt2 - 1) / 3
		f := p.d.f
		f.MoveTo(at(1, 0))
		for _, c := range [][6]float64{
			{1, k, k, 1, 0, 1}, {-k, 1, -1, k, -1, 0}, {-1, -k, -k, -1, 0, -1}, {k, -1, 1, -k, 1, 0},
		} {
			x0, y0 := at(c[0], c[1])
			x1, y1 := at(c[2], c[3])
			x, y := at(c[4], c[5])
			f.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
		}
		f.ClosePath()
		f.RawWriteStr(op)
	})
}

// Circle draws a circle.
func (p *Page) Circle(center Point, radius float64, paint Paint) {
	p.Ellipse(center, radius, radius, 0, paint)
}

// Badge draws a circle with a short text, such as a number, in its middle, as
// large as fits.
func (p *Page) Badge(center Point, radius float64, text string, ink Color, paint Paint) {
	p.Circle(center, radius, paint)
	st := Style{Face: Bold, Size: radius * 1.25 * pointPerMM, Color: ink}
	if w := p.d.Width(st, text); w > 1.5*radius {
		st.Size *= 1.5 * radius / w
	}
	p.Text(center.X, center.Y+p.d.CapHeight(st)/2, st, Center, text)
}

// painted sets all that gofpdf keeps about painting, since what it believes to
// be set is not what is set once a clip has ended, and then has a path drawn.
func (p *Page) painted(paint Paint, draw func(operator string)) {
	stroked := paint.Stroke.on && paint.Width > 0
	if !stroked && !paint.Fill.on || !p.ready("shape", append([]float64{paint.Width, paint.Opacity}, paint.Dash...)...) {
		return
	}
	f := p.d.f
	if paint.Fill.on {
		f.SetFillColor(int(paint.Fill.R), int(paint.Fill.G), int(paint.Fill.B))
	}
	if stroked {
		f.SetDrawColor(int(paint.Stroke.R), int(paint.Stroke.G), int(paint.Stroke.B))
		f.SetLineWidth(paint.Width)
		f.SetDashPattern(dashes(paint.Dash), 0)
		style := "round"
		if paint.Square {
			style = "butt"
		}
		f.SetLineCapStyle(style)
		f.SetLineJoinStyle(map[bool]string{true: "miter", false: "round"}[paint.Square])
	}
	if !paint.Fill.on {
		draw("S")
		return
	}
	if paint.Opacity > 0 && paint.Opacity < 1 {
		f.SetAlpha(paint.Opacity, "Normal")
		draw("f*")
		f.SetAlpha(1, "Normal")
		if stroked {
			draw("S")
		}
		return
	}
	draw(map[bool]string{true: "B*", false: "f*"}[stroked])
}

// dashes refuses patterns that PDF readers choke on: without any length, or
// with negative ones.
func dashes(pattern []float64) []float64 {
	sum := 0.0
	for _, v := range pattern {
		if v < 0 {
			return nil
		}
		sum += v
	}
	if sum < 0.01 {
		return nil
	}
	return pattern
}

// Clip shows of what draw draws only what lies inside a polygon.
func (p *Page) Clip(outline []Point, draw func()) {
	if len(outline) < 3 || !p.readyPoints("clip", outline) {
		return
	}
	corners := make([]gofpdf.PointType, len(outline))
	for i, q := range outline {
		corners[i] = gofpdf.PointType{X: q.X, Y: q.Y}
	}
	p.d.f.ClipPolygon(corners, false)
	draw()
	p.d.f.SetPage(p.Number) // draw may have gone to another page
	p.d.f.ClipEnd()
}

// ClipRect is Clip to a rectangle.
func (p *Page) ClipRect(r Rect, draw func()) { p.Clip(r.Corners(), draw) }

// ready makes p the page that gofpdf draws on, and is false if drawing is
// pointless: after an error, or when a number is none, which is the error then.
func (p *Page) ready(what string, values ...float64) bool {
	if p.d.err != nil {
		return false
	}
	if !drawable(values...) {
		p.d.fail("page %d: a %s has a position or size that is no number or far off the page: %v", p.Number, what, fmt.Sprint(values))
		return false
	}
	p.d.f.SetPage(p.Number)
	return true
}

func (p *Page) readyPoints(what string, points []Point) bool {
	for _, q := range points {
		if !p.ready(what, q.X, q.Y) {
			return false
		}
	}
	return p.ready(what)
}
