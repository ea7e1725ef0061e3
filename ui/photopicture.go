package ui

import (
	"image"
	"image/color"
	"image/draw"
)

// photoPicture is a decoded picture with smaller ones of itself, each half as
// large as the one before: whatever the zoom, one of them is near to it, so that a
// frame costs what the window has pixels, not what the photo has.
//
// It is made once and never changed, and may be made on any goroutine.
type photoPicture struct {
	levels []photoLevel
}

// photoLevel is one size of a picture, either as bytes R, G, B, x or as a JPEG
// decoder leaves it.
type photoLevel struct {
	width, height int
	// factor is how many pixels of the picture one of this level is wide.
	factor float64

	pix    []byte
	stride int
	planes *image.YCbCr
}

// PreparePicture returns a picture that [PhotoView] can show at once. Preparing one
// of 48 megapixels takes longer than a frame; this may be called on any goroutine.
// The picture must not be changed afterwards; nil gives nil.
func PreparePicture(img image.Image) image.Image {
	if p := newPhotoPicture(img); p != nil {
		return p
	}
	return nil
}

// ColorModel is that of opaque colours.
func (p *photoPicture) ColorModel() color.Model { return color.RGBAModel }

// Bounds is the size of the whole picture, from (0,0).
func (p *photoPicture) Bounds() image.Rectangle {
	return image.Rect(0, 0, p.levels[0].width, p.levels[0].height)
}

// At is for whoever takes it for an ordinary picture; drawing does not use it.
func (p *photoPicture) At(x, y int) color.Color {
	if !image.Pt(x, y).In(p.Bounds()) {
		return color.RGBA{}
	}
	pix := p.levels[0].row(y, x, x+1, image.NewRGBA(image.Rect(0, 0, 1, 1)))
	return color.RGBA{R: pix[0], G: pix[1], B: pix[2], A: 0xff}
}

// spreadLevel is up to how many pixels a picture is kept as R, G, B, x: that is
// faster to draw and takes more room.
const spreadLevel = 4_000_000

// leastLevel is where halving ends: the long side in pixels.
const leastLevel = 256

// newPhotoPicture makes a picture ready for being drawn. What comes from a JPEG or
// from the turning of one is taken as it is; it must not be changed afterwards.
// Alpha is not looked at: photos have none.
func newPhotoPicture(img image.Image) *photoPicture {
	if ready, ok := img.(*photoPicture); ok {
		return ready
	}
	if img == nil || img.Bounds().Empty() {
		return nil
	}
	p := &photoPicture{levels: []photoLevel{firstLevel(img)}}
	for {
		last := &p.levels[len(p.levels)-1]
		if max(last.width, last.height) <= leastLevel {
			return p
		}
		p.levels = append(p.levels, last.halved())
	}
}

func firstLevel(img image.Image) photoLevel {
	bounds := img.Bounds()
	level := photoLevel{width: bounds.Dx(), height: bounds.Dy(), factor: 1}
	switch img := img.(type) {
	case *image.YCbCr:
		if level.width*level.height > spreadLevel {
			level.planes = img
			return level
		}
	case *image.RGBA:
		level.pix, level.stride = img.Pix, img.Stride
		return level
	case *image.NRGBA:
		level.pix, level.stride = img.Pix, img.Stride
		return level
	}
	whole := image.NewRGBA(image.Rect(0, 0, level.width, level.height))
	draw.Draw(whole, whole.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(whole, whole.Rect, img, bounds.Min, draw.Over)
	level.pix, level.stride = whole.Pix, whole.Stride
	return level
}

// width and height are those of the picture at its full size.
func (p *photoPicture) width() int { return p.levels[0].width }

// level is the one to draw from where a pixel of the picture takes so many of the
// window: the smallest whose own pixels are not magnified to speak of.
func (p *photoPicture) level(scale float64) *photoLevel {
	const magnified = 1.3
	at := 0
	for at+1 < len(p.levels) && p.levels[at+1].factor*scale <= magnified {
		at++
	}
	return &p.levels[at]
}

// row returns the pixels of a row from column x0 to x1, four bytes each. Where the
// level is not kept that way they are put into line, which has room for them.
func (l *photoLevel) row(y, x0, x1 int, line *image.RGBA) []byte {
	if l.planes == nil {
		return l.pix[y*l.stride+4*x0 : y*l.stride+4*x1]
	}
	from := l.planes.Rect.Min.Add(image.Pt(x0, y))
	draw.Draw(line, image.Rect(0, 0, x1-x0, 1), l.planes, from, draw.Src)
	return line.Pix[:4*(x1-x0)]
}

// halved is the level of half the size, each pixel the mean of four. An odd last
// row or column stands for itself.
func (l *photoLevel) halved() photoLevel {
	half := photoLevel{width: (l.width + 1) / 2, height: (l.height + 1) / 2, factor: 2 * l.factor}
	half.stride = 4 * half.width
	half.pix = make([]byte, half.stride*half.height)
	lines := [2]*image.RGBA{}
	if l.planes != nil {
		lines[0], lines[1] = image.NewRGBA(image.Rect(0, 0, l.width, 1)), image.NewRGBA(image.Rect(0, 0, l.width, 1))
	}
	for y := range half.height {
		upper := l.row(2*y, 0, l.width, lines[0])
		lower := upper
		if 2*y+1 < l.height {
			lower = l.row(2*y+1, 0, l.width, lines[1])
		}
		halveRows(half.pix[y*half.stride:(y+1)*half.stride], upper, lower)
	}
	return half
}

// halveRows takes two channels at a time, each in 16 bits of a word.
func halveRows(to, upper, lower []byte) {
	for i := 0; i < len(to); i += 4 {
		a, b := 2*i, 2*i+4
		if b >= len(upper) {
			b = a
		}
		sum := lanes(upper[a:]) + lanes(upper[b:]) + lanes(lower[a:]) + lanes(lower[b:])
		packLanes(to[i:], (sum+0x0002000200020002)>>2&laneMask)
	}
}
