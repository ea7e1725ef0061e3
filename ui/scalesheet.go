package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// scaleSheet tells how long a line is on the photo's scale, or takes its true size,
// which makes it the scale. Of a rectangle it takes width and height.
type scaleSheet struct {
	p       *inspectionPlace
	outline record.ID
	line    bool

	says   *paragraph
	fields map[string]*field
	fault  *caption
	page   fyne.CanvasObject
}

func newScaleSheet(p *inspectionPlace, outline record.ID) *scaleSheet {
	o := p.n.Record().Outlines[outline]
	s := &scaleSheet{p: p, outline: outline, line: o.Shape == record.Line, says: newParagraph(), fields: map[string]*field{}}
	ask := func(id, label, hint, text string) fyne.CanvasObject {
		f := newField(p.f, hint)
		f.SetText(text)
		f.OnSubmitted = func(string) { s.submit() }
		s.fields[id] = f
		return asked(label, f)
	}
	k := o.Known
	size := container.NewGridWithColumns(2, ask("length", "its true length", "50 mm", k.Length), ask("tolerance", "true within ±", "0.1 mm", k.Tolerance))
	about := "Lay a steel rule beside the part, as high as the surface that is to be measured, and look at both square on."
	if !s.line {
		size = container.NewGridWithColumns(3, ask("width", "width, 1st to 2nd corner", "50 mm", k.Width), ask("height", "height", "50 mm", k.Height), ask("tolerance", "true within ±", "0.1 mm", k.Tolerance))
		about = "A rectangle of known size, seen at any angle: a square, a gauge block. It gives the scale of its own plane."
	}
	s.fault = newCaption("", theme.ColorNameError).small()
	body := column(8, s.says, size,
		container.NewGridWithColumns(2, ask("what", "what it is", "steel rule", firstOf(k.What, "steel rule")), ask("distance", "lens to it, if measured", "", k.Distance)),
		quietly(about+" A length from a photo never decides a limit."))
	s.page = sheetPage(p.f, "Known size", p.side.close, body, s.fault,
		newButton(p.f, "It is the scale   Enter", nil, s.submit).primary(), newButton(p.f, "Leave it as drawn   Esc", nil, p.side.close),
		newButton(p.f, "Remove it", nil, s.remove).low())
	s.refreshed()
	return s
}

func (s *scaleSheet) object() fyne.CanvasObject { return s.page }
func (s *scaleSheet) closed()                   {}

// refreshed tells how long the line is, and closes the sheet when undo took it away.
func (s *scaleSheet) refreshed() {
	if _, ok := s.p.n.Record().Outlines[s.outline]; !ok {
		s.p.side.close()
		return
	}
	length, ok, err := s.p.n.LineLength(s.outline)
	switch {
	case err != nil:
		s.says.Set(piece{Text: sentence(err.Error()), Color: theme.ColorNameError})
	case ok:
		s.says.Set(piece{Text: "This line is " + inspection.LengthSays(length, s.p.f.settings.Unit) + " long.", Bold: true})
	case s.line:
		s.says.Set(piece{Text: "The photo has no scale yet: this line can be it.", Color: colorQuiet})
	default:
		s.says.Set()
	}
}

// submit makes it the photo's scale.
func (s *scaleSheet) submit() {
	text := func(id string) string {
		if f, ok := s.fields[id]; ok {
			return strings.TrimSpace(f.Text)
		}
		return ""
	}
	k := record.Known{What: text("what"), Length: text("length"), Width: text("width"), Height: text("height"), Tolerance: text("tolerance"), Distance: text("distance")}
	must := []string{"length"}
	if !s.line {
		must = []string{"width", "height"}
	}
	for _, id := range []string{"length", "width", "height", "tolerance", "distance"} {
		needed := id == must[0] || id == must[len(must)-1]
		l, err := gauge.ParseLength(text(id), s.p.f.settings.Unit)
		if text(id) == "" && !needed {
			continue
		}
		if err != nil || l <= 0 {
			s.fault.SetText(fmt.Sprintf("The %s is no length; write 50 mm or 2 in.", id))
			s.p.f.focus(s.fields[id])
			return
		}
	}
	// The record reads a length without the window.
	for _, at := range []*string{&k.Length, &k.Width, &k.Height, &k.Tolerance, &k.Distance} {
		*at = gauge.WithUnit(*at, s.p.f.settings.Unit)
	}
	o := s.p.n.Record().Outlines[s.outline]
	says := fmt.Sprintf("outline %d is the scale of photo %d: %s", o.Number, s.p.n.Record().Photos[o.Photo].Number, firstOf(k.Length, k.Width+" × "+k.Height))
	if s.p.do("The scale was not kept.", record.ChangeOutline(says, s.outline, func(o *record.Outline) { o.Known, o.Finding = k, "" })) {
		s.p.side.close()
		s.p.refreshSoon()
	}
}

func (s *scaleSheet) remove() {
	o := s.p.n.Record().Outlines[s.outline]
	if s.p.do("The outline was not removed.", record.RemoveOutline(s.outline, o.Number)) {
		s.p.side.close()
		s.p.refreshSoon()
	}
}

func (p *inspectionPlace) showScale(outline record.ID) {
	s := newScaleSheet(p, outline)
	p.side.put(s)
	for _, id := range []string{"length", "width"} {
		if f, ok := s.fields[id]; ok {
			p.f.focus(f)
		}
	}
}
