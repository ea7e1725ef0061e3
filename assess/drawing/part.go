package drawing

import (
	"math"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Mark is what is known of one surface.
type Mark struct {
	Verdict term.Verdict
	// Looked says that the surface was looked at; Findings is how many there are.
	Looked   bool
	Findings int
}

// State is what a drawing of a part shows beside the part itself.
type State struct {
	// Marks holds the surfaces by their ids; one that is not there was not looked
	// at.
	Marks map[string]Mark
	// Chosen is the surface that is being worked on, empty for none.
	Chosen string
	// Mates are drawn faintly at their places.
	Mates []Mate
}

// Options are the measures of a drawing, all in millimetres of paper. What is 0
// takes its ordinary value.
type Options struct {
	// Width is the room across. Height is the room down; 0 takes what a part of
	// this form needs.
	Width, Height float64
	// Text is the type size, 2.8 mm ordinarily; Line the width of a visible edge,
	// 0.4 mm; Band the ordinary width of a band, 0.9 mm.
	Text, Line, Band float64
	// Names writes the surfaces' names on the leaders where all of them fit.
	Names bool
	// List writes the names of what is not named on a leader into a list below.
	List bool
	// Bare leaves numbers and bands out: the part alone.
	Bare bool
}

const (
	margin   = 1.0 // round the drawing, mm
	leastBox = 8.0 // what a part takes down at least, mm
	// leastNamed is how much smaller names may make a part before they are left
	// out.
	leastNamed = 0.65
)

func (o Options) ordinary() Options {
	if !(o.Width > 10) {
		o.Width = 10
	}
	o.Width = min(o.Width, 5000)
	if !(o.Height > 0) {
		o.Height = 0
	}
	o.Height = min(o.Height, 5000)
	if !(o.Text > 0 && o.Text < 100) {
		o.Text = 2.8
	}
	if !(o.Line > 0 && o.Line < 100) {
		o.Line = 0.4
	}
	if !(o.Band > 0 && o.Band < 100) {
		o.Band = 0.9
	}
	return o
}

func (o Options) pen() pen {
	return pen{thick: o.Line, thin: o.Line / 2, band: o.Band, pitch: max(1.1, 0.45*o.Text)}
}

// Part draws a part from its profile. A nil profile gives a plain tile, so that
// a kind that nobody has drawn can still be pointed at.
func Part(p *spec.Profile, k *spec.Kind, state State, o Options) *List {
	o = o.ordinary()
	if p == nil {
		p = tile(k)
	}
	l := &List{Width: o.Width}
	known := func(surface string) bool { _, _, ok := k.Surface(surface); return ok }
	d := &draft{pen: o.pen(), list: l, known: known, chosen: state.Chosen}
	lines := linesOf(p)
	reach := extentOf(p, lines)
	names := labelled(p, k, state, o, lines, reach)

	side := margin + d.band*2 + 2.5
	scale := func(ls *labels) float64 {
		// The room of the part is what numbers above and below leave.
		height := o.Height - ls.above() - ls.below() - 2*margin
		if o.Height == 0 {
			height = min(o.Width*0.42, max(22, o.Width*0.30))
		}
		return min((o.Width-2*side)/reach.width(), max(height, leastBox)/reach.height())
	}
	d.scale = scale(names)
	if plain := names.unnamed(); names.named && d.scale < leastNamed*scale(plain) {
		names, d.scale = plain, scale(plain)
	}
	if !(d.scale > 0) || math.IsInf(d.scale, 0) {
		d.scale = 1
	}
	l.Scale = d.scale
	above, below, height := names.above(), names.below(), reach.height()*d.scale
	d.dx = (o.Width-reach.width()*d.scale)/2 - reach.x0*d.scale
	d.dy = margin + above - reach.y0*d.scale

	l.Items = make([]Item, 0, 128)
	d.mates(p, state.Mates, box{0, margin + above*0.3, o.Width, margin + above + height + below*0.7})
	if p.Turned() {
		newTurned(d, p).draw(p)
	}
	d.flat(p, lines, reach.face)
	l.Height = margin + above + height + below + margin
	if o.Bare {
		l.Walk = walk(d.marks)
		return l
	}
	for _, e := range d.bands {
		d.layBand(e, state.Marks[e.surface])
	}
	names.place(d, margin+above, margin+above+height)
	l.Walk = walk(d.marks)
	l.Walk = append(l.Walk, names.missing(l.Walk)...)
	names.list(l, o)
	if o.Height > l.Height {
		l.Height = o.Height
	}
	return l
}

// tile is the picture of a kind that has none.
func tile(k *spec.Kind) *spec.Profile {
	p := &spec.Profile{Kind: k.ID, Paths: []spec.Path{{D: "M -40 -25 H 40 V 25 H -40 Z", As: spec.Solid}}}
	return p
}

// layBand draws the band of a surface along an edge. A surface that nobody has
// looked at and nothing is known of has none.
func (d *draft) layBand(e edge, m Mark) {
	if !m.Looked && m.Verdict == term.Undecided && m.Findings == 0 {
		return
	}
	b := BandOf(m.Verdict)
	width := d.band * b.Width
	line := offset(e.line, d.thick/2+0.25+width/2)
	ring := e.line[0] == e.line[len(e.line)-1]
	if ring && area(e.line) < 0 {
		// In a narrow opening the band may fill no more than a third of the air.
		b := none()
		b.add(e.line...)
		if room := min(b.width(), b.height()) - d.thick; width > room/6 {
			width = max(0.1, room/6)
			line = offset(e.line, d.thick/2+width)
		}
	}
	if !ring {
		line = fitted(line, d.band)
	}
	d.list.stroke(InkOf(m.Verdict), width, e.surface, Dashes(line, m.Verdict, d.band)...)
}

// fitted takes a little off both ends of a band, so that it ends before the next
// one begins, and draws a very short one out, so that it can be seen.
func fitted(line []Point, band float64) []Point {
	l := length(line)
	if l > 4*band {
		return between(line, 0.3, l-0.3)
	}
	if short := 1.6 * band; l < short && l > 0 && len(line) == 2 {
		a, b := line[0], line[1]
		extra := (short - l) / 2 / l
		return []Point{along(a, b, -extra), along(a, b, 1+extra)}
	}
	return line
}

// Dashes cuts a line into the strokes of a verdict's band, for a band of the
// ordinary width, in the line's own unit.
func Dashes(line []Point, v term.Verdict, width float64) [][]Point {
	pattern := BandOf(v).Dash
	if len(pattern) == 0 {
		return [][]Point{line}
	}
	sized := make([]float64, len(pattern))
	for i, p := range pattern {
		sized[i] = p * width * 0.6
	}
	return dash(line, sized)
}
