package ui

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestSpotOfAFinding holds that a spot goes the way of every outline.
func TestSpotOfAFinding(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	h.write("7")
	h.press(fyne.KeyRight)
	h.write(" ")
	s, asks := h.place().side.sheet.(*findingSheet)
	if !asks {
		t.Fatal("it is not asked what the spot is")
	}
	if len(s.means.new.Options) != 1 || !s.means.new.Hidden || !s.means.already.Hidden {
		t.Errorf("a spot may be %v, want new damage only, unasked", s.means.new.Options)
	}
	h.write("rust p 2")
	h.press(fyne.KeyReturn)
	first := h.place().viewer.photoView.Selected()
	o := h.record().Outlines[first]
	if f := h.record().Findings[o.Finding]; o.Shape != record.Spot || f.Damage != term.RustPits || f.Surface != "cone" {
		t.Fatalf("the outline is %+v, its finding %+v", o, f)
	}
	h.hold(ctrl(fyne.KeyC))
	h.hold(ctrl(fyne.KeyV))
	second := h.place().viewer.photoView.Selected()
	if got := h.record().Outlines[second]; second == first || got.Shape != record.Spot || got.Finding != o.Finding || got.Points[0] == o.Points[0] {
		t.Errorf("the copy is %+v", got)
	}
	h.press(fyne.KeyDelete)
	if len(h.record().Outlines) != 1 {
		t.Error("the copy was not deleted")
	}
	for range 2 { // the delete and the copy
		h.hold(ctrl(fyne.KeyZ))
	}
	if _, there := h.record().Outlines[first]; !there || len(h.record().Outlines) != 1 {
		t.Errorf("after undo there are %d outlines", len(h.record().Outlines))
	}
}
