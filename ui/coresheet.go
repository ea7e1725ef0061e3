package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// coreSheet tells of the core as a whole: its outcome, what is to be inspected
// next, and what the findings are consistent with, which a person signs.
type coreSheet struct {
	p *inspectionPlace

	whole    *drawingView
	why      *paragraph
	next     *rows
	nothing  *paragraph
	causes   *rows
	about    *paragraph
	text     *note
	by       *field
	sign     *button
	signed   *rows
	withdraw *button
	fault    *caption
	page     fyne.CanvasObject
}

func newCoreSheet(p *inspectionPlace) *coreSheet {
	s := &coreSheet{p: p}
	s.whole = newDrawingView(p.f, p.drawUnit)
	s.whole.OnChosen = s.choosePlace
	s.whole.Name = p.placeSays
	s.why = newParagraph()
	s.next = newRows(p.f)
	s.next.LeadWidth = 24
	s.next.OnEnter = func(id string) { p.choosePart(record.ID(id)); p.side.close() }
	s.nothing = quietly("")
	s.causes = newRows(p.f)
	s.causes.LeadWidth, s.causes.TextShare = 0, 0.42
	s.causes.OnSelected = func(string) { s.showCause() }
	s.about = quietly("")
	s.text = newNote(p.f, "in your own words, for the adjuster", 2)
	s.by = newField(p.f, "name")
	s.by.SetText(p.f.bench.Who())
	s.sign = newButton(p.f, "Sign it", nil, s.submit)
	s.signed = newRows(p.f)
	s.signed.LeadWidth = 0
	s.signed.OnSelected = func(string) { s.showSigned() }
	s.withdraw = newButton(p.f, "Withdraw", nil, s.strike).low()
	s.fault = newCaption("", theme.ColorNameError).small()
	if !p.editable() {
		s.sign.Disable()
		s.withdraw.Disable()
	}
	s.page = s.build()
	s.refreshed()
	return s
}

func (s *coreSheet) build() fyne.CanvasObject {
	body := column(6,
		s.why, s.whole,
		newCaption("To be inspected, in the order that saves most work", theme.ColorNameForeground).bold(),
		s.nothing, s.next,
		newCaption("What the findings are consistent with", theme.ColorNameForeground).bold(),
		quietly("In no order of likelihood. The program names what speaks for and against; whether one of them it was, a person signs. It stands in no customer's report unless it is asked for."),
		s.causes, s.about, s.text.box, asked("signed by", s.by), line(6, s.sign), s.fault,
		s.signed, line(6, s.withdraw))
	return sheetPage(s.p.f, "The core", s.p.side.close, body, nil, newButton(s.p.f, "Close   Esc", nil, s.p.side.close))
}

func (s *coreSheet) object() fyne.CanvasObject { return s.page }
func (s *coreSheet) closed()                   {}

func (s *coreSheet) refreshed() {
	a := s.p.n.Assessment()
	s.why.Set(piece{Text: capital(string(a.Outcome)) + ". ", Bold: true}, piece{Text: strings.Join(a.Why, " ")})
	s.whole.Redraw()
	s.showNext(a)
	s.showCauses(a)
	s.showSigned()
}

// choosePlace goes to the part that stands at a place of the unit.
func (s *coreSheet) choosePlace(place string) {
	for _, part := range s.p.n.Assessment().Parts {
		if part.Place == place {
			s.p.choosePart(part.ID)
			s.whole.Chosen = place
			return
		}
	}
}

func (s *coreSheet) showNext(a *inspection.Assessment) {
	items := make([]rowItem, 0, len(a.Next))
	for i, id := range a.Next {
		part, _ := a.Part(id)
		items = append(items, rowItem{ID: string(id), Lead: fmt.Sprint(i + 1), Text: part.Name,
			Quiet: countOf(len(part.Inspect), "step", "steps") + ": " + part.Inspect[0].Text})
	}
	s.next.SetItems(items)
	s.next.Hidden = len(items) == 0
	s.nothing.Hidden = len(items) > 0
	s.nothing.Set(piece{Text: "Nothing is left to be inspected.", Color: colorQuiet, Small: true})
}

func (s *coreSheet) showCauses(a *inspection.Assessment) {
	items := make([]rowItem, len(a.Causes))
	for i, c := range a.Causes {
		items[i] = rowItem{ID: c.ID, Text: capital(c.Name), Quiet: "for: " + s.numbers(c.For) + "  ·  against: " + s.numbers(c.Against)}
	}
	s.causes.SetItems(items)
	s.causes.Hidden = len(items) == 0
	s.showCause()
}

// numbers names findings by their numbers.
func (s *coreSheet) numbers(ids []record.ID) string {
	if len(ids) == 0 {
		return "none"
	}
	says := make([]string, len(ids))
	for i, id := range ids {
		says[i] = fmt.Sprint(s.p.n.Record().Findings[id].Number)
	}
	return strings.Join(says, ", ")
}

func (s *coreSheet) showCause() {
	causes := s.p.n.Assessment().Causes
	at := slices.IndexFunc(causes, func(c inspection.Cause) bool { return c.ID == s.causes.Selected })
	switch {
	case at >= 0:
		c := causes[at]
		s.about.Set(piece{Text: sentence(c.Plain) + " ", Small: true},
			piece{Text: "What would tell it apart: " + lower(sentence(c.Apart)), Color: colorQuiet, Small: true})
	case len(causes) == 0:
		s.about.Set(piece{Text: "No finding so far speaks for any.", Color: colorQuiet, Small: true})
	default:
		s.about.Set(piece{Text: "Choose one to see what would tell it apart, or to sign it.", Color: colorQuiet, Small: true})
	}
}

// showSigned lists what was signed so far.
func (s *coreSheet) showSigned() {
	var items []rowItem
	for id, o := range record.InOrder(s.p.n.Record().Opinions) {
		items = append(items, rowItem{ID: string(id), Text: o.By + ": " + s.p.n.CauseName(o.Cause), Quiet: firstOf(o.Withdrawn, o.Text), Struck: o.Withdrawn != ""})
	}
	if !slices.Equal(items, s.signed.Items) {
		s.signed.SetItems(items)
	}
	s.signed.Hidden = len(items) == 0
	o, ok := s.p.n.Record().Opinions[record.ID(s.signed.Selected)]
	s.withdraw.Hidden = !ok || o.Withdrawn != ""
}

// submit signs the chosen cause.
func (s *coreSheet) submit() {
	o := record.Opinion{Cause: s.causes.Selected, Text: s.text.Text(), By: strings.TrimSpace(s.by.Text)}
	switch {
	case !s.p.editable():
		return
	case o.Cause == "":
		s.fault.SetText("Choose first what it is consistent with.")
		return
	case o.By == "":
		s.fault.SetText("Say who signs it.")
		s.p.f.focus(s.by)
		return
	}
	s.fault.SetText("")
	if s.p.do("It was not signed.", s.p.n.Sign(record.NewID(), o)) {
		s.text.Set("")
		s.refreshed()
		s.p.refreshSoon()
	}
}

// strike withdraws what is chosen of the signed ones.
func (s *coreSheet) strike() {
	id := record.ID(s.signed.Selected)
	o, ok := s.p.n.Record().Opinions[id]
	if ok && o.Withdrawn == "" {
		s.p.putWithdraw(id, o.By+": "+s.p.n.CauseName(o.Cause), o.Text, s.p.showCore)
	}
}

func (p *inspectionPlace) showCore() {
	s := newCoreSheet(p)
	p.side.put(s)
	if !s.next.Hidden {
		p.f.focus(s.next)
	} else {
		p.f.focus(s.causes)
	}
}
