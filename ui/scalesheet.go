package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// scaleSheet tells how long a line is on the photo's scale, or takes its true size,
// which makes it the scale. Of a rectangle it takes width and height.
type scaleSheet struct {
	p       *inspectionPlace
	outline record.ID
	shape   record.Shape

	says   *paragraph
	fields map[string]*field
	usual  *choices
	fault  *caption
	page   fyne.CanvasObject
}

func newScaleSheet(p *inspectionPlace, outline record.ID) *scaleSheet {
	o := p.n.Record().Outlines[outline]
	s := &scaleSheet{p: p, outline: outline, shape: o.Shape, says: newParagraph(), fields: map[string]*field{}}
	ask := func(id, label, hint, text string) fyne.CanvasObject {
		f := newField(p.f, hint)
		f.SetText(text)
		f.OnSubmitted = func(string) { s.submit() }
		s.fields[id] = f
		return asked(label, f)
	}
	k := o.Known
	within := ask("tolerance", "true within ±", "exact", k.Tolerance)
	what := map[record.Shape]string{record.Line: "steel rule", record.Edges: "blank card"}[o.Shape]
	named := []fyne.CanvasObject{ask("what", "what it is", firstOf(what, "square"), firstOf(k.What, what, "square")), ask("distance", "lens to it, if measured", "", k.Distance)}
	var size *fyne.Container
	about := "A rectangle of known size, seen at any angle: a square, a gauge block. It gives the scale of its own plane."
	switch o.Shape {
	case record.Line:
		size = container.NewGridWithColumns(2, ask("length", "its true length", "50 mm", k.Length), within)
		named = append(named, ask("tilt", "camera askew by at most, °", fmt.Sprintf("%d°, as is usual", plane.UsualTilt), k.Tilt))
		about = "Lay a steel rule beside the part, as high as the surface that is to be measured, and look at both square on. A rule does not show how far askew the camera looked; the uncertainty allows for it."
	case record.Edges:
		size = container.NewGridWithColumns(3, ask("width", "width, along the 1st edge", "80 mm", k.Width), ask("height", "height, along the 2nd", "50 mm", k.Height), within)
		about = "A blank card or a square of known size, seen at any angle. Its corners may be rounded: they are taken from its edges. It gives the scale of its own plane."
	default:
		size = container.NewGridWithColumns(3, ask("width", "width, 1st to 2nd corner", "50 mm", k.Width), ask("height", "height", "50 mm", k.Height), within)
	}
	s.fault = newCaption("", theme.ColorNameError).small()
	body := column(8, s.says, size, s.usualLengths(), container.NewGridWithColumns(len(named), named...), quietly(about+" A length from a photo never decides a limit."))
	buttons := []fyne.CanvasObject{newButton(p.f, "It is the scale   Enter", nil, s.submit).primary(), newButton(p.f, "Leave it as drawn   Esc", nil, p.side.close)}
	if (o.Shape == record.Line && k == record.Known{}) {
		buttons = append(buttons, newButton(p.f, "How it lies", nil, func() { p.side.put(newSizeSheet(p, outline)) }))
	}
	s.page = sheetPage(p.f, "Known size", p.side.close, body, s.fault, append(buttons, newButton(p.f, "Remove it", nil, s.remove).low())...)
	s.refreshed()
	return s
}

// ruleLengths are the lengths on a rule that people mostly draw along.
var ruleLengths = map[gauge.Unit][]string{
	gauge.Millimetre: {"10 mm", "20 mm", "30 mm", "40 mm", "50 mm", "100 mm"},
	gauge.Inch:       {"1 in", "2 in", "3 in", "4 in", "6 in"},
}

// usualLengths offers lengths to whoever has only the mouse in hand.
func (s *scaleSheet) usualLengths() fyne.CanvasObject {
	length, ok := s.fields["length"]
	if !ok {
		return column(0)
	}
	var options []choice
	for _, text := range ruleLengths[s.p.f.settings.Unit] {
		options = append(options, choice{ID: text, Label: text})
	}
	s.usual = newChoices(s.p.f, options, length.SetText)
	s.usual.Small = true
	s.usual.OnEnter = s.submit
	s.usual.Mark(length.Text)
	length.OnChanged = func(text string) { s.usual.Mark(strings.TrimSpace(text)) }
	return s.usual
}

func (s *scaleSheet) object() fyne.CanvasObject { return s.page }
func (s *scaleSheet) closed()                   {}
func (s *scaleSheet) about() record.ID          { return s.outline }

func (s *scaleSheet) begin() {
	for _, id := range []string{"length", "width"} {
		if f, ok := s.fields[id]; ok {
			s.p.f.focus(f)
		}
	}
}

// refreshed tells how long the line is, and closes the sheet when undo took it away.
func (s *scaleSheet) refreshed() {
	if _, ok := s.p.n.Record().Outlines[s.outline]; !ok {
		s.p.side.close()
		return
	}
	r, unit := s.p.n.Record(), s.p.f.settings.Unit
	o := r.Outlines[s.outline]
	if (o.Known != record.Known{}) {
		lens, err := s.p.n.TryScale(s.outline, o.Known)
		s.says.Set(scalePiece(lens, err, fmt.Sprintf("It is the scale of photo %d", r.Photos[o.Photo].Number), unit))
		return
	}
	x, ok := s.p.n.ExtentOf(s.outline)
	switch {
	case x.Err != nil:
		s.says.Set(piece{Text: sentence(x.Err.Error()), Color: theme.ColorNameError})
	case ok:
		s.says.Set(piece{Text: "This line is " + x.Says(unit), Bold: true})
	case s.shape == record.Line:
		s.says.Set(piece{Text: "The photo has no scale yet: this line can be it.", Color: colorQuiet})
	default:
		s.says.Set()
	}
}

// scalePiece tells that something is the scale, and from how far the lens looked at
// it, by which a slip shows.
func scalePiece(lens gauge.Length, err error, is string, unit gauge.Unit) piece {
	if err != nil {
		return piece{Text: sentence(err.Error()), Color: theme.ColorNameError}
	}
	switch {
	case lens > 0 && unit == gauge.Millimetre:
		is += fmt.Sprintf(", seen from about %.0f cm", float64(lens)/10)
	case lens > 0:
		is += fmt.Sprintf(", seen from about %.0f in", lens.In(gauge.Inch))
	}
	return piece{Text: is + "."}
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
	k.Tilt = strings.TrimSpace(strings.TrimSuffix(text("tilt"), "°"))
	must := []string{"length"}
	if s.shape != record.Line {
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
	if d, err := strconv.ParseFloat(strings.ReplaceAll(k.Tilt, ",", "."), 64); k.Tilt != "" && (err != nil || d < 1 || d > 45) {
		s.fault.SetText("The tilt is no angle from 1 to 45 degrees; beyond that, use a card.")
		s.p.f.focus(s.fields["tilt"])
		return
	}
	if _, err := s.p.n.TryScale(s.outline, k); err != nil {
		s.fault.SetText(sentence(err.Error()))
		return
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
	s.begin()
}
