package pdf

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Fonts are the typefaces of a document as the bytes of static TrueType files.
// They are only read. Regular is required; Bold and Italic fall back to it.
// Fallback faces are asked in order for what the chosen one lacks. Only faces
// that are used come into the file, and of them only the glyphs that are used.
type Fonts struct {
	Regular, Bold, Italic []byte
	Fallback              [][]byte
}

// Face is one of the three faces of the document's typeface.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
	Italic
)

// face is one TrueType file: which runes it has, how wide they are, and which
// of them the document has used so far.
type face struct {
	data   []byte
	font   *sfnt.Font
	buffer sfnt.Buffer
	name   string // PostScript name
	family string // what gofpdf calls it; set when first used
	units  int

	// advances by rune: 0 not asked yet, -1 not in the face, otherwise the
	// width in 1/1000 of the size, plus one. A table since every rune of a
	// document is looked up several times.
	advances []int32
	used     map[rune]bool

	ascent, descent, capHeight float64 // in parts of the size
}

func newFace(what string, data []byte) (*face, error) {
	parsed, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("the %s typeface is no TrueType font: %w", what, err)
	}
	f := &face{data: data, font: parsed, units: int(parsed.UnitsPerEm()), used: map[rune]bool{}}
	if f.units == 0 {
		return nil, fmt.Errorf("the %s typeface has no units per em", what)
	}
	name, err := parsed.Name(&f.buffer, sfnt.NameIDPostScript)
	if err != nil {
		return nil, fmt.Errorf("the %s typeface has no PostScript name: %w", what, err)
	}
	f.name = plainName(name)
	m, err := parsed.Metrics(&f.buffer, fixed.I(f.units), font.HintingNone)
	if err != nil {
		return nil, fmt.Errorf("the %s typeface has no metrics: %w", what, err)
	}
	em := float64(f.units) * 64
	f.ascent, f.descent = float64(m.Ascent)/em, float64(m.Descent)/em
	f.capHeight = float64(m.CapHeight) / em
	f.advances = make([]int32, 0x10000)
	return f, nil
}

// plainName keeps what can stand in a PDF name without escapes.
func plainName(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return -1
	}, s)
}

// advance is the width of r in 1/1000 of the size, rounded as gofpdf rounds it
// when it writes the widths, so that text is as wide as it was measured. ok is
// false for a rune that the face lacks or that gofpdf can't write.
func (f *face) advance(r rune) (width int, ok bool) {
	if r < 0 || r > 0xFFFF {
		return 0, false
	}
	if f.advances[r] == 0 {
		f.advances[r] = f.lookUp(r)
	}
	if f.advances[r] < 0 {
		return 0, false
	}
	return int(f.advances[r] - 1), true
}

func (f *face) lookUp(r rune) int32 {
	glyph, err := f.font.GlyphIndex(&f.buffer, r)
	if err != nil || glyph == 0 {
		return -1
	}
	adv, err := f.font.GlyphAdvance(&f.buffer, glyph, fixed.I(f.units), font.HintingNone)
	if err != nil {
		return -1
	}
	scale := 1000 / float64(f.units)
	return int32(math.Round(scale*float64(adv)/64)) + 1
}

// usedRunes lists in order what has been drawn with the face.
func (f *face) usedRunes() []rune {
	runes := make([]rune, 0, len(f.used))
	for r := range f.used {
		runes = append(runes, r)
	}
	slices.Sort(runes)
	return runes
}

// subsetName is the face's name with the six letters that mark a subset; they
// stand for what is in it.
func (f *face) subsetName() string {
	sum := sha256.Sum256([]byte(f.name + string(f.usedRunes())))
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + sum[i]%26
	}
	return string(tag) + "+" + f.name
}

// faces are all faces of a document: the three of the typeface first.
type faces struct {
	styled   [3]*face
	fallback []*face
	inUse    []*face // in the order of first use
}

func newFaces(fonts Fonts) (*faces, error) {
	if len(fonts.Regular) == 0 {
		return nil, errors.New("no regular typeface was given")
	}
	all := &faces{}
	for i, data := range [][]byte{fonts.Regular, fonts.Bold, fonts.Italic} {
		if len(data) == 0 {
			all.styled[i] = all.styled[Regular]
			continue
		}
		f, err := newFace([]string{"regular", "bold", "italic"}[i], data)
		if err != nil {
			return nil, err
		}
		all.styled[i] = f
	}
	for i, data := range fonts.Fallback {
		f, err := newFace(fmt.Sprintf("fallback %d", i+1), data)
		if err != nil {
			return nil, err
		}
		all.fallback = append(all.fallback, f)
	}
	return all, nil
}

func (a *faces) styledAs(s Face) *face {
	if int(s) < len(a.styled) {
		return a.styled[s]
	}
	return a.styled[Regular]
}

// find gives the face that draws r in a style, or nil.
func (a *faces) find(r rune, s Face) *face {
	main := a.styledAs(s)
	if _, ok := main.advance(r); ok {
		return main
	}
	for _, f := range a.fallback {
		if _, ok := f.advance(r); ok {
			return f
		}
	}
	return nil
}

// selectFace makes f the current face of gofpdf at a size in points. gofpdf is
// given a copy of the file, and only on first use: its subsetter writes into
// the bytes that it was handed (it appends to slices of them), which would
// change the next document made from the same bytes.
func (d *Document) selectFace(f *face, size float64) {
	if f.family == "" {
		f.family = fmt.Sprintf("f%d", len(d.faces.inUse))
		d.faces.inUse = append(d.faces.inUse, f)
		d.f.AddUTF8FontFromBytes(f.family, "", bytes.Clone(f.data))
	}
	d.f.SetFont(f.family, "", size)
}
