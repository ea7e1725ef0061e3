package ui

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// fitSheet asks what came of putting two parts together by hand: with which
// partner, of this core, of another, or an unworn one from the shelf.
type fitSheet struct {
	p  *inspectionPlace
	id record.ID // empty for a new one
	f  record.TrialFit
	// part and side are the part that is tried, and where it stands in the pair.
	part  record.PartOf
	side  string
	pairs []*spec.Pair
	pair  *spec.Pair
	// partners are those that the list shows, by the ids of its rows.
	partners map[string]inspection.Partner
	asked    int
	// shelved says that the partner is from the shelf, and so unworn; before is who
	// was marked until it was chosen.
	shelved bool
	before  string

	kind     *drop
	how      *paragraph
	filter   *field
	list     *rows
	lane     *container.Scroll
	outcome  *rows
	unworn   *choices
	note     *note
	by       *field
	fault    *caption
	verdict  *paragraph
	page     fyne.CanvasObject
	elseCore []inspection.Partner
}

// fromShelf is the row of a reference part that stands in no record.
const fromShelf = "shelf"

func newFitSheet(p *inspectionPlace, id record.ID, f record.TrialFit) *fitSheet {
	s := &fitSheet{p: p, id: id, f: f, part: record.PartOf{Record: p.n.ID(), Part: p.part}, pairs: p.n.Fits(p.part, "")}
	s.kind = newDrop(p.f, nil, func(string) { s.chosePair(s.kind.SelectedIndex()) })
	s.how = quietly("")
	s.filter = newField(p.f, "partner: type part, serial or tray to find it")
	s.filter.OnChanged = func(string) { s.showPartners(); s.askElsewhere() }
	s.filter.onKey = func(name fyne.KeyName) bool {
		switch name {
		case fyne.KeyDown:
			s.list.Walk(1)
		case fyne.KeyUp:
			s.list.Walk(-1)
		case fyne.KeyReturn, fyne.KeyEnter:
			p.f.focus(s.outcome)
		default:
			return false
		}
		return true
	}
	s.list = newRows(p.f)
	s.list.LeadWidth, s.list.TextShare = 0, 0.46
	s.list.OnSelected = func(string) { s.choosePartner() }
	s.list.OnEnter = func(string) { p.f.focus(s.outcome) }
	s.lane = container.NewVScroll(s.list)
	s.outcome = newRows(p.f)
	s.outcome.LeadWidth, s.outcome.Numbered = 24, true
	s.outcome.OnSelected = func(id string) { s.f.Outcome = id; s.fault.SetText(""); s.judge() }
	s.outcome.OnEnter = func(string) { s.submit() }
	s.unworn = newChoices(p.f, []choice{{Label: "neither"}, {ID: "this", Label: "this part"}, {ID: "partner", Label: "the partner"}},
		func(string) { s.judge() })
	s.note = newNote(p.f, "note", 2)
	s.note.Set(f.Note)
	s.by = newField(p.f, "name")
	s.by.SetText(firstOf(f.By, p.f.bench.Who()))
	s.by.OnSubmitted = func(string) { s.submit() }
	s.fault = newCaption("", theme.ColorNameError).small()
	s.verdict = newParagraph()
	s.page = s.build()
	s.begin()
	return s
}

func (s *fitSheet) build() fyne.CanvasObject {
	title := "New trial fit"
	if s.id != "" {
		title = "Trial fit"
	}
	body := column(6,
		s.kind, s.how, s.filter, atLeast(s.lane, 100, 5*s.list.RowHeight()+2),
		asked("what came of it", s.outcome),
		asked("unworn, as a reference", s.unworn),
		s.note.box, asked("tried by", s.by))
	return sheetPage(s.p.f, title, s.p.side.close, body, column(4, s.fault, s.verdict),
		newButton(s.p.f, "Done   Ctrl+Enter", nil, s.submit).primary(), newButton(s.p.f, "Cancel   Esc", nil, s.p.side.close))
}

// begin shows the kind of trial fit of the chosen surface, or that of the entry.
func (s *fitSheet) begin() {
	names := make([]string, len(s.pairs))
	for i, pair := range s.pairs {
		names[i] = capital(pair.Name)
	}
	at := max(slices.IndexFunc(s.pairs, func(pair *spec.Pair) bool {
		_, surface, _ := pair.Side(s.kindOf())
		return pair.ID == s.f.Pair || s.f.Pair == "" && surface == s.p.surface
	}), 0)
	s.kind.Options = names
	s.pair = s.pairs[at]
	s.side, _, _ = s.pair.Side(s.kindOf())
	s.kind.show(names[at])
	if s.id != "" {
		s.unworn.Mark(s.unwornWord())
	}
	s.showPair()
}

func (s *fitSheet) kindOf() string { return s.p.n.Record().Parts[s.part.Part].Kind }

func (s *fitSheet) unwornWord() string {
	switch s.f.Unworn {
	case "":
		return ""
	case s.side:
		return "this"
	}
	return "partner"
}

func (s *fitSheet) object() fyne.CanvasObject { return s.page }
func (s *fitSheet) aboutPart() bool           { return true }
func (s *fitSheet) closed()                   { s.asked++ }

// refreshed closes the sheet when undo took away what it is about.
func (s *fitSheet) refreshed() {
	if _, ok := s.p.n.Record().TrialFits[s.id]; s.id != "" && !ok {
		s.p.side.close()
	}
}

func (s *fitSheet) chosePair(at int) {
	if at < 0 || at >= len(s.pairs) || s.pairs[at] == s.pair {
		return
	}
	s.pair, s.f.Outcome, s.elseCore = s.pairs[at], "", nil
	s.showPair()
}

func (s *fitSheet) showPair() {
	s.side, _, _ = s.pair.Side(s.kindOf())
	s.how.Set(piece{Text: s.pair.How, Color: colorQuiet, Small: true})
	items := make([]rowItem, len(s.pair.Outcomes))
	for i, o := range s.pair.Outcomes {
		items[i] = rowItem{ID: o.ID, Lead: fmt.Sprint(i + 1), Text: capital(term.Plain(term.Role(o.ID))), Judged: true, Verdict: o.Verdict}
	}
	s.outcome.SetItems(items)
	s.outcome.Mark(s.f.Outcome)
	s.showPartners()
	s.askElsewhere()
	s.judge()
}

// other is the side on which the partner stands.
func (s *fitSheet) other() string {
	if s.side == "a" {
		return "b"
	}
	return "a"
}

// showPartners lists the partners that fit what was typed: of this core, then
// from the shelf, then of other cores.
func (s *fitSheet) showPartners() {
	s.partners = map[string]inspection.Partner{}
	var items []rowItem
	words := strings.Fields(strings.ToLower(s.filter.Text))
	add := func(q inspection.Partner, where string) {
		if q.PartOf == s.part {
			return
		}
		tag := ""
		if q.Tag != "" {
			tag = ", tray " + q.Tag
		}
		item := rowItem{ID: partnerRow(q.PartOf), Text: q.Name, Quiet: where + tag + " · " + q.Grade}
		all := strings.ToLower(item.Text + " " + item.Quiet)
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(all, w) }) && where == thisCore {
			return
		}
		s.partners[item.ID] = q
		items = append(items, item)
	}
	for _, q := range s.p.n.PartnersHere(s.part.Part, s.pair, s.other()) {
		add(q, thisCore)
	}
	items = append(items, rowItem{ID: fromShelf, Text: "An unworn part", Quiet: "from the shelf, in no record"})
	for _, q := range s.elseCore {
		add(q, q.Core)
	}
	s.list.SetItems(items)
	s.lane.Refresh()
	s.mark(items)
}

const thisCore = "this core"

// noted is the partner that the edited trial fit has.
func (s *fitSheet) noted() record.PartOf {
	if s.f.A == s.part {
		return s.f.B
	}
	return s.f.A
}

func partnerRow(end record.PartOf) string {
	if end == (record.PartOf{}) {
		return fromShelf
	}
	return string(end.Record) + "/" + string(end.Part)
}

// mark keeps the partner that was chosen; without one it takes the first.
func (s *fitSheet) mark(items []rowItem) {
	if s.list.Selected == "" && s.id != "" {
		s.list.Selected = partnerRow(s.noted())
	}
	if s.list.Index() < 0 && s.id == "" {
		s.list.Selected = items[0].ID
	}
	s.list.Refresh()
	s.choosePartner()
}

// askElsewhere looks for partners in other cores beside the window.
func (s *fitSheet) askElsewhere() {
	s.asked++
	asked, pair, side, words := s.asked, s.pair, s.other(), strings.Fields(s.filter.Text)
	beside(s.p.f, func(ctx context.Context) ([]inspection.Partner, error) {
		return s.p.n.PartnersElsewhere(ctx, pair, side, words)
	}, func(found []inspection.Partner, err error) {
		if asked != s.asked || s.p.side.sheet != s {
			return
		}
		if !s.p.tried("Other cores could not be looked through.", err) {
			return
		}
		s.elseCore = found
		s.showPartners()
	})
}

// choosePartner takes the chosen partner. One from the shelf is unworn; whoever
// comes after it, also in walking past it, is not for that reason.
func (s *fitSheet) choosePartner() {
	shelf := s.list.Selected == fromShelf
	switch {
	case shelf && !s.shelved:
		if s.before = s.unworn.Selected; s.before == "partner" {
			s.before = ""
		}
		s.unworn.Mark("partner")
	case !shelf && s.shelved:
		s.unworn.Mark(s.before)
	}
	s.shelved = shelf
	s.judge()
}

// entry is the trial fit as it stands; ok is false while something is missing.
func (s *fitSheet) entry() (f record.TrialFit, ok bool) {
	f = s.f
	f.Pair, f.Note, f.By = s.pair.ID, s.note.Text(), strings.TrimSpace(s.by.Text)
	q, known := s.partners[s.list.Selected]
	f.A, f.B, f.Unworn = s.part, q.PartOf, ""
	switch {
	case s.list.Selected == fromShelf:
		s.unworn.Mark("partner")
		known = true
	case s.id != "" && !known && s.pair.ID == s.f.Pair && s.list.Selected == partnerRow(s.noted()):
		// It may be a part of a core that was not looked through, or no longer at hand.
		f.B, known = s.noted(), true
	}
	switch s.unworn.Selected {
	case "this":
		f.Unworn = s.side
	case "partner":
		f.Unworn = s.other()
	}
	if s.side == "b" {
		f.A, f.B = f.B, f.A
	}
	return f, known && f.Outcome != ""
}

// judge says what the verdict would be.
func (s *fitSheet) judge() {
	f, ok := s.entry()
	if !ok {
		s.verdict.Set(piece{Text: "The verdict stands here as you choose.", Color: colorQuiet, Small: true})
		return
	}
	id := s.target()
	a, err := s.p.n.WhatIf(s.p.n.TrialFit(id, f))
	if err != nil {
		s.verdict.Set()
		return
	}
	part, ok := a.Part(s.part.Part)
	if !ok {
		return
	}
	_, surface, _ := s.pair.Side(s.kindOf())
	s.verdict.Set(foretell(part, surface, id)...)
}

func (s *fitSheet) target() record.ID {
	if s.id == "" {
		return record.NewID()
	}
	return s.id
}

// submit keeps the trial fit.
func (s *fitSheet) submit() {
	f, ok := s.entry()
	if !ok {
		s.fault.SetText("Choose a partner, and what came of it: 1, 2, 3 …")
		s.p.f.focus(s.outcome)
		return
	}
	id := s.target()
	if s.p.do("The trial fit was not kept.", s.p.n.TrialFit(id, f)) {
		s.p.side.close()
		if _, surface, ok := s.pair.Side(s.kindOf()); ok {
			s.p.chooseSurface(surface)
		}
		s.p.chooseEntry(id)
	}
}

// showFit asks for a trial fit of the chosen part, or edits one.
func (p *inspectionPlace) showFit(id record.ID) {
	if p.part == "" || !p.editable() {
		return
	}
	if len(p.n.Fits(p.part, "")) == 0 {
		p.notices.put(notice{ID: "fit", words: words{Title: "No trial fit.", Message: "No spec names a part that this one is tried with by hand."}})
		return
	}
	f := p.n.Record().TrialFits[id]
	if id != "" && !slices.ContainsFunc(p.n.Fits(p.part, ""), func(pair *spec.Pair) bool { return pair.ID == f.Pair }) {
		p.tellUnknown("fit", "No spec in force knows this kind of trial fit.")
		return
	}
	s := newFitSheet(p, id, f)
	p.side.put(s)
	p.f.focus(s.outcome)
}
