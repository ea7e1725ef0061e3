package photo

import (
	"image"
	"image/draw"

	"github.com/disintegration/imaging"
)

// UprightImage returns img turned and mirrored by o. For Normal it is img
// itself, otherwise a copy of four bytes a pixel, so turn a view rather than
// an original where a view will do.
func UprightImage(img image.Image, o Orientation) image.Image {
	// The library's turns are counter-clockwise.
	switch o {
	case FlipH:
		return imaging.FlipH(img)
	case Turn180:
		return imaging.Rotate180(img)
	case FlipV:
		return imaging.FlipV(img)
	case Transpose:
		return imaging.Transpose(img)
	case Turn90:
		return imaging.Rotate270(img)
	case Transverse:
		return imaging.Transverse(img)
	case Turn270:
		return imaging.Rotate90(img)
	default:
		return img
	}
}

// UprightRGBA is UprightImage for an opaque picture, as pixels R, G, B, A from
// (0,0).
func UprightRGBA(img image.Image, o Orientation) *image.RGBA {
	turned := UprightImage(img, o)
	b := turned.Bounds()
	if n, ok := turned.(*image.NRGBA); ok && b.Min == (image.Point{}) {
		return &image.RGBA{Pix: n.Pix, Stride: n.Stride, Rect: b} // opaque: the same bytes
	}
	flat := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(flat, flat.Rect, turned, b.Min, draw.Src)
	return flat
}
