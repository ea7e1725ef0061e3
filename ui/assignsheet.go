package ui

import (
	"slices"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fettlebook/assess/record"
)

// assignSheet asks what the picked photos show. Typing finds a part, or a part and
// a surface; Enter assigns. A part that all of them show already is taken off.
type assignSheet struct {
	p     *inspectionPlace
	find  *field
	list  *rows
	lane  *container.Scroll
	do    *button
	only  *button
	title *caption
	page  fyne.CanvasObject
	// shown are the subjects that are listed, in their order.
	shown []assignItem
}

// assignItem is a part or a surface that photos may show.
type assignItem struct {
	to    record.Subject
	name  string
	words []string
}

func newAssignSheet(p *inspectionPlace) *assignSheet {
	s := &assignSheet{p: p}
	s.find = newField(p.f, "which part? type to find, ↑↓ to choose")
	s.find.OnChanged = func(string) { s.filter() }
	s.find.OnSubmitted = func(string) { s.assign(false) }
	s.find.onKey = s.findKey
	s.list = newRows(p.f)
	s.list.LeadWidth = 30
	s.list.OnSelected = func(string) { s.showWhat() }
	s.list.OnEnter = func(string) { s.assign(false) }
	s.list.OnRune = func(r rune) bool { p.f.focus(s.find); s.find.TypedRune(r); return true }
	s.lane = container.NewVScroll(s.list)
	s.title = newCaption("", colorQuiet).small()
	s.do = newButton(p.f, "Assign   Enter", nil, func() { s.assign(false) }).primary()
	s.only = newButton(p.f, "Only this   Ctrl+Enter", nil, s.submit)
	s.page = s.build()
	return s
}

func (s *assignSheet) build() fyne.CanvasObject {
	head := column(6, sheetHead(s.p.f, "What do they show?", nil, s.p.side.close), s.title, s.find)
	foot := column(6,
		quietly("A photo can show two parts: Enter adds one. Ctrl+Enter leaves this one only. A name and a surface, such as “input cone”, assigns to the surface; so does dropping photos on it."),
		line(6, s.do, s.only, newButton(s.p.f, "Cancel   Esc", nil, s.p.side.close)))
	return container.NewBorder(head, padded(foot, 6, 0, 0, 0), nil, nil, padded(s.lane, 6, 0, 0, 0))
}

func (s *assignSheet) object() fyne.CanvasObject { return s.page }
func (s *assignSheet) closed()                   {}

// refreshed keeps up with the record and with what is picked.
func (s *assignSheet) refreshed() { s.filter() }

// submit is Ctrl+Enter: the photos then show nothing else.
func (s *assignSheet) submit() { s.assign(true) }

func (s *assignSheet) findKey(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyDown:
		s.list.Walk(1)
	case fyne.KeyUp:
		s.list.Walk(-1)
	default:
		return false
	}
	s.list.RevealIn(s.lane)
	return true
}

// wordsOf cuts a name into the words by which it is found.
func wordsOf(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// begins counts how many of the typed words begin a word of a name.
func begins(typed, words []string) int {
	n := 0
	for _, t := range typed {
		if slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, t) }) {
			n++
		}
	}
	return n
}

// fitting lists the parts that fit what was typed, the chosen one first where nothing
// was; then the surfaces that fit together with their part's name, those of the chosen
// part also by themselves.
func (s *assignSheet) fitting(text string) []assignItem {
	typed := wordsOf(text)
	whole := strings.TrimSpace(strings.ToLower(text))
	var ranked [4][]assignItem
	a := s.p.n.Assessment()
	for i := range a.Parts {
		part := &a.Parts[i]
		item := assignItem{to: record.Subject{Part: part.ID}, name: part.Name, words: wordsOf(part.Name)}
		rank := 1
		if (whole == "" && part.ID == s.p.part) || (whole != "" && strings.HasPrefix(strings.ToLower(part.Name), whole)) {
			rank = 0
		}
		fit := begins(typed, item.words)
		if fit == len(typed) {
			ranked[rank] = append(ranked[rank], item)
			continue
		}
		for k := range part.Surfaces {
			surface := &part.Surfaces[k]
			all := append(slices.Clone(item.words), wordsOf(surface.Name)...)
			if (fit == 0 && part.ID != s.p.part) || begins(typed, all) < len(typed) {
				continue
			}
			rank := 3
			if part.ID == s.p.part {
				rank = 2
			}
			ranked[rank] = append(ranked[rank], assignItem{to: record.Subject{Part: part.ID, Surface: surface.ID}, name: part.Name + ", " + surface.Name})
		}
	}
	return slices.Concat(ranked[:]...)
}

func subjectKey(s record.Subject) string { return string(s.Part) + "/" + s.Surface }

func (s *assignSheet) filter() {
	before := s.list.Selected
	s.shown = s.fitting(s.find.Text)
	ids := s.p.viewer.picked()
	items := make([]rowItem, len(s.shown))
	found := false
	for i, item := range s.shown {
		items[i] = rowItem{ID: subjectKey(item.to), Text: item.name, Box: true, Ticked: s.p.viewer.allShow(ids, item.to)}
		found = found || items[i].ID == before
	}
	s.list.SetItems(items)
	if !found || s.find.Text != "" {
		s.list.Selected = ""
		if len(items) > 0 {
			s.list.Selected = items[0].ID
		}
	}
	s.list.Refresh()
	s.lane.Refresh()
	s.list.RevealIn(s.lane)
	s.showWhat()
}

// showWhat says what Enter would do.
func (s *assignSheet) showWhat() {
	ids := s.p.viewer.picked()
	s.title.SetText(capital(s.p.n.SaysPhotos(ids)) + s.nowShows(ids))
	text := "Assign   Enter"
	if at := s.list.Index(); at >= 0 && s.list.Items[at].Ticked {
		text = "Take off   Enter"
	}
	s.do.SetText(text)
	if len(s.shown) == 0 || len(ids) == 0 {
		s.do.Disable()
		s.only.Disable()
		return
	}
	s.do.Enable()
	s.only.Enable()
}

// nowShows tells what a single photo shows so far.
func (s *assignSheet) nowShows(ids []record.ID) string {
	if len(ids) != 1 {
		return ""
	}
	var names []string
	for _, subject := range s.p.n.Record().Photos[ids[0]].Subjects {
		names = append(names, s.p.saysSubject(subject))
	}
	if len(names) == 0 {
		return ", not assigned yet"
	}
	return ", shows " + and(names)
}

// assign assigns the photos to what is selected in the list, or takes them off it.
func (s *assignSheet) assign(only bool) {
	at := s.list.Index()
	if at < 0 || at >= len(s.shown) {
		return
	}
	v, ids, to := s.p.viewer, s.p.viewer.picked(), s.shown[at].to
	done := false
	switch {
	case !only && s.list.Items[at].Ticked:
		done = v.unassign(ids, to)
	default:
		done = v.assign(ids, to, only)
	}
	if done && s.p.side.sheet == sheet(s) {
		s.p.side.close()
	}
}

// showAssign asks what the picked photos show.
func (p *inspectionPlace) showAssign() {
	if !p.editable() || len(p.viewer.picked()) == 0 {
		return
	}
	s := newAssignSheet(p)
	p.side.put(s)
	s.filter()
	p.f.focus(s.find)
}
