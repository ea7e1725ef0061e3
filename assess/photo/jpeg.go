package photo

import (
	"bufio"
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"io"
)

type jpegCodec struct{}

func (jpegCodec) format() Format       { return JPEG }
func (jpegCodec) extensions() []string { return []string{".jpg", ".jpeg"} }

func (jpegCodec) matches(head []byte) bool {
	return bytes.HasPrefix(head, []byte("\xff\xd8\xff")) || string(head) == "\xff\xd8"
}

// header takes the size from the decoder's own parser, since a second one
// could be led to see another size than the one that is decoded. What that
// parser does not tell (how the pixels are stored, the camera's data) is
// looked up by walking over the file's segments.
func (jpegCodec) header(src *source) (header, error) {
	cfg, err := jpeg.DecodeConfig(src.buffered())
	if err != nil {
		return header{}, err
	}
	walk := &source{ctx: src.ctx, f: src.f}
	seg := walkJPEG(walk.buffered())
	if src.err = walk.err; src.err != nil {
		return header{}, src.err
	}
	h := header{width: cfg.Width, height: cfg.Height}
	if seg.exif != nil {
		h.setEXIF(seg.exif)
	}
	if seg.width != cfg.Width || seg.height != cfg.Height || seg.samples == 0 {
		seg.progressive, seg.samples = true, 4 // the two do not agree: assume the worst
	}
	h.bytesPerPixel = seg.samples
	if seg.progressive {
		h.bytesPerPixel += 4 * seg.samples // all coefficients, kept as 32-bit numbers
		h.heavy = float64(cfg.Width)*float64(cfg.Height) > heavyProgressive
	}
	if cfg.ColorModel == color.CMYKModel || cfg.ColorModel == color.RGBAModel {
		h.bytesPerPixel += 4
	}
	return h, nil
}

// heavyProgressive is from how many pixels on progressive JPEGs go one at a time.
const heavyProgressive = 24e6

// maxScans is far above what any camera or editor writes. A file of a few
// kilobytes could otherwise ask for hours of work on one large picture.
const maxScans = 500

var errTooManyScans = errors.New("jpeg: more than 500 passes over the picture")

func (jpegCodec) decode(src *source, _ header) (image.Image, error) {
	return jpeg.Decode(&scanCounter{r: src.buffered()})
}

// scanCounter counts the scans that pass by. Inside picture data the byte ff
// is always followed by 00 or a restart mark, so the pair ff da stands only
// where a scan starts (or in a camera's data, which holds few).
type scanCounter struct {
	r    io.Reader
	last byte
	n    int
}

func (c *scanCounter) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	if n > 0 {
		c.n += bytes.Count(p[:n], []byte{0xff, 0xda})
		if c.last == 0xff && p[0] == 0xda {
			c.n++
		}
		c.last = p[n-1]
	}
	if c.n > maxScans {
		return 0, errTooManyScans
	}
	return n, err
}

type jpegSegments struct {
	width, height int
	progressive   bool
	samples       float64 // bytes that the planes take, for each pixel
	exif          []byte
}

// walkJPEG goes from segment to segment up to the picture data. It fails
// softly: whether the file is good, the decoder judges.
func walkJPEG(r *bufio.Reader) (seg jpegSegments) {
	if _, err := r.Discard(2); err != nil {
		return seg
	}
	for {
		marker, ok := nextMarker(r)
		if !ok || marker == 0xda || marker == 0xd9 {
			return seg
		}
		var size [2]byte
		if _, err := io.ReadFull(r, size[:]); err != nil {
			return seg
		}
		n := int(size[0])<<8 + int(size[1]) - 2
		if n < 0 {
			return seg
		}
		isFrame := marker >= 0xc0 && marker <= 0xc2 && seg.samples == 0
		isEXIF := marker == 0xe1 && seg.exif == nil
		if !isFrame && !isEXIF {
			if _, err := r.Discard(n); err != nil {
				return seg
			}
			continue
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return seg
		}
		if isFrame {
			seg.frame(marker, body)
		} else if block, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00")); ok {
			seg.exif = block
		}
	}
}

// nextMarker skips what the decoder skips too: stray bytes, fill bytes and
// restart marks.
func nextMarker(r *bufio.Reader) (byte, bool) {
	var last byte
	for {
		b, err := r.ReadByte()
		if err != nil {
			return 0, false
		}
		if last == 0xff && b != 0xff && b != 0 && (b < 0xd0 || b > 0xd7) {
			return b, true
		}
		last = b
	}
}

func (s *jpegSegments) frame(marker byte, b []byte) {
	if len(b) < 6 || len(b) < 6+3*int(b[5]) {
		return
	}
	s.progressive = marker == 0xc2
	s.height, s.width = int(b[1])<<8+int(b[2]), int(b[3])<<8+int(b[4])
	if b[5] == 1 {
		s.samples = 1
		return
	}
	sum, most := 0, 0
	for i := range int(b[5]) {
		hv := int(b[7+3*i]>>4) * int(b[7+3*i]&15)
		sum, most = sum+hv, max(most, hv)
	}
	if most > 0 {
		s.samples = float64(sum) / float64(most)
	}
}
