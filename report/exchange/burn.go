package exchange

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"sync"

	"github.com/disintegration/imaging"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// burnedQuality is that of the JPEG of a photo with its outlines.
const burnedQuality = 92

// WriteBurned writes a photo with its outlines burned in, as PNG or JPEG, without
// any of the camera's data.
func (o Order) WriteBurned(ctx context.Context, w io.Writer, photo record.ID, as Format) error {
	p, ok := o.Record.Photos[photo]
	if !ok {
		return fmt.Errorf("there is no photo %s in the record", photo)
	}
	if o.Picture == nil {
		return errors.New("the photos are not at hand; name a record in the archive")
	}
	img, err := o.Picture(ctx, p)
	if err != nil {
		return err
	}
	burned, err := o.burned(img, photo, p)
	if err != nil {
		return err
	}
	if as == PNG {
		return imaging.Encode(w, burned, imaging.PNG)
	}
	return imaging.Encode(w, burned, imaging.JPEG, imaging.JPEGQuality(burnedQuality))
}

// burned draws the outlines over a copy of a picture of any size.
func (o Order) burned(img image.Image, photo record.ID, p record.Photo) (*image.NRGBA, error) {
	in := shown(p)
	b := img.Bounds()
	if b.Empty() || math.Abs(float64(b.Dx())/float64(b.Dy())-in.width/in.height) > 0.02*in.width/in.height {
		return nil, fmt.Errorf("photo %d: its picture of %d × %d pixels is not the one of %.0f × %.0f that was outlined", p.Number, b.Dx(), b.Dy(), in.width, in.height)
	}
	to := imaging.Clone(img)
	zoom := float64(b.Dx()) / in.width
	pen := pen{to: to, width: max(2, float64(max(b.Dx(), b.Dy()))/500)}
	outlines := o.outlinesOn(photo)
	for _, m := range outlines {
		at := in.points(m.Outline)
		for i := range at {
			at[i] = at[i].Times(zoom)
		}
		band := o.band(m)
		if m.Shape == record.Spot {
			c, r := at[0], plane.Point{X: 3 * pen.width, Y: 3 * pen.width}
			at = plane.Oval(c.Minus(r), c.Plus(r), 0.2)
		}
		if closed(m.Outline) || m.Shape == record.Spot {
			at = append(at, at[0])
		}
		pen.line(at, 2.2*pen.width, color.NRGBA{255, 255, 255, 255})
		for _, piece := range dashed(at, band.Dash, pen.width) {
			pen.line(piece, pen.width, ink(band.Ink))
		}
	}
	for _, m := range outlines {
		at := topmost(in.points(m.Outline)).Times(zoom)
		if m.Shape == record.Spot {
			at.Y -= 13 * pen.width // above it, or it would hide it
		}
		if err := pen.badge(at, o.label(m), ink(o.band(m).Ink)); err != nil {
			return nil, err
		}
	}
	return to, nil
}

func ink(rgb uint32) color.NRGBA {
	return color.NRGBA{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb), 255}
}

// dashed cuts a line into the strokes of a pattern.
func dashed(at []plane.Point, pattern []float64, width float64) [][]plane.Point {
	if len(pattern) == 0 || len(at) < 2 {
		return [][]plane.Point{at}
	}
	var pieces [][]plane.Point
	now := []plane.Point{at[0]}
	step, left := 0, pattern[0]*width
	for i := 1; i < len(at); i++ {
		from, to := at[i-1], at[i]
		length := from.Distance(to)
		for done := 0.0; done < length; {
			way := min(left, length-done)
			done, left = done+way, left-way
			p := from.Plus(to.Minus(from).Times(done / length))
			now = append(now, p)
			if left > 1e-9 {
				continue
			}
			if step%2 == 0 {
				pieces = append(pieces, now)
			}
			step++
			left, now = pattern[step%len(pattern)]*width, []plane.Point{p}
		}
	}
	if step%2 == 0 && len(now) > 1 {
		pieces = append(pieces, now)
	}
	return pieces
}

// pen draws on a picture.
type pen struct {
	to    *image.NRGBA
	width float64
}

// longestPiece is how long a piece is that is drawn at once, in pixels: a raster of
// a whole photo would take several times its memory.
const longestPiece = 200

// line draws a line with round joints, a piece at a time.
func (p pen) line(at []plane.Point, width float64, c color.NRGBA) {
	for i, q := range at {
		if i == 0 {
			p.dot(q, width, c)
			continue
		}
		from := at[i-1]
		pieces := max(1, math.Ceil(from.Distance(q)/longestPiece))
		for k := range int(pieces) {
			p.piece(from.Plus(q.Minus(from).Times(float64(k)/pieces)), from.Plus(q.Minus(from).Times(float64(k+1)/pieces)), width, c)
		}
	}
}

func (p pen) dot(at plane.Point, width float64, c color.NRGBA) {
	r := plane.Point{X: width / 2, Y: width / 2}
	p.fill(plane.Oval(at.Minus(r), at.Plus(r), 0.1), c)
}

func (p pen) piece(from, to plane.Point, width float64, c color.NRGBA) {
	if length := from.Distance(to); length > 0 {
		along := to.Minus(from)
		side := plane.Point{X: -along.Y, Y: along.X}.Times(width / 2 / length)
		p.fill([]plane.Point{from.Plus(side), to.Plus(side), to.Minus(side), from.Minus(side)}, c)
	}
	p.dot(to, width, c)
}

// fill fills a polygon, with soft edges.
func (p pen) fill(g plane.Polygon, c color.NRGBA) {
	low, high := g.Bounds()
	r := image.Rect(int(math.Floor(low.X)), int(math.Floor(low.Y)), int(math.Ceil(high.X))+1, int(math.Ceil(high.Y))+1)
	seen := r.Intersect(p.to.Rect)
	if seen.Empty() || r.Dx() > 1<<14 || r.Dy() > 1<<14 {
		return
	}
	raster := vector.NewRasterizer(r.Dx(), r.Dy())
	for i, q := range g {
		x, y := float32(q.X-float64(r.Min.X)), float32(q.Y-float64(r.Min.Y))
		if i == 0 {
			raster.MoveTo(x, y)
		} else {
			raster.LineTo(x, y)
		}
	}
	raster.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, r.Dx(), r.Dy()))
	raster.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	for y := seen.Min.Y; y < seen.Max.Y; y++ {
		for x := seen.Min.X; x < seen.Max.X; x++ {
			if a := uint32(mask.AlphaAt(x-r.Min.X, y-r.Min.Y).A); a > 0 {
				pix := p.to.Pix[p.to.PixOffset(x, y):]
				for k, v := range [3]uint8{c.R, c.G, c.B} {
					pix[k] = uint8((uint32(v)*a + uint32(pix[k])*(255-a) + 127) / 255)
				}
				pix[3] = 255
			}
		}
	}
}

var labelFont = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(gobold.TTF) })

// badge sets a number in a disc, wholly inside the picture.
func (p pen) badge(at plane.Point, label string, c color.NRGBA) error {
	f, err := labelFont()
	if err != nil {
		return fmt.Errorf("the font of the numbers: %w", err)
	}
	size := 9 * p.width
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return fmt.Errorf("the font of the numbers: %w", err)
	}
	defer face.Close()
	wide := float64(font.MeasureString(face, label)) / 64
	half := plane.Point{X: max(wide/2+0.35*size, 0.75*size), Y: 0.75 * size}
	b := p.to.Rect
	at = at.Within(half.Plus(plane.Point{X: p.width, Y: p.width}), plane.Point{X: float64(b.Max.X), Y: float64(b.Max.Y)}.Minus(half).Minus(plane.Point{X: p.width, Y: p.width}))
	edge := plane.Point{X: p.width, Y: p.width}
	p.fill(plane.Oval(at.Minus(half).Minus(edge), at.Plus(half).Plus(edge), 0.1), c)
	p.fill(plane.Oval(at.Minus(half), at.Plus(half), 0.1), color.NRGBA{255, 255, 255, 255})
	d := font.Drawer{Dst: p.to, Src: image.NewUniform(c), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6((at.X - wide/2) * 64), Y: fixed.Int26_6((at.Y + 0.36*size) * 64)}}
	d.DrawString(label)
	return nil
}
