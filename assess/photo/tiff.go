package photo

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"io"

	"golang.org/x/image/tiff"
)

type tiffCodec struct{}

func (tiffCodec) format() Format       { return TIFF }
func (tiffCodec) extensions() []string { return []string{".tif", ".tiff"} }

func (tiffCodec) matches(head []byte) bool {
	if bytes.HasPrefix(head, []byte("II*\x00")) {
		return len(head) < 10 || string(head[8:10]) != "CR" // a raw file that begins as TIFF
	}
	return bytes.HasPrefix(head, []byte("MM\x00*"))
}

// The tags by which a raw file is told from a TIFF picture: raw files are TIFF
// with a small picture in front, which must not pass for the photo.
const (
	tagSubfileType = 0x00fe
	tagDNGVersion  = 0xc612
	tagTIFFWidth   = 0x0100
	tagTIFFHeight  = 0x0101
)

var errRaw = errors.New("this is a camera's raw file")

func (tiffCodec) header(src *source) (header, error) {
	at := src.at()
	dir, err := firstDirectory(at)
	if err != nil {
		return header{}, err
	}
	kind, _ := dir.number(tagSubfileType)
	if _, dng := dir.number(tagDNGVersion); dng || kind&1 != 0 {
		return header{}, errRaw
	}
	// Impossible sizes get the same answer as in every other format.
	w, okW := dir.number(tagTIFFWidth)
	ht, okH := dir.number(tagTIFFHeight)
	if okW && okH && (w == 0 || ht == 0 || uint64(w)*uint64(ht) > 1<<40) {
		return header{width: int(min(w, 1<<31-1)), height: int(min(ht, 1<<31-1)), bytesPerPixel: 8}, nil
	}
	cfg, err := tiff.DecodeConfig(at)
	if err != nil {
		return header{}, err
	}
	h := header{width: cfg.Width, height: cfg.Height, bytesPerPixel: 8}
	switch cfg.ColorModel {
	case color.Gray16Model, color.RGBA64Model, color.NRGBA64Model:
		h.bytesPerPixel = 16
	}
	h.exif, h.exifSize = at, src.f.info.Bytes
	return h, nil
}

func (tiffCodec) decode(src *source, _ header) (image.Image, error) { return tiff.Decode(src.at()) }

// atSource is a source that is read here and there, as TIFF must be.
type atSource struct{ *source }

func (s *source) at() atSource { return atSource{s} }

// ReadAt implements io.ReaderAt. What is asked for beyond the end is remembered,
// as by Read.
func (s atSource) ReadAt(p []byte, off int64) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	if err := s.ctx.Err(); err != nil {
		s.err = stopped(s.f.info.Name, err)
		return 0, s.err
	}
	left := s.f.info.Bytes - off
	if off < 0 || left <= 0 {
		s.pastEnd = true
		return 0, io.EOF
	}
	want := p[:min(int64(len(p)), left)]
	n, err := s.f.r.ReadAt(want, off)
	switch {
	case n == len(p):
		return n, nil
	case n == len(want):
		s.pastEnd = true
		return n, io.EOF
	case err == io.EOF:
		s.err = changed(s.f.info.Name, "became shorter")
	default:
		s.err = cannotRead(s.f.info.Name, err)
	}
	return n, s.err
}
