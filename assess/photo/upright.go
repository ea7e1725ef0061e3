package photo

import (
	"image"

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
