package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// surfacePane shows the chosen part: its grade, its surfaces, and of the chosen
// surface the verdict with its reasons and the findings.
type surfacePane struct {
	p *inspectionPlace

	name, grade *caption
	band        *band
	about       *paragraph
	whole       *button
	picture     *drawingView
	list        *rows
	head        *paragraph
	eye, touch  *toggle
	clean       *toggle
	look        *paragraph
	reasons     *fyne.Container
	entries     *rows
	more        *paragraph
	handle      *fyne.Container
	gauge       *button
	workOut     *button
	fit, judge  *button
	edit        *button
	withdraw    *button
	size        *button
	scroll      *container.Scroll
	object      fyne.CanvasObject
}

// safetyLine stands at the foot of every verdict.
const safetyLine = "Defer to the maker's manual. A visual inspection does not find every crack."

func newSurfacePane(p *inspectionPlace) *surfacePane {
	s := &surfacePane{p: p}
	s.name = newHeading("", theme.SizeNameSubHeadingText)
	s.grade = newCaption("", theme.ColorNameForeground).bold().whole()
	s.band = newBand(term.Undecided, 44)
	s.about = quietly("")
	s.whole = newButton(p.f, "Whole part looked at and felt: sound   W", nil, p.wholePart)
	s.picture = newDrawingView(p.f, p.drawPart)
	s.picture.OnChosen = p.chooseSurface
	s.picture.Name = s.nameOf
	s.list = newRows(p.f)
	s.list.LeadWidth, s.list.Close = 24, true
	s.list.OnSelected = p.chooseSurface
	s.list.OnEnter = func(string) { p.showFinding("") }
	s.head = newParagraph()
	s.eye = newToggle(p.f, "looked at  L", func() { p.toggleLooked(func(l *record.Looked) { l.Eye = !l.Eye }) })
	s.touch = newToggle(p.f, "felt  T", func() { p.toggleLooked(func(l *record.Looked) { l.Touch = !l.Touch }) })
	s.clean = newToggle(p.f, "clean  B", func() { p.toggleLooked(func(l *record.Looked) { l.Clean = !l.Clean }) })
	s.look = quietly("")
	s.reasons = container.NewVBox()
	s.entries = newRows(p.f)
	s.entries.LeadWidth = 30
	s.entries.OnSelected = func(id string) { p.chooseEntry(record.ID(id)) }
	s.entries.OnEnter = func(id string) { p.editEntry(record.ID(id)) }
	s.entries.OnKey = func(name fyne.KeyName) bool {
		if name == fyne.KeyDelete {
			p.showWithdraw()
			return true
		}
		return false
	}
	s.gauge = newButton(p.f, "Reading  G", nil, func() { p.showReading("") }).low()
	s.workOut = newButton(p.f, "Work out  Ctrl+G", nil, p.f.showGaugeRoom).low()
	s.fit = newButton(p.f, "Trial fit  Y", nil, func() { p.showFit("") }).low()
	s.judge = newButton(p.f, "Judge  J", nil, func() { p.showJudge("") }).low()
	s.edit = newButton(p.f, "Edit  E", nil, func() { p.editEntry(p.entry) }).low()
	s.withdraw = newButton(p.f, "Strike  X", nil, p.showWithdraw).low()
	s.size = newButton(p.f, "Size  Alt+S", nil, func() { p.showSize(p.viewer.sizable()) }).low()
	s.more = quietly("")
	s.handle = column(0, line(0, s.gauge, s.workOut, s.fit, s.judge), line(0, s.size, s.edit, s.withdraw))
	s.object = s.build()
	return s
}

func (s *surfacePane) build() fyne.CanvasObject {
	p := s.p
	add := newButton(p.f, "Finding   F", theme.ContentAddIcon(), func() { p.showFinding("") }).primary()
	if !p.editable() {
		for _, d := range []fyne.Disableable{add, s.whole, s.gauge, s.fit, s.judge, s.edit, s.withdraw, s.eye, s.touch, s.clean} {
			d.Disable()
		}
	}
	part := newButton(p.f, "", theme.DocumentCreateIcon(), p.showPart).low()
	head := container.NewBorder(nil, nil, nil, line(8, upright(atLeast(s.band, 44, 8)), s.grade, part), s.name)
	body := container.NewVBox(
		head, s.about,
		s.picture,
		padded(s.list, 2, 8, 0, 0),
		s.head, s.entries, s.more,
		s.reasons, s.handle,
		container.NewGridWithColumns(3, s.eye, s.touch, s.clean),
		s.look, quietly(safetyLine))
	s.scroll = container.NewVScroll(padded(body, 0, 0, 0, 10))
	foot := column(6, widget.NewSeparator(), container.NewBorder(nil, nil, add, nil, s.whole))
	return container.NewBorder(nil, padded(foot, 4, 0, 0, 0), nil, nil, s.scroll)
}

func (s *surfacePane) show() {
	a, r := s.p.n.Assessment(), s.p.n.Record()
	part, ok := a.Part(s.p.part)
	if !ok {
		s.name.SetText("No parts")
		s.about.Set(piece{Text: "No spec in force lays this unit out; the record holds no part.", Color: colorQuiet, Small: true})
		s.scroll.Content.Hide()
		return
	}
	s.scroll.Content.Show()
	s.showPart(part, r)
	s.showSurfaces(part, r)
	surface, ok := part.Surface(s.p.surface)
	for _, w := range []fyne.CanvasObject{s.eye, s.touch, s.clean} {
		if ok {
			w.Show()
		} else {
			w.Hide()
		}
	}
	if ok {
		s.showVerdict(a, part, surface, r)
	} else {
		s.head.Set(piece{Text: "Nothing is inspected on this part.", Color: colorQuiet})
		s.look.Hide()
		s.reasons.RemoveAll()
		s.reasons.Refresh()
	}
	s.showEntries(r)
}

func (s *surfacePane) showPart(part *inspection.Part, r *record.Record) {
	s.name.SetText(part.Name)
	s.grade.SetText(part.Grade)
	s.band.SetVerdict(part.Verdict)
	s.band.Hidden = part.Consumable
	entry := r.Parts[part.ID]
	var facts []string
	if entry.State != term.InHand {
		facts = append(facts, term.Plain(entry.State))
	}
	if entry.Tag != "" {
		facts = append(facts, "tray "+entry.Tag)
	}
	if entry.Count > 0 {
		facts = append(facts, fmt.Sprintf("%d loose", entry.Count))
	}
	if entry.Variant != "" {
		facts = append(facts, "variant "+entry.Variant)
	}
	for _, act := range part.Actions {
		facts = append(facts, actionSays(act.Do, act.With))
	}
	for _, x := range part.Workings {
		if x.Set != "" {
			facts = append(facts, "At assembly: "+x.Set)
		}
	}
	for _, reason := range part.Reasons {
		facts = append(facts, reason.Text)
	}
	for _, step := range part.Inspect {
		if step.Surface == "" {
			facts = append(facts, "To be inspected: "+step.Text)
		}
	}
	if len(facts) == 0 {
		s.about.Hide()
		return
	}
	s.about.Show()
	s.about.Set(piece{Text: strings.Join(facts, "  ·  "), Color: colorQuiet, Small: true})
}

// setTarget lights up the surface on which something that is dragged would be dropped.
func (s *surfacePane) setTarget(surface string) {
	s.list.SetTarget(surface)
	s.picture.hover(surface)
}

// nameOf names a surface with its number and verdict.
func (s *surfacePane) nameOf(surface string) string {
	part, ok := s.p.n.Assessment().Part(s.p.part)
	if !ok {
		return ""
	}
	f, ok := part.Surface(surface)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%d  %s: %s", f.Number, f.Name, verdictWord(f.Verdict))
}

func (s *surfacePane) showSurfaces(part *inspection.Part, r *record.Record) {
	items := make([]rowItem, len(part.Surfaces))
	wide := float32(60)
	for i := range part.Surfaces {
		f := &part.Surfaces[i]
		items[i] = rowItem{
			ID: f.ID, Lead: fmt.Sprint(f.Number), Text: capital(f.Name), Quiet: s.done(part, f, r),
			Word: verdictWord(f.Verdict), Judged: true, Verdict: f.Verdict,
		}
		wide = max(wide, fyne.MeasureText(items[i].Word, theme.TextSize(), fyne.TextStyle{Bold: true}).Width+2)
	}
	s.list.WordWidth = wide
	if !slices.Equal(items, s.list.Items) {
		s.list.SetItems(items)
	}
	s.list.Mark(s.p.surface)
	s.picture.Chosen = s.p.surface
	s.picture.Hidden = len(part.Surfaces) == 0
	s.picture.Redraw()
}

// done tells what was found on a surface, or else what was done to judge it.
func (s *surfacePane) done(part *inspection.Part, f *inspection.Surface, r *record.Record) string {
	var found []string
	for _, x := range record.InOrder(r.Findings) {
		if x.Part == part.ID && x.Surface == f.ID && x.Withdrawn == "" && x.Severity != term.NotFound {
			found = append(found, term.Plain(x.Damage))
		}
	}
	if len(found) > 0 {
		return strings.Join(found, ", ")
	}
	if values := readings(r, part.ID, f.ID, s.p.f.settings.Unit); values != "" {
		return values
	}
	return lookedSays(r.Parts[part.ID].Surfaces[f.ID])
}

func (s *surfacePane) showVerdict(a *inspection.Assessment, part *inspection.Part, f *inspection.Surface, r *record.Record) {
	s.head.Set(piece{Text: capital(f.Name) + ": " + verdictSays(f.Verdicts), Bold: true})
	looked := r.Parts[part.ID].Surfaces[f.ID]
	s.eye.Set(looked.Eye)
	s.touch.Set(looked.Touch)
	s.clean.Set(looked.Clean)
	s.look.Hide()
	if known := s.p.knownSurface(part.ID, f.ID); known != nil {
		if text := lookFor(known); text != "" {
			s.look.Show()
			s.look.Set(piece{Text: text, Color: colorQuiet, Small: true})
		}
	}
	s.showReasons(a, f)
}

// lookFor says what to look and to feel for.
func lookFor(f *spec.Surface) string {
	var says []string
	for _, text := range []string{f.Look, f.Feel} {
		if text != "" {
			says = append(says, text)
		}
	}
	if f.Hidden != "" {
		says = append(says, "It can't be seen; instead: "+lower(f.Hidden))
	}
	return strings.Join(says, " ")
}

// actionSays tells what to do about a part. Why stands at its surfaces.
func actionSays(do term.Remedy, with []string) string {
	says := capital(term.Plain(do))
	switch {
	case len(with) == 0:
		return says
	case strings.Contains(says, "with"):
		return says + ": " + lower(and(with))
	}
	return says + " with " + lower(and(with))
}
