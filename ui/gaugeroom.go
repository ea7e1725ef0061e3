package ui

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/working"
)

// gaugeRoom is the page on which sizes are worked out that belong to no single
// reading: fits, needle sets, rock, shims, teeth, ring gaps. Opened from an inspection,
// it keeps what was worked out with the part that is chosen there.
type gaugeRoom struct {
	f    *frame
	from place

	list    *rows
	unit    *choices
	tool    *drop
	inner   *drop
	bores   fyne.CanvasObject
	within  *field
	error   fyne.CanvasObject
	entries map[string]*field
	// labels name the entries of the chosen working, by the ids of their asks.
	labels  map[string]*caption
	form    *fyne.Container
	about   *paragraph
	results *fyne.Container
	keeping *keeping
	page    fyne.CanvasObject
	chosen  *working.Working
	// tools are the instruments that were chosen for each working.
	tools map[string]tooling
	// in is the unit in which the entries that name none were typed.
	in gauge.Unit
}

func newGaugeRoom(f *frame) *gaugeRoom {
	g := &gaugeRoom{f: f, entries: map[string]*field{}, tools: map[string]tooling{}, in: f.settings.Unit}
	g.list = newRows(f)
	g.list.LeadWidth = 0
	var items []rowItem
	for _, w := range working.All() {
		items = append(items, rowItem{ID: w.ID, Text: w.Name})
	}
	g.list.SetItems(items)
	g.list.OnSelected = g.choose
	g.list.OnEnter = func(string) { g.toForm() }
	g.unit = newChoices(f, []choice{{ID: string(gauge.Millimetre), Label: "mm"}, {ID: string(gauge.Inch), Label: "in"}},
		func(id string) { f.setUnit(gauge.Unit(id)); g.keepUnits(); g.work() })
	g.tool = newDrop(f, nil, func(string) { g.showTools(); g.work() })
	g.inner = newDrop(f, nil, func(string) { g.work() })
	g.bores = asked("the bore with", g.inner)
	g.within = newField(f, "as usual for its kind")
	g.within.OnChanged = func(string) { g.work() }
	g.error = asked("its permissible error", g.within)
	g.form, g.results, g.about = column(7), column(5), quietly("")
	g.keeping = newKeeping(g)
	g.page = g.build()
	g.list.Mark(items[0].ID)
	g.choose(items[0].ID)
	return g
}

func kindName(k gauge.InstrumentKind) string { return strings.ReplaceAll(string(k), "-", " ") }

func (g *gaugeRoom) build() fyne.CanvasObject {
	back := newButton(g.f, "Back", theme.NavigateBackIcon(), g.back).low()
	title := newHeading("Gauge room", theme.SizeNameHeadingText)
	head := onGround(colorRaised, padded(container.NewBorder(nil, nil, back, line(8, newButton(g.f, "Instruments", nil, g.f.showInstruments).low(), g.unit), title), 9, 9, 8, 18))
	measured := container.NewGridWithColumns(2, asked("measured with", g.tool), g.error)
	body := column(10, g.about, measured, g.bores, g.form, newCaption("What it comes to", theme.ColorNameForeground).bold(), g.results, g.keeping.form)
	right := container.NewVScroll(container.New(&narrow{most: 720}, padded(body, 14, 14, 14, 18)))
	left := container.NewVScroll(padded(g.list, 14, 14, 18, 4))
	return container.NewBorder(head, g.keeping.foot, atLeast(left, 300, 100), nil, right)
}

func (g *gaugeRoom) view() fyne.CanvasObject { return g.page }
func (g *gaugeRoom) title() string           { return "Gauge room" }
func (g *gaugeRoom) dropped([]string) bool   { return false }
func (g *gaugeRoom) back()                   { g.f.show(g.from) }
func (g *gaugeRoom) leave()                  {}

// enter takes up what was changed elsewhere: the instruments, the unit, the part.
func (g *gaugeRoom) enter() {
	g.keepUnits()
	g.offerTools()
	g.keeping.show()
	g.work()
	g.f.focus(g.list)
}

func (g *gaugeRoom) actions() actions {
	as := actions{{says: "Back", strokes: []stroke{plain(fyne.KeyEscape)}}}
	if g.keeping.p != nil {
		as = append(as, action{says: "Keep with the part", strokes: []stroke{ctrl(fyne.KeyReturn)}, run: g.keeping.keep, changes: true})
	}
	return as
}

func (g *gaugeRoom) toForm() {
	if len(g.chosen.Asks) > 0 {
		g.f.focus(g.entries[g.chosen.Asks[0].ID])
	}
}

// choose shows the form of one working. What was typed for another stays, and stands
// here where the same is asked.
func (g *gaugeRoom) choose(id string) {
	w, ok := working.Called(id)
	if !ok {
		return
	}
	g.changeTools(w)
	g.chosen = w
	g.about.Set(piece{Text: g.chosen.About, Color: colorQuiet})
	g.form.RemoveAll()
	g.labels = map[string]*caption{}
	if inside := slices.ContainsFunc(g.chosen.Asks, func(a working.Ask) bool { return a.Inside }); inside {
		g.bores.Show()
	} else {
		g.bores.Hide()
	}
	var line []fyne.CanvasObject
	for i, a := range g.chosen.Asks {
		entry := g.entry(a)
		entry.OnSubmitted = func(string) {
			g.f.focus(g.entries[g.chosen.Asks[(i+1)%len(g.chosen.Asks)].ID])
		}
		g.labels[a.ID] = newCaption(a.Label, colorQuiet).small()
		line = append(line, column(1, g.labels[a.ID], entry))
		if len(line) == 2 || i == len(g.chosen.Asks)-1 {
			g.form.Add(container.NewGridWithColumns(2, line...))
			line = nil
		}
	}
	g.form.Refresh()
	if g.keeping != nil {
		g.keeping.propose()
	}
	g.work()
}

// entry is the field of an ask, one for all workings that ask the same.
func (g *gaugeRoom) entry(a working.Ask) *field {
	entry, there := g.entries[a.ID]
	if !there {
		entry = newField(g.f, a.Hint)
		entry.OnChanged = func(string) { g.work() }
		g.entries[a.ID] = entry
	}
	return entry
}

// keepUnits has what was typed mean the same when another unit is in force: what named
// none names the one that it was typed in.
func (g *gaugeRoom) keepUnits() {
	was := g.in
	g.in = g.f.settings.Unit
	g.unit.Mark(string(g.in))
	if was == g.in {
		return
	}
	for _, w := range working.All() {
		for _, a := range w.Asks {
			if entry, there := g.entries[a.ID]; there && entry.Text != a.WithUnit(entry.Text, was) {
				entry.SetText(a.WithUnit(entry.Text, was))
			}
		}
	}
	g.within.SetText(gauge.WithUnit(g.within.Text, was))
}

// typed is the working as it stands.
func (g *gaugeRoom) typed() record.Working {
	w := record.Working{What: g.chosen.ID, Entries: map[string]string{}, Unit: string(g.in), Instrument: g.instrument()}
	for _, a := range g.chosen.Asks {
		if text := strings.TrimSpace(g.entries[a.ID].Text); text != "" {
			w.Entries[a.ID] = text
		}
		if a.Inside && w.Instrument != (record.Instrument{}) {
			w.Inner = g.innerInstrument()
		}
	}
	return w
}

// work tells what the entries come to, or what is missing.
func (g *gaugeRoom) work() {
	if g.chosen == nil || g.page == nil {
		return
	}
	w := g.typed()
	out, _ := g.f.bench.WorkOut(w)
	g.results.RemoveAll()
	var field *gauge.FieldError
	g.mark("")
	switch {
	case errors.As(out.Err, &field):
		g.mark(field.Field)
		g.results.Add(newParagraph(piece{Text: capital(field.Field) + " ", Bold: true, Color: theme.ColorNameError}, piece{Text: field.Err.Error() + "."}))
	case out.Err != nil:
		g.results.Add(newParagraph(piece{Text: sentence(out.Err.Error()), Color: theme.ColorNameError}))
	case len(out.Missing) > 0:
		g.results.Add(quietly("Still to be written: " + and(out.Missing) + "."))
	default:
		g.showOutcome(w, out)
	}
	g.results.Refresh()
}

// mark says above an entry that it can't be taken, by its label; none for "". Why is
// told below, where there is room, so that nothing jumps while one types.
func (g *gaugeRoom) mark(label string) {
	for _, a := range g.chosen.Asks {
		text, ink := a.Label, colorQuiet
		if a.Label == label {
			text, ink = a.Label+": can't be taken, see below", theme.ColorNameError
		}
		g.labels[a.ID].SetColor(ink)
		g.labels[a.ID].SetText(text)
	}
}

// showOutcome tells the outcome first, then how it is decided and what is to be set,
// then how it was reckoned.
func (g *gaugeRoom) showOutcome(w record.Working, out working.Result) {
	decided, notes := out.Decided(), out.Notes
	var verdict []piece
	if worked, says, ok := g.keeping.judged(w); ok {
		decided, notes, verdict = worked.Decided, worked.Notes, says
	}
	for i, text := range out.Lines {
		g.results.Add(newParagraph(piece{Text: sentence(text), Bold: i == 0}))
		if i > 0 {
			continue
		}
		if decided != "" {
			g.results.Add(newParagraph(append([]piece{{Text: sentence(decided) + " "}}, verdict...)...))
		}
		if out.Setting != nil && out.Setting.Do != "" {
			g.results.Add(newParagraph(piece{Text: "At assembly: ", Bold: true}, piece{Text: sentence(out.Setting.Do)}))
		}
	}
	for _, note := range notes {
		g.results.Add(quietly(sentence(note)))
	}
}

// showGaugeRoom goes to the gauge room. What was typed in it and not kept is still
// there.
func (f *frame) showGaugeRoom() {
	if _, there := f.here.(*gaugeRoom); there {
		return
	}
	if f.gauges == nil {
		f.gauges = newGaugeRoom(f)
	}
	g := f.gauges
	if !g.leadsHere(f.here) {
		g.from = f.here
		p, _ := f.here.(*inspectionPlace)
		g.keeping.with(p)
	}
	f.show(g)
}

// leadsHere reports whether one comes back to the room from a place by going back: it
// must not lead there in turn.
func (g *gaugeRoom) leadsHere(p place) bool {
	switch p := p.(type) {
	case *instrumentsPage:
		return g.leadsHere(p.from)
	case *shopPage:
		return g.leadsHere(p.from)
	}
	return p == place(g)
}

// showWorking opens what was worked out, to be changed.
func (p *inspectionPlace) showWorking(id record.ID) {
	w := p.n.Record().Workings[id]
	if _, known := working.Called(w.What); !known {
		p.tellUnknown("working", "This program does not know this working: a newer one kept it.")
		return
	}
	g := newGaugeRoom(p.f)
	g.from = p
	g.keeping.with(p)
	g.fill(id, w)
	p.f.show(g)
}

// fill shows a working that was kept. Its lengths name the unit that was in force.
func (g *gaugeRoom) fill(id record.ID, w record.Working) {
	g.keeping.fill(id, w)
	g.list.Mark(w.What)
	g.chosen, g.tools[w.What] = nil, toolingOf(w)
	g.choose(w.What)
	for _, a := range g.chosen.Asks {
		text := w.Entries[a.ID]
		if gauge.Unit(w.Unit) != g.in {
			text = a.WithUnit(text, gauge.Unit(w.Unit))
		}
		g.entries[a.ID].SetText(text)
	}
}

// workedName says what a working is and what it comes to, for a line.
func (p *inspectionPlace) workedName(r *record.Record, id record.ID) string {
	w := r.Workings[id]
	says := inspection.WorkingName(w.What)
	if x, ok := p.worked(id); ok && len(x.Lines) > 0 {
		says += ": " + x.Lines[0]
	}
	return says
}
