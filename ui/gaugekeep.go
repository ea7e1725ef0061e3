package ui

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// keeping is the part of the gauge room that keeps what was worked out with a part of
// the record from which the room was opened. Without a record it is not shown.
type keeping struct {
	g    *gaugeRoom
	p    *inspectionPlace
	part record.ID
	// of is the record for which the manual was last typed.
	of record.ID
	// id is that of the working that is changed, empty for a new one; was is how it was
	// kept.
	id  record.ID
	was record.Working

	title    *caption
	surface  *drop
	surfaces []string
	// picked is whether a person chose the surface.
	picked bool
	manual *field
	sheet  *field
	by     *field
	note   *note
	button *button
	fault  *paragraph
	form   *fyne.Container
	foot   *fyne.Container
}

// wholePartWords stand for no surface in particular.
const wholePartWords = "the part as a whole"

func newKeeping(g *gaugeRoom) *keeping {
	k := &keeping{g: g, title: newCaption("", theme.ColorNameForeground).bold(), fault: newParagraph()}
	k.surface = newDrop(g.f, nil, func(string) { k.picked = true; g.work() })
	text := func(hint string) *field {
		f := newField(g.f, hint)
		f.OnChanged = func(string) { g.work() }
		return f
	}
	k.manual, k.sheet, k.by = text("a limit without it decides nothing"), text("31"), text("name")
	k.manual.OnSubmitted = func(string) { g.f.focus(k.sheet) }
	k.sheet.OnSubmitted = func(string) { g.f.focus(k.by) }
	k.by.OnSubmitted = func(string) { k.keep() }
	k.note = newNote(g.f, "anything worth telling of it", 1)
	k.button = newButton(g.f, "", theme.ContentAddIcon(), k.keep).primary()
	k.form = column(7, widget.NewSeparator(), k.title,
		container.NewGridWithColumns(2, asked("of", k.surface), asked("measured by", k.by)),
		container.NewGridWithColumns(2, asked("manual that gives the limit or band", k.manual), asked("page", k.sheet)),
		asked("note", k.note.box))
	cancel := newButton(g.f, "Back   Esc", nil, g.back)
	k.foot = onGround(colorRaised, padded(column(6, k.fault, line(8, k.button, cancel)), 9, 9, 18, 18))
	k.show()
	return k
}

// with has the room keep with the part that is chosen in an inspection, nil for none.
func (k *keeping) with(p *inspectionPlace) {
	if p != nil && p.part == "" {
		p = nil
	}
	if k.p != p || p != nil && k.part != p.part {
		k.surface.show("")
		k.picked = false
	}
	k.p = p
	if p != nil {
		k.part = p.part
		if k.of != "" && k.of != p.n.ID() { // another unit has another manual
			k.manual.SetText("")
			k.sheet.SetText("")
			k.note.Set("")
		}
		k.of = p.n.ID()
	}
	k.offerSurfaces()
	if p != nil && k.surface.Selected == "" {
		k.choose(p.surface)
		k.propose()
	}
}

// propose chooses a surface that the working is about, as long as nobody chose one.
func (k *keeping) propose() {
	if k.p != nil && k.id == "" && !k.picked && k.g.chosen != nil {
		k.choose(k.p.n.SurfaceFor(k.g.chosen.ID, k.part, k.p.surface))
	}
}

// fill shows a working that was kept.
func (k *keeping) fill(id record.ID, w record.Working) {
	k.id, k.was, k.part = id, w, w.Part
	k.offerSurfaces()
	k.choose(w.Surface)
	k.manual.SetText(w.Manual)
	k.sheet.SetText(w.Page)
	k.by.SetText(w.By)
	k.note.Set(w.Note)
}

// offerSurfaces lists the surfaces of the part, and one that no spec names if it was
// kept with that.
func (k *keeping) offerSurfaces() {
	k.surfaces, k.surface.Options = []string{""}, []string{wholePartWords}
	if k.p == nil {
		return
	}
	add := func(id, name string) {
		k.surfaces, k.surface.Options = append(k.surfaces, id), append(k.surface.Options, name)
	}
	if part, ok := k.p.n.Assessment().Part(k.part); ok {
		for i := range part.Surfaces {
			add(part.Surfaces[i].ID, capital(part.Surfaces[i].Name))
		}
	}
	if !slices.Contains(k.surfaces, k.was.Surface) {
		add(k.was.Surface, k.was.Surface)
	}
}

func (k *keeping) choose(surface string) {
	k.surface.show(k.surface.Options[max(slices.Index(k.surfaces, surface), 0)])
}

func (k *keeping) show() {
	k.form.Hidden, k.foot.Hidden = k.p == nil, k.p == nil
	if k.p == nil {
		return
	}
	name := k.p.n.PartName(k.part)
	k.title.SetText("Kept with " + lower(name))
	if k.by.Text == "" {
		k.by.SetText(k.p.f.bench.Who())
	}
	k.button.SetText("Keep with " + lower(name) + "   Ctrl+Enter")
	if !k.p.editable() {
		k.button.Disable()
	}
	k.fault.Hide()
}

// entry is the working as it would be kept.
func (k *keeping) entry(w record.Working) record.Working {
	w.Part = k.part
	if at := k.surface.SelectedIndex(); at >= 0 {
		w.Surface = k.surfaces[at]
	}
	w.Manual, w.Page = strings.TrimSpace(k.manual.Text), strings.TrimSpace(k.sheet.Text)
	w.By, w.Note, w.At = strings.TrimSpace(k.by.Text), k.note.Text(), k.was.At
	return w
}

func (k *keeping) target() record.ID {
	if k.id == "" {
		return record.NewID()
	}
	return k.id
}

// judged tells what would be said of a working if it were kept with the part; ok is
// false without a part.
func (k *keeping) judged(w record.Working) (x inspection.Worked, verdict []piece, ok bool) {
	if k.p == nil || k.form == nil {
		return x, nil, false
	}
	w, id := k.entry(w), k.target()
	a, err := k.p.n.WhatIf(k.p.n.KeepWorking(id, w))
	if err != nil {
		return x, nil, false
	}
	part, there := a.Part(w.Part)
	if !there {
		return x, nil, false
	}
	at := slices.IndexFunc(part.Workings, func(x inspection.Worked) bool { return x.ID == id })
	if at < 0 {
		return x, nil, false
	}
	x = part.Workings[at]
	if x.Measurement == nil || !x.Measurement.HasLimit {
		return x, nil, true
	}
	if s, there := part.Surface(w.Surface); there {
		return x, []piece{{Text: capital(s.Name) + ": " + verdictSays(s.Verdicts) + ".", Color: colorQuiet}}, true
	}
	return x, []piece{{Text: part.Name + ": " + verdictSays(part.Verdicts) + ".", Color: colorQuiet}}, true
}

// keep keeps what was worked out and goes back to the part.
func (k *keeping) keep() {
	if k.p == nil || !k.p.editable() {
		return
	}
	w := k.entry(k.g.typed())
	if out, _ := k.g.f.bench.WorkOut(w); out.Err != nil || len(out.Missing) > 0 {
		k.refuse("It can be kept once it comes to something: see above.")
		return
	}
	id := k.target()
	if err := k.p.n.Do(k.p.n.KeepWorking(id, w)); err != nil {
		said := wordsFor("It was not kept.", err)
		k.refuse(strings.TrimSpace(said.Title + " " + said.Message + " " + said.Hint))
		return
	}
	if k.g.f.gauges == k.g {
		k.g.f.gauges = nil // the next one begins with an empty form
	}
	k.p.toWorking(id, w)
	k.g.f.show(k.p)
}

func (k *keeping) refuse(says string) {
	k.fault.Show()
	k.fault.Set(piece{Text: says, Color: theme.ColorNameError})
	k.foot.Refresh()
}

// toWorking chooses a working with its part and surface.
func (p *inspectionPlace) toWorking(id record.ID, w record.Working) {
	p.choosePart(w.Part)
	if w.Surface != "" {
		p.surface = w.Surface
		p.surfaces[p.part] = w.Surface
	}
	p.entry = id
}

// worked finds what a kept working of the chosen part comes to; ok is false for one
// that was withdrawn.
func (p *inspectionPlace) worked(id record.ID) (x inspection.Worked, ok bool) {
	part, ok := p.n.Assessment().Part(p.part)
	if !ok {
		return x, false
	}
	at := slices.IndexFunc(part.Workings, func(x inspection.Worked) bool { return x.ID == id })
	if at < 0 {
		return x, false
	}
	return part.Workings[at], true
}

// workedTells tells what a working's row has no room for.
func (p *inspectionPlace) workedTells(w record.Working, id record.ID) string {
	var says []string
	x, counts := p.worked(id)
	for _, one := range [...]struct{ before, says string }{{"", x.Decided}, {"at assembly: ", x.Set}, {"", x.Source}, {"with ", inspection.InstrumentName(w.Instrument)}} {
		if one.says != "" {
			says = append(says, one.before+one.says)
		}
	}
	if counts && x.Set == "" {
		says = append(says, x.Lines[min(1, len(x.Lines)):]...)
	}
	if w.Note != "" {
		says = append(says, w.Note)
	}
	return strings.Join(says, "; ")
}
