package ui

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// drawsBox draws a box on the photo that is shown and returns it.
func (h *hands) drawsBox() record.ID {
	h.t.Helper()
	before := len(h.record().Outlines)
	h.write("q")
	h.press(fyne.KeyReturn)
	h.until("the outline", func() bool { return len(h.record().Outlines) == before+1 })
	return h.place().viewer.photoView.Selected()
}

// TestOneFindingOnTwoPhotos holds that several outlines on several photos show one
// finding, with the keys and with the mouse.
func TestOneFindingOnTwoPhotos(t *testing.T) {
	h := atWork(t)
	h.attachShown(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	first := h.outlined("rust p", "2")
	finding := h.record().Outlines[first].Finding
	second := h.outlined("crack", "3")
	h.attachShown(photoFile(t, "bb.jpg", color.Black))
	h.place().viewer.unassign(h.place().viewer.picked(), record.Subject{Part: h.place().part})
	h.place().viewer.setScope(ofAll)
	for h.record().Photos[h.place().viewer.shown].Number != 2 {
		h.place().viewer.walk(1)
	}

	// Above the field the newest finding is marked; the one before it is a stroke away.
	third := h.drawsBox()
	h.press(fyne.KeyUp, fyne.KeyLeft)
	if got := h.record().Outlines[third].Finding; got != "" {
		t.Fatal("walking along the findings chose one")
	}
	h.press(fyne.KeyReturn)
	o := h.record().Outlines[third]
	if o.Finding != finding || h.place().entry != finding || h.place().side.open() {
		t.Errorf("it shows %q, want finding 1; the chosen entry is %q", o.Finding, h.place().entry)
	}
	if p := h.record().Photos[o.Photo]; p.Number != 2 || !shows(p, h.place().part) {
		t.Errorf("photo %d shows %v", p.Number, p.Subjects)
	}
	if says, _ := h.place().n.Undoable(); says != "outline 3 shows finding 1" {
		t.Errorf("undo says %q", says)
	}

	fourth := h.drawsBox()
	m := h.place().side.sheet.(*findingSheet).means
	m.already.Tapped(&fyne.PointEvent{Position: fyne.NewPos(m.already.Size().Width-4, 10)})
	if got := h.record().Outlines[fourth].Finding; got != h.record().Outlines[second].Finding {
		t.Errorf("a click on the last has it show %q", got)
	}
	for range 2 {
		h.hold(ctrl(fyne.KeyZ))
	}
	if o := h.record().Outlines; len(o) != 3 {
		t.Errorf("after undo there are %d outlines, want 3", len(o))
	}
	h.hold(ctrl(fyne.KeyZ))
	if got := h.record().Outlines[third].Finding; got != "" {
		t.Errorf("after undo the third shows %q", got)
	}
	for range 3 {
		h.hold(ctrlShift(fyne.KeyZ))
	}
	if o := h.record().Outlines; o[third].Finding != finding || o[fourth].Finding != o[second].Finding || o[fourth].Finding == "" {
		t.Error("redo does not bring back what the outlines show")
	}
}

// TestFaceOfASurface holds that an outline is the shape of a zone by keys, goes along
// when it is copied, and is not taken for a damage later.
func TestFaceOfASurface(t *testing.T) {
	h := atWork(t)
	h.attachShown(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	id := h.drawsBox()
	h.press(fyne.KeyUp, fyne.KeyRight, fyne.KeyReturn)
	want := record.Face{Part: h.place().part, Surface: "cone", Zone: term.WorkingFace}
	if got := h.record().Outlines[id].Face; got != want {
		t.Fatalf("it is the face %+v", got)
	}
	h.place().refresh()
	h.place().viewer.photoView.Select(id)
	h.f.focus(h.place().viewer.photoView)
	h.hold(ctrl(fyne.KeyC))
	h.hold(ctrl(fyne.KeyV))
	copied := h.place().viewer.photoView.Selected()
	if got := h.record().Outlines[copied].Face; copied == id || got != want {
		t.Errorf("the copy is the face %+v", got)
	}
	h.write("f")
	h.write("rust p 2")
	h.press(fyne.KeyReturn)
	if o := h.record().Outlines[copied]; o.Finding != "" || len(h.record().Findings) != 1 {
		t.Errorf("the face became the outline of a finding: %+v", o)
	}
}

// TestMeaningsFollowTheSurface holds that what an outline may be of is asked anew for
// another surface.
func TestMeaningsFollowTheSurface(t *testing.T) {
	h := atWork(t)
	h.attachShown(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.outlined("rust p", "2")
	h.drawsBox()
	s := h.place().side.sheet.(*findingSheet)
	if len(s.means.already.Options) != 1 || s.means.already.Hidden {
		t.Fatalf("offered is %v", s.means.already.Options)
	}
	h.hold(ctrl(fyne.Key1))
	if len(s.means.already.Options) != 0 || !s.means.already.Hidden {
		t.Errorf("on another surface offered is %v", s.means.already.Options)
	}
}
