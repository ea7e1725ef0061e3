package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// findingSheet asks for one finding: what, how bad, where, found how. Typing
// filters the kinds of damage; Enter goes on to the severity, which the number
// keys choose; Enter again is done.
type findingSheet struct {
	p       *inspectionPlace
	id      record.ID // empty for a new finding
	outline record.ID
	f       record.Finding
	// methodChosen is set once a person chose how it was found; until then the
	// method follows the severity.
	methodChosen bool

	// means asks what a fresh outline is of.
	means    *outlineMeaning
	surface  *drop
	filter   *field
	damages  *rows
	lane     *container.Scroll
	tell     *paragraph
	severity *choices
	zone     *choices
	method   *drop
	tooth    *field
	flank    *drop
	share    *field
	standing *drop
	by       *field
	note     *note
	fault    *caption
	verdict  *paragraph
	done     *button
	page     fyne.CanvasObject
}

func newFindingSheet(p *inspectionPlace, id record.ID, f record.Finding, outline record.ID) *findingSheet {
	s := &findingSheet{p: p, id: id, f: f, outline: outline, methodChosen: id != ""}
	s.surface = newDrop(p.f, s.surfaceNames(), func(string) { s.choseSurface() })
	s.filter = newField(p.f, "what is it? type to find, 1 to 3 behind it tells how bad")
	s.filter.OnChanged = func(string) { s.filterDamages() }
	s.filter.onKey = s.filterKey
	s.damages = newRows(p.f)
	s.damages.LeadWidth, s.damages.TextShare = 0, 0.36
	s.damages.OnSelected = func(id string) { s.choseDamage(term.Damage(id)) }
	s.damages.OnEnter = func(string) { s.toSeverity() }
	s.damages.OnRune = func(r rune) bool { p.f.focus(s.filter); s.filter.TypedRune(r); return true }
	s.lane = container.NewVScroll(s.damages)
	s.tell = quietly("")
	s.severity = newChoices(p.f, nil, func(id string) { s.choseSeverity(term.Severity(id)) })
	s.severity.Numbered = true
	s.severity.OnEnter = s.submit
	s.zone = newChoices(p.f, nil, func(id string) { s.f.Zone = term.Zone(id); s.judge() })
	s.zone.OnEnter = s.submit
	s.method = newDrop(p.f, methodWords(), func(word string) { s.choseMethod(word) })
	s.tooth = newField(p.f, "tooth no.")
	s.tooth.OnChanged = func(text string) { s.f.Tooth = strings.TrimSpace(text) }
	s.tooth.OnSubmitted = func(string) { s.submit() }
	s.flank = newDrop(p.f, []string{"either flank", string(term.Drive), string(term.Coast)}, func(word string) {
		s.f.Flank = ""
		if word == string(term.Drive) || word == string(term.Coast) {
			s.f.Flank = term.FlankSide(word)
		}
	})
	s.share = newField(p.f, "%")
	s.share.OnChanged = func(text string) { s.f.Share = shareOf(text); s.judge() }
	s.share.OnSubmitted = func(string) { s.submit() }
	s.standing = newDrop(p.f, []string{standingWords[""].Label, standingWords[term.Primary].Label, standingWords[term.Consequential].Label}, s.choseStanding)
	s.by = newField(p.f, "name")
	s.by.SetText(firstOf(f.By, p.f.bench.Who()))
	s.by.OnChanged = func(text string) { s.f.By = strings.TrimSpace(text) }
	s.by.OnSubmitted = func(string) { s.submit() }
	s.note = newNote(p.f, "note", 2)
	s.fault = newCaption("", theme.ColorNameError).small()
	s.verdict = newParagraph()
	s.done = newButton(p.f, "Done   Enter", nil, s.submit).primary()
	s.page = s.build()
	s.fill()
	return s
}

func (s *findingSheet) build() fyne.CanvasObject {
	title := "New finding"
	if s.id != "" {
		title = fmt.Sprintf("Finding %d", s.f.Number)
	}
	s.means = newOutlineMeaning(s)
	body := column(5, s.elsewhere(), s.means.object, s.filter,
		atLeast(s.lane, 100, 5*s.damages.RowHeight()+2),
		s.tell, s.severity, s.zone,
		container.NewGridWithColumns(3, asked("found", s.method), asked("tooth", s.tooth), asked("flank", s.flank)),
		container.NewGridWithColumns(3, asked("found by", s.by), asked("share of working face", s.share), asked("order of events", s.standing)),
		s.note.box)
	foot := column(4, s.fault, s.verdict)
	return sheetUnder(sheetHead(s.p.f, title, s.surface, s.p.side.close), body, foot, s.done, newButton(s.p.f, "Cancel   Esc", nil, s.p.side.close))
}

// elsewhere warns that the outline lies on a photo of another part: whoever walks
// through all photos may have forgotten to choose the part.
func (s *findingSheet) elsewhere() fyne.CanvasObject {
	r := s.p.n.Record()
	o, drawn := r.Outlines[s.outline]
	photo := r.Photos[o.Photo]
	if !drawn || len(photo.Subjects) == 0 || shows(photo, s.f.Part) {
		return column(0)
	}
	return newParagraph(piece{Text: fmt.Sprintf("Photo %d so far shows %s. This finding is of %s; the photo will show both.", photo.Number,
		lower(s.p.n.PartName(photo.Subjects[0].Part)), lower(s.p.n.PartName(s.f.Part))), Color: theme.ColorNameWarning})
}

func (s *findingSheet) object() fyne.CanvasObject { return s.page }
func (s *findingSheet) aboutPart() bool           { return true }
func (s *findingSheet) closed()                   {}

// refreshed closes the sheet when undo took away what it is about.
func (s *findingSheet) refreshed() {
	r := s.p.n.Record()
	if _, ok := r.Findings[s.id]; s.id != "" && !ok {
		s.p.side.close()
		return
	}
	if _, ok := r.Outlines[s.outline]; s.outline != "" && !ok {
		s.outline = ""
	}
}

// begin puts the keys to the first thing that is asked.
func (s *findingSheet) begin() { s.p.f.focus(s.filter) }

func methodWords() []string {
	words := make([]string, len(term.Methods))
	for i, m := range term.Methods {
		words[i] = m.Says()
	}
	return words
}

func (s *findingSheet) choseMethod(word string) {
	for _, m := range term.Methods {
		if m.Says() == word {
			s.f.Method, s.methodChosen = m, true
		}
	}
	s.judge()
}

// known is what the spec says of the surface.
func (s *findingSheet) known() *spec.Surface { return s.p.knownSurface(s.f.Part, s.f.Surface) }

func (s *findingSheet) surfaceNames() []string {
	var names []string
	if part, ok := s.p.n.Assessment().Part(s.f.Part); ok {
		for i := range part.Surfaces {
			names = append(names, surfaceLabel(part.Surfaces[i].Number, part.Surfaces[i].Name))
		}
	}
	return names
}

func surfaceLabel(number int, name string) string {
	return fmt.Sprintf("%d  %s", number, capital(name))
}

// fill shows what is known of the finding so far.
func (s *findingSheet) fill() {
	if part, ok := s.p.n.Assessment().Part(s.f.Part); ok {
		if f, ok := part.Surface(s.f.Surface); ok {
			s.surface.show(surfaceLabel(f.Number, f.Name))
		}
	}
	s.tooth.SetText(s.f.Tooth)
	s.flank.show(firstOf(string(s.f.Flank), "either flank"))
	s.share.SetText(s.f.Share)
	s.standing.show(standingWords[s.f.Standing].Label)
	s.note.Set(s.f.Note)
	s.showZones()
	s.filterDamages()
	if s.f.Damage != "" {
		s.damages.Mark(string(s.f.Damage))
	}
	s.showDamage()
	s.method.show(firstOf(s.f.Method.Says(), term.ByEye.Says()))
	s.judge()
}

func (s *findingSheet) choseSurface() {
	part, ok := s.p.n.Assessment().Part(s.f.Part)
	at := s.surface.SelectedIndex()
	if !ok || at < 0 || at >= len(part.Surfaces) || part.Surfaces[at].ID == s.f.Surface {
		return
	}
	s.f.Surface = part.Surfaces[at].ID
	s.f.Zone = ""
	s.p.chooseSurface(s.f.Surface)
	s.means.show()
	s.showZones()
	s.filterDamages()
	s.judge()
	s.p.f.focus(s.filter)
}

// standingWords say whether a damage came first or was brought about by another.
var standingWords = map[term.Standing]choice{
	"":                 {Label: "not told"},
	term.Primary:       {ID: string(term.Primary), Label: "came first"},
	term.Consequential: {ID: string(term.Consequential), Label: "followed"},
}

func (s *findingSheet) choseStanding(word string) {
	for standing, c := range standingWords {
		if c.Label == word {
			s.f.Standing = standing
		}
	}
}

// shareOf takes a share in percent as it may be typed: "12,5 %".
func shareOf(text string) string {
	return strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), "%"))
}

var zoneWords = map[term.Zone]choice{
	term.WorkingFace:  {ID: string(term.WorkingFace), Label: "working face"},
	term.StressedZone: {ID: string(term.StressedZone), Label: "stressed zone"},
	term.Elsewhere:    {ID: string(term.Elsewhere), Label: "elsewhere"},
}

func (s *findingSheet) showZones() {
	zones := term.Zones
	if known := s.known(); known != nil && len(known.Zones) > 0 {
		zones = known.Zones
	}
	options := make([]choice, len(zones))
	for i, z := range zones {
		options[i] = zoneWords[z]
	}
	s.zone.SetOptions(options)
	if !slices.Contains(zones, s.f.Zone) {
		s.f.Zone = zones[0]
	}
	s.zone.Mark(string(s.f.Zone))
}

// submit keeps the finding.
func (s *findingSheet) submit() {
	s.f.Note = s.note.Text()
	switch {
	case s.f.Damage == "":
		s.fault.SetText("Choose what it is.")
		s.p.f.focus(s.filter)
		return
	case s.f.Severity == "":
		s.fault.SetText("Say how bad it is: 1, 2 or 3.")
		s.p.f.focus(s.severity)
		return
	}
	id, ok := s.id, false
	if s.id == "" {
		var err error
		id, err = s.p.n.AddFinding(s.entry())
		ok = s.p.tried("The finding was not added.", err)
	} else {
		f := s.f
		ok = s.p.tried("The finding was not changed.", s.p.n.ChangeFinding(s.id, func(old *record.Finding) {
			f.Number, f.By, f.Withdrawn = old.Number, firstOf(f.By, old.By), old.Withdrawn
			*old = f
		}))
	}
	if ok {
		s.p.viewer.stay(s.outline)
		s.p.side.close()
		s.p.chooseFinding(id)
	}
}
