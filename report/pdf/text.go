package pdf

import (
	"math"
	"slices"
	"unicode"
)

// Style is how text is set. Any string may be set in any style: what the face
// lacks is taken from the fallback faces, and what none has is named by number,
// as ‹U+1F527›.
type Style struct {
	Face    Face
	Size    float64 // points
	Color   Color   // black if none is given
	Leading float64 // distance of lines as a multiple of Size, 1.35 if 0
}

// With gives the style in another face.
func (s Style) With(f Face) Style { s.Face = f; return s }

// In gives the style in another colour.
func (s Style) In(c Color) Style { s.Color = c; return s }

// At gives the style in another size, in points.
func (s Style) At(size float64) Style { s.Size = size; return s }

// LineHeight is the distance from line to line in millimetres.
func (s Style) LineHeight() float64 {
	leading := s.Leading
	if leading == 0 {
		leading = 1.35
	}
	return leading * s.Size * mmPerPoint
}

// Align says where text stands from the x that is given with it.
type Align uint8

// Start is at the left, except for lines of right-to-left paragraphs that are
// given a width: those stand at the right.
const (
	Start Align = iota
	Left
	Center
	Right
)

// run is a stretch of a line in one face, in visual order.
type run struct {
	face  *face
	text  string
	width int // 1/1000 of the size
}

// runs cuts text in visual order into stretches of one face. An accent stays
// with the face of the letter below it where that has it, so that it is placed
// by that face's measures.
func (a *faces) runs(text []rune, style Face) []run {
	var out []run
	start := 0
	var current *face
	width := 0
	flush := func(end int) {
		if current != nil && end > start {
			out = append(out, run{current, string(text[start:end]), width})
		}
		start, width = end, 0
	}
	for i, r := range text {
		f := a.find(r, style)
		if current != nil && unicode.Is(unicode.Mn, r) {
			if _, ok := current.advance(r); ok {
				f = current
			}
		}
		if f != current {
			flush(i)
			current = f
		}
		if f != nil {
			w, _ := f.advance(r)
			width += w
		}
	}
	flush(len(text))
	return out
}

// line puts clean text into runs as seen. rtl is the paragraph's direction.
func (a *faces) line(text []rune, style Face, mixed, rtl bool) []run {
	if mixed {
		text = visual(text, rtl)
	}
	return a.runs(text, style)
}

func widthOf(runs []run, size float64) float64 {
	total := 0
	for _, r := range runs {
		total += r.width
	}
	return float64(total) / 1000 * size * mmPerPoint
}

// prepare makes the runs of a text that is set as one line.
func (d *Document) prepare(st Style, s string) []run {
	text := d.faces.oneLine(s, st.Face)
	mixed, rtl := rightToLeft(text)
	return d.faces.line(text, st.Face, mixed, rtl)
}

// Width is how wide s is as one line, in millimetres.
func (d *Document) Width(st Style, s string) float64 {
	return widthOf(d.prepare(st, s), st.Size)
}

// CapHeight is the height of the style's capital letters in millimetres.
func (d *Document) CapHeight(st Style) float64 {
	return d.faces.styledAs(st.Face).capHeight * st.Size * mmPerPoint
}

// baseline is how far below the top of a line its baseline is.
func (d *Document) baseline(st Style) float64 {
	f := d.faces.styledAs(st.Face)
	size := st.Size * mmPerPoint
	return (st.LineHeight()-(f.ascent+f.descent)*size)/2 + f.ascent*size
}

// Text sets s as one line with its baseline at y, and gives its width. With
// Center and Right, x is the middle or the right end of the text. Line feeds
// become spaces.
func (p *Page) Text(x, y float64, st Style, align Align, s string) float64 {
	runs := p.d.prepare(st, s)
	width := widthOf(runs, st.Size)
	switch align {
	case Center:
		x -= width / 2
	case Right:
		x -= width
	}
	p.setRuns(x, y, st, runs)
	return width
}

// Shorten cuts s so that it is no wider than width as one line, and says so
// with an ellipsis. For names in headers and tables; never for evidence.
func (d *Document) Shorten(st Style, s string, width float64) string {
	if d.Width(st, s) <= width {
		return s
	}
	text := d.faces.oneLine(s, st.Face)
	limit := width - d.Width(st, "…")
	taken := 0.0
	for i, r := range text {
		w := 0
		if f := d.faces.find(r, st.Face); f != nil {
			w, _ = f.advance(r)
		}
		taken += float64(w) / 1000 * st.Size * mmPerPoint
		if taken > limit {
			return string(slices.Clone(text[:i])) + "…"
		}
	}
	return s
}

func (p *Page) setRuns(x, y float64, st Style, runs []run) {
	if len(runs) == 0 || !p.ready("text", x, y, st.Size) {
		return
	}
	if st.Size <= 0 {
		p.d.fail("page %d: text of size %g; give a size in points", p.Number, st.Size)
		return
	}
	c := st.Color
	if !c.on {
		c = Black
	}
	f := p.d.f
	// Both colours, as gofpdf leaves out the colour of text that equals the
	// fill it believes to be set, which is not so after a clip has ended.
	f.SetFillColor(int(c.R), int(c.G), int(c.B))
	f.SetTextColor(int(c.R), int(c.G), int(c.B))
	size := math.Round(st.Size*100) / 100 // as gofpdf writes it
	for _, r := range runs {
		p.d.selectFace(r.face, size)
		for _, c := range r.text {
			r.face.used[c] = true
		}
		f.Text(x, y, r.text)
		x += float64(r.width) / 1000 * size * mmPerPoint
	}
}
