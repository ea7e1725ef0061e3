package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// partSheet asks what was in the tray: the state of the part, its tag, how many
// loose items there are.
type partSheet struct {
	p     *inspectionPlace
	id    record.ID
	state *choices
	tag   *field
	count *field
	note  *note
	fault *caption
	page  fyne.CanvasObject
}

func newPartSheet(p *inspectionPlace) *partSheet {
	s := &partSheet{p: p, id: p.part}
	part := p.n.Record().Parts[s.id]
	s.state = newChoices(p.f, []choice{
		{ID: string(term.InHand), Label: "present"}, {ID: string(term.Missing), Label: "missing"},
		{ID: string(term.WrongPart), Label: "wrong"}, {ID: string(term.ScrapAtFirstLook), Label: "scrap"},
	}, nil)
	s.state.Numbered = true
	s.state.Mark(string(part.State))
	s.state.OnEnter = s.submit
	s.tag = newField(p.f, "what is written on the tray")
	s.tag.SetText(part.Tag)
	s.tag.OnSubmitted = func(string) { s.submit() }
	s.count = newField(p.f, "not counted")
	if part.Count > 0 {
		s.count.SetText(strconv.Itoa(part.Count))
	}
	s.count.OnSubmitted = func(string) { s.submit() }
	s.note = newNote(p.f, "anything worth telling of the part as a whole", 3)
	s.note.Set(part.Note)
	s.fault = newCaption("", theme.ColorNameError).small()
	done := newButton(p.f, "Done   Ctrl+Enter", nil, s.submit).primary()
	if !p.editable() {
		done.Disable()
	}
	body := column(8,
		asked("what was there when the unit was stripped", s.state),
		container.NewGridWithColumns(2, asked("tray", s.tag), asked("loose items, counted", s.count)),
		asked("note", s.note.box))
	if kind, ok := p.f.bench.Specs().Kind(part.Kind); ok && kind.About != "" {
		body.Add(quietly(kind.About))
	}
	s.page = sheetPage(p.f, p.n.PartName(s.id), p.side.close, body, s.fault, done, newButton(p.f, "Cancel   Esc", nil, p.side.close))
	return s
}

func (s *partSheet) object() fyne.CanvasObject { return s.page }
func (s *partSheet) aboutPart() bool           { return true }
func (s *partSheet) closed()                   {}
func (s *partSheet) refreshed()                {}

func (s *partSheet) submit() {
	if !s.p.editable() {
		return
	}
	count := 0
	if text := strings.TrimSpace(s.count.Text); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 9999 {
			s.fault.SetText("Write the count as a number, or leave it empty.")
			s.p.f.focus(s.count)
			return
		}
		count = n
	}
	state, tag := term.PartState(s.state.Selected), strings.TrimSpace(s.tag.Text)
	says := fmt.Sprintf("%s: %s", s.p.n.PartName(s.id), term.Plain(state))
	if tag != "" {
		says += ", tray " + tag
	}
	ok := s.p.do("The part was not changed.", record.ChangePart(says, s.id, func(p *record.Part) {
		p.State, p.Tag, p.Count, p.Note = state, tag, count, s.note.Text()
	}))
	if ok {
		s.p.side.close()
		s.p.refreshSoon()
	}
}

func (p *inspectionPlace) showPart() {
	if p.part == "" {
		return
	}
	s := newPartSheet(p)
	p.side.put(s)
	p.f.focus(s.state)
}
