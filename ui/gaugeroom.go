package ui

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/working"
)

// gaugeRoom is the page on which sizes are worked out that belong to no single
// reading: fits, needle sets, rock, shims, teeth, ring gaps. Nothing is kept; what
// counts is written into a reading or a note.
type gaugeRoom struct {
	f    *frame
	from place

	list    *rows
	unit    *choices
	tool    *drop
	inner   *drop
	bores   fyne.CanvasObject
	within  *field
	entries map[string]*field
	form    *fyne.Container
	about   *paragraph
	results *fyne.Container
	page    fyne.CanvasObject
	chosen  *working.Working
}

// exactly is the instrument of sizes that were not measured.
const exactly = "sizes as written, without uncertainty"

// theSame is for bores measured with the instrument that the other sizes were. Its
// error is then one and the same in both, and falls out of their difference.
const theSame = "the same instrument"

func newGaugeRoom(f *frame, from place) *gaugeRoom {
	g := &gaugeRoom{f: f, from: from, entries: map[string]*field{}}
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
		func(id string) { f.setUnit(gauge.Unit(id)); g.work() })
	g.unit.Mark(string(f.settings.Unit))
	names := []string{exactly}
	for _, k := range gauge.InstrumentKinds {
		if !k.Interval() || k == gauge.FeelerGauge {
			names = append(names, kindName(k))
		}
	}
	g.tool = newDrop(f, names, func(string) { g.work() })
	g.tool.show(kindName(gauge.Micrometer))
	g.inner = newDrop(f, append([]string{theSame}, names[1:]...), func(string) { g.work() })
	g.inner.show(kindName(gauge.BoreGauge))
	g.bores = asked("the bore with", g.inner)
	g.within = newField(f, "as usual for its kind")
	g.within.OnChanged = func(string) { g.work() }
	g.form, g.results, g.about = column(7), column(5), quietly("")
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
	measured := container.NewGridWithColumns(2, asked("measured with", g.tool), asked("its permissible error", g.within))
	body := column(10, g.about, measured, g.bores, g.form, newCaption("What it comes to", theme.ColorNameForeground).bold(), g.results)
	right := container.NewVScroll(container.New(&narrow{most: 720}, padded(body, 14, 14, 14, 18)))
	left := container.NewVScroll(padded(g.list, 14, 14, 18, 4))
	return container.NewBorder(head, nil, atLeast(left, 300, 100), nil, right)
}

func (g *gaugeRoom) view() fyne.CanvasObject { return g.page }
func (g *gaugeRoom) title() string           { return "Gauge room" }
func (g *gaugeRoom) dropped([]string) bool   { return false }
func (g *gaugeRoom) back()                   { g.f.show(g.from) }
func (g *gaugeRoom) enter()                  { g.f.focus(g.list) }
func (g *gaugeRoom) leave()                  {}

func (g *gaugeRoom) actions() actions {
	return actions{{says: "Back", strokes: []stroke{plain(fyne.KeyEscape)}}}
}

func (g *gaugeRoom) toForm() {
	if len(g.chosen.Asks) > 0 {
		g.f.focus(g.entries[g.chosen.Asks[0].ID])
	}
}

// choose shows the form of one working. What was typed for another that asks the
// same stays.
func (g *gaugeRoom) choose(id string) {
	if w, ok := working.Called(id); ok {
		g.chosen = w
	}
	g.about.Set(piece{Text: g.chosen.About, Color: colorQuiet})
	g.form.RemoveAll()
	if inside := slices.ContainsFunc(g.chosen.Asks, func(a working.Ask) bool { return a.Inside }); inside {
		g.bores.Show()
	} else {
		g.bores.Hide()
	}
	var line []fyne.CanvasObject
	for i, a := range g.chosen.Asks {
		entry, there := g.entries[a.ID]
		if !there {
			entry = newField(g.f, a.Hint)
			entry.OnChanged = func(string) { g.work() }
			g.entries[a.ID] = entry
		}
		entry.OnSubmitted = func(string) {
			g.f.focus(g.entries[g.chosen.Asks[(i+1)%len(g.chosen.Asks)].ID])
		}
		line = append(line, asked(a.Label, entry))
		if len(line) == 2 || i == len(g.chosen.Asks)-1 {
			g.form.Add(container.NewGridWithColumns(2, line...))
			line = nil
		}
	}
	g.form.Refresh()
	g.work()
}

// work tells what the entries come to, or what is missing.
func (g *gaugeRoom) work() {
	if g.chosen == nil {
		return
	}
	unit := g.f.settings.Unit
	c := working.Case{Entries: map[string]string{}, Unit: unit, Rule: g.f.bench.Gauges().Rule()}
	for id, entry := range g.entries {
		c.Entries[id] = entry.Text
	}
	tool, err := g.instrument(unit)
	out := working.Result{Err: err}
	if err == nil {
		c.Instrument, c.Inner = tool, g.innerInstrument()
		out = g.chosen.Work(c)
	}
	g.results.RemoveAll()
	var field *gauge.FieldError
	switch {
	case errors.As(out.Err, &field):
		g.results.Add(newParagraph(piece{Text: capital(field.Field) + " ", Bold: true, Color: theme.ColorNameError}, piece{Text: field.Err.Error() + "."}))
	case out.Err != nil:
		g.results.Add(newParagraph(piece{Text: sentence(out.Err.Error()), Color: theme.ColorNameError}))
	case len(out.Missing) > 0:
		g.results.Add(quietly("Still to be written: " + and(out.Missing) + "."))
	default:
		for i, text := range out.Lines {
			g.results.Add(newParagraph(piece{Text: sentence(text), Bold: i == 0}))
		}
		for _, note := range out.Notes {
			g.results.Add(quietly(sentence(note)))
		}
	}
	g.results.Refresh()
}

// instrument is the one that is chosen, nil for sizes that were not measured.
func (g *gaugeRoom) instrument(unit gauge.Unit) (*gauge.Instrument, error) {
	if g.tool.Selected == exactly {
		return nil, nil
	}
	in := gauge.Instrument{Kind: kindNamed(g.tool.Selected)}
	if text := strings.TrimSpace(g.within.Text); text != "" {
		length, err := gauge.ParseLength(text, unit)
		if err != nil {
			return nil, &gauge.FieldError{Field: "its permissible error", Err: err}
		}
		in.Error = length
	}
	return &in, nil
}

// innerInstrument took the sizes inside bores, nil for the same instrument.
func (g *gaugeRoom) innerInstrument() *gauge.Instrument {
	if g.inner.Selected == theSame {
		return nil
	}
	return &gauge.Instrument{Kind: kindNamed(g.inner.Selected)}
}

func kindNamed(name string) gauge.InstrumentKind {
	i := slices.IndexFunc(gauge.InstrumentKinds, func(k gauge.InstrumentKind) bool { return kindName(k) == name })
	if i < 0 {
		return ""
	}
	return gauge.InstrumentKinds[i]
}

func (f *frame) showGaugeRoom() {
	if _, there := f.here.(*gaugeRoom); !there {
		f.show(newGaugeRoom(f, f.here))
	}
}
