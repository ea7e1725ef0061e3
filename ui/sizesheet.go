package ui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
)

// sizeSheet tells how large an outline or a line is on its photo, and asks how the
// surface lies to the plane of the scale: level with it, higher, or round.
type sizeSheet struct {
	p       *inspectionPlace
	outline record.ID

	says   *paragraph
	fields map[string]*field
	axis   *button
	fault  *caption
	page   fyne.CanvasObject
}

// The fields of how a surface lies, in order, with what a fault calls them.
var liesFields = []struct{ id, says string }{
	{"height", "height"}, {"bound", "bound of the height"}, {"diameter", "diameter"}, {"tolerance", "bound of the diameter"},
}

func newSizeSheet(p *inspectionPlace, outline record.ID) *sizeSheet {
	s := &sizeSheet{p: p, outline: outline, says: newParagraph(), fields: map[string]*field{}}
	o := p.n.Record().Outlines[outline]
	ask := func(id, label, hint, text string) fyne.CanvasObject {
		f := newField(p.f, hint)
		f.SetText(text)
		f.OnSubmitted = func(string) { s.submit() }
		s.fields[id] = f
		return asked(label, f)
	}
	l := p.n.LiesOf(outline)
	s.axis = newButton(p.f, "", nil, func() { s.keep(func() { p.viewer.drawAxis(outline) }) })
	s.fault = newCaption("", theme.ColorNameError).small()
	body := column(8, s.says)
	buttons := []fyne.CanvasObject{newButton(p.f, "Keep it   Enter", nil, s.submit).primary(), newButton(p.f, "Close   Esc", nil, p.side.close)}
	if o.Repeats == "" {
		body.Add(container.NewGridWithColumns(2, ask("height", "how much higher than the scale it lies", "level with it", l.Height), ask("bound", "give or take", "not at all", l.Bound)))
		body.Add(quietly("Measure from the face of the rule or card up to the surface; with a minus where it lies lower. What is nearer to the camera looks larger: 20 mm at 300 mm is 7 % in length. Where nobody can measure it, give how much it may be off."))
		body.Add(container.NewGridWithColumns(2, ask("diameter", "on a round part: its diameter", "flat", l.Diameter), ask("tolerance", "give or take", "not at all", l.Tolerance)))
		body.Add(s.axis)
		body.Add(quietly("On a round part the height is that of its axis, and the axis lies level with the scale. Areas are unrolled."))
	}
	if encloses(o) {
		buttons = append(buttons, newButton(p.f, "Draw it again   Alt+D", nil, func() { p.viewer.drawAgain(outline) }))
		body.Add(quietly(s.drawnBy(o) + "Drawn again by the same hand, two or three times, it shows how well that hand picks: a figure of one's own instead of the usual one."))
	}
	buttons = append(buttons, newButton(p.f, "Remove", nil, s.remove).low())
	if !p.editable() {
		for _, b := range append(slices.Clone(buttons), fyne.CanvasObject(s.axis)) {
			if d, ok := b.(fyne.Disableable); ok && b != buttons[1] {
				d.Disable()
			}
		}
	}
	s.page = sheetPage(p.f, s.title(o), p.side.close, body, s.fault, buttons...)
	s.refreshed()
	return s
}

func (s *sizeSheet) title(o record.Outline) string {
	r := s.p.n.Record()
	if o.Repeats != "" {
		return fmt.Sprintf("Outline %d drawn again", r.Outlines[o.Repeats].Number)
	}
	if f, ok := r.Findings[o.Finding]; ok {
		return fmt.Sprintf("Size of finding %d on photo %d", f.Number, r.Photos[o.Photo].Number)
	}
	if (o.Face != record.Face{}) {
		return "Size of the " + strings.ToLower(zoneWords[o.Face.Zone].Label)
	}
	return fmt.Sprintf("Size of outline %d", o.Number)
}

// drawnBy tells whose hand drew an outline, and whose drew it again.
func (s *sizeSheet) drawnBy(o record.Outline) string {
	if o.By == "" {
		return ""
	}
	says, again := "Drawn by "+o.By, map[string]int{}
	for _, other := range s.p.n.Record().Outlines {
		if other.Repeats == s.outline {
			again[other.By]++
		}
	}
	for _, who := range slices.Sorted(maps.Keys(again)) {
		says += fmt.Sprintf(", again by %s (%d)", who, again[who])
	}
	return says + ". "
}

func (s *sizeSheet) object() fyne.CanvasObject { return s.page }
func (s *sizeSheet) closed()                   {}
func (s *sizeSheet) about() record.ID          { return s.outline }

func (s *sizeSheet) begin() {
	if f, ok := s.fields["height"]; ok {
		s.p.f.focus(f)
	}
}

// refreshed tells the size anew, and closes the sheet when undo took the outline away.
func (s *sizeSheet) refreshed() {
	r := s.p.n.Record()
	o, ok := r.Outlines[s.outline]
	if !ok {
		s.p.side.close()
		return
	}
	s.axis.SetText("Draw its axis on the photo")
	l := s.p.n.LiesOf(s.outline)
	if l.Axis != [2]record.Point{} {
		s.axis.SetText("Draw its axis anew")
	}
	x, ok := s.p.n.ExtentOf(s.outline)
	switch {
	case l.Diameter != "" && l.Axis == [2]record.Point{}:
		s.says.Set(piece{Text: "Its size stands here once the axis of the round part is drawn.", Color: colorQuiet})
	case x.Err != nil:
		s.says.Set(piece{Text: sentence(x.Err.Error()), Color: theme.ColorNameError})
	case ok:
		s.says.Set(piece{Text: capital(x.SaysAll(s.p.f.settings.Unit))})
	case o.Shape == record.Spot:
		s.says.Set(piece{Text: "A spot has no size.", Color: colorQuiet})
	default:
		s.says.Set(piece{Text: fmt.Sprintf("Photo %d has no scale: draw a line along a known length (H) or a card by its edges (;). Without one there is a share of the face in percent, once the face is outlined too.", r.Photos[o.Photo].Number), Color: colorQuiet})
	}
}

// lies reads the fields; ok is false where one is no length.
func (s *sizeSheet) lies() (l record.Lies, ok bool) {
	l = s.p.n.LiesOf(s.outline)
	for _, f := range liesFields {
		at, text := map[string]*string{"height": &l.Height, "bound": &l.Bound, "diameter": &l.Diameter, "tolerance": &l.Tolerance}[f.id], strings.TrimSpace(s.fields[f.id].Text)
		length, err := gauge.ParseLength(text, s.p.f.settings.Unit)
		if text != "" && (err != nil || (length < 0 && f.id != "height")) {
			s.fault.SetText(fmt.Sprintf("The %s is no length; write 12 mm or 1/2 in.", f.says))
			s.p.f.focus(s.fields[f.id])
			return l, false
		}
		// The record reads a length without the window.
		*at = gauge.WithUnit(text, s.p.f.settings.Unit)
	}
	return l, true
}

// keep keeps how the surface lies, if that changed, and goes on.
func (s *sizeSheet) keep(then func()) {
	if !s.p.editable() || len(s.fields) == 0 {
		then()
		return
	}
	l, ok := s.lies()
	if !ok {
		return
	}
	s.fault.SetText("")
	if l == s.p.n.LiesOf(s.outline) || s.p.tried("How it lies was not kept.", s.p.n.Lie(s.outline, l)) {
		s.p.refreshSoon()
		then()
	}
}

// submit keeps how it lies and leaves, unless the size must be looked at first: what
// can't be measured so is said here.
func (s *sizeSheet) submit() {
	s.keep(func() {
		if l := s.p.n.LiesOf(s.outline); l.Diameter != "" && l.Axis == [2]record.Point{} {
			s.fault.SetText("A round part needs its axis: draw it on the photo.")
			s.p.f.focus(s.axis)
			return
		}
		if x, _ := s.p.n.ExtentOf(s.outline); x.Err != nil {
			s.refreshed()
			return
		}
		s.p.side.close()
	})
}

func (s *sizeSheet) remove() {
	o := s.p.n.Record().Outlines[s.outline]
	if s.p.do("The outline was not removed.", record.RemoveOutline(s.outline, o.Number)) {
		s.p.side.close()
		s.p.refreshSoon()
	}
}

// showSize tells how large an outline is.
func (p *inspectionPlace) showSize(outline record.ID) {
	o, ok := p.n.Record().Outlines[outline]
	if !ok {
		return
	}
	if (o.Known != record.Known{}) || o.Shape == record.Edges {
		p.showScale(outline)
		return
	}
	s := newSizeSheet(p, outline)
	p.side.put(s)
	s.begin()
}
