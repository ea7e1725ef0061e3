package ui

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// limitSheet takes a wear limit out of the unit's manual, with the page.
type limitSheet struct {
	p  *inspectionPlace
	id record.ID // empty for a new one
	// was is the limit before it is edited, its lengths with their unit.
	was record.Limit
	// over is the reading that is being taken, to which it goes back; nil for none.
	over *readingSheet
	// unit is that of a number without one.
	unit   gauge.Unit
	dims   []dimension
	dim    *drop
	about  *paragraph
	fields map[string]*toldField
	page   fyne.CanvasObject
}

// limitLengths are the lengths of a limit in the order in which a part wears.
var limitLengths = []string{"nominal", "new", "reuse", "discard"}

func newLimitSheet(p *inspectionPlace, id record.ID, l record.Limit, over *readingSheet) *limitSheet {
	s := &limitSheet{p: p, id: id, was: l, over: over, dims: p.dimensions(), fields: map[string]*toldField{}, about: quietly("")}
	for _, length := range []*string{&s.was.Nominal, &s.was.New, &s.was.Reuse, &s.was.Discard} {
		// Limits of earlier records may stand without their unit.
		*length = gauge.WithUnit(*length, gauge.Millimetre)
	}
	names := labels(s.dims)
	s.dim = newDrop(p.f, names, nil)
	of := slices.IndexFunc(s.dims, func(d dimension) bool { return d.surface.ID == l.Surface && d.ID == l.Dimension })
	s.dim.show(names[max(of, 0)])
	ask := func(id, label, hint string) fyne.CanvasObject {
		f := newToldField(p.f, label, hint)
		f.OnSubmitted = func(string) { s.submit() }
		if slices.Contains(limitLengths, id) {
			f.Means = func(text string) string { return meansLength(text, s.unit) }
		}
		s.fields[id] = f
		return f.object
	}
	body := column(7,
		s.about, asked("of", s.dim),
		container.NewGridWithColumns(2, ask("discard", "limit: worn out from here", "0.725 in"), ask("nominal", "nominal", "0.726 in")),
		container.NewGridWithColumns(2, ask("new", "worst that a new one has", ""), ask("reuse", "no longer sound from", "")),
		ask("manual", "manual", "its title"),
		container.NewGridWithColumns(2, ask("edition", "edition", ""), ask("sheet", "page", "31")),
		container.NewGridWithColumns(2, ask("photo", "photo of the page", "its number"), ask("checked", "compared by a second person", "initials")),
		newButton(p.f, "The photo that is shown has the page", nil, s.takePhoto).low())
	s.fields["photo"].Means = s.photoSays
	s.keepUnit()
	s.fill()
	for _, f := range s.fields {
		f.OnEdited = s.compared
	}
	s.page = sheetPage(p.f, "Limit", p.side.leave, body, nil,
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
		if l.Withdrawn == "" {
			last = l
		}
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
		return
	}
	s.keepUnit()
}

// keepUnit takes the window's unit over, as long as no length was typed in another.
func (s *limitSheet) keepUnit() {
	if !slices.ContainsFunc(limitLengths, func(id string) bool { return s.text(id) != "" }) {
		s.unit = s.p.f.settings.Unit
	}
	s.about.Set(piece{Text: "Only out of the unit's manual. A number without a unit is in " + string(s.unit) + ".", Color: colorQuiet, Small: true})
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

func (s *limitSheet) text(id string) string { return strings.TrimSpace(s.fields[id].Text) }

// entry is the limit as it is typed, its lengths with their unit.
func (s *limitSheet) entry() record.Limit {
	d := s.dims[max(s.dim.SelectedIndex(), 0)]
	length := func(id string) string { return gauge.WithUnit(s.text(id), s.unit) }
	return record.Limit{
		Part: s.p.part, Surface: d.surface.ID, Dimension: d.ID, Nominal: length("nominal"), New: length("new"), Reuse: length("reuse"),
		Discard: length("discard"), Manual: s.text("manual"), Edition: s.text("edition"), Page: s.text("sheet"),
		Photo: s.photo(s.text("photo")), Checked: s.text("checked"),
	}
}

// same reports whether lengths and source are still what they were.
func (s *limitSheet) same(now record.Limit) bool {
	was := s.was
	now.By, now.Photo, now.Checked = was.By, was.Photo, was.Checked
	return now == was
}

// compared takes the second person's initials out once something else stands there
// than what that person compared.
func (s *limitSheet) compared() {
	now := s.entry()
	if s.was.Checked != "" && now.Checked == s.was.Checked && !s.same(now) {
		s.fields["checked"].SetText("")
		s.fields["checked"].means.SetText(s.was.Checked + " compared it as it was")
	}
}

// refuse says at fields what is wrong with them, and goes to the first.
func (s *limitSheet) refuse(wrong map[string]string) {
	first := true
	for _, id := range []string{"discard", "nominal", "new", "reuse", "manual", "photo"} {
		if wrong[id] == "" {
			continue
		}
		s.fields[id].refuse(wrong[id])
		if first {
			s.p.f.focus(s.fields[id].field)
			first = false
		}
	}
}

// faults are what is wrong with the entry, by field.
func (s *limitSheet) faults(l record.Limit) map[string]string {
	wrong := map[string]string{}
	limit := gauge.Limit{Grows: s.dims[max(s.dim.SelectedIndex(), 0)].Grows}
	into := map[string]*gauge.Length{"nominal": &limit.Nominal, "new": &limit.New, "reuse": &limit.Reuse, "discard": &limit.Discard}
	for _, id := range limitLengths {
		if s.text(id) == "" {
			continue
		}
		if says := lengthFault(s.text(id), s.unit); says != "" {
			wrong[id] = says
			continue
		}
		*into[id], _ = gauge.ParseLength(s.text(id), s.unit)
	}
	if s.text("discard") == "" {
		wrong["discard"] = "Type the limit: where the part is worn out."
	}
	if l.Manual == "" {
		wrong["manual"] = "Say which manual gives it: a limit without a source decides nothing."
	}
	if number := s.text("photo"); number != "" && l.Photo == "" {
		wrong["photo"] = "There is no photo " + shortened(number, 20) + " in this record."
	}
	if len(wrong) > 0 {
		return wrong
	}
	var order *gauge.OrderError
	if err := limit.Check(); errors.As(err, &order) {
		wrong[order.Field] = fmt.Sprintf("It is on the wrong side of %s: %s.", s.beside(order.Beside), order.Why())
	} else if err != nil {
		wrong["discard"] = sentence(err.Error())
	}
	return wrong
}

// beside names a length of the limit as the sheet does, with what was typed.
func (s *limitSheet) beside(id string) string {
	name := map[string]string{"nominal": "the nominal", "new": "the worst that a new one has", "reuse": "where it is no longer sound", "discard": "the limit"}[id]
	return name + ", " + gauge.WithUnit(s.text(id), s.unit)
}

// submit keeps the limit and goes on to the reading.
func (s *limitSheet) submit() {
	l := s.entry()
	if wrong := s.faults(l); len(wrong) > 0 {
		s.refuse(wrong)
		return
	}
	id := s.id
	if id == "" {
		id = record.NewID()
	} else if s.same(l) {
		l.By = s.was.By
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

// photoSays tells which photo a number names.
func (s *limitSheet) photoSays(number string) string {
	p, ok := s.p.n.Record().Photos[s.photo(strings.TrimSpace(number))]
	switch {
	case number == "":
		return ""
	case !ok:
		return "= ?"
	}
	return "= " + firstOf(oneLine(p.Note), p.Name)
}

// takePhoto names the photo that is shown as that of the page.
func (s *limitSheet) takePhoto() {
	if p, ok := s.p.n.Record().Photos[s.p.viewer.shown]; ok {
		s.fields["photo"].SetText(strconv.Itoa(p.Number))
	}
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
	p.f.focus(s.fields["discard"].field)
}
