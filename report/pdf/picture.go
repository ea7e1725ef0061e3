package pdf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/color"
	"image/jpeg"
)

// Picture is a JPEG file that has been written to the document, ready to be
// placed on pages any number of times.
type Picture struct {
	Width, Height int // pixels, as stored

	number int // of its object in the file
}

// ErrNoPicture is what the opener of a picture returns that can't be had and that the
// document can do without: the document goes on.
var ErrNoPicture = errors.New("there is no such picture")

// Picture opens a JPEG file, writes it to the document as it is, neither decoded
// nor compressed again, and lets go of its bytes. name is what an error calls
// it. A second call with the same key, unless that is empty, gives the same
// picture without opening anything. Open only pictures that will be placed.
func (d *Document) Picture(ctx context.Context, name, key string, open func() ([]byte, error)) (*Picture, error) {
	if err := d.proceed(ctx); err != nil {
		return nil, err
	}
	if pic, ok := d.byKey[key]; ok && key != "" {
		return pic, nil
	}
	pic, err := d.embed(open)
	if errors.Is(err, ErrNoPicture) {
		return nil, err
	}
	if err != nil {
		d.keep(fmt.Errorf("picture %s: %w", name, err))
		return nil, d.err
	}
	d.pictures = append(d.pictures, pic)
	if key != "" {
		d.byKey[key] = pic
	}
	d.report()
	return pic, d.failure()
}

func (d *Document) embed(open func() ([]byte, error)) (*Picture, error) {
	data, err := open()
	if err != nil {
		return nil, err
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("it is no JPEG file that can be printed: %w", err)
	}
	if bytes.LastIndex(data, []byte{0xFF, 0xD9}) < 0 {
		return nil, fmt.Errorf("the JPEG file is cut short after %d bytes", len(data))
	}
	if config.Width == 0 || config.Height == 0 {
		return nil, fmt.Errorf("the JPEG file is %d x %d pixels", config.Width, config.Height)
	}
	var space string
	switch config.ColorModel {
	case color.GrayModel:
		space = "DeviceGray"
	case color.YCbCrModel, color.RGBAModel:
		space = "DeviceRGB"
	default:
		return nil, fmt.Errorf("the JPEG file has printing colours (CMYK); save it with RGB colours")
	}
	number := d.out.stream(fmt.Sprintf("/Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /%s /BitsPerComponent 8 /Filter /DCTDecode",
		config.Width, config.Height, space), data)
	return &Picture{Width: config.Width, Height: config.Height, number: number}, nil
}

// Orientation says how a picture must be turned to be seen upright, in the
// numbers of EXIF: 1 as stored, 2 mirrored, 3 upside down, 4 mirrored and upside
// down, 5 to 8 lying on a side. Any other number is taken as 1.
type Orientation uint8

// Turned gives the orientation with quarter turns clockwise added on top.
func (o Orientation) Turned(quarters int) Orientation {
	next := [9]Orientation{1: 6, 2: 7, 3: 8, 4: 5, 5: 2, 6: 3, 7: 4, 8: 1}
	o = o.known()
	for range (quarters%4 + 4) % 4 {
		o = next[o]
	}
	return o
}

func (o Orientation) known() Orientation {
	if o < 1 || o > 8 {
		return 1
	}
	return o
}

// upright maps a place in the picture as stored to the picture as seen, both in
// parts of width and height from the top left.
func (o Orientation) upright(u, v float64) (s, t float64) {
	switch o.known() {
	case 2:
		return 1 - u, v
	case 3:
		return 1 - u, 1 - v
	case 4:
		return u, 1 - v
	case 5:
		return v, u
	case 6:
		return 1 - v, u
	case 7:
		return 1 - v, 1 - u
	case 8:
		return v, 1 - u
	}
	return u, v
}

// Size is the size of the picture in pixels as seen upright.
func (p *Picture) Size(o Orientation) (width, height int) {
	if o.known() >= 5 {
		return p.Height, p.Width
	}
	return p.Width, p.Height
}

// Placement says how a picture is placed in a box.
type Placement struct {
	Orientation Orientation
	// Crop is the part of the picture to show, in parts of its width and height
	// as stored: {0.25, 0.25, 0.5, 0.5} is the middle quarter. Zero: all of it.
	Crop Rect
	// Horizontal and Vertical say where the picture stands in a box of another
	// shape: -1 at the left or top, 0 in the middle, 1 at the right or bottom.
	Horizontal, Vertical float64
}

// Placed is where a picture stands on a page.
type Placed struct {
	Box Rect // what is seen of it

	full        Rect // the whole upright picture, also what a crop hides
	orientation Orientation
}

// At gives the place on the page of a place in the picture, which is given in
// parts of width and height of the picture as stored (u to the right, v down,
// from the outer corner of its first pixel). Outlines go over the picture so.
func (pl Placed) At(u, v float64) Point {
	s, t := pl.orientation.upright(u, v)
	return Point{pl.full.X + s*pl.full.W, pl.full.Y + t*pl.full.H}
}

// Place puts a picture upright into a box, as large as it fits, and tells where
// it stands. The pixels are left as they are: turning, mirroring and cropping
// are done by whatever shows the page. What is drawn over a cropped picture
// should be clipped to Placed.Box.
func (p *Page) Place(pic *Picture, box Rect, how Placement) Placed {
	if pic == nil || !p.ready("picture", box.X, box.Y, box.W, box.H, how.Crop.X, how.Crop.Y, how.Crop.W, how.Crop.H, how.Horizontal, how.Vertical) {
		return Placed{Box: box, full: box}
	}
	crop := how.Crop
	if crop.W <= 0 || crop.H <= 0 {
		crop = Rect{0, 0, 1, 1}
	}
	// The crop as seen: its corners may have changed places.
	s0, t0 := how.Orientation.upright(crop.X, crop.Y)
	s1, t1 := how.Orientation.upright(crop.Right(), crop.Bottom())
	seen := Rect{min(s0, s1), min(t0, t1), max(s0, s1) - min(s0, s1), max(t0, t1) - min(t0, t1)}
	width, height := pic.Size(how.Orientation)
	scale := min(box.W/(seen.W*float64(width)), box.H/(seen.H*float64(height)))
	full := Rect{W: scale * float64(width), H: scale * float64(height)}
	shown := Rect{W: seen.W * full.W, H: seen.H * full.H}
	shown.X = box.X + (box.W-shown.W)*(1+max(-1, min(1, how.Horizontal)))/2
	shown.Y = box.Y + (box.H-shown.H)*(1+max(-1, min(1, how.Vertical)))/2
	full.X, full.Y = shown.X-seen.X*full.W, shown.Y-seen.Y*full.H
	placed := Placed{Box: shown, full: full, orientation: how.Orientation}
	if seen == (Rect{0, 0, 1, 1}) {
		p.paintPicture(pic, placed)
	} else {
		p.ClipRect(shown, func() { p.paintPicture(pic, placed) })
	}
	return placed
}

// paintPicture writes the transformation of PDF's unit square, whose origin is
// the lower left corner of the picture as stored.
func (p *Page) paintPicture(pic *Picture, pl Placed) {
	origin, right, up := pl.At(0, 1), pl.At(1, 1), pl.At(0, 0)
	p.d.f.RawWriteStr(fmt.Sprintf("q %.4f %.4f %.4f %.4f %.4f %.4f cm /P%d Do Q",
		(right.X-origin.X)*pointPerMM, (origin.Y-right.Y)*pointPerMM,
		(up.X-origin.X)*pointPerMM, (origin.Y-up.Y)*pointPerMM,
		origin.X*pointPerMM, (p.Height-origin.Y)*pointPerMM, pic.number))
}
