package drawing

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

const (
	zone       = 4.0  // in which leaders lean over to their numbers, mm
	apartHeads = 0.9  // two numbers, mm
	apart      = 0.7  // two leaders where they go straight down, mm
	dot        = 0.42 // radius of the dot at a leader's end, mm
)

// labels are the numbers of a drawing: in a row above it those of the outside,
// in one below it those of the bores.
type labels struct {
	kind     *spec.Kind
	state    State
	o        Options
	up, down []mark
	named    bool
	// upLines and downLines are how many lines the names of a row take.
	upLines, downLines int
	leading            map[string]bool
}

// labelled finds which numbers stand where. Rows are measured before the part
// has its scale, so the part is drawn once without lines to be kept.
func labelled(p *spec.Profile, k *spec.Kind, state State, o Options, lines [][]line, reach extent) *labels {
	ls := &labels{kind: k, state: state, o: o, leading: map[string]bool{}}
	if o.Bare {
		return ls
	}
	scratch := &draft{pen: o.pen(), list: &List{}, scale: 1, known: func(surface string) bool {
		_, _, ok := k.Surface(surface)
		return ok
	}}
	scratch.only = true
	if p.Turned() {
		newTurned(scratch, p).draw(p)
	}
	scratch.flat(p, lines, reach.face)
	for _, m := range best(scratch.marks) {
		if m.below {
			ls.down = append(ls.down, m)
		} else {
			ls.up = append(ls.up, m)
		}
	}
	ls.upLines, ls.downLines = ls.linesFor(ls.up), ls.linesFor(ls.down)
	ls.named = o.Names && ls.upLines+ls.downLines > 0 && ls.upLines >= 0 && ls.downLines >= 0
	if !ls.named {
		ls.upLines, ls.downLines = 0, 0
	}
	return ls
}

// unnamed is the same without names on the leaders.
func (ls *labels) unnamed() *labels {
	plain := *ls
	plain.named, plain.upLines, plain.downLines = false, 0, 0
	return &plain
}

// linesFor is in how many lines the names of a row fit across, 0 for an empty
// row, -1 where they do not.
func (ls *labels) linesFor(row []mark) int {
	switch {
	case len(row) == 0:
		return 0
	case ls.fits(row, 1):
		return 1
	case ls.fits(row, 2):
		return 2
	}
	return -1
}

// lines breaks a name for a row of so many lines.
func (ls *labels) lines(surface string, lines int) []string {
	if lines < 2 {
		return []string{ls.name(surface)}
	}
	return twoLines(ls.name(surface), ls.o.Text)
}

func (ls *labels) name(surface string) string {
	s, _, _ := ls.kind.Surface(surface)
	if s == nil {
		return ""
	}
	return s.Name
}

func (ls *labels) number(surface string) string {
	_, n, _ := ls.kind.Surface(surface)
	return strconv.Itoa(n)
}

// letter is that of the verdict, empty where nobody has looked.
func (ls *labels) letter(surface string) string {
	m := ls.state.Marks[surface]
	if !m.Looked && m.Verdict == term.Undecided && m.Findings == 0 {
		return ""
	}
	return BandOf(m.Verdict).Letter
}

func (ls *labels) lettered() bool {
	for _, m := range slices.Concat(ls.up, ls.down) {
		if ls.letter(m.surface) != "" {
			return true
		}
	}
	return false
}

func (ls *labels) ring() float64 { return 0.82 * ls.o.Text }

// wide is how wide a label is whose name takes so many lines, 0 for none.
func (ls *labels) wide(surface string, lines int) float64 {
	w := 2*ls.ring() + apartHeads
	if lines > 0 {
		for _, text := range ls.lines(surface, lines) {
			w = max(w, textWidth(text, ls.o.Text)+2.5)
		}
	}
	return w
}

func (ls *labels) fits(row []mark, lines int) bool {
	sum := 0.0
	for _, m := range row {
		sum += ls.wide(m.surface, lines)
	}
	return sum <= ls.o.Width-2*margin
}

// above and below are the heights of the rows with their leaders.
func (ls *labels) above() float64 { return ls.height(ls.up, ls.upLines) }
func (ls *labels) below() float64 { return ls.height(ls.down, ls.downLines) }

func (ls *labels) height(row []mark, lines int) float64 {
	if ls.o.Bare {
		return 0.5
	}
	if len(row) == 0 {
		return 2.5 * ls.o.Band
	}
	h := 2*ls.ring() + zone + 2.5*ls.o.Band + float64(lines)*1.2*ls.o.Text
	if ls.lettered() {
		h += 1.2 * ls.o.Text
	}
	return h
}

// place draws both rows; top and bottom are where the part begins and ends.
func (ls *labels) place(d *draft, top, bottom float64) {
	var up, down []mark
	for _, m := range best(d.marks) {
		if m.below {
			down = append(down, m)
		} else {
			up = append(up, m)
		}
	}
	near := 2.5 * ls.o.Band
	ls.row(d, up, ls.upLines, top-near, -1)
	ls.row(d, down, ls.downLines, bottom+near, 1)
}

// row draws one row of numbers. Both the numbers and the places where the
// leaders come down stand in the order of the axis, so no two leaders cross.
func (ls *labels) row(d *draft, row []mark, lines int, base, way float64) {
	slices.SortStableFunc(row, func(a, b mark) int {
		return cmp.Or(cmp.Compare(a.x0+a.x1, b.x0+b.x1), cmp.Compare(a.surface, b.surface))
	})
	row, feet := standing(row)
	for len(row) > 0 && !ls.fits(row, lines) {
		least := 0
		for i := range row {
			if row[i].size < row[least].size {
				least = i
			}
		}
		row, feet = slices.Delete(row, least, least+1), slices.Delete(feet, least, least+1)
	}
	wides := make([]float64, len(row))
	for i, m := range row {
		wides[i] = ls.wide(m.surface, lines)
	}
	heads := spread(feet, wides, margin, ls.o.Width-margin)
	for i, m := range row {
		ls.leading[m.surface] = true
		ls.leader(d.list, m, lines, feet[i], heads[i], base, way)
	}
}

// standing gives each leader its foot: as near to the middle of its surface as
// the others allow, at least a little apart. What finds no foot is left out.
func standing(row []mark) ([]mark, []float64) {
	kept := make([]mark, 0, len(row))
	var least []float64
	for _, m := range row {
		lo := m.x0
		if n := len(least); n > 0 {
			lo = max(lo, least[n-1]+apart)
		}
		if lo <= m.x1 {
			kept, least = append(kept, m), append(least, lo)
		}
	}
	feet := make([]float64, len(kept))
	most := math.Inf(1)
	for i := len(kept) - 1; i >= 0; i-- {
		most = min(kept[i].x1, most-apart)
		feet[i] = max(least[i], min(most, (kept[i].x0+kept[i].x1)/2))
		most = feet[i]
	}
	return kept, feet
}

// spread puts labels as near to their feet as their widths allow: blocks of
// those that push each other stand in the middle of their feet.
func spread(feet, wides []float64, lo, hi float64) []float64 {
	type block struct {
		sum   float64 // of feet less the way from the block's start
		n     int
		wide  float64
		start float64
	}
	var blocks []block
	settle := func(b *block) { b.start = max(lo, min(b.sum/float64(b.n), hi-b.wide)) }
	for i, foot := range feet {
		b := block{sum: foot - wides[i]/2, n: 1, wide: wides[i]}
		settle(&b)
		for len(blocks) > 0 {
			last := blocks[len(blocks)-1]
			if last.start+last.wide <= b.start {
				break
			}
			b = block{sum: last.sum + b.sum - last.wide*float64(b.n), n: last.n + b.n, wide: last.wide + b.wide}
			settle(&b)
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	heads := make([]float64, 0, len(feet))
	for _, b := range blocks {
		x := b.start
		for range b.n {
			w := wides[len(heads)]
			heads = append(heads, x+w/2)
			x += w
		}
	}
	return heads
}

// leader draws a number, its letter and name, and the line down to its surface.
// way is -1 above the part and 1 below it.
func (ls *labels) leader(l *List, m mark, lines int, foot, head, base, way float64) {
	of := m.surface
	known := ls.state.Marks[of]
	r := ls.ring()
	ink, ringInk, width := Fine, Fine, ls.o.Line/2
	if of == ls.state.Chosen {
		ink, ringInk, width = Accent, Accent, ls.o.Line
	}
	near := base + way*zone
	center := Point{head, near + way*r}
	l.stroke(ink, ls.o.Line/2, of, []Point{{head, near}, {foot, base}, {foot, m.y}})
	l.fill(Outline, of, disc(Point{foot, m.y}, dot))
	ring := disc(center, r)
	number := Words
	if of == ls.state.Chosen {
		l.fill(Accent, of, ring)
		number = OnAccent
	} else {
		l.fill(Ground, of, ring)
	}
	letter := ls.letter(of)
	switch {
	case known.Findings > 0 && of != ls.state.Chosen:
		l.stroke(InkOf(known.Verdict), 1.5*ls.o.Line, of, closed(ring))
	case letter == "":
		l.stroke(ringInk, width, of, dash(closed(ring), []float64{0.8, 0.7})...)
	default:
		l.stroke(ringInk, width, of, closed(ring))
	}
	size := ls.o.Text
	l.text(number, of, Point{center.X, center.Y + 0.36*size}, size, Middle, known.Findings > 0, ls.number(of))
	l.Areas = append(l.Areas, Area{of, ring})
	y := center.Y + way*(r+0.25*size)
	// One line of text takes 1.2 sizes, of which it stands 0.74 above its foot.
	line := func(text string, ink Ink, bold bool) {
		if way > 0 {
			y += 0.8 * size
		}
		l.text(ink, of, Point{head, y}, size, Middle, bold, text)
		if way < 0 {
			y -= 1.2 * size
		} else {
			y += 0.4 * size
		}
	}
	if letter != "" {
		line(letter, InkOf(known.Verdict), true)
	} else if ls.lettered() {
		y += way * 1.2 * size
	}
	if !ls.named {
		return
	}
	name := ls.lines(of, lines)
	if way < 0 {
		slices.Reverse(name)
	}
	for _, text := range name {
		line(text, Words, of == ls.state.Chosen)
	}
}

func disc(c Point, r float64) []Point {
	const n = 28
	points := make([]Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = Point{c.X + r*cos, c.Y + r*sin}
	}
	return points
}

// missing returns the kind's surfaces that are not among those named.
func (ls *labels) missing(names []string) []string {
	var list []string
	for i := range ls.kind.Surfaces {
		if id := ls.kind.Surfaces[i].ID; !slices.Contains(names, id) {
			list = append(list, id)
		}
	}
	return list
}

// list writes below the drawing what has no leader or no name on it, in columns.
func (ls *labels) list(l *List, o Options) {
	var entries []string
	for i := range ls.kind.Surfaces {
		id := ls.kind.Surfaces[i].ID
		if !ls.leading[id] {
			l.Listed = append(l.Listed, id)
		}
		if !ls.leading[id] || !ls.named {
			entries = append(entries, id)
		}
	}
	if !o.List || len(entries) == 0 {
		return
	}
	size, row := o.Text, 1.5*o.Text
	number, letter := 2.2*size, 1.2*size
	wide := 0.0
	for _, id := range entries {
		wide = max(wide, number+letter+textWidth(ls.name(id), size)+1.5*size)
	}
	room := o.Width - 2*margin
	columns := max(1, min(len(entries), int(room/wide)))
	wide = room / float64(columns)
	rows := (len(entries) + columns - 1) / columns
	for i, id := range entries {
		x, y := margin+float64(i/rows)*wide, l.Height+row*float64(i%rows+1)-0.4*size
		m := ls.state.Marks[id]
		bold := id == ls.state.Chosen
		l.text(Quiet, id, Point{x + number - 0.6*size, y}, size, End, false, ls.number(id))
		l.text(InkOf(m.Verdict), id, Point{x + number + 0.45*letter, y}, size, Middle, true, ls.letter(id))
		l.text(Words, id, Point{x + number + letter, y}, size, Start, bold, shorten(ls.name(id), size, wide-number-letter-0.5*size))
		l.Areas = append(l.Areas, Area{id, []Point{{x, y - size}, {x + wide, y - size}, {x + wide, y + 0.5*size}, {x, y + 0.5*size}}})
	}
	l.Height += float64(rows)*row + margin
}
