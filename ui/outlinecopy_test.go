package ui

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
)

// outlined draws a box on the photo that is shown and enters what it shows.
func (h *hands) outlined(damage, severity string) record.ID {
	h.t.Helper()
	before := len(h.record().Outlines)
	h.write("q")
	h.press(fyne.KeyReturn)
	h.until("the outline", func() bool { return len(h.record().Outlines) == before+1 })
	h.write(damage)
	h.press(fyne.KeyReturn)
	h.write(severity)
	h.press(fyne.KeyReturn)
	if h.place().side.open() {
		h.t.Fatal("the finding was not taken")
	}
	return h.place().viewer.photoView.Selected()
}

func TestCopyOutline(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.attach(photoFile(t, "b.jpg", color.Black))
	h.place().chooseSurface("cone")
	first := h.outlined("rust p", "2")
	o := h.record().Outlines[first]
	if o.Finding == "" {
		t.Fatal("the outline shows no finding")
	}
	h.hold(ctrl(fyne.KeyC))
	h.hold(ctrl(fyne.KeyV))
	pasted := h.record().Outlines[h.place().viewer.photoView.Selected()]
	if len(h.record().Outlines) != 2 || pasted.Photo != o.Photo || pasted.Finding != o.Finding || pasted.Number != 2 {
		t.Fatalf("on the same photo came %+v", pasted)
	}
	if pasted.Points[0] != (record.Point{o.Points[0][0] + 1280, o.Points[0][1] + 1280}) {
		t.Errorf("it lies at %v, the first at %v", pasted.Points, o.Points)
	}
	h.write(",")
	other := h.place().viewer.shown
	if other == o.Photo {
		h.write(".")
		other = h.place().viewer.shown
	}
	h.hold(ctrl(fyne.KeyV))
	pasted = h.record().Outlines[h.place().viewer.photoView.Selected()]
	if pasted.Photo != other || pasted.Finding != o.Finding || pasted.Points[0] != o.Points[0] {
		t.Errorf("on another photo came %+v, want what is at %v", pasted, o.Points)
	}
	for range 2 {
		h.hold(ctrl(fyne.KeyZ))
	}
	if len(h.record().Outlines) != 1 {
		t.Error("undo left a copy")
	}
	// What was put on the clipboard since is no outline.
	h.f.app.Clipboard().SetContent("something else")
	h.hold(ctrl(fyne.KeyV))
	if len(h.record().Outlines) != 1 {
		t.Error("a text was pasted as an outline")
	}
}

// TestUndoWhileDrawing holds that undo first takes back what is being drawn.
func TestUndoWhileDrawing(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.write("c ")
	h.press(fyne.KeyRight)
	h.write(" ")
	h.hold(ctrl(fyne.KeyZ))
	h.hold(ctrl(fyne.KeyZ))
	if len(h.record().Photos) != 1 {
		t.Fatal("undo took the photo back while an outline was begun")
	}
	h.hold(ctrl(fyne.KeyZ))
	if len(h.record().Photos) != 0 {
		t.Error("undo no longer takes back what was done")
	}
}

func TestCornersByKeysInTheWindow(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	id := h.outlined("rust p", "2")
	h.f.focus(h.place().viewer.photoView)
	h.hold(ctrl(fyne.KeyK))
	if got := len(h.record().Outlines[id].Points); got != 5 {
		t.Fatalf("%d corners, want 5", got)
	}
	h.press(fyne.KeyDown, fyne.KeyBackspace)
	if got := len(h.record().Outlines[id].Points); got != 4 {
		t.Errorf("%d corners after Backspace, want 4", got)
	}
	h.hold(ctrl(fyne.KeyZ))
	if got := len(h.record().Outlines[id].Points); got != 5 {
		t.Errorf("%d corners after undo, want 5", got)
	}
}
