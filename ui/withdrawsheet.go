package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
)

// withdrawSheet asks why an entry is withdrawn. It is struck through and stays,
// with who and why.
type withdrawSheet struct {
	p    *inspectionPlace
	id   record.ID
	then func()
	why  *field
	page fyne.CanvasObject
}

// mistaken is the reason that holds where none is written.
const mistaken = "entered by mistake"

func newWithdrawSheet(p *inspectionPlace, id record.ID, what, about string, then func()) *withdrawSheet {
	s := &withdrawSheet{p: p, id: id, then: then}
	s.why = newField(p.f, mistaken)
	s.why.OnSubmitted = func(string) { s.submit() }
	body := column(8,
		newCaption(what, theme.ColorNameForeground).bold(), quietly(about),
		asked("why, if not by mistake", s.why),
		quietly("It no longer counts. It stays in the record, struck through, with who withdrew it and why."))
	s.page = sheetPage(p.f, "Withdraw", p.side.close, body, nil,
		newButton(p.f, "Withdraw   Enter", nil, s.submit).primary(), newButton(p.f, "Cancel   Esc", nil, p.side.close))
	return s
}

func (s *withdrawSheet) object() fyne.CanvasObject { return s.page }
func (s *withdrawSheet) aboutPart() bool           { return true }
func (s *withdrawSheet) closed()                   {}

// refreshed closes the sheet when undo took away what it is about.
func (s *withdrawSheet) refreshed() {
	r := s.p.n.Record()
	_, _, there := s.p.aboutEntry(r, s.id)
	if _, signed := r.Opinions[s.id]; !there && !signed {
		s.p.side.close()
	}
}

func (s *withdrawSheet) submit() {
	if s.p.tried("It was not withdrawn.", s.p.n.Withdraw(s.id, s.why.Text)) {
		s.p.side.close()
		if s.then != nil {
			s.then()
		}
		s.p.refreshSoon()
	}
}

// showWithdraw asks why the chosen entry of the surface is withdrawn.
func (p *inspectionPlace) showWithdraw() {
	r := p.n.Record()
	about, withdrawn, ok := p.aboutEntry(r, p.entry)
	if !ok || withdrawn || !p.editable() {
		return
	}
	what := ""
	for _, item := range p.side.surfaces.entriesOf(r) {
		if item.ID == string(p.entry) {
			what = item.Text
			if item.Lead != "" {
				what = fmt.Sprintf("Finding %s: %s", item.Lead, lower(item.Text))
			}
		}
	}
	p.putWithdraw(p.entry, what, about, nil)
}

func (p *inspectionPlace) putWithdraw(id record.ID, what, about string, then func()) {
	s := newWithdrawSheet(p, id, what, about, then)
	p.side.put(s)
	p.f.focus(s.why)
}
