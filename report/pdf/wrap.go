package pdf

import (
	"unicode"

	"github.com/go-text/typesetting/segmenter"
)

// Line is one line of wrapped text, ready to be set.
type Line struct {
	Width float64 // millimetres
	RTL   bool    // the paragraph runs to the left

	runs []run
}

// fitTolerance forgives rounding: text that was measured to make a column must
// fit that column. In millimetres.
const fitTolerance = 1e-6

// Wrap breaks s into lines no wider than width millimetres, by the rules of
// UAX 14 for where a line may break (spaces, hyphens, between ideographs). A
// word wider than a line is cut without a hyphen: it is most likely a number or
// a file name, and a hyphen would be taken for part of it. Each line end in s
// begins a new line, and an empty string is one empty line. The time taken
// grows with the length of s, no faster.
func (d *Document) Wrap(st Style, s string, width float64) []Line {
	w := wrapper{d: d, st: st, limit: width + fitTolerance}
	text := d.faces.clean(s, st.Face)
	start := 0
	for i, r := range text {
		if r == '\n' {
			w.paragraph(text[start:i])
			start = i + 1
		}
	}
	w.paragraph(text[start:])
	return w.lines
}

type wrapper struct {
	d     *Document
	st    Style
	limit float64
	seg   segmenter.Segmenter
	lines []Line
}

func (w *wrapper) width(r rune) float64 {
	f := w.d.faces.find(r, w.st.Face)
	if f == nil {
		return 0
	}
	units, _ := f.advance(r)
	return float64(units) / 1000 * w.st.Size * mmPerPoint
}

func (w *wrapper) paragraph(text []rune) {
	mixed, rtl := rightToLeft(text)
	emit := func(line []rune) {
		line = trimSpaces(line)
		runs := w.d.faces.line(line, w.st.Face, mixed, rtl)
		w.lines = append(w.lines, Line{Width: widthOf(runs, w.st.Size), RTL: rtl, runs: runs})
	}
	start, end := 0, 0 // the line being filled
	filled := 0.0      // its width with spaces at its end
	w.seg.Init(text)
	for words := w.seg.LineIterator(); words.Next(); {
		word := words.Line()
		full, visible := w.measure(word.Text)
		if filled+visible > w.limit && end > start {
			emit(text[start:end])
			start, filled = end, 0
		}
		if visible > w.limit {
			start = w.cut(text, start, end+len(word.Text), emit)
			full, _ = w.measure(text[start : end+len(word.Text)])
			filled = 0
		}
		end += len(word.Text)
		filled += full
	}
	if end > start || len(text) == 0 {
		emit(text[start:end])
	}
}

// measure is the width of a word with and without the spaces at its end.
func (w *wrapper) measure(word []rune) (full, visible float64) {
	for _, r := range word {
		full += w.width(r)
		if r != ' ' {
			visible = full
		}
	}
	return full, visible
}

// cut emits full lines of a word that is wider than a line and gives where the
// rest of it begins. Accents are not cut off from their letter.
func (w *wrapper) cut(text []rune, start, end int, emit func([]rune)) int {
	filled := 0.0
	for i := start; i < end; i++ {
		width := w.width(text[i])
		if filled+width > w.limit && i > start && !unicode.Is(unicode.Mn, text[i]) {
			emit(text[start:i])
			start, filled = i, 0
		}
		filled += width
	}
	return start
}

func trimSpaces(line []rune) []rune {
	for len(line) > 0 && line[len(line)-1] == ' ' {
		line = line[:len(line)-1]
	}
	return line
}

// Lines sets wrapped lines one below the other in a column, y its top, and
// gives the y below the last of them. The style must be the one that they were
// wrapped in, except for its colour.
func (p *Page) Lines(x, y, width float64, st Style, align Align, lines []Line) float64 {
	baseline, height := p.d.baseline(st), st.LineHeight()
	for _, l := range lines {
		at := x
		switch {
		case align == Center:
			at = x + (width-l.Width)/2
		case align == Right, align == Start && l.RTL:
			at = x + width - l.Width
		}
		p.setRuns(at, y+baseline, st, l.runs)
		y += height
	}
	return y
}

// TextBox wraps s to width and sets it with its top at y; it gives the y below
// it. It does not look at the end of the page: text that may be long is wrapped
// first and set as many lines at a time as there is room for.
func (p *Page) TextBox(x, y, width float64, st Style, align Align, s string) float64 {
	return p.Lines(x, y, width, st, align, p.d.Wrap(st, s, width))
}
