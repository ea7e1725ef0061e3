package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// claimSheet lists what a warranty claim wants to be photographed. What is there is
// ticked by itself; of what nothing tells, a person says that the photo shows it.
type claimSheet struct {
	p     *inspectionPlace
	list  *rows
	lane  *container.Scroll
	says  *paragraph
	mark  *button
	goTo  *button
	wants []inspection.Wanted
	page  fyne.CanvasObject
}

// viewWords are the views as an adjuster asks for them.
var viewWords = map[term.View]string{
	term.IdentityPlate: "Identity plate, with the claim number",
	term.ServiceMeter:  "Hours or distance",
	term.InPlace:       "in its place",
	term.WholePart:     "whole",
	term.Detail:        "in detail, with a scale",
	term.StampedNumber: "stamped number",
}

func newClaimSheet(p *inspectionPlace) *claimSheet {
	s := &claimSheet{p: p}
	s.list = newRows(p.f)
	s.list.LeadWidth, s.list.TextShare = 30, 0.58
	s.list.OnSelected = func(string) { s.list.RevealIn(s.lane); s.showWhat() }
	s.list.OnEnter = func(string) { s.toPhoto() }
	s.list.OnRune = func(r rune) bool {
		if r == ' ' {
			s.submit()
		}
		return r == ' '
	}
	s.lane = container.NewVScroll(s.list)
	s.says = newParagraph()
	s.mark = newButton(p.f, "", nil, s.submit).primary()
	s.goTo = newButton(p.f, "Go to its photo   Enter", nil, s.toPhoto)
	about := "What is there is ticked by itself. For the rest, choose the photo in the strip and say here that it shows it."
	head := column(6, sheetHead(p.f, "What a claim wants", nil, p.side.close), quietly(about))
	foot := column(6, s.says, line(6, s.mark, s.goTo, newButton(p.f, "Close   Esc", nil, p.side.close)))
	s.page = container.NewBorder(head, padded(foot, 6, 0, 0, 0), nil, nil, padded(s.lane, 6, 0, 0, 0))
	s.refreshed()
	return s
}

func (s *claimSheet) object() fyne.CanvasObject { return s.page }
func (s *claimSheet) closed()                   {}

func wantedKey(w inspection.Wanted) string { return string(w.View) + "/" + string(w.Part) }

// wantedSays names one thing of the list.
func (p *inspectionPlace) wantedSays(w inspection.Wanted) string {
	if w.Part == "" {
		return viewWords[w.View]
	}
	return p.n.PartName(w.Part) + ", " + viewWords[w.View]
}

// refreshed keeps up with the record and with the photo that is shown.
func (s *claimSheet) refreshed() {
	s.wants = s.p.n.ClaimWants()
	r := s.p.n.Record()
	items := make([]rowItem, len(s.wants))
	for i, w := range s.wants {
		items[i] = rowItem{ID: wantedKey(w), Text: s.p.wantedSays(w), Box: true, Ticked: w.Done, Quiet: w.Lacks}
		if len(w.Photos) > 0 && w.Lacks == "" {
			items[i].Quiet = photoList(r, w.Photos)
		}
	}
	s.list.SetItems(items)
	if s.list.Index() < 0 && len(items) > 0 {
		s.list.Selected = items[0].ID
		for _, w := range s.wants {
			if !w.Done {
				s.list.Selected = wantedKey(w)
				break
			}
		}
		s.list.Refresh()
	}
	s.showWhat()
}

func photoList(r *record.Record, ids []record.ID) string {
	const named = 3
	says := "photo "
	for i, id := range ids {
		switch {
		case i == named:
			return says + " …"
		case i > 0:
			says += ", "
		}
		says += fmt.Sprint(r.Photos[id].Number)
	}
	return says
}

func (s *claimSheet) wanted() (inspection.Wanted, bool) {
	at := s.list.Index()
	if at < 0 || at >= len(s.wants) {
		return inspection.Wanted{}, false
	}
	return s.wants[at], true
}

// marked tells whether the picked photos are all said to show what is chosen.
func (s *claimSheet) marked(w inspection.Wanted, ids []record.ID) bool {
	r := s.p.n.Record()
	for _, id := range ids {
		if p := r.Photos[id]; p.Shows != w.View || (w.Part != "" && !shows(p, w.Part)) {
			return false
		}
	}
	return len(ids) > 0
}

// showWhat says what the buttons would do.
func (s *claimSheet) showWhat() {
	w, ok := s.wanted()
	ids := s.p.viewer.picked()
	s.mark.SetText("The photo shows it   Space")
	if s.marked(w, ids) {
		s.mark.SetText("It does not show it   Space")
	}
	s.mark.Disable()
	if ok && len(ids) > 0 && s.p.editable() {
		s.mark.Enable()
	}
	s.goTo.Disable()
	if len(w.Photos) > 0 {
		s.goTo.Enable()
	}
	switch {
	case !ok:
		s.says.Set()
	case w.Done:
		s.says.Set(piece{Text: "It is there.", Color: colorQuiet})
	default:
		s.says.Set(piece{Text: sentence(w.Lacks), Color: theme.ColorNameForeground})
	}
}

// submit says that the picked photos show what is chosen, or that they do not.
func (s *claimSheet) submit() {
	w, ok := s.wanted()
	ids := s.p.viewer.picked()
	if !ok || len(ids) == 0 || !s.p.editable() {
		return
	}
	view := w.View
	if s.marked(w, ids) {
		view = ""
	}
	if s.p.tried("It was not noted.", s.p.n.ShowView(ids, view, w.Part)) {
		s.p.refresh()
	}
}

// toPhoto goes to the photo that shows what is chosen.
func (s *claimSheet) toPhoto() {
	w, ok := s.wanted()
	if !ok || len(w.Photos) == 0 {
		return
	}
	v := s.p.viewer
	if w.Part != "" {
		s.p.choosePart(w.Part)
	} else {
		v.scope = ofAll
	}
	v.shown = w.Photos[0]
	s.p.refresh()
	s.p.f.focus(s.list)
}

func (p *inspectionPlace) showClaim() {
	s := newClaimSheet(p)
	p.side.put(s)
	p.f.focus(s.list)
}

// showClaimState tells beside the strip how much of a claim is there.
func (v *viewer) showClaimState() {
	if v.p.n.Record().Owner.Claim == "" {
		v.claim.Hide()
		return
	}
	wants := v.p.n.ClaimWants()
	done := 0
	for _, w := range wants {
		if w.Done {
			done++
		}
	}
	v.claim.Show()
	v.claim.SetText(fmt.Sprintf("Claim %d/%d", done, len(wants)))
}
