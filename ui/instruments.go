package ui

import (
	"context"
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

	list   *rows
	kind   *drop
	fields map[string]*field
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

func newInstrumentsPage(f *frame, from place) *instrumentsPage {
	s := &instrumentsPage{f: f, from: from, g: f.bench.Gauges(), fields: map[string]*field{}, about: quietly(""), fault: newParagraph()}
	s.list = newRows(f)
	s.list.LeadWidth = 0
	s.list.OnSelected = func(string) { s.fill() }
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
		f := newField(s.f, one.hint)
		f.OnSubmitted = func(string) { s.keep() }
		s.fields[one.id] = f
		if pair = append(pair, asked(one.label, f)); len(pair) == 2 {
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
	for _, in := range s.g.Instruments {
		items = append(items, rowItem{ID: inspection.InstrumentName(in), Text: inspection.InstrumentName(in)})
	}
	items = append(items, rowItem{ID: another, Text: "Another one …"})
	s.list.SetItems(items)
	s.list.Mark(firstOf(chosen, items[0].ID))
	s.fill()
}

func (s *instrumentsPage) at() int {
	return slices.IndexFunc(s.g.Instruments, func(in record.Instrument) bool { return inspection.InstrumentName(in) == s.list.Selected })
}

// fill shows the chosen instrument.
func (s *instrumentsPage) fill() {
	in := record.Instrument{Kind: string(gauge.Micrometer)}
	if at := s.at(); at >= 0 {
		in = s.g.Instruments[at]
	}
	s.kind.show(kindName(gauge.InstrumentKind(in.Kind)))
	for _, one := range instrumentFields {
		text := *one.at(&in)
		if slices.Contains([]string{"resolution", "error", "repeatability", "transfer"}, one.id) {
			text = gauge.WithUnit(text, gauge.Millimetre)
		}
		s.fields[one.id].SetText(text)
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
	in := record.Instrument{Kind: string(s.chosenKind())}
	for _, one := range instrumentFields {
		*one.at(&in) = strings.TrimSpace(s.fields[one.id].Text)
	}
	// What is kept is read without the window, and so names its unit.
	for _, size := range []*string{&in.Resolution, &in.Error, &in.Repeatability, &in.Transfer} {
		*size = gauge.WithUnit(*size, s.f.settings.Unit)
	}
	err := inspection.CheckInstrument(in)
	if i := slices.IndexFunc(s.g.Instruments, func(o record.Instrument) bool { return inspection.InstrumentName(o) == inspection.InstrumentName(in) }); err == nil && i >= 0 && i != s.at() {
		err = fmt.Errorf("there is another instrument called %q; give each its serial", inspection.InstrumentName(in))
	}
	if err != nil {
		s.fault.Set(piece{Text: sentence(err.Error()), Color: theme.ColorNameError})
		return false
	}
	s.g.Instruments = slices.Clone(s.g.Instruments)
	if at := s.at(); at >= 0 {
		s.g.Instruments[at] = in
	} else {
		s.g.Instruments = append(s.g.Instruments, in)
	}
	s.showList(inspection.InstrumentName(in))
	return true
}

// remove takes the instrument off the list. Readings that it took keep it.
func (s *instrumentsPage) remove() {
	if at := s.at(); at >= 0 {
		s.g.Instruments = slices.Delete(slices.Clone(s.g.Instruments), at, at+1)
		s.showList("")
	}
}

// begun reports whether another instrument was written and not kept yet.
func (s *instrumentsPage) begun() bool {
	return s.list.Selected == another && strings.TrimSpace(s.fields["name"].Text+s.fields["serial"].Text+s.fields["error"].Text) != ""
}

func (s *instrumentsPage) done() {
	if s.f.bench.ReadOnly() || s.begun() && !s.keep() {
		return
	}
	if s.at() >= 0 && !s.keep() {
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
