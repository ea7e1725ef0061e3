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
	"fettlebook/assess/spec"
)

// dimension is one thing that is measured on a part.
type dimension struct {
	surface *spec.Surface
	spec.Dimension
}

// labels name dimensions in a list; those of one name each with its surface, since
// the list knows them apart by nothing else.
func labels(dims []dimension) []string {
	names := make([]string, len(dims))
	for i, d := range dims {
		names[i] = capital(d.Name)
		if slices.ContainsFunc(dims, func(o dimension) bool { return o.Name == d.Name && o.surface != d.surface }) {
			names[i] += ", " + d.surface.Name
		}
	}
	return names
}

// readingSheet takes readings as fast as a pad does: Enter goes to the next value,
// Enter in an empty field to the next dimension.
type readingSheet struct {
	p    *inspectionPlace
	id   record.ID // empty for a new one
	m    record.Reading
	kind string
	dims []dimension
	at   int

	dim        *drop
	limit      *paragraph
	instrument *drop
	value      *field
	where      *field
	angle      *field
	stops      *toggle
	values     *rows
	soaked     *toggle
	checks     map[string]*toldField
	material   *drop
	note       *note
	by         *field
	fault      *paragraph
	verdict    *paragraph
	bar        *wearBar
	numbers    *paragraph
	page       fyne.CanvasObject
	// doubted is a value that was asked about; typed again it stands. insisted is a
	// reading that was refused; done again it is kept as it is.
	doubted, insisted string
	// refused is the value in the field that was not taken; notTaken are those that
	// were typed over since.
	refused  string
	notTaken []string
	typing   typing
}

func newReadingSheet(p *inspectionPlace, id record.ID, m record.Reading) *readingSheet {
	s := &readingSheet{p: p, id: id, m: m, kind: p.n.Record().Parts[p.part].Kind, dims: p.dimensions(), checks: map[string]*toldField{}}
	s.dim = newDrop(p.f, nil, func(string) { s.choseDimension(s.dim.SelectedIndex()) })
	s.limit = quietly("")
	s.instrument = newDrop(p.f, nil, func(name string) { s.choseInstrument(name) })
	s.value = newField(p.f, "")
	s.value.OnSubmitted = func(string) { s.next() }
	s.value.OnChanged = s.changed
	s.value.takesTab = s.typing.byInstrument
	s.value.onKey = func(name fyne.KeyName) bool {
		if name == fyne.KeyTab {
			s.next() // some instruments end with a tab
		}
		return name == fyne.KeyTab
	}
	s.where, s.angle = newField(p.f, "front, middle …"), newField(p.f, "degrees")
	s.where.OnSubmitted, s.angle.OnSubmitted = func(string) { p.f.focus(s.value) }, func(string) { p.f.focus(s.value) }
	s.stops = newToggle(p.f, "did not go in", func() { s.stops.Set(!s.stops.On) })
	s.values = newRows(p.f)
	s.values.LeadWidth = 24
	s.values.OnKey = func(name fyne.KeyName) bool {
		if name != fyne.KeyDelete && name != fyne.KeyBackspace {
			return false
		}
		s.remove()
		return true
	}
	s.soaked = newToggle(p.f, "part and instrument lay together", func() { s.soaked.Set(!s.soaked.On); s.m.Soaked = s.soaked.On; s.judge() })
	s.material = newDrop(p.f, []string{"steel", "cast iron", "aluminium", "bronze", "brass"}, func(string) { s.judge() })
	s.note = newNote(p.f, "note", 1)
	s.by = newField(p.f, "name")
	s.fault = newParagraph()
	s.fault.Hide()
	s.verdict, s.bar, s.numbers = newParagraph(), newWearBar(), quietly("")
	s.numbers.Hide()
	s.page = s.build()
	s.fill()
	return s
}

// dimensions are all that is measured on the chosen part, those of the chosen
// surface first.
func (p *inspectionPlace) dimensions() []dimension {
	kind, ok := p.f.bench.Specs().Kind(p.n.Record().Parts[p.part].Kind)
	if !ok {
		return nil
	}
	var own, rest []dimension
	for i := range kind.Surfaces {
		f := &kind.Surfaces[i]
		for _, d := range f.Dimensions {
			if f.ID == p.surface {
				own = append(own, dimension{f, d})
			} else {
				rest = append(rest, dimension{f, d})
			}
		}
	}
	return append(own, rest...)
}

func (s *readingSheet) build() fyne.CanvasObject {
	check := func(id, name, hint string) fyne.CanvasObject {
		f := newToldField(s.p.f, name, hint)
		f.OnEdited = s.judge
		f.OnSubmitted = func(string) { s.p.f.focus(s.value) }
		if id == "before" || id == "after" {
			f.Means = func(text string) string { return meansLength(text, s.unit()) }
		}
		s.checks[id] = f
		return f.object
	}
	instruments := newButton(s.p.f, "", theme.SettingsIcon(), s.p.showInstruments).low()
	limit := newButton(s.p.f, "Limit   Alt+L", nil, s.p.showLimit).low()
	body := column(6,
		container.NewBorder(nil, nil, nil, limit, s.limit),
		container.NewBorder(nil, nil, nil, instruments, s.instrument),
		container.New(shares{0.46, 0.3, 0.24}, s.value, s.where, s.angle),
		s.fault, s.stops, s.values,
		container.NewGridWithColumns(2, check("before", "zero before", "not looked at"), check("after", "zero after", "not looked at")),
		s.soaked,
		container.NewGridWithColumns(3, check("part", "part, °C", "not measured"), check("instrument", "instrument, °C", "not measured"), asked("material", s.material)),
		container.NewGridWithColumns(2, asked("note", s.note.box), asked("measured by", s.by)),
		s.numbers)
	head := sheetHead(s.p.f, "Reading", s.dim, s.p.side.close)
	numbers := newButton(s.p.f, "Numbers", nil, func() { s.numbers.Hidden = !s.numbers.Hidden; s.page.Refresh() }).low()
	return sheetUnder(head, body, column(4, s.bar, s.verdict),
		newButton(s.p.f, "Done   Ctrl+Enter", nil, s.submit).primary(), numbers, newButton(s.p.f, "Cancel   Esc", nil, s.p.side.close))
}

func (s *readingSheet) fill() {
	for i, d := range s.dims {
		if d.surface.ID == s.m.Surface && d.ID == s.m.Dimension {
			s.at = i
		}
	}
	s.dim.Options = labels(s.dims)
	s.by.SetText(firstOf(s.m.By, s.p.f.bench.Who()))
	s.note.Set(s.m.Note)
	s.soaked.Set(s.m.Soaked)
	s.material.show(firstOf(s.m.Material, "steel"))
	for id, text := range map[string]string{"before": s.m.ZeroBefore, "after": s.m.ZeroAfter, "part": s.m.PartTemperature, "instrument": s.m.InstrumentTemperature} {
		s.checks[id].SetText(text)
	}
	s.showDimension()
}

func (s *readingSheet) object() fyne.CanvasObject { return s.page }
func (s *readingSheet) aboutPart() bool           { return true }
func (s *readingSheet) closed()                   {}

// refreshed closes the sheet when undo took away what it is about.
func (s *readingSheet) refreshed() {
	if _, ok := s.p.n.Record().Readings[s.id]; s.id != "" && !ok {
		s.p.side.close()
		return
	}
	s.keepUp()
	s.offerInstruments()
	s.showLimit()
	s.judge()
}

func (s *readingSheet) now() dimension { return s.dims[s.at] }

// choseDimension goes to another dimension; what was typed for this one is kept.
func (s *readingSheet) choseDimension(at int) {
	if at < 0 || at == s.at {
		return
	}
	if s.id == "" && len(s.m.Values) > 0 && !s.keep() {
		s.dim.show(s.dim.Options[s.at])
		return
	}
	s.at = at
	if s.id == "" {
		s.fresh()
	}
	s.showDimension()
}

// fresh begins another reading by the same hand under the same conditions.
func (s *readingSheet) fresh() {
	s.m.Values, s.m.Note, s.m.At = nil, "", record.Stamp{}
	s.refused, s.notTaken = "", nil
	s.note.Set("")
	s.value.SetText("")
}

func (s *readingSheet) showDimension() {
	d := s.now()
	s.m.Part, s.m.Surface, s.m.Dimension = s.p.part, d.surface.ID, d.ID
	if last, ok := s.p.f.bench.LastFor(s.kind, d.surface.ID, d.ID); ok && s.id == "" && last != s.m.Instrument {
		// The zero of one instrument says nothing of another's.
		s.m.Instrument = last
		s.checks["before"].SetText("")
		s.checks["after"].SetText("")
	}
	s.keepUp()
	s.dim.show(s.dim.Options[s.at])
	s.offerInstruments()
	s.showLimit()
	s.showValues()
	s.judge()
}

// offerInstruments offers the shop's instruments and one of each kind, the one that
// was used last for this dimension first.
func (s *readingSheet) offerInstruments() {
	bench := s.p.f.bench
	s.instrument.Options = instrumentNames(bench)
	if s.m.Instrument == (record.Instrument{}) {
		last, ok := bench.LastFor(s.kind, s.m.Surface, s.m.Dimension)
		if !ok && len(bench.Gauges().Instruments) > 0 {
			last = bench.Gauges().Instruments[0]
			ok = true
		}
		if !ok {
			last = record.Instrument{Kind: string(gauge.Micrometer)}
		}
		s.m.Instrument = last
	}
	s.instrument.show(nameInList(s.m.Instrument))
	s.stops.Hidden = !gauge.InstrumentKind(s.m.Instrument.Kind).Interval()
}

func (s *readingSheet) choseInstrument(name string) {
	if in, ok := instrumentNamed(s.p.f.bench, name); ok {
		s.m.Instrument = in
	}
	s.stops.Hidden = !gauge.InstrumentKind(s.m.Instrument.Kind).Interval()
	s.page.Refresh()
	s.judge()
	s.p.f.focus(s.value)
}

// showLimit tells the limit of the dimension, if one is known.
func (s *readingSheet) showLimit() {
	probe := s.m
	probe.Values = []record.Value{{Text: "1"}}
	x := s.measure(probe)
	text := "No limit is known: it stands in the unit's manual."
	if x != nil && x.HasLimit {
		text = "Limit " + x.Limit.Discard.Text(s.unit(), gauge.Micrometre)
		if x.Limit.Nominal != 0 {
			text += ", nominal " + x.Limit.Nominal.Text(s.unit(), gauge.Micrometre)
		}
		text += ": " + x.Source
	}
	s.limit.Set(piece{Text: text, Color: colorQuiet, Small: true})
}

func (s *readingSheet) unit() gauge.Unit { return gauge.Unit(s.m.Unit) }

func (s *readingSheet) showValues() {
	items := make([]rowItem, len(s.m.Values))
	for i, v := range s.m.Values {
		where := strings.TrimSpace(v.Position)
		if v.Angle != "" {
			where = strings.TrimSpace(where + " " + v.Angle + "°")
		}
		if v.Stops {
			where = strings.TrimSpace("did not go in " + where)
		}
		items[i] = rowItem{ID: fmt.Sprint(i), Lead: fmt.Sprint(i + 1), Text: v.Text, Quiet: where}
	}
	s.values.SetItems(items)
	s.values.Hidden = len(items) == 0
	s.page.Refresh()
}

func (s *readingSheet) remove() {
	if at := s.values.Index(); at >= 0 {
		s.m.Values = slices.Delete(slices.Clone(s.m.Values), at, at+1)
		s.showValues()
		s.judge()
	}
}

// entry is the reading as it stands, with what is being typed.
func (s *readingSheet) entry() record.Reading {
	m := s.m
	if text := strings.TrimSpace(s.value.Text); text != "" {
		if _, err := gauge.ParseEntry(text, s.unit()); err == nil {
			m.Values = append(slices.Clip(m.Values), s.typed(text))
		}
	}
	m.ZeroBefore, m.ZeroAfter = strings.TrimSpace(s.checks["before"].Text), strings.TrimSpace(s.checks["after"].Text)
	m.PartTemperature, m.InstrumentTemperature = strings.TrimSpace(s.checks["part"].Text), strings.TrimSpace(s.checks["instrument"].Text)
	m.Material = s.material.Selected
	if m.Material == "steel" {
		m.Material = ""
	}
	m.Note, m.By = s.note.Text(), strings.TrimSpace(s.by.Text)
	return m
}

// reason is what would be said of a reading.
func (s *readingSheet) reason(m record.Reading) (*inspection.Reason, *inspection.Surface) {
	id := s.target()
	a, err := s.p.n.WhatIf(s.p.n.Reading(id, m))
	if err != nil {
		return nil, nil
	}
	part, ok := a.Part(m.Part)
	if !ok {
		return nil, nil
	}
	surface, ok := part.Surface(m.Surface)
	if !ok {
		return nil, nil
	}
	for i := range surface.Reasons {
		if surface.Reasons[i].Of == id {
			return &surface.Reasons[i], surface
		}
	}
	return nil, surface
}

func (s *readingSheet) measure(m record.Reading) *inspection.Measurement {
	if r, _ := s.reason(m); r != nil {
		return r.Measurement
	}
	return nil
}

// judge says what the values come to so far.
func (s *readingSheet) judge() {
	m := s.entry()
	if len(m.Values) == 0 {
		s.bar.Clear()
		s.numbers.Set()
		s.verdict.Set(piece{Text: "The verdict stands here as you type.", Color: colorQuiet, Small: true})
		return
	}
	r, surface := s.reason(m)
	if r == nil || surface == nil {
		s.verdict.Set()
		return
	}
	needs := ""
	if r.Measurement != nil && r.Measurement.Needs != "" {
		needs = sentence(r.Measurement.Needs) + " "
	}
	s.verdict.Set(piece{Text: decidedWord(r) + " ", Bold: true}, piece{Text: sentence(r.Text) + " " + needs},
		piece{Text: capital(surface.Name) + ": " + verdictSays(surface.Verdicts) + ".", Color: colorQuiet})
	s.showNumbers(r.Measurement)
}

// decidedWord says in a word whether the limit is decided.
func decidedWord(r *inspection.Reason) string {
	x := r.Measurement
	switch {
	case x == nil, !x.HasLimit:
		return ""
	case x.Judgement.Discard.Decision == gauge.CannotDecide, x.Open != "":
		return "Not decided."
	}
	return "Decided."
}

func (s *readingSheet) toNext() {
	if len(s.m.Values) == 0 {
		s.refuse("Type a value first; Esc leaves.")
		return
	}
	if s.id != "" || s.at+1 >= len(s.dims) {
		s.submit()
		return
	}
	if s.keep() {
		s.at++
		s.fresh()
		s.showDimension()
		s.p.f.focus(s.value)
	}
}

// keep notes the reading and stays.
func (s *readingSheet) keep() bool {
	if text := strings.TrimSpace(s.value.Text); text != "" && !s.takes(text) {
		s.p.f.focus(s.value)
		return false
	}
	m := s.entry()
	if len(m.Values) == 0 {
		s.refuse("Type a value first; Esc leaves.")
		s.p.f.focus(s.value)
		return false
	}
	if !s.sound(m) {
		return false
	}
	id := s.target()
	if !s.p.do("The reading was not kept.", s.p.n.Reading(id, m)) {
		return false
	}
	s.p.entry = id
	s.p.chooseSurface(m.Surface)
	s.p.refreshSoon()
	bench, kind := s.p.f.bench, s.kind
	beside(s.p.f, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, bench.UseFor(ctx, kind, m.Surface, m.Dimension, m.Instrument)
	}, func(_ struct{}, err error) { s.p.tried("Which instrument is used here was not remembered.", err) })
	return true
}

func (s *readingSheet) target() record.ID {
	if s.id == "" {
		return record.NewID()
	}
	return s.id
}

// submit keeps the reading and leaves.
func (s *readingSheet) submit() {
	if s.keep() {
		s.p.side.close()
	}
}

// showReading takes readings of the chosen part, or edits one.
func (p *inspectionPlace) showReading(id record.ID) {
	if p.part == "" || !p.editable() {
		return
	}
	if len(p.dimensions()) == 0 {
		p.notices.put(notice{ID: "reading", words: words{Title: "Nothing to measure.", Message: "No spec names a dimension of this part."}})
		return
	}
	m := p.n.Record().Readings[id]
	if id != "" && !slices.ContainsFunc(p.dimensions(), func(d dimension) bool { return d.surface.ID == m.Surface && d.ID == m.Dimension }) {
		p.tellUnknown("reading", "No spec in force knows this dimension.")
		return
	}
	s := newReadingSheet(p, id, m)
	p.side.put(s)
	p.f.focus(s.value)
}
