package ui

import (
	"image"
	"image/color"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"fettlebook/assess/plane"
)

// pen draws smooth lines over the photo. Widths and radii are in the window's
// units, places are on the photo.
type pen struct {
	dst    *image.RGBA
	pixels float64 // of the buffer per unit of the window
	at     viewport
}

// to maps a place on the photo to pixels of the buffer.
func (p *pen) to(at plane.Point) (x, y float64) {
	x, y = p.at.toView(at.X, at.Y)
	return x * p.pixels, y * p.pixels
}

var white = color.RGBA{R: 255, G: 255, B: 255, A: 255}

// casing is how much wider the light line below an outline is.
const casing = 2.4

// closed draws an outline: a light casing, and the ink with its pattern over it,
// so that it shows on bright and on dark metal.
func (p *pen) closed(corners []plane.Point, width float64, ink color.RGBA, dash []float64) {
	p.stroke(corners, true, width+casing, white, nil)
	p.stroke(corners, true, width, ink, dash)
}

func (p *pen) open(corners []plane.Point, width float64, ink color.RGBA) {
	p.stroke(corners, false, width+casing, white, nil)
	p.stroke(corners, false, width, ink, nil)
}

func (p *pen) stroke(corners []plane.Point, closed bool, width float64, ink color.RGBA, dash []float64) {
	n := len(corners)
	if n < 2 {
		return
	}
	edges := n - 1
	if closed {
		edges = n
	}
	pattern := newPattern(dash, width*p.pixels)
	for i := range edges {
		x0, y0 := p.to(corners[i])
		x1, y1 := p.to(corners[(i+1)%n])
		pattern.cut(x0, y0, x1, y1, func(ax, ay, bx, by float64) {
			p.segment(ax, ay, bx, by, width*p.pixels/2, ink)
		})
	}
}

// pattern cuts a line into strokes and gaps that run on from edge to edge.
type pattern struct {
	dash []float64
	unit float64
	i    int
	left float64
}

func newPattern(dash []float64, unit float64) *pattern {
	p := &pattern{dash: dash, unit: unit}
	if len(dash) > 0 {
		p.left = dash[0] * unit
	}
	return p
}

func (p *pattern) cut(x0, y0, x1, y1 float64, draw func(ax, ay, bx, by float64)) {
	if len(p.dash) == 0 {
		draw(x0, y0, x1, y1)
		return
	}
	length := math.Hypot(x1-x0, y1-y0)
	for at := 0.0; at < length; {
		step := min(p.left, length-at)
		if p.i%2 == 0 {
			a, b := at/length, (at+step)/length
			draw(x0+(x1-x0)*a, y0+(y1-y0)*a, x0+(x1-x0)*b, y0+(y1-y0)*b)
		}
		at += step
		if p.left -= step; p.left <= 1e-9 {
			p.i = (p.i + 1) % (len(p.dash) &^ 1)
			p.left = p.dash[p.i] * p.unit
		}
	}
}

// segment draws a line with round ends. Only the pixels near it are visited.
func (p *pen) segment(x0, y0, x1, y1, radius float64, ink color.RGBA) {
	reach := radius + 1
	top := max(int(math.Floor(min(y0, y1)-reach)), 0)
	bottom := min(int(math.Ceil(max(y0, y1)+reach)), p.dst.Rect.Dy()-1)
	dx, dy := x1-x0, y1-y0
	length2 := dx*dx + dy*dy
	for y := top; y <= bottom; y++ {
		left, right := rowReach(x0, y0, x1, y1, float64(y)+0.5, reach)
		from, to := max(int(math.Floor(left)), 0), min(int(math.Ceil(right)), p.dst.Rect.Dx()-1)
		for x := from; x <= to; x++ {
			px, py := float64(x)+0.5-x0, float64(y)+0.5-y0
			t := 0.0
			if length2 > 0 {
				t = min(max((px*dx+py*dy)/length2, 0), 1)
			}
			p.blend(x, y, radius+0.5-math.Hypot(px-t*dx, py-t*dy), ink)
		}
	}
}

// rowReach bounds the pixels of a row that a line of a width may touch.
func rowReach(x0, y0, x1, y1, y, reach float64) (left, right float64) {
	left, right = min(x0, x1)-reach, max(x0, x1)+reach
	dy := y1 - y0
	if math.Abs(dy) < 1 {
		return left, right
	}
	slope := (x1 - x0) / dy
	half := reach * math.Sqrt(1+slope*slope)
	centre := x0 + (y-y0)*slope
	return max(left, centre-half), min(right, centre+half)
}

// blend lays ink over a pixel, by how much of it is covered.
func (p *pen) blend(x, y int, cover float64, ink color.RGBA) {
	if cover <= 0 {
		return
	}
	pix := p.dst.Pix[p.dst.PixOffset(x, y):]
	if cover >= 1 {
		pix[0], pix[1], pix[2] = ink.R, ink.G, ink.B
		return
	}
	a := uint32(cover * 256)
	pix[0] = uint8((uint32(pix[0])*(256-a) + uint32(ink.R)*a) >> 8)
	pix[1] = uint8((uint32(pix[1])*(256-a) + uint32(ink.G)*a) >> 8)
	pix[2] = uint8((uint32(pix[2])*(256-a) + uint32(ink.B)*a) >> 8)
}

func (p *pen) disc(x, y, radius float64, ink color.RGBA) { p.segment(x, y, x, y, radius, ink) }

// handles draws the squares by which corners are dragged.
func (p *pen) handles(corners []plane.Point) {
	const half, edge = 6.5, 1.5
	for _, c := range corners {
		x, y := p.to(c)
		p.square(x, y, (half+edge)*p.pixels, color.RGBA{A: 255})
		p.square(x, y, half*p.pixels, white)
	}
}

func (p *pen) square(x, y, half float64, ink color.RGBA) {
	for py := max(int(y-half), 0); py <= min(int(y+half), p.dst.Rect.Dy()-1); py++ {
		for px := max(int(x-half), 0); px <= min(int(x+half), p.dst.Rect.Dx()-1); px++ {
			p.blend(px, py, 1, ink)
		}
	}
}

// cross marks the place that the arrow keys move.
func (p *pen) cross(at plane.Point, ink color.RGBA) {
	x, y := p.to(at)
	const arm = 11.0
	for _, width := range []float64{3.4, 1.4} {
		c := ink
		if width > 2 {
			c = white
		}
		r := width / 2 * p.pixels
		p.segment(x-arm*p.pixels, y, x+arm*p.pixels, y, r, c)
		p.segment(x, y-arm*p.pixels, x, y+arm*p.pixels, r, c)
	}
}

// badge draws a number in a round label. It never leaves the buffer.
func (p *pen) badge(at plane.Point, text string, ink color.RGBA) {
	const radius = 12.0
	x, y := p.to(at)
	r := radius * p.pixels
	x = min(max(x, r+1), float64(p.dst.Rect.Dx())-r-1)
	y = min(max(y, r+1), float64(p.dst.Rect.Dy())-r-1)
	p.disc(x, y, r, white)
	p.disc(x, y, r-1.2*p.pixels, ink)
	p.disc(x, y, r-3.4*p.pixels, white)
	face := numberFace(int(math.Round(12.5 * p.pixels)))
	if face == nil {
		return
	}
	d := font.Drawer{Dst: p.dst, Src: image.NewUniform(color.Black), Face: face}
	width := d.MeasureString(text)
	height := face.Metrics().CapHeight
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(x*64) - width/2, Y: fixed.Int26_6(y*64) + height/2}
	d.DrawString(text)
}

var numbers struct {
	sync.Mutex
	font  *opentype.Font
	faces map[int]font.Face
}

// numberFace gives the face for the labels' numbers, nil if it can't be made.
func numberFace(pixels int) font.Face {
	numbers.Lock()
	defer numbers.Unlock()
	if face, ok := numbers.faces[pixels]; ok {
		return face
	}
	if numbers.font == nil {
		parsed, err := opentype.Parse(gobold.TTF)
		if err != nil {
			return nil
		}
		numbers.font, numbers.faces = parsed, map[int]font.Face{}
	}
	face, err := opentype.NewFace(numbers.font, &opentype.FaceOptions{Size: float64(pixels), DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		return nil
	}
	numbers.faces[pixels] = face
	return face
}
