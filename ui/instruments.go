package ui

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// instrumentsPage is the page of the shop's instruments and of the rule by which
// their readings are decided.
type instrumentsPage struct {
	f    *frame
	from place
	g    inspection.Gauges
	// row is the one that the form shows; drafts are rows that were edited and not
	// kept yet, as they were typed.
	row    string
	drafts map[string]record.Instrument

	list   *rows
	kind   *drop
	fields map[string]*toldField
	rule   *choices
	about  *paragraph
	fault  *paragraph
	page   fyne.CanvasObject
}

// instrumentFields are what is asked of an instrument, with where it is kept.
var instrumentFields = []struct {
	id, label, hint string
	at              func(*record.Instrument) *string
}{
	{"name", "name", "micrometer 0–25", func(in *record.Instrument) *string { return &in.Name }},
	{"serial", "serial", "as engraved", func(in *record.Instrument) *string { return &in.Serial }},
	{"resolution", "smallest step", "0.001 mm", func(in *record.Instrument) *string { return &in.Resolution }},
	{"error", "permissible error", "0.002 mm", func(in *record.Instrument) *string { return &in.Error }},
	{"repeatability", "repeatability by your hand", "usual for its kind", func(in *record.Instrument) *string { return &in.Repeatability }},
	{"transfer", "transfer of the size", "telescopic gauges", func(in *record.Instrument) *string { return &in.Transfer }},
	{"calibrated", "calibrated", "2026-05-12", func(in *record.Instrument) *string { return &in.Calibrated }},
	{"due", "due", "a year later", func(in *record.Instrument) *string { return &in.Due }},
	{"certificate", "certificate", "its number", func(in *record.Instrument) *string { return &in.Certificate }},
	{"standard", "set to", "setting ring, gauge block", func(in *record.Instrument) *string { return &in.Standard }},
}

// instrumentSizes are the fields that hold a length.
var instrumentSizes = []string{"resolution", "error", "repeatability", "transfer"}

func newInstrumentsPage(f *frame, from place) *instrumentsPage {
	s := &instrumentsPage{f: f, from: from, g: f.bench.Gauges(), drafts: map[string]record.Instrument{}, fields: map[string]*toldField{}, about: quietly(""), fault: newParagraph()}
	s.list = newRows(f)
	s.list.LeadWidth = 0
	s.list.OnSelected = func(string) { s.stash(); s.fill() }
	names := make([]string, len(gauge.InstrumentKinds))
	for i, k := range gauge.InstrumentKinds {
		names[i] = kindName(k)
	}
	s.kind = newDrop(f, names, func(string) { s.showUsual() })
	s.rule = newChoices(f, []choice{{ID: "95", Label: "95 % of certainty", Hint: "ISO 14253-1:2017"}, {ID: "u", Label: "U at k = 2", Hint: "the editions of 1998 and 2013"}}, nil)
	s.rule.Mark("95")
	if s.g.OlderRule {
		s.rule.Mark("u")
	}
	s.page = s.build()
	s.showList("")
	s.fill()
	return s
}

func (s *instrumentsPage) build() fyne.CanvasObject {
	head := onGround(colorRaised, padded(newHeading("Instruments", theme.SizeNameHeadingText), 14, 14, 18, 18))
	keep := newButton(s.f, "Keep this one", theme.ContentAddIcon(), func() { s.keep() })
	remove := newButton(s.f, "Take it off the list", nil, s.remove).low()
	done := newButton(s.f, "Done  (Ctrl+Enter)", nil, s.done).primary()
	if s.f.bench.ReadOnly() {
		done.Disable()
	}
	form := column(7, asked("kind", s.kind))
	var pair []fyne.CanvasObject
	for _, one := range instrumentFields {
		f := newToldField(s.f, one.label, one.hint)
		f.OnSubmitted = func(string) { s.keep() }
		if slices.Contains(instrumentSizes, one.id) {
			f.Means = func(text string) string { return meansLength(text, s.f.settings.Unit) }
		}
		s.fields[one.id] = f
		if pair = append(pair, f.object); len(pair) == 2 {
			form.Add(container.NewGridWithColumns(2, pair...))
			pair = nil
		}
	}
	form.Add(s.about)
	form.Add(s.fault)
	form.Add(container.NewHBox(keep, remove))
	form.Add(newHeading("Decided by", theme.SizeNameSubHeadingText))
	form.Add(s.rule)
	form.Add(quietly("How far a reading must keep away from a limit to be decided. It is named in print."))
	foot := onGround(colorRaised, padded(line(8, done, newButton(s.f, "Cancel  (Esc)", nil, s.back)), 9, 9, 18, 18))
	left := container.NewVScroll(padded(s.list, 14, 14, 18, 4))
	right := container.NewVScroll(container.New(&narrow{most: 720}, padded(form, 14, 14, 14, 18)))
	return container.NewBorder(head, foot, atLeast(left, 320, 100), nil, right)
}

func (s *instrumentsPage) view() fyne.CanvasObject { return s.page }
func (s *instrumentsPage) title() string           { return "Instruments" }
func (s *instrumentsPage) dropped([]string) bool   { return false }
func (s *instrumentsPage) back()                   { s.f.show(s.from) }
func (s *instrumentsPage) enter()                  { s.f.focus(s.list) }
func (s *instrumentsPage) leave()                  {}

func (s *instrumentsPage) actions() actions {
	return actions{
		{says: "Done", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: s.done, changes: true},
		{says: "Back", strokes: []stroke{plain(fyne.KeyEscape)}},
	}
}

// another is the row for an instrument that is not on the list yet.
const another = "another"

func (s *instrumentsPage) showList(chosen string) {
	items := make([]rowItem, 0, len(s.g.Instruments)+1)
	add := func(id, text string) {
		item := rowItem{ID: id, Text: text}
		if _, edited := s.drafts[id]; edited {
			item.Quiet = "not kept yet"
		}
		items = append(items, item)
	}
	for _, in := range s.g.Instruments {
		add(inspection.InstrumentName(in), inspection.InstrumentName(in))
	}
	add(another, "Another one …")
	s.list.SetItems(items)
	s.list.Mark(firstOf(chosen, items[0].ID))
}

// at is the place on the list of the instrument that the form shows, -1 for another.
func (s *instrumentsPage) at() int {
	return slices.IndexFunc(s.g.Instruments, func(in record.Instrument) bool { return inspection.InstrumentName(in) == s.row })
}

// onList is the instrument of the form's row as it is kept, its lengths with their
// unit.
func (s *instrumentsPage) onList() record.Instrument {
	in := record.Instrument{Kind: string(gauge.Micrometer)}
	if at := s.at(); at >= 0 {
		in = s.g.Instruments[at]
	}
	return withUnits(in, gauge.Millimetre)
}

// typed is the instrument as it stands in the form. What is kept is read without the
// window, and so names its unit.
func (s *instrumentsPage) typed() record.Instrument {
	in := record.Instrument{Kind: string(s.chosenKind())}
	for _, one := range instrumentFields {
		*one.at(&in) = strings.TrimSpace(s.fields[one.id].Text)
	}
	return withUnits(in, s.f.settings.Unit)
}

func withUnits(in record.Instrument, unit gauge.Unit) record.Instrument {
	for _, size := range []*string{&in.Resolution, &in.Error, &in.Repeatability, &in.Transfer} {
		*size = gauge.WithUnit(*size, unit)
	}
	return in
}

// stash puts what was typed and not kept aside, before another row is shown.
func (s *instrumentsPage) stash() {
	delete(s.drafts, s.row)
	if in := s.typed(); in != s.onList() {
		s.drafts[s.row] = in
	}
	s.showList(s.list.Selected)
}

// fill shows the chosen instrument, as it was last typed.
func (s *instrumentsPage) fill() {
	s.row = s.list.Selected
	in, edited := s.drafts[s.row]
	if !edited {
		in = s.onList()
	}
	s.kind.show(kindName(gauge.InstrumentKind(in.Kind)))
	for _, one := range instrumentFields {
		s.fields[one.id].SetText(*one.at(&in))
		s.fields[one.id].refuse("")
	}
	s.fault.Set()
	s.showUsual()
}

// showUsual says what is taken where a field is empty.
func (s *instrumentsPage) showUsual() {
	in, err := gauge.Usual(s.chosenKind())
	if err != nil {
		return
	}
	unit := s.f.settings.Unit
	text := "Where a field is empty, what is usual for the kind is taken and said: permissible error " + gauge.UncertaintyText(in.Error, unit)
	if in.Repeatability > 0 {
		text += ", repeatability " + gauge.UncertaintyText(in.Repeatability, unit)
	}
	s.about.Set(piece{Text: text + ".", Color: colorQuiet, Small: true})
}

func (s *instrumentsPage) chosenKind() gauge.InstrumentKind {
	for _, k := range gauge.InstrumentKinds {
		if kindName(k) == s.kind.Selected {
			return k
		}
	}
	return ""
}

// keep puts the instrument on the list, in place of the one that was chosen.
func (s *instrumentsPage) keep() bool {
	in, at := s.typed(), s.at()
	name := inspection.InstrumentName(in)
	if !s.sound(in) {
		return false
	}
	s.g.Instruments = slices.Clone(s.g.Instruments)
	if at >= 0 {
		s.g.Instruments[at] = in
	} else {
		s.g.Instruments = append(s.g.Instruments, in)
	}
	delete(s.drafts, s.row)
	s.showList(name)
	s.fill()
	return true
}

// sound says at its field what is wrong with an instrument.
func (s *instrumentsPage) sound(in record.Instrument) bool {
	refuse := func(id, says string) bool {
		s.fields[id].refuse(sentence(says))
		s.f.focus(s.fields[id].field)
		return false
	}
	name := inspection.InstrumentName(in)
	if in.Name == "" && in.Serial == "" {
		return refuse("name", "Give it a name or a serial: readings are told apart by it")
	}
	if i := slices.IndexFunc(s.g.Instruments, func(o record.Instrument) bool { return inspection.InstrumentName(o) == name }); i >= 0 && i != s.at() {
		return refuse("serial", fmt.Sprintf("There is another instrument called %q; give each its serial", name))
	}
	err := inspection.CheckInstrument(in)
	if err == nil {
		err = inspection.CheckDays(in)
	}
	var at *gauge.FieldError
	fields := map[string]string{
		"instrument resolution": "resolution", "instrument permissible error": "error", "instrument repeatability": "repeatability",
		"instrument transfer": "transfer", "instrument calibrated": "calibrated", "instrument calibration due": "due",
	}
	switch {
	case err == nil:
		return true
	case errors.As(err, &at) && fields[at.Field] != "":
		return refuse(fields[at.Field], at.Err.Error())
	}
	s.fault.Set(piece{Text: sentence(err.Error()), Color: theme.ColorNameError})
	return false
}

// remove takes the instrument off the list. Readings that it took keep it.
func (s *instrumentsPage) remove() {
	delete(s.drafts, s.row)
	if at := s.at(); at >= 0 {
		s.g.Instruments = slices.Delete(slices.Clone(s.g.Instruments), at, at+1)
	}
	s.showList("")
	s.fill()
}

// keepDrafts puts all on the list that was typed, and stays at the first that can't be.
func (s *instrumentsPage) keepDrafts() bool {
	s.stash()
	for _, item := range slices.Clone(s.list.Items) {
		if _, edited := s.drafts[item.ID]; !edited {
			continue
		}
		s.list.Mark(item.ID)
		s.fill()
		if !s.keep() {
			return false
		}
	}
	return true
}

func (s *instrumentsPage) done() {
	if s.f.bench.ReadOnly() || !s.keepDrafts() {
		return
	}
	s.g.OlderRule = s.rule.Selected == "u"
	g := s.g
	beside(s.f, func(ctx context.Context) (struct{}, error) { return struct{}{}, s.f.bench.SetGauges(ctx, g) },
		func(_ struct{}, err error) {
			if err != nil {
				w := wordsFor("Not kept.", err)
				s.fault.Set(piece{Text: w.Title + " ", Bold: true, Color: theme.ColorNameError}, piece{Text: w.Message + " " + w.Hint})
				return
			}
			if s.f.here == s {
				s.back()
			}
		})
}

func (p *inspectionPlace) showInstruments() { p.f.showInstruments() }

func (f *frame) showInstruments() {
	if _, there := f.here.(*instrumentsPage); !there {
		f.show(newInstrumentsPage(f, f.here))
	}
}
