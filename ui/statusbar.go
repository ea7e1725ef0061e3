package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
)

// What the foot's other parts take, icons and words of undo and redo among them, and
// what a letter takes, at the most in a usual sentence.
const (
	statusRest  = 600
	letterWidth = 8.2
)

// statusBar tells at the foot whether all is saved and what undo would take back.
type statusBar struct {
	p          *inspectionPlace
	saved      *caption
	undo, redo *button
	unit       *choices
	find       *caption
	object     fyne.CanvasObject
}

func newStatusBar(p *inspectionPlace) *statusBar {
	s := &statusBar{p: p}
	s.saved = newCaption("", colorQuiet).small().whole()
	s.find = newCaption("", theme.ColorNamePrimary).small().bold().whole()
	s.undo = newButton(p.f, "", theme.ContentUndoIcon(), p.undo).low()
	s.redo = newButton(p.f, "", theme.ContentRedoIcon(), p.redo).low()
	s.unit = newChoices(p.f, []choice{{ID: string(gauge.Millimetre), Label: "mm"}, {ID: string(gauge.Inch), Label: "in"}},
		func(id string) { p.f.setUnit(gauge.Unit(id)); p.refreshSoon() })
	s.unit.Small = true
	s.unit.Mark(string(p.f.settings.Unit))
	shade := newButton(p.f, "", theme.ColorPaletteIcon(), p.f.nextShade).low()
	keys := newButton(p.f, "Keys  F1", nil, p.f.showKeys).low()
	left := line(10, atLeast(s.saved, 150, 10), s.undo, s.redo, s.find)
	right := line(4, keys, shade, s.unit)
	s.object = onGround(colorRaised, padded(container.NewBorder(nil, nil, left, right), 0, 0, 14, 10))
	return s
}

func (s *statusBar) show() {
	s.unit.Mark(string(s.p.f.settings.Unit))
	st := s.p.n.Status()
	color := colorQuiet
	says := "Saved"
	switch {
	case s.p.f.bench.ReadOnly():
		says = "Open for looking only"
	case st.Err != nil && st.Unsaved > 0:
		says = "Not saved: " + countOf(st.Unsaved, "change waits", "changes wait")
		color = theme.ColorNameError
		s.tellUnsaved(st)
	case st.Unsaved > 0:
		says = "Saving …"
	case !st.At.IsZero():
		says = "Saved " + st.At.Local().Format("15:04:05")
	}
	if st.Unsaved == 0 {
		s.p.notices.take("saving")
	}
	s.saved.Color = color
	s.saved.SetText(says)
	s.saved.Refresh()
	// Both have the same share of what the rest leaves.
	most := int((s.p.f.window.Canvas().Size().Width - statusRest) / letterWidth)
	if _, both := s.p.n.Redoable(); both {
		most /= 2
	}
	most = max(most, 24)
	show := func(b *button, word string, say func() (string, bool)) {
		says, ok := say()
		text := ""
		if ok {
			text = word + ": " + shortened(oneLine(says), most)
		}
		b.SetText(text)
		if ok && s.p.editable() {
			b.Show()
		} else {
			b.Hide()
		}
	}
	show(s.undo, "Undo", s.p.n.Undoable)
	show(s.redo, "Redo", s.p.n.Redoable)
}

// tellUnsaved says at the top why nothing is saved. The inspection keeps trying.
func (s *statusBar) tellUnsaved(st inspection.Status) {
	w := wordsFor("Not saved.", st.Err)
	w.Hint += " It is tried again every few seconds; leave the window open."
	s.p.notices.put(notice{ID: "saving", Warns: true, Stays: true, words: w})
}

// typed shows what was typed so far to find a part.
func (s *statusBar) typed(text string) {
	if text != "" {
		text = "Part: " + text + "_"
	}
	s.find.SetText(text)
}

func shortened(text string, most int) string {
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most-1]) + "…"
	}
	return text
}

func (p *inspectionPlace) undo() {
	if _, ok := p.n.Undoable(); ok {
		p.tried("It was not undone.", p.n.Undo())
		p.refreshSoon()
	}
}

func (p *inspectionPlace) redo() {
	if _, ok := p.n.Redoable(); ok {
		p.tried("It was not done again.", p.n.Redo())
		p.refreshSoon()
	}
}
