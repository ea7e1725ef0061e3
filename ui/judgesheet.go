package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// judgeSheet asks for a person's own verdict over the computed one. Both are
// shown ever after.
type judgeSheet struct {
	p  *inspectionPlace
	id record.ID // empty for a new one
	o  record.Override

	of      *choices
	verdict *rows
	reason  *note
	by      *field
	fault   *caption
	holds   *paragraph
	page    fyne.CanvasObject
}

func newJudgeSheet(p *inspectionPlace, id record.ID, o record.Override) *judgeSheet {
	s := &judgeSheet{p: p, id: id, o: o}
	s.of = newChoices(p.f, []choice{{ID: p.surface, Label: "this surface"}, {ID: "", Label: "the whole part"}}, func(of string) {
		s.o.Surface = of
		s.judge()
	})
	s.of.Mark(o.Surface)
	s.verdict = newRows(p.f)
	s.verdict.LeadWidth, s.verdict.Numbered = 24, true
	s.verdict.OnSelected = func(word string) { s.choose(word) }
	s.verdict.OnEnter = func(string) { p.f.focus(s.reason.entry) }
	s.reason = newNote(p.f, "why: said so that someone else can follow it", 3)
	s.reason.Set(o.Reason)
	s.by = newField(p.f, "name")
	s.by.SetText(firstOf(o.By, p.f.bench.Who()))
	s.by.OnSubmitted = func(string) { s.submit() }
	s.fault = newCaption("", theme.ColorNameError).small()
	s.holds = newParagraph()
	s.page = s.build()
	s.judge()
	return s
}

func (s *judgeSheet) build() fyne.CanvasObject {
	items := make([]rowItem, len(term.Verdicts))
	for i, v := range term.Verdicts {
		items[i] = rowItem{ID: v.String(), Lead: fmt.Sprint(i + 1), Text: capital(verdictWord(v)), Judged: true, Verdict: v}
	}
	s.verdict.SetItems(items)
	if s.id != "" {
		s.verdict.Mark(s.o.Verdict.String())
	}
	body := column(8,
		asked("judged", s.of),
		asked("verdict", s.verdict),
		asked("reason", s.reason.box),
		asked("by", s.by))
	return sheetPage(s.p.f, "Judge otherwise", s.p.side.close, body, column(4, s.fault, s.holds),
		newButton(s.p.f, "Done   Ctrl+Enter", nil, s.submit).primary(), newButton(s.p.f, "Cancel   Esc", nil, s.p.side.close))
}

func (s *judgeSheet) object() fyne.CanvasObject { return s.page }
func (s *judgeSheet) aboutPart() bool           { return true }
func (s *judgeSheet) closed()                   {}

// refreshed closes the sheet when undo took away what it is about.
func (s *judgeSheet) refreshed() {
	if _, ok := s.p.n.Record().Overrides[s.id]; s.id != "" && !ok {
		s.p.side.close()
	}
}

func (s *judgeSheet) choose(word string) {
	if err := s.o.Verdict.UnmarshalText([]byte(word)); err == nil {
		s.fault.SetText("")
	}
	s.judge()
}

func (s *judgeSheet) chosen() bool { return s.verdict.Selected != "" }

func (s *judgeSheet) entry() record.Override {
	o := s.o
	o.Reason, o.By = strings.TrimSpace(s.reason.Text()), strings.TrimSpace(s.by.Text)
	return o
}

// judge says what would hold.
func (s *judgeSheet) judge() {
	if !s.chosen() {
		s.holds.Set(piece{Text: "What will hold stands here as you choose.", Color: colorQuiet, Small: true})
		return
	}
	o, id := s.entry(), s.target()
	o.Reason, o.By = firstOf(o.Reason, "the reason that you give"), firstOf(o.By, s.p.f.bench.Who())
	a, err := s.p.n.WhatIf(s.p.n.Judge(id, o))
	if err != nil {
		s.holds.Set()
		return
	}
	part, ok := a.Part(o.Part)
	if !ok {
		return
	}
	s.holds.Set(foretell(part, o.Surface, id)...)
}

func (s *judgeSheet) target() record.ID {
	if s.id == "" {
		return record.NewID()
	}
	return s.id
}

// submit keeps the verdict.
func (s *judgeSheet) submit() {
	o := s.entry()
	switch {
	case !s.chosen():
		s.fault.SetText("Choose a verdict: 1 to 5.")
		s.p.f.focus(s.verdict)
		return
	case o.Reason == "":
		s.fault.SetText("Say why: a verdict without a reason convinces nobody.")
		s.p.f.focus(s.reason.entry)
		return
	case o.By == "":
		s.fault.SetText("Say who judges so.")
		s.p.f.focus(s.by)
		return
	}
	id := s.target()
	if s.p.do("The verdict was not kept.", s.p.n.Judge(id, o)) {
		s.p.side.close()
		s.p.chooseEntry(id)
	}
}

// showJudge asks for a person's verdict of the chosen surface, or edits one.
func (p *inspectionPlace) showJudge(id record.ID) {
	if p.part == "" || !p.editable() {
		return
	}
	o := record.Override{Part: p.part, Surface: p.surface}
	if id != "" {
		o = p.n.Record().Overrides[id]
	}
	s := newJudgeSheet(p, id, o)
	p.side.put(s)
	p.f.focus(s.verdict)
}
