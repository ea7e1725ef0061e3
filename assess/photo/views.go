package photo

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
)

// The views of a photo: how long their long side is at most, in pixels, and
// the quality of their JPEG.
const (
	PreviewSide      = 1600
	PreviewQuality   = 85
	ThumbnailSide    = 320
	ThumbnailQuality = 80
)

// View is a reduced copy of a photo as a JPEG file, not turned: it is
// oriented as its original is stored. It carries no camera data.
type View struct {
	JPEG []byte
	// Width and Height are its size in pixels.
	Width, Height int
}

// Views are the two reduced copies that are kept beside an original.
type Views struct {
	Preview, Thumbnail View
}

// MakeViews reduces a decoded picture, which must not be empty, by averaging
// whole areas. A picture smaller than a view is not enlarged. What is
// transparent becomes white. The same picture gives the same bytes with the
// same release of Go. The error wraps ctx's, or names what is wrong with img.
func MakeViews(ctx context.Context, img image.Image) (Views, error) {
	var v Views
	if img == nil || img.Bounds().Empty() {
		return v, errors.New("views: the picture has no pixels; decode a photo first")
	}
	preview, err := reduce(ctx, img, PreviewSide)
	if err != nil {
		return v, err
	}
	// From the preview, since that is 1/6 of the work at 12 megapixels.
	thumbnail, err := reduce(ctx, preview, ThumbnailSide)
	if err != nil {
		return v, err
	}
	if v.Preview, err = encodeView(preview, PreviewQuality); err != nil {
		return Views{}, err
	}
	if err := ctx.Err(); err != nil {
		return Views{}, fmt.Errorf("views: stopped before they were finished: %w", err)
	}
	v.Thumbnail, err = encodeView(thumbnail, ThumbnailQuality)
	return v, err
}

func encodeView(img image.Image, quality int) (View, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		return View{}, fmt.Errorf("views: %w; attach a smaller photo", err)
	}
	return View{JPEG: b.Bytes(), Width: img.Bounds().Dx(), Height: img.Bounds().Dy()}, nil
}

// fit returns the size with the long side at most side and no side 0.
func fit(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	scale := func(n int) int { return max(1, (n*side+long/2)/long) }
	return scale(w), scale(h)
}

// reduce returns a smaller copy of img of one of the three types that the
// JPEG encoder takes without detours.
func reduce(ctx context.Context, img image.Image, side int) (image.Image, error) {
	w, h := fit(img.Bounds().Dx(), img.Bounds().Dy(), side)
	return resize(ctx, img, w, h)
}

func resize(ctx context.Context, img image.Image, w, h int) (image.Image, error) {
	b := img.Bounds()
	switch src := img.(type) {
	case *image.YCbCr:
		if b.Min == (image.Point{}) {
			return reduceYCbCr(ctx, src, w, h)
		}
	case *image.Gray:
		dst := image.NewGray(image.Rect(0, 0, w, h))
		return dst, shrink(ctx, newPlane(src.Pix, src.Stride, b.Dx(), b.Dy(), w), h, dst.Pix)
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	return dst, shrink(ctx, newRGBRows(img, w), h, dst.Pix)
}

// reduceYCbCr shrinks plane by plane, so that no pixel is ever converted to
// RGB and back. The encoder writes 4:2:0 in any case.
func reduceYCbCr(ctx context.Context, src *image.YCbCr, w, h int) (image.Image, error) {
	dst := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	b := src.Bounds()
	if err := shrink(ctx, newPlane(src.Y, src.YStride, b.Dx(), b.Dy(), w), h, dst.Y); err != nil {
		return nil, err
	}
	// A chroma plane as small as the view's or smaller is stretched by the
	// same averaging, which repeats its samples.
	cw, ch := chromaSize(src)
	for _, p := range []struct{ src, dst []byte }{{src.Cb, dst.Cb}, {src.Cr, dst.Cr}} {
		if err := shrink(ctx, newPlane(p.src, src.CStride, cw, ch, (w+1)/2), (h+1)/2, p.dst); err != nil {
			return nil, err
		}
	}
	return dst, nil
}

func chromaSize(img *image.YCbCr) (w, h int) {
	last := img.Bounds().Max.Sub(image.Pt(1, 1))
	off := img.COffset(last.X, last.Y)
	return off%img.CStride + 1, off/img.CStride + 1
}

// rgbRows hands out any picture row by row over white.
type rgbRows struct {
	img    image.Image
	row    *image.RGBA
	opaque bool
	xs     []span
	width  int
}

func newRGBRows(img image.Image, w int) *rgbRows {
	n := img.Bounds().Dx()
	r := &rgbRows{img: img, row: image.NewRGBA(image.Rect(0, 0, n, 1)), xs: spans(n, w), width: n}
	if o, ok := img.(interface{ Opaque() bool }); ok {
		r.opaque = o.Opaque()
	}
	return r
}

func (r *rgbRows) height() int { return r.img.Bounds().Dy() }
func (r *rgbRows) samples() int {
	return 4 * len(r.xs)
}

func (r *rgbRows) squeeze(y int, out []uint32) {
	op := draw.Src
	if !r.opaque {
		op = draw.Over
		draw.Draw(r.row, r.row.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	}
	draw.Draw(r.row, r.row.Rect, r.img, r.img.Bounds().Min.Add(image.Pt(0, y)), op)
	inv := inverse8(r.width)
	for i, s := range r.xs {
		var sum [4]uint64
		for x := s.first; x <= s.last; x++ {
			wt := s.weight(x, len(r.xs))
			for c, v := range r.row.Pix[4*x : 4*x+4 : 4*x+4] {
				sum[c] += wt * uint64(v)
			}
		}
		for c, v := range sum {
			out[4*i+c] = uint32((v*inv + 1<<31) >> 32)
		}
	}
}
