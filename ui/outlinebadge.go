package ui

import (
	"image"
	"image/color"
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"fettlebook/assess/plane"
)

// badgeRadius is that of the round label with an outline's number, in units of the
// window.
const badgeRadius = 12

// outlineBadges makes the labels once and keeps them.
type outlineBadges struct {
	density float64
	source  fyne.Resource
	font    *opentype.Font
	face    font.Face
	made    map[badgeKey]*image.RGBA
}

type badgeKey struct {
	number int
	ink    color.RGBA
	filled bool
}

// mostBadges bounds what is kept; a photo has far fewer.
const mostBadges = 1000

// badge returns the label of a number. A filled one is that of the selected
// outline.
func (b *outlineBadges) badge(key badgeKey, source fyne.Resource, density float64) *image.RGBA {
	if b.made == nil || b.density != density || b.source != source || len(b.made) > mostBadges {
		b.prepare(source, density)
	}
	if made, ok := b.made[key]; ok {
		return made
	}
	made := b.draw(key)
	b.made[key] = made
	return made
}

// prepare reads the typeface. If it can't be read the labels have no number; the
// list beside the photo still has it.
func (b *outlineBadges) prepare(source fyne.Resource, density float64) {
	if b.source != source {
		b.source, b.font = source, nil
		if parsed, err := opentype.Parse(source.Content()); err == nil {
			b.font = parsed
		}
	}
	b.density, b.made, b.face = density, map[badgeKey]*image.RGBA{}, nil
	if b.font == nil {
		return
	}
	if face, err := opentype.NewFace(b.font, &opentype.FaceOptions{Size: 12.5 * density, DPI: 72, Hinting: font.HintingNone}); err == nil {
		b.face = face
	}
}

func (b *outlineBadges) draw(key badgeKey) *image.RGBA {
	text := ""
	if key.number > 0 {
		text = strconv.Itoa(key.number)
	}
	radius := badgeRadius * b.density
	wide := 0.0 // by how much long numbers stretch the label
	if b.face != nil {
		wide = max(float64(font.MeasureString(b.face, text))/64-1.35*radius, 0)
	}
	height := int(math.Ceil(2*radius)) + 4
	made := image.NewRGBA(image.Rect(0, 0, height+int(math.Ceil(wide)), height))
	middle := plane.Point{X: float64(made.Rect.Dx()) / 2, Y: float64(height) / 2}
	ground, letters := outlineCasing, color.RGBA{R: 0x16, G: 0x16, B: 0x16, A: 0xff}
	if key.filled {
		ground, letters = key.ink, outlineCasing
	}
	for _, ring := range []struct {
		radius float64
		ink    color.RGBA
	}{{radius, outlineCasing}, {radius - 1.3*b.density, key.ink}, {radius - 3.2*b.density, ground}} {
		pill(made, middle, wide/2, ring.radius, ring.ink)
	}
	if b.face == nil {
		return made
	}
	d := font.Drawer{Dst: made, Src: image.NewUniform(letters), Face: b.face}
	across := d.MeasureString(text)
	tall := b.face.Metrics().CapHeight
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(middle.X*64) - across/2, Y: fixed.Int26_6(middle.Y*64) + tall/2}
	d.DrawString(text)
	return made
}

// pill draws a disc, stretched sideways, over what is there, alpha and all.
func pill(to *image.RGBA, middle plane.Point, stretch, radius float64, ink color.RGBA) {
	for y := range to.Rect.Dy() {
		for x := range to.Rect.Dx() {
			dx := max(math.Abs(float64(x)+0.5-middle.X)-stretch, 0)
			cover := min(radius+0.5-math.Hypot(dx, float64(y)+0.5-middle.Y), 1)
			if cover <= 0 {
				continue
			}
			pix := to.Pix[to.PixOffset(x, y):][:4]
			for c, v := range [4]uint8{ink.R, ink.G, ink.B, 0xff} {
				pix[c] = uint8(float64(pix[c])*(1-cover) + float64(v)*cover + 0.5)
			}
		}
	}
}
