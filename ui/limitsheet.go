package ui

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// limitSheet takes a wear limit out of the unit's manual, with the page.
type limitSheet struct {
	p *inspectionPlace
	// over is the reading that is being taken, to which it goes back; nil for none.
	over   *readingSheet
	dims   []dimension
	dim    *drop
	fields map[string]*field
	fault  *paragraph
	page   fyne.CanvasObject
}

func newLimitSheet(p *inspectionPlace, over *readingSheet) *limitSheet {
	s := &limitSheet{p: p, over: over, dims: p.dimensions(), fields: map[string]*field{}, fault: newParagraph()}
	names := labels(s.dims)
	s.dim = newDrop(p.f, names, nil)
	s.dim.show(names[0])
	if over != nil {
		at := over.now()
		of := slices.IndexFunc(s.dims, func(d dimension) bool { return d.surface.ID == at.surface.ID && d.ID == at.ID })
		s.dim.show(names[max(of, 0)])
	}
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
	s.fields["manual"].SetText(s.lastManual().Manual)
	s.fields["edition"].SetText(s.lastManual().Edition)
	s.page = sheetPage(p.f, "Limit", p.side.leave, body, s.fault,
		newButton(p.f, "Done   Enter", nil, s.submit).primary(), newButton(p.f, "Cancel   Esc", nil, p.side.leave))
	return s
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
func (s *limitSheet) refreshed()                {}

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
	if s.p.do("The limit was not kept.", s.p.n.TypeLimit(record.NewID(), l)) {
		if s.back() {
			return
		}
		s.p.chooseSurface(l.Surface)
		s.p.showReading("")
	}
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

// showLimit asks for a limit of what is being measured, or of the chosen surface.
func (p *inspectionPlace) showLimit() {
	if len(p.dimensions()) == 0 || !p.editable() {
		return
	}
	over, _ := p.side.sheet.(*readingSheet)
	s := newLimitSheet(p, over)
	p.side.put(s)
	p.f.focus(s.fields["discard"])
}
