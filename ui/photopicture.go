package ui

import (
	"image"
	"image/color"
	"image/draw"

	"fettlebook/assess/inspection"
)

// photoPicture is a picture in several sizes: whatever the zoom, one of them is near
// to it, so that a frame costs what the window has pixels, not what the photo has.
// Those of a decoded picture are made once and never changed, each half as large as
// the one before; that may be done on any goroutine. A photo has larger ones before
// them, of which only the tiles that are looked at are in memory.
type photoPicture struct {
	// width and height are those that the factors of the levels are of.
	width, height float64
	levels        []photoLevel // the largest first; the last ones are whole
	tiles         PhotoTiles
}

// photoLevel is one size of a picture: one whole, as bytes R, G, B, x, or tiles.
type photoLevel struct {
	width, height int
	// factorX and factorY are how many pixels of the picture one of this level takes.
	factorX, factorY float64

	pix    []byte
	stride int

	// columns and rows are where the tiles begin and the last ones end; nil for a
	// whole one. at is the level's number for them.
	columns, rows []int
	at            int
}

// PhotoTiles give a photo in sizes that only its tiles can be had of. All is asked
// on Fyne's own thread.
type PhotoTiles interface {
	// Levels are the sizes, the photo's own first.
	Levels() []inspection.TileLevel
	// Tile returns a tile that is in memory, upright; nil for any other.
	Tile(level, column, row int) *image.RGBA
	// Want says which tiles the view misses at the moment, the ones to begin with
	// first, in place of those before. The slice is the view's own.
	Want(missing []TilePlace)
}

// TilePlace says which tile of a photo it is.
type TilePlace struct{ Level, Column, Row int }

// PreparePicture returns a picture that [PhotoView] can show at once. It may be
// called on any goroutine. The picture must not be changed afterwards; nil gives nil.
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
	return image.Rect(0, 0, int(p.width), int(p.height))
}

// At is for whoever takes it for an ordinary picture; drawing does not use it.
func (p *photoPicture) At(x, y int) color.Color {
	first := &p.levels[0]
	if first.columns != nil || !image.Pt(x, y).In(p.Bounds()) {
		return color.RGBA{}
	}
	pix := first.pix[y*first.stride+4*x:]
	return color.RGBA{R: pix[0], G: pix[1], B: pix[2], A: 0xff}
}

// leastLevel is where halving ends: the long side in pixels.
const leastLevel = 256

// newPhotoPicture makes a picture ready for being drawn. Its pixels may be taken as
// they are; they must not be changed afterwards. Alpha is not looked at: photos have
// none.
func newPhotoPicture(img image.Image) *photoPicture {
	if ready, ok := img.(*photoPicture); ok {
		return ready
	}
	if img == nil || img.Bounds().Empty() {
		return nil
	}
	size := img.Bounds().Size()
	p := &photoPicture{width: float64(size.X), height: float64(size.Y), levels: []photoLevel{firstLevel(img)}}
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
	level := photoLevel{width: bounds.Dx(), height: bounds.Dy(), factorX: 1, factorY: 1}
	switch img := img.(type) {
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

// withTiles is a photo of a size in pixels: its tiles as far as they show more than
// the preview, then the preview.
func (p *photoPicture) withTiles(tiles PhotoTiles, width, height float64) *photoPicture {
	whole := &photoPicture{width: width, height: height}
	if tiles != nil {
		for i, l := range tiles.Levels() {
			if float64(l.Width) <= p.width {
				break
			}
			whole.tiles = tiles
			whole.levels = append(whole.levels, photoLevel{width: l.Width, height: l.Height,
				factorX: width / float64(l.Width), factorY: height / float64(l.Height), columns: l.Columns, rows: l.Rows, at: i})
		}
	}
	for _, l := range p.levels {
		l.factorX *= width / p.width
		l.factorY *= height / p.height
		whole.levels = append(whole.levels, l)
	}
	return whole
}

// mostMagnified is up to how many pixels of the frame one of a level may take.
const mostMagnified = 1.3

// level is the one to draw from where a pixel of the picture takes so many of the
// frame: the smallest whose own pixels are not magnified to speak of, and whose tiles
// leave room for others when they cover so many pixels of the frame.
func (p *photoPicture) level(scale float64, covered image.Point) int {
	at := 0
	for ; at+1 < len(p.levels); at++ {
		own := p.levels[at].factorX * scale
		fits := float64(covered.X)*float64(covered.Y)*4 <= own*own*frameBytes
		if p.levels[at+1].factorX*scale > mostMagnified && (fits || p.levels[at].columns == nil) {
			break
		}
	}
	return at
}

// halved is the level of half the size, each pixel the mean of four. An odd last
// row or column stands for itself.
func (l *photoLevel) halved() photoLevel {
	half := photoLevel{width: (l.width + 1) / 2, height: (l.height + 1) / 2, factorX: 2 * l.factorX, factorY: 2 * l.factorY}
	half.stride = 4 * half.width
	half.pix = make([]byte, half.stride*half.height)
	row := func(y int) []byte { return l.pix[y*l.stride:][:4*l.width] }
	for y := range half.height {
		upper := row(2 * y)
		lower := upper
		if 2*y+1 < l.height {
			lower = row(2*y + 1)
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
