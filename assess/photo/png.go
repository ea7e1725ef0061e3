package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
)

type pngCodec struct{}

const pngMagic = "\x89PNG\r\n\x1a\n"

func (pngCodec) format() Format       { return PNG }
func (pngCodec) extensions() []string { return []string{".png"} }

func (pngCodec) matches(head []byte) bool {
	if len(head) < len(pngMagic) { // a file that breaks off in its first bytes
		return len(head) >= 4 && bytes.HasPrefix([]byte(pngMagic), head)
	}
	return bytes.HasPrefix(head, []byte(pngMagic))
}

func (pngCodec) header(src *source) (header, error) {
	// Impossible sizes get the same answer as in every other format, which
	// the decoder's own refusals would not give.
	var ihdr [29]byte
	if _, err := src.f.r.ReadAt(ihdr[:], 0); err == nil {
		w, h := int32(binary.BigEndian.Uint32(ihdr[16:])), int32(binary.BigEndian.Uint32(ihdr[20:]))
		if string(ihdr[12:16]) == "IHDR" && (w <= 0 || h <= 0 || int64(w)*int64(h) > 1<<40) {
			return header{width: int(w), height: int(h), bytesPerPixel: 8}, nil
		}
	}
	cfg, err := png.DecodeConfig(src.buffered())
	if err != nil {
		return header{}, err
	}
	h := header{width: cfg.Width, height: cfg.Height, bytesPerPixel: 4}
	switch cfg.ColorModel {
	case color.Gray16Model, color.RGBA64Model, color.NRGBA64Model:
		h.bytesPerPixel = 8 // grey too: a transparent value makes it four channels
	}
	if ihdr[28] != 0 {
		h.bytesPerPixel *= 1.5 // interlaced: the last pass is a picture of half the pixels
	}
	if block := pngEXIF(src); block != nil {
		h.setEXIF(block)
	}
	return h, src.err
}

const (
	// maxChunks ends the search for the camera's data, which may stand
	// behind the picture.
	maxChunks = 1 << 16
	// maxEXIF is twice what fits into a JPEG.
	maxEXIF = 128 << 10
)

// pngEXIF looks for the camera's data from chunk to chunk. It fails softly,
// except that it stops when it is told to.
func pngEXIF(src *source) []byte {
	off := int64(len(pngMagic))
	for range maxChunks {
		if err := src.ctx.Err(); err != nil {
			src.err = stopped(src.f.info.Name, err)
			return nil
		}
		var head [8]byte
		if off+int64(len(head)) > src.f.info.Bytes {
			return nil
		}
		if _, err := src.f.r.ReadAt(head[:], off); err != nil {
			return nil
		}
		n := int64(binary.BigEndian.Uint32(head[:4]))
		if string(head[4:]) == "eXIf" {
			if n > maxEXIF || off+8+n > src.f.info.Bytes {
				return []byte{} // there is some, and it is bad: that will be said
			}
			block := make([]byte, n)
			if _, err := src.f.r.ReadAt(block, off+8); err != nil {
				return []byte{}
			}
			return block
		}
		off += 8 + n + 4
	}
	return nil
}

func (pngCodec) decode(src *source, _ header) (image.Image, error) { return png.Decode(src.buffered()) }
