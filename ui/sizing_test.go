package ui

import (
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// boxed draws a box about the pointer of the keys.
func (h *hands) boxed() {
	h.write("q")
	h.press(fyne.KeyReturn)
}

// numbered is the outline with a number.
func (h *hands) numbered(number int) (record.ID, record.Outline) {
	h.t.Helper()
	for id, o := range h.record().Outlines {
		if o.Number == number {
			return id, o
		}
	}
	h.t.Fatalf("there is no outline %d", number)
	return "", record.Outline{}
}

// says is the text of a paragraph.
func says(p *paragraph) (text string) {
	for _, piece := range p.pieces {
		text += piece.Text
	}
	return text
}

// From a rule and a box to square millimetres, with the keys alone: the rule is a line,
// how far askew the camera looked is typed, how high the patch lies as well.
func TestMillimetresWithTheKeysAlone(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.boxed()
	h.write("rust p 2")
	h.press(fyne.KeyReturn)
	h.hold(alt(fyne.KeyS))
	size, open := h.place().side.sheet.(*sizeSheet)
	if !open || !strings.Contains(says(size.says), "has no scale") {
		t.Fatalf("Alt+S does not ask for the size: %T", h.place().side.sheet)
	}
	h.press(fyne.KeyEscape)

	h.write("h ")
	for range 20 {
		h.press(fyne.KeyRight)
	}
	h.write(" ")
	scale, open := h.place().side.sheet.(*scaleSheet)
	if !open {
		t.Fatalf("a line does not ask for its length: %T", h.place().side.sheet)
	}
	scale.fields["length"].SetText("50")
	scale.fields["tilt"].SetText("60")
	scale.submit()
	if scale.fault.Text == "" || h.place().side.sheet != sheet(scale) {
		t.Error("a tilt of 60° is taken")
	}
	scale.fields["tilt"].SetText("15°")
	scale.submit()
	_, rule := h.numbered(2)
	if (rule.Known != record.Known{What: "steel rule", Length: "50 mm", Tilt: "15"}) || rule.By != "Wren Aldous" {
		t.Fatalf("the rule is %+v", rule)
	}

	h.press(fyne.KeyEscape)
	h.write(" ")
	patch, _ := h.numbered(1)
	if h.place().viewer.photoView.Selected() != patch {
		h.write(" ")
	}
	h.hold(alt(fyne.KeyS))
	size = h.place().side.sheet.(*sizeSheet)
	for _, want := range []string{"mm² ±", "across at most", "round", "as large as a disc of", "steel rule, 50 mm, taken as exact", "within 15° of square", "in the plane of the scale", "usual picking error"} {
		if !strings.Contains(says(size.says), want) {
			t.Errorf("%q lacks %q", says(size.says), want)
		}
	}
	before := says(size.says)
	size.fields["height"].SetText("twelve")
	size.submit()
	if size.fault.Text == "" {
		t.Error("a height of twelve is taken")
	}
	size.fields["height"].SetText("-.5 in")
	size.fields["bound"].SetText("0.5")
	size.submit()
	if _, o := h.numbered(1); (o.Lies != record.Lies{Height: "-.5 in", Bound: "0.5 mm"}) {
		t.Errorf("it lies %+v", o.Lies)
	}
	h.hold(alt(fyne.KeyS))
	if after := says(h.place().side.sheet.(*sizeSheet).says); after == before || !strings.Contains(after, "-.5 in ± 0.5 mm above the scale") {
		t.Errorf("it says %q", after)
	}
	h.press(fyne.KeyEscape)
	for range 2 { // how it lies, and the rule's size
		h.hold(ctrl(fyne.KeyZ))
	}
	if _, o := h.numbered(1); (o.Lies != record.Lies{}) {
		t.Errorf("after undo it lies %+v", o.Lies)
	}
}

// An outline is drawn again without the first to guide the hand, counts as no damage,
// and Escape leads out of it.
func TestAnOutlineIsDrawnAgain(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.write("o")
	h.press(fyne.KeyReturn)
	h.write("rust p 2")
	h.press(fyne.KeyReturn)
	first, o := h.numbered(1)
	view := h.place().viewer.photoView
	h.hold(alt(fyne.KeyD))
	if view.Tool() != OvalTool || len(view.outlines) != 0 {
		t.Fatalf("the tool is %d, %d outlines are seen", view.Tool(), len(view.outlines))
	}
	h.press(fyne.KeyEscape)
	if view.Tool() != PointTool || len(view.outlines) != 1 || h.place().viewer.errand != (errand{}) {
		t.Errorf("Escape leaves the tool %d, %d outlines, the errand %+v", view.Tool(), len(view.outlines), h.place().viewer.errand)
	}
	view.Select(first)
	h.hold(alt(fyne.KeyD))
	h.press(fyne.KeyReturn)
	_, again := h.numbered(2)
	if again.Repeats != first || again.Finding != "" || again.By != "Wren Aldous" || again.Photo != o.Photo || len(h.record().Findings) != 1 {
		t.Errorf("drawn again it is %+v", again)
	}
	if s, open := h.place().side.sheet.(*sizeSheet); !open || s.outline != first {
		t.Errorf("afterwards there is %T", h.place().side.sheet)
	}
	// With a repeat chosen, F makes a finding of its own, and no damage of the repeat.
	h.press(fyne.KeyEscape)
	second, _ := h.numbered(2)
	view.Select(second)
	h.write("f")
	h.write("rust p 1")
	h.press(fyne.KeyReturn)
	if _, again = h.numbered(2); again.Finding != "" || len(h.record().Findings) != 2 {
		t.Errorf("the repeat shows %q, there are %d findings", again.Finding, len(h.record().Findings))
	}
	view.Select(first)
	h.press(fyne.KeyDelete)
	if len(h.record().Outlines) != 0 {
		t.Errorf("%d outlines are left of one that was removed", len(h.record().Outlines))
	}
}

// The axis of a round part is drawn as a line, seen, moved and taken away again.
func TestTheAxisOfARoundPart(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.boxed()
	h.write("rust p 2")
	h.press(fyne.KeyReturn)
	h.hold(alt(fyne.KeyS))
	s := h.place().side.sheet.(*sizeSheet)
	s.fields["diameter"].SetText("60 mm")
	s.submit()
	if !strings.Contains(s.fault.Text, "axis") || h.place().side.sheet != sheet(s) {
		t.Errorf("a diameter alone says %q", s.fault.Text)
	}
	s.axis.OnTapped()
	view := h.place().viewer.photoView
	if view.Tool() != LineTool {
		t.Fatalf("the tool is %d", view.Tool())
	}
	h.write(" ")
	for range 10 {
		h.press(fyne.KeyRight)
	}
	h.write(" ")
	patch, o := h.numbered(1)
	if len(h.record().Outlines) != 1 || o.Lies.Diameter != "60 mm" || o.Lies.Axis[0] == o.Lies.Axis[1] {
		t.Fatalf("it lies %+v, there are %d outlines", o.Lies, len(h.record().Outlines))
	}
	if len(view.outlines) != 2 || view.shape(axisID(patch)) == nil {
		t.Errorf("%d outlines are seen, want the axis as well", len(view.outlines))
	}
	h.press(fyne.KeyEscape)
	moved := []record.Point{{100, 200}, {300, 400}}
	h.place().viewer.reshaped(axisID(patch), moved)
	if _, o = h.numbered(1); o.Lies.Axis != [2]record.Point{moved[0], moved[1]} || o.Lies.Diameter != "60 mm" {
		t.Errorf("moved, it lies %+v", o.Lies)
	}
	h.place().viewer.remove(axisID(patch))
	if _, o = h.numbered(1); o.Lies.Axis != [2]record.Point{} {
		t.Errorf("taken away, it lies %+v", o.Lies)
	}
}

// A card that was drawn by its edges asks for its size, and says where it can't be a
// scale; no finding takes it.
func TestACardGivesTheScale(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.place().viewer.drawn(record.Edges, []record.Point{{12000, 5000}, {28000, 5000}, {30000, 7000}, {30000, 18000}, {28000, 20000}, {12000, 20000}, {10000, 18000}, {10000, 7000}})
	s, open := h.place().side.sheet.(*scaleSheet)
	if !open || s.fields["tilt"] != nil || s.fields["width"] == nil {
		t.Fatalf("a card asks by %T", h.place().side.sheet)
	}
	s.fields["width"].SetText("80")
	s.fields["height"].SetText("2 in")
	s.submit()
	id, card := h.numbered(1)
	if (card.Known != record.Known{What: "blank card", Width: "80 mm", Height: "2 in"}) {
		t.Errorf("the card is %+v", card.Known)
	}
	h.place().showScale(id)
	if text := says(h.place().side.sheet.(*scaleSheet).says); !strings.Contains(text, "It is the scale of photo 1, seen from about") {
		t.Errorf("opened again, it says %q", text)
	}
	h.press(fyne.KeyEscape)
	h.place().viewer.photoView.Select(id)
	h.write("f")
	h.write("rust p 1")
	h.press(fyne.KeyReturn)
	if _, card = h.numbered(1); card.Finding != "" || len(h.record().Findings) != 1 {
		t.Errorf("the card shows finding %q, there are %d", card.Finding, len(h.record().Findings))
	}
	for _, f := range h.record().Findings {
		if f.Damage != term.RustPits {
			t.Errorf("the finding is %+v", f)
		}
	}
}
