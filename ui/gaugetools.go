package ui

import (
	"slices"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/working"
)

// exactly is the instrument of sizes that were not measured.
const exactly = "sizes as written, without uncertainty"

// theSame is for bores measured with the instrument that the other sizes were. Its
// error is then one and the same in both, and falls out of their difference.
const theSame = "the same instrument"

// anyOf marks an instrument of which only the kind is known.
const anyOf = "a "

// instrumentNames are the shop's instruments, then one of each kind.
func instrumentNames(bench *inspection.Bench) []string {
	var names []string
	for _, in := range bench.Gauges().Instruments {
		names = append(names, inspection.InstrumentName(in))
	}
	for _, k := range gauge.InstrumentKinds {
		names = append(names, anyOf+kindName(k))
	}
	return names
}

// instrumentNamed finds an instrument by its name in that list.
func instrumentNamed(bench *inspection.Bench, name string) (in record.Instrument, ok bool) {
	if in, ok = bench.Gauges().Called(name); ok {
		return in, true
	}
	i := slices.IndexFunc(gauge.InstrumentKinds, func(k gauge.InstrumentKind) bool { return anyOf+kindName(k) == name })
	if i < 0 {
		return record.Instrument{}, false
	}
	return record.Instrument{Kind: string(gauge.InstrumentKinds[i])}, true
}

// nameInList is what that list calls an instrument; one that the shop no longer has
// is called as it was.
func nameInList(in record.Instrument) string {
	name := inspection.InstrumentName(in)
	if in == (record.Instrument{Kind: in.Kind, Error: in.Error}) {
		return anyOf + name
	}
	return name
}

// tooling is what something was measured with, as it is chosen in the room.
type tooling struct{ tool, inner, within string }

// changeTools goes from the instruments of one working to those of the next: what was
// chosen for it, else what is usual.
func (g *gaugeRoom) changeTools(to *working.Working) {
	if g.chosen != nil {
		g.tools[g.chosen.ID] = tooling{g.tool.Selected, g.inner.Selected, g.within.Text}
	}
	t, chosen := g.tools[to.ID]
	if !chosen {
		t = tooling{tool: g.usual(to.With), inner: g.usual(gauge.BoreGauge)}
	}
	g.tool.show(t.tool)
	g.inner.show(t.inner)
	g.within.SetText(t.within)
	g.offerTools()
}

// usual is the first of the shop's instruments of a kind, else any of that kind.
func (g *gaugeRoom) usual(kind gauge.InstrumentKind) string {
	if kind == "" {
		return exactly
	}
	for _, in := range g.f.bench.Gauges().Instruments {
		if in.Kind == string(kind) {
			return inspection.InstrumentName(in)
		}
	}
	return anyOf + kindName(kind)
}

// offerTools offers the instruments; what is chosen stays, also one that the shop no
// longer has.
func (g *gaugeRoom) offerTools() {
	names := instrumentNames(g.f.bench)
	for _, one := range []struct {
		drop  *drop
		first string
	}{{g.tool, exactly}, {g.inner, theSame}} {
		one.drop.Options = append([]string{one.first}, names...)
		if !slices.Contains(one.drop.Options, one.drop.Selected) {
			one.drop.Options = append(one.drop.Options, one.drop.Selected)
		}
	}
	g.showTools()
}

// showTools asks for the permissible error of an instrument of which only the kind is
// known; any other has its own.
func (g *gaugeRoom) showTools() {
	g.error.Hide()
	if strings.HasPrefix(g.tool.Selected, anyOf) {
		g.error.Show()
	}
}

// instrument is the one that is chosen, none for sizes that were not measured. What it
// is off by at the most names its unit, since the record is read without the window.
func (g *gaugeRoom) instrument() record.Instrument {
	in := g.toolNamed(g.tool.Selected, g.keeping.was.Instrument)
	if !g.error.Visible() {
		return in
	}
	if text := strings.TrimSpace(g.within.Text); text != "" {
		in.Error = gauge.WithUnit(text, g.in)
	}
	return in
}

// innerInstrument took the sizes inside bores, none for the same instrument.
func (g *gaugeRoom) innerInstrument() record.Instrument {
	return g.toolNamed(g.inner.Selected, g.keeping.was.Inner)
}

// toolNamed finds a chosen instrument: as it was kept, while that one is chosen, else
// as the shop has it.
func (g *gaugeRoom) toolNamed(name string, was record.Instrument) record.Instrument {
	if was != (record.Instrument{}) && nameInList(was) == name && !strings.HasPrefix(name, anyOf) {
		return was
	}
	in, _ := instrumentNamed(g.f.bench, name)
	return in
}

// toolingOf are the instruments of a working that was kept.
func toolingOf(w record.Working) tooling {
	t := tooling{tool: exactly, inner: theSame, within: w.Instrument.Error}
	if w.Instrument != (record.Instrument{}) {
		t.tool = nameInList(w.Instrument)
	}
	if w.Inner != (record.Instrument{}) {
		t.inner = nameInList(w.Inner)
	}
	return t
}
