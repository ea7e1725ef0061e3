package pdf

import "math"

// Point is a place on a page, in millimetres from its top left corner.
type Point struct{ X, Y float64 }

// Rect is an upright rectangle, in millimetres, X and Y its top left corner.
type Rect struct{ X, Y, W, H float64 }

// Inset gives r made smaller by d on every side.
func (r Rect) Inset(d float64) Rect {
	return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d}
}

// Right is the x of the right edge.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the y of the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Corners gives the four corners, clockwise from the top left.
func (r Rect) Corners() []Point {
	return []Point{{r.X, r.Y}, {r.Right(), r.Y}, {r.Right(), r.Bottom()}, {r.X, r.Bottom()}}
}

// Paper is the size of the sheet in millimetres.
type Paper struct{ Width, Height float64 }

// The two papers that reports are printed on.
var (
	A4     = Paper{210, 297}
	Letter = Paper{215.9, 279.4}
)

// Landscape gives the paper turned so that its long side lies.
func (p Paper) Landscape() Paper {
	return Paper{max(p.Width, p.Height), min(p.Width, p.Height)}
}

// Color is an opaque sRGB colour. The zero value is no colour: nothing is
// painted with it, and text takes black instead.
type Color struct {
	R, G, B uint8
	on      bool
}

// RGB makes a colour of its three parts.
func RGB(r, g, b uint8) Color { return Color{r, g, b, true} }

// Hex makes a colour of 0xRRGGBB.
func Hex(v uint32) Color { return RGB(uint8(v>>16), uint8(v>>8), uint8(v)) }

// Black and white.
var (
	Black = RGB(0, 0, 0)
	White = RGB(255, 255, 255)
)

// maxCoordinate is the farthest that anything may be drawn, in millimetres. It
// is far off any paper; a number beyond it is a mistake in a layout, and would
// be written with hundreds of digits.
const maxCoordinate = 1e5

func drawable(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || v > maxCoordinate || v < -maxCoordinate {
			return false
		}
	}
	return true
}

const (
	mmPerPoint = 25.4 / 72
	pointPerMM = 72 / 25.4
)
