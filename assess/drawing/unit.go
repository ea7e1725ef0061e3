package drawing

import (
	"strings"

	"fettlebook/assess/spec"
)

// Stand is one part of a unit that is laid out.
type Stand struct {
	Place   *spec.Place
	Kind    *spec.Kind
	Profile *spec.Profile // nil for a kind that nobody has drawn
	Mark    Mark
	// Name is written below the part where there is room, Note beside it as a
	// short number or letter, such as the line of a table that speaks of it.
	Name, Note string
}

// Stands lists the parts of a unit with the profiles that the specs hold; marks
// are the parts' own, by place.
func Stands(set *spec.Set, u *spec.Unit, marks map[string]Mark) []Stand {
	stands := make([]Stand, 0, len(u.Places))
	for i := range u.Places {
		place := &u.Places[i]
		k, ok := set.Kind(place.Kind)
		if !ok {
			continue
		}
		p, _ := set.Profile(place.Kind, u.ID, place.ID)
		stands = append(stands, Stand{Place: place, Kind: k, Profile: p, Mark: marks[place.ID], Name: place.Name})
	}
	return stands
}

// Unit draws a whole unit as an exploded view: its parts along their shafts, all
// at one scale but for what is larger than any gear, each with the band and the
// letter of its worst verdict below it. Chosen is a place, empty for none. With
// Names, names stand below the parts where they fit; a note always stands there.
// Height is what the drawing may take at most, 0 for no bound.
func Unit(stands []Stand, chosen string, o Options) *List {
	o = o.ordinary()
	l := &List{Width: o.Width, Items: make([]Item, 0, 1024)}
	rows := rowsOf(stands)
	if len(rows) == 0 {
		l.Height = 2 * margin
		return l
	}
	e := &exploded{list: l, o: o, chosen: chosen}
	for _, row := range rows {
		var parts []piece
		for i := range row {
			parts = append(parts, pieceOf(row[i]))
		}
		e.rows = append(e.rows, parts)
	}
	e.shrink()
	e.layOut()
	return l
}

// rowsOf parts the unit into its shafts. A part whose kind names no shaft stands
// with the part before it.
func rowsOf(stands []Stand) [][]*Stand {
	byRow := map[int][]*Stand{}
	most, row := 0, 1
	for i := range stands {
		if p := stands[i].Profile; p != nil && p.Row > 0 {
			row = p.Row
		}
		byRow[row] = append(byRow[row], &stands[i])
		most = max(most, row)
	}
	var rows [][]*Stand
	for r := 1; r <= most; r++ {
		if len(byRow[r]) > 0 {
			rows = append(rows, byRow[r])
		}
	}
	return rows
}

// piece is a part on its way into the exploded view: its side view only, in mm
// of the part, and how much smaller than the others it is drawn.
type piece struct {
	*Stand
	profile *spec.Profile
	lines   [][]line
	extent  extent
	ratio   float64
}

func pieceOf(s *Stand) piece {
	p := s.Profile
	if p == nil {
		p = tile(s.Kind)
	}
	// On its shaft a turned part is seen from the side, not along the axis.
	if p.Turned() && len(p.Paths) > 0 {
		side := *p
		side.Paths = nil
		p = &side
	}
	lines := linesOf(p)
	return piece{Stand: s, profile: p, lines: lines, extent: extentOf(p, lines), ratio: 1}
}

func (p *piece) width() float64  { return p.extent.width() * p.ratio }
func (p *piece) height() float64 { return p.extent.height() * p.ratio }

type exploded struct {
	list   *List
	o      Options
	chosen string
	rows   [][]piece
	// tall is the height of the tallest turned part, in mm of it.
	tall float64
}

const (
	partGap = 2.2 // between two parts, mm of paper
	rowGap  = 2.5
	// widestFlat is how wide a part that is not turned may be drawn, as a multiple
	// of the tallest turned one's height.
	widestFlat = 1.6
	// leastTurned and leastFlat are how small a part may be drawn, by the same
	// measure: a snap ring is still told from a washer.
	leastTurned = 0.16
	leastFlat   = 0.34
	// leastTall is how tall the tallest gear should be before a shaft is broken
	// into lines, and mostLines into how many at most.
	leastTall, mostLines = 7.0, 8
)

// shrink brings what is far from the size of a gear nearer to it: a case would
// else leave no room for the rest, and a split pin could not be seen.
func (e *exploded) shrink() {
	tall := 0.0
	for _, row := range e.rows {
		for i := range row {
			if row[i].profile.Turned() {
				tall = max(tall, row[i].extent.height())
			}
		}
	}
	e.tall = tall
	if tall == 0 {
		return
	}
	for _, row := range e.rows {
		for i := range row {
			p := &row[i]
			size := max(p.extent.width(), p.extent.height())
			least := leastTurned * tall
			if !p.profile.Turned() {
				least = leastFlat * tall
				p.ratio = min(1, widestFlat*tall/max(1e-9, p.extent.width()), tall/max(1e-9, p.extent.height()))
			}
			if size*p.ratio < least && size > 0 {
				p.ratio = least / size
			}
		}
	}
}

// flow is one line of the layout: rows that stand beside each other.
type flow struct {
	pieces []piece
	breaks []int // where another shaft begins
	wide   float64
	tall   float64
}

// layOut finds the largest scale at which everything fits, then draws. A shaft
// is broken into several lines only where it would be too small to see in one.
func (e *exploded) layOut() {
	best, lines := 0.0, 1
	for n := 1; n <= mostLines; n++ {
		low, high := 0.0, 2.0
		for range 24 {
			middle := (low + high) / 2
			if _, height, ok := e.flows(middle, n); ok && (e.o.Height == 0 || height <= e.o.Height) {
				low = middle
			} else {
				high = middle
			}
		}
		if low > best {
			best, lines = low, n
		}
		if best*e.tall >= leastTall {
			break
		}
	}
	best = max(best, 0.005)
	flows, height, _ := e.flows(best, lines)
	e.list.Scale = best
	y := margin
	for _, f := range flows {
		e.line(f, best, y)
		y += f.tall + e.foot() + rowGap
	}
	e.list.Height = height
}

// foot is what a part takes below itself: band, letter, name.
func (e *exploded) foot() float64 {
	if e.o.Bare {
		return 0
	}
	h := 1.2 + 1.6*e.o.Band + 1.25*e.o.Text
	if e.o.Names {
		h += 2.3 * e.o.Text
	}
	return h
}

// flows packs the shafts into lines at a scale, one into so many lines at most;
// ok says that everything fits across.
func (e *exploded) flows(scale float64, most int) (flows []flow, height float64, ok bool) {
	room := e.o.Width - 2*margin
	ok = true
	for _, row := range e.rows {
		lines := e.broken(row, scale, room)
		ok = ok && len(lines) <= most
		for _, f := range lines {
			ok = ok && f.wide <= room
			if n := len(flows); n > 0 && len(lines) == 1 && flows[n-1].wide+4*partGap+f.wide <= room {
				last := &flows[n-1]
				last.breaks = append(last.breaks, len(last.pieces))
				last.pieces = append(last.pieces, f.pieces...)
				last.wide += 4*partGap + f.wide
				last.tall = max(last.tall, f.tall)
				continue
			}
			flows = append(flows, f)
		}
	}
	height = 2*margin - rowGap
	for _, f := range flows {
		height += f.tall + e.foot() + rowGap
	}
	return flows, height, ok
}

// broken is one shaft in as few lines as the room across allows.
func (e *exploded) broken(row []piece, scale, room float64) []flow {
	var lines []flow
	for i := range row {
		w, h := e.wide(&row[i], scale), row[i].height()*scale
		if n := len(lines); n > 0 && lines[n-1].wide+partGap+w <= room {
			f := &lines[n-1]
			f.pieces, f.wide, f.tall = append(f.pieces, row[i]), f.wide+partGap+w, max(f.tall, h)
			continue
		}
		lines = append(lines, flow{pieces: []piece{row[i]}, wide: w, tall: h})
	}
	return lines
}

// wide is the room that a part takes across: itself, its letter, its name.
func (e *exploded) wide(p *piece, scale float64) float64 {
	w := max(p.width()*scale, 1.1*e.o.Text)
	if !e.o.Bare {
		w = max(w, textWidth(e.caption(p), e.o.Text)+0.4)
	}
	if e.o.Names {
		for _, text := range twoLines(p.Name, e.o.Text) {
			w = max(w, textWidth(text, e.o.Text))
		}
	}
	return w
}

// caption is a part's note and its letter.
func (e *exploded) caption(p *piece) string {
	letter := ""
	if !p.Kind.Consumable && (p.Mark.Looked || p.Mark.Verdict != 0 || p.Mark.Findings > 0) {
		letter = BandOf(p.Mark.Verdict).Letter
	}
	return strings.TrimSpace(p.Note + " " + letter)
}

// line draws one line of parts, spread over the width, each shaft with its axis.
func (e *exploded) line(f flow, scale, y float64) {
	gap := partGap
	if n := len(f.pieces) - 1; n > 0 {
		gap += min(3, (e.o.Width-2*margin-f.wide)/float64(n+3*len(f.breaks)))
	}
	total := -gap
	for i := range f.pieces {
		total += e.wide(&f.pieces[i], scale) + gap
	}
	total += 3 * gap * float64(len(f.breaks))
	x := (e.o.Width - total) / 2
	middle := y + f.tall/2
	begin := x
	next := 0
	axis := func(end float64) {
		if end-begin > 1 {
			e.list.stroke(Axis, e.o.Line/2, "", dash([]Point{{begin - 1, middle}, {end + 1, middle}}, chain)...)
		}
	}
	var drawn []float64
	for i := range f.pieces {
		if next < len(f.breaks) && f.breaks[next] == i {
			axis(x - gap)
			x += 3 * gap
			begin = x
			next++
		}
		drawn = append(drawn, x)
		x += e.wide(&f.pieces[i], scale) + gap
	}
	axis(x - gap)
	for i := range f.pieces {
		p := &f.pieces[i]
		e.piece(p, scale, drawn[i]+e.wide(p, scale)/2, middle, y+f.tall)
	}
}

// piece draws one part round its middle, and its band below the line of parts.
func (e *exploded) piece(p *piece, scale, x, middle, bottom float64) {
	of := p.Place.ID
	s := scale * p.ratio
	w, h := p.extent.width()*s, p.extent.height()*s
	part := &List{}
	d := &draft{pen: e.pen(), list: part, scale: s, known: func(string) bool { return false }}
	d.dx, d.dy = x-w/2-p.extent.x0*s, middle-h/2-p.extent.y0*s
	if p.profile.Turned() {
		t := newTurned(d, p.profile)
		t.plain = true
		t.draw(p.profile)
	}
	d.flat(p.profile, p.lines, Point{})
	for _, it := range part.Items {
		it.Of = of
		if of == e.chosen && it.Ink == Metal {
			it.Ink = Chosen
		}
		e.list.Items = append(e.list.Items, it)
	}
	box := []Point{{x - w/2, middle - h/2}, {x + w/2, middle - h/2}, {x + w/2, middle + h/2}, {x - w/2, middle + h/2}}
	e.list.Areas = append(e.list.Areas, Area{of, box})
	e.list.Walk = append(e.list.Walk, of)
	if e.o.Bare {
		return
	}
	e.under(p, x, max(w, 1.1*e.o.Text), bottom)
}

func (e *exploded) under(p *piece, x, w, bottom float64) {
	of := p.Place.ID
	y := bottom + 0.6 + 0.8*e.o.Band
	m := p.Mark
	if !p.Kind.Consumable && (m.Looked || m.Verdict != 0 || m.Findings > 0) {
		b := BandOf(m.Verdict)
		e.list.stroke(InkOf(m.Verdict), e.o.Band*b.Width, of, Dashes([]Point{{x - w/2, y}, {x + w/2, y}}, m.Verdict, e.o.Band)...)
	} else {
		e.list.stroke(Faint, e.o.Line/2, of, []Point{{x - w/2, y}, {x + w/2, y}})
	}
	y += 0.8*e.o.Band + 1.05*e.o.Text
	e.list.text(InkOf(m.Verdict), of, Point{x, y}, e.o.Text, Middle, true, e.caption(p))
	if !e.o.Names {
		e.touch(of, x, w, bottom, y)
		return
	}
	for _, text := range twoLines(p.Name, e.o.Text) {
		y += 1.12 * e.o.Text
		e.list.text(Words, of, Point{x, y}, e.o.Text, Middle, of == e.chosen, text)
	}
	e.touch(of, x, w, bottom, y)
}

func (e *exploded) touch(of string, x, w, from, to float64) {
	e.list.Areas = append(e.list.Areas, Area{of, []Point{{x - w/2, from}, {x + w/2, from}, {x + w/2, to}, {x - w/2, to}}})
}

// pen is finer than that of a part alone, since everything is small.
func (e *exploded) pen() pen {
	return pen{thick: 0.65 * e.o.Line, thin: 0.32 * e.o.Line, band: e.o.Band, pitch: 0.9}
}
