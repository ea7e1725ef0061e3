package photo

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"runtime"
	"slices"
	"time"
)

type heicCodec struct{}

func (heicCodec) format() Format       { return HEIC }
func (heicCodec) extensions() []string { return []string{".heic", ".heif", ".hif"} }

// heicBrands are the marks of files whose main picture is HEVC, or may be.
var heicBrands = []string{"heic", "heix", "heim", "heis", "mif1", "msf1", "hevc", "hevx"}

func (heicCodec) matches(head []byte) bool {
	return len(head) >= 12 && string(head[4:8]) == "ftyp" && slices.Contains(heicBrands, string(head[8:12]))
}

// heicUnsupported says that the decoder does not know how a picture is stored.
type heicUnsupported string

func (e heicUnsupported) Error() string { return string(e) }

// errHEICTime says that decoding was stopped since it took too long.
var errHEICTime = errors.New("heic: decoding did not come to an end")

func (heicCodec) header(src *source) (header, error) {
	p, err := readHEIF(src)
	if err != nil {
		return header{}, err
	}
	h := header{width: p.width, height: p.height, heavy: true, turn: p.turn, bytesPerPixel: heicBytesPerPixel(p.deep)}
	if p.hasEXIF {
		h.setEXIF(p.exif)
	}
	if p.cropped && int64(h.width)*int64(h.height) <= maxCropped {
		// What is cut off, only the decoder reckons as it will decode.
		data, err := readWithoutTurns(src)
		if err != nil {
			return header{}, err
		}
		err = withHEIC(src.ctx, heicNeed(h, len(data)), func(ctx context.Context, d *heicDecoder) error {
			size, err := d.size(ctx, data)
			h.width, h.height = size.X, size.Y
			return err
		})
		if err != nil {
			return header{}, err
		}
	}
	return h, nil
}

// maxCropped is how many pixels a picture may have before it is cut.
const maxCropped = 400_000_000

// heicBytesPerPixel is what the decoder was found to take, and our copy of it.
func heicBytesPerPixel(deep bool) float64 {
	if deep {
		return 20
	}
	return 12
}

// decode decodes in a sandbox that has a bound of memory and of time, and that is
// taken down afterwards, whatever happened in it. Two readings of one file could
// differ, so the size must be what the header said.
func (heicCodec) decode(src *source, h header) (image.Image, error) {
	data, err := readWithoutTurns(src)
	if err != nil {
		return nil, err
	}
	var img image.Image
	err = withHEIC(src.ctx, heicNeed(h, len(data)), func(ctx context.Context, d *heicDecoder) error {
		size, err := d.size(ctx, data)
		if err != nil {
			return err
		}
		if size != (image.Point{h.width, h.height}) {
			return fmt.Errorf("heic: the picture is %d × %d pixels, and its header says %d × %d", size.X, size.Y, h.width, h.height)
		}
		img, err = d.decode(ctx, data)
		return err
	})
	if src.ctx.Err() != nil {
		src.err = stopped(src.f.info.Name, src.ctx.Err())
	}
	return img, err
}

func readWithoutTurns(src *source) ([]byte, error) {
	data, err := io.ReadAll(src)
	if err != nil {
		return nil, err
	}
	src.pastEnd = false // to read all is to read to the end
	return data, withoutTurns(data)
}

// heicBudget is what a decoder may take.
type heicBudget struct {
	memory int64 // bytes
	time   time.Duration
}

// heicNeed reckons the budget from the header. The time is many times what a slow
// computer takes: it is there to end what would never end.
func heicNeed(h header, bytes int) heicBudget {
	pixels := float64(h.width) * float64(h.height)
	perMegapixel := 2 * time.Second
	if runtime.GOARCH != "amd64" && runtime.GOARCH != "arm64" {
		perMegapixel *= 60 // interpreted there
	}
	return heicBudget{
		memory: 48<<20 + 2*int64(bytes) + int64(pixels*h.bytesPerPixel),
		time:   4*time.Second + time.Duration(pixels/1e6*float64(perMegapixel)),
	}
}
