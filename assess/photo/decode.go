package photo

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/tiff"
)

// heavy holds one place: photos whose decoding takes several times their pixels in
// memory wait for one another.
var heavy = make(chan struct{}, 1)

// Decode decodes the picture as stored, not turned. A JPEG of colours keeps
// its planes ([*image.YCbCr], 1.5 bytes a pixel as phones store it); other
// types are those of the standard decoders. HEIC and large progressive JPEG photos wait
// for one another, whoever asks for them. The error is an [*Error], or
// wraps ctx's; no part of a picture is returned beside one.
func (f *File) Decode(ctx context.Context) (image.Image, error) {
	src := &source{ctx: ctx, f: f}
	if f.header.heavy {
		select {
		case heavy <- struct{}{}:
			defer func() { <-heavy }()
		case <-ctx.Done():
			return nil, stopped(f.info.Name, ctx.Err())
		}
	}
	var img image.Image
	err := guard(func() (err error) { img, err = f.codec.decode(src, f.header); return })
	if err != nil {
		return nil, f.explain(src, err)
	}
	if err := ctx.Err(); err != nil {
		return nil, stopped(f.info.Name, err)
	}
	if err := f.unchanged(); err != nil {
		return nil, err
	}
	if b := img.Bounds(); b != image.Rect(0, 0, f.info.Width, f.info.Height) {
		return nil, changed(f.info.Name, fmt.Sprintf("became another picture, of %d × %d pixels,", b.Dx(), b.Dy()))
	}
	return img, nil
}

// explain turns what a decoder said into what happened to the file.
func (f *File) explain(src *source, err error) error {
	if src.err != nil {
		return src.err
	}
	// What looks damaged may only be a file that is still being copied.
	if changed := f.unchanged(); changed != nil {
		return changed
	}
	var (
		jpegCannot jpeg.UnsupportedError
		pngCannot  png.UnsupportedError
		tiffCannot tiff.UnsupportedError
		heicCannot heicUnsupported
	)
	switch {
	case errors.Is(err, errRaw):
		return refuse(f.info.Name, Unsupported, err, "save it as JPEG and attach that",
			"this is a camera's raw file, which cannot be read")
	case errors.Is(err, errHEICTime):
		return refuse(f.info.Name, Damaged, err, "save it as JPEG on the phone and attach that",
			"the file is damaged, or too much for this computer (%v)", err)
	case src.pastEnd:
		return refuse(f.info.Name, Truncated, err, copyAgain,
			"the file ends in the middle of the picture (truncated)")
	case errors.As(err, &jpegCannot), errors.As(err, &pngCannot), errors.As(err, &tiffCannot), errors.As(err, &heicCannot):
		return refuse(f.info.Name, Unsupported, err, "save it as an ordinary JPEG and attach that",
			"the picture is stored in a rare way that cannot be read (%v)", err)
	default:
		return refuse(f.info.Name, Damaged, err, copyAgain, "the file is damaged (%v)", err)
	}
}
