package ui

import (
	"testing"

	"fyne.io/fyne/v2"
)

func TestTheLargePhotoHasTheRoom(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", inkOf(0x336699)))
	p := h.place()
	small := p.viewer.photoView.Size()
	h.write("6")
	large := p.viewer.photoView.Size()
	if large.Width < 1.5*small.Width || large.Height < 1.4*small.Height {
		t.Errorf("of 1280 × 800 the photo has %v, small %v", large, small)
	}
	if p.viewer.shows.Text != "shows input shaft" {
		t.Errorf("of the part it says %q", p.viewer.shows.Text)
	}
	h.write("f")
	beside := p.viewer.photoView.Size()
	if !p.side.open() || !p.side.object.Visible() || beside.Width >= large.Width || beside.Height != large.Height {
		t.Errorf("beside a finding the photo has %v", beside)
	}
	h.press(fyne.KeyEscape)
	if p.side.object.Visible() || p.viewer.photoView.Size() != large {
		t.Error("the finding was left and its room is not given back")
	}
	h.press(fyne.KeyEscape)
	if p.large || p.viewer.photoView.Size().Width != small.Width || !p.parts.Visible() || !p.viewer.below.Visible() {
		t.Errorf("Escape does not lead out: large %v, %v of %v", p.large, p.viewer.photoView.Size(), small)
	}
	h.write("6")
	h.hold(ctrl(fyne.KeyF))
	if p.large || h.f.window.Canvas().Focused() != fyne.Focusable(p.tiles) {
		t.Error("the row of parts has the keys and is not seen")
	}
}
