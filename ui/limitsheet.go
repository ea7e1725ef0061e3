package ui

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// limitSheet takes a wear limit out of the unit's manual, with the page.
type limitSheet struct {
	p  *inspectionPlace
	id record.ID // empty for a new one
	// was is the limit before it is edited.
	was record.Limit
	// over is the reading that is being taken, to which it goes back; nil for none.
	over   *readingSheet
	dims   []dimension
	dim    *drop
	fields map[string]*field
	fault  *paragraph
	page   fyne.CanvasObject
}

func newLimitSheet(p *inspectionPlace, id record.ID, l record.Limit, over *readingSheet) *limitSheet {
	s := &limitSheet{p: p, id: id, was: l, over: over, dims: p.dimensions(), fields: map[string]*field{}, fault: newParagraph()}
	names := labels(s.dims)
	s.dim = newDrop(p.f, names, nil)
	of := slices.IndexFunc(s.dims, func(d dimension) bool { return d.surface.ID == l.Surface && d.ID == l.Dimension })
	s.dim.show(names[max(of, 0)])
	ask := func(id, label, hint string) fyne.CanvasObject {
		f := newField(p.f, hint)
		f.OnSubmitted = func(string) { s.submit() }
		s.fields[id] = f
		return asked(label, f)
	}
	body := column(7,
		quietly("Only out of the unit's manual. A length carries its unit, else it is in millimetres: 18.415, 0.725 in."),
		asked("of", s.dim),
		container.NewGridWithColumns(2, ask("discard", "limit: worn out from here", "0.725 in"), ask("nominal", "nominal", "0.726 in")),
		container.NewGridWithColumns(2, ask("new", "worst that a new one has", ""), ask("reuse", "no longer sound from", "")),
		ask("manual", "manual", "its title"),
		container.NewGridWithColumns(2, ask("edition", "edition", ""), ask("sheet", "page", "31")),
		container.NewGridWithColumns(2, ask("photo", "photo that shows the page", "its number"), ask("checked", "compared by a second person", "initials")))
	s.fill()
	s.page = sheetPage(p.f, "Limit", p.side.leave, body, s.fault,
		newButton(p.f, "Done   Enter", nil, s.submit).primary(), newButton(p.f, "Cancel   Esc", nil, p.side.leave))
	return s
}

func (s *limitSheet) fill() {
	l := s.was
	if s.id == "" {
		last := s.lastManual()
		l.Manual, l.Edition = last.Manual, last.Edition
	}
	for id, text := range map[string]string{
		"nominal": l.Nominal, "new": l.New, "reuse": l.Reuse, "discard": l.Discard,
		"manual": l.Manual, "edition": l.Edition, "sheet": l.Page, "checked": l.Checked,
	} {
		s.fields[id].SetText(text)
	}
	if photo, ok := s.p.n.Record().Photos[l.Photo]; ok {
		s.fields["photo"].SetText(strconv.Itoa(photo.Number))
	}
}

// lastManual is the limit that was typed in last: the next is mostly out of the
// same manual.
func (s *limitSheet) lastManual() (last record.Limit) {
	for _, l := range record.InOrder(s.p.n.Record().Limits) {
		last = l
	}
	return last
}

func (s *limitSheet) object() fyne.CanvasObject { return s.page }
func (s *limitSheet) aboutPart() bool           { return true }
func (s *limitSheet) closed()                   {}

// refreshed closes the sheet when undo took away what it is about.
func (s *limitSheet) refreshed() {
	if _, ok := s.p.n.Record().Limits[s.id]; s.id != "" && !ok {
		s.p.side.leave()
	}
}

// back goes on with the reading, of which nothing is lost.
func (s *limitSheet) back() bool {
	if s.over == nil {
		return false
	}
	s.p.side.put(s.over)
	s.p.f.focus(s.over.value)
	s.over.refreshed()
	return true
}

func (s *limitSheet) refuse(id, text string) {
	s.fault.Set(piece{Text: text, Color: theme.ColorNameError})
	s.p.f.focus(s.fields[id])
}

// submit keeps the limit and goes on to the reading.
func (s *limitSheet) submit() {
	text := func(id string) string { return strings.TrimSpace(s.fields[id].Text) }
	d := s.dims[max(s.dim.SelectedIndex(), 0)]
	l := record.Limit{
		Part: s.p.part, Surface: d.surface.ID, Dimension: d.ID, Nominal: text("nominal"), New: text("new"), Reuse: text("reuse"),
		Discard: text("discard"), Manual: text("manual"), Edition: text("edition"), Page: text("sheet"), Checked: text("checked"),
	}
	if l.Discard == "" {
		s.refuse("discard", "Type the limit: where the part is worn out.")
		return
	}
	if l.Manual == "" {
		s.refuse("manual", "Say which manual gives it: a limit without a source decides nothing.")
		return
	}
	if _, err := (spec.Limit{Nominal: l.Nominal, New: l.New, Reuse: l.Reuse, Discard: l.Discard}).Lengths(d.Grows); err != nil {
		s.refuse("discard", sentence(err.Error()))
		return
	}
	if number := text("photo"); number != "" {
		if l.Photo = s.photo(number); l.Photo == "" {
			s.refuse("photo", "There is no photo "+shortened(number, 20)+" in this record.")
			return
		}
	}
	id := s.id
	if id == "" {
		id = record.NewID()
	}
	if !s.p.do("The limit was not kept.", s.p.n.TypeLimit(id, l)) || s.back() {
		return
	}
	s.p.chooseSurface(l.Surface)
	if s.id == "" {
		s.p.showReading("")
		return
	}
	s.p.side.close()
	s.p.chooseEntry(id)
	s.p.refreshSoon()
}

// photo finds a photo by its number.
func (s *limitSheet) photo(number string) record.ID {
	for id, p := range s.p.n.Record().Photos {
		if number == strconv.Itoa(p.Number) {
			return id
		}
	}
	return ""
}

// showLimit asks for a limit of what is being measured, or of the chosen surface;
// one that was typed in for it before is corrected.
func (p *inspectionPlace) showLimit() {
	over, reading := p.side.sheet.(*readingSheet)
	if len(p.dimensions()) == 0 || !p.editable() || p.side.open() && !reading {
		return
	}
	of := p.dimensions()[0]
	if over != nil {
		of = over.now()
	}
	id, _ := inspection.TypedLimit(p.n.Record(), p.part, of.surface.ID, of.ID)
	l := p.n.Record().Limits[id]
	if id == "" {
		l.Surface, l.Dimension = of.surface.ID, of.ID
	}
	p.putLimit(newLimitSheet(p, id, l, over))
}

// editLimit opens a limit that was typed in.
func (p *inspectionPlace) editLimit(id record.ID) {
	l := p.n.Record().Limits[id]
	if !slices.ContainsFunc(p.dimensions(), func(d dimension) bool { return d.surface.ID == l.Surface && d.ID == l.Dimension }) {
		p.tellUnknown("limit", "No spec in force knows this dimension.")
		return
	}
	p.putLimit(newLimitSheet(p, id, l, nil))
}

func (p *inspectionPlace) putLimit(s *limitSheet) {
	p.side.put(s)
	p.f.focus(s.fields["discard"])
}
