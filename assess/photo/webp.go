package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"

	"golang.org/x/image/webp"
)

type webpCodec struct{}

func (webpCodec) format() Format       { return WebP }
func (webpCodec) extensions() []string { return []string{".webp"} }

func (webpCodec) matches(head []byte) bool {
	return len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP"
}

func (webpCodec) header(src *source) (header, error) {
	cfg, err := webp.DecodeConfig(src.buffered())
	if err != nil {
		return header{}, err
	}
	h := header{width: cfg.Width, height: cfg.Height, bytesPerPixel: 3}
	if cfg.ColorModel != color.YCbCrModel {
		h.bytesPerPixel = 12 // without loss, or with transparency: worked on in four channels
	}
	if block, found := webpEXIF(src); found {
		h.setEXIF(block)
	}
	return h, src.err
}

// webpEXIF looks for the camera's data from chunk to chunk; it stands behind the
// picture. It fails softly, except that it stops when it is told to.
func webpEXIF(src *source) (block []byte, found bool) {
	off := int64(12)
	for range maxChunks {
		if err := src.ctx.Err(); err != nil {
			src.err = stopped(src.f.info.Name, err)
			return nil, false
		}
		var head [8]byte
		if off+int64(len(head)) > src.f.info.Bytes {
			return nil, false
		}
		if _, err := src.f.r.ReadAt(head[:], off); err != nil {
			return nil, false
		}
		n := int64(binary.LittleEndian.Uint32(head[4:]))
		if string(head[:4]) == "EXIF" {
			if n > maxEXIF || off+8+n > src.f.info.Bytes {
				return nil, true // there is some, and it is bad: that will be said
			}
			block = make([]byte, n)
			if _, err := src.f.r.ReadAt(block, off+8); err != nil {
				return nil, true
			}
			// Some programs keep the mark that JPEG has in front.
			return bytes.TrimPrefix(block, []byte("Exif\x00\x00")), true
		}
		off += 8 + n + n%2
	}
	return nil, false
}

func (webpCodec) decode(src *source, _ header) (image.Image, error) {
	return webp.Decode(src.buffered())
}
