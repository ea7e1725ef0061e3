package photo

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"strings"
)

// Format is a kind of picture file that can be read, as told by its content.
// More may be added: callers ask its methods instead of comparing.
type Format string

// The formats.
const (
	JPEG Format = "jpeg"
	PNG  Format = "png"
	TIFF Format = "tiff"
	WebP Format = "webp"
	HEIC Format = "heic"
)

// MediaType returns the format's name on the internet, such as image/jpeg.
func (f Format) MediaType() string { return "image/" + string(f) }

// Extensions returns the endings of the format's file names, lower-case and with
// their dots, such as .jpg.
func (f Format) Extensions() []string {
	for _, c := range codecs {
		if c.format() == f {
			return c.extensions()
		}
	}
	return nil
}

// Extensions returns the endings of all readable formats, lower-case and
// with their dots, for file dialogs. What a file is, its content decides.
func Extensions() []string {
	var all []string
	for _, c := range codecs {
		all = append(all, c.extensions()...)
	}
	return all
}

// header is what a codec finds without decoding pixels.
type header struct {
	width, height int
	// bytesPerPixel reckons the memory that decoding takes at its peak.
	bytesPerPixel float64
	// exif is the camera's data as a TIFF block of exifSize bytes, nil when there is
	// none.
	exif     io.ReaderAt
	exifSize int64
	// heavy is set where decoding takes so much memory that only one such photo is
	// decoded at a time.
	heavy bool
	// turn is the picture's own turn where the format has one, which then counts
	// instead of the camera's word for it; else 0.
	turn Orientation
}

// setEXIF takes a block that was read from the file.
func (h *header) setEXIF(block []byte) {
	h.exif, h.exifSize = bytes.NewReader(block), int64(len(block))
}

// codec is one readable format. A new one is a file with its codec and a
// line in codecs; nobody else needs to know.
type codec interface {
	format() Format
	extensions() []string
	// matches tells whether a file that begins with head is of this format.
	// A head shorter than sniffBytes is a whole file.
	matches(head []byte) bool
	// header reads the size that decode will have, by the same parser as
	// decode where there is a danger that two would disagree.
	header(src *source) (header, error)
	// decode is given what header found.
	decode(src *source, h header) (image.Image, error)
}

var codecs = []codec{jpegCodec{}, pngCodec{}, tiffCodec{}, webpCodec{}, heicCodec{}}

const sniffBytes = 32

func (f *File) sniff(ctx context.Context) (codec, error) {
	head := make([]byte, sniffBytes)
	src := &source{ctx: ctx, f: f}
	n, err := io.ReadFull(src, head)
	if src.err != nil {
		return nil, src.err
	}
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, cannotRead(f.info.Name, err)
	}
	head = head[:n]
	for _, c := range codecs {
		if c.matches(head) {
			return c, nil
		}
	}
	if other := otherFormat(head); other != "" {
		return nil, refuse(f.info.Name, Unsupported, nil, "save it as JPEG and attach that",
			"this is a %s picture, which cannot be read", other)
	}
	return nil, refuse(f.info.Name, NotAPhoto, nil, "choose a "+readable()+" photo",
		"this is not a picture, whatever its name says")
}

func readable() string {
	var names []string
	for _, c := range codecs {
		names = append(names, strings.ToUpper(string(c.format())))
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// otherFormat names pictures that are known by their first bytes but cannot
// be read, so that the message does not call a good photo none at all.
func otherFormat(head []byte) string {
	for _, s := range []struct{ magic, name string }{
		{"GIF8", "GIF"}, {"II*\x00", "raw"}, {"II+\x00", "large TIFF"}, {"MM\x00+", "large TIFF"}, {"BM", "BMP"},
		{"8BPS", "layered (PSD)"}, {"FUJIFILMCCD-RAW", "raw"}, {"IIRO", "raw"}, {"IIU\x00", "raw"},
		{"\xff\x0a", "JPEG XL"}, {"\x00\x00\x00\x0cJXL ", "JPEG XL"}, {"\x00\x00\x00\x0cjP  ", "JPEG 2000"},
	} {
		if bytes.HasPrefix(head, []byte(s.magic)) && (s.magic != "BM" || looksLikeBMP(head)) {
			return s.name
		}
	}
	if len(head) >= 12 && string(head[4:8]) == "ftyp" {
		switch brand := string(head[8:12]); {
		case brand == "avif" || brand == "avis":
			return "AVIF"
		case brand == "crx ":
			return "raw"
		}
	}
	return ""
}

// looksLikeBMP keeps a text that begins with BM from being called a picture.
func looksLikeBMP(head []byte) bool {
	return len(head) >= 10 && bytes.Equal(head[6:10], []byte{0, 0, 0, 0})
}

// guard turns a panic of a library into an error: a file must never end the
// program.
func guard(work func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("decoder failed: %v", r)
		}
	}()
	return work()
}
