package ui

import (
	"fmt"
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// staged attaches a photo to the chosen part and says when it was taken.
func (h *hands) staged(name string, shade uint8, stage term.Stage) record.ID {
	h.t.Helper()
	h.attach(photoFile(h.t, name, color.RGBA{R: 80 * shade, G: 255 - 60*shade, A: 255}))
	h.until("it to be the one that is shown", func() bool {
		r := h.record()
		return r.Photos[h.place().viewer.shown].Number == len(r.Photos)
	})
	h.place().viewer.setStage(term.Plain(stage))
	return h.place().viewer.shown
}

func TestTwoPhotos(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	other := h.begun("50911", "Marl Farm Co-operative")
	h.open(other)
	h.staged("other.jpg", 0, term.Cleaned)
	h.settled()
	h.hold(ctrl(fyne.KeyR))
	h.open(h.begun("40117", "Joss Ternway"))
	found := h.staged("a.jpg", 1, term.AsFound)
	cleaned := h.staged("b.jpg", 2, term.Cleaned)
	second := h.staged("c.jpg", 3, term.Cleaned)

	v := h.place().viewer
	v.choose(cleaned)
	h.write("2")
	b := v.beside
	if !b.open || b.shown.id != found {
		t.Fatalf("beside the cleaned one stands %q, want that as found", b.shown.label)
	}
	h.until("the photo of the other core", func() bool { return len(b.which.Options) == 3 })
	if want := "four-speed, serial 50911: photo 1, cleaned"; b.which.Options[2] != want {
		t.Errorf("the last that may stand beside is %q, want %q", b.which.Options[2], want)
	}
	h.until("its picture", func() bool { return b.view.HasPhoto() && v.photoView.HasPhoto() })

	// They go together, until they are told not to.
	v.photoView.ZoomBy(2)
	if b.view.Zoom() != v.photoView.Zoom() {
		t.Errorf("the zoom beside is %v, want %v", b.view.Zoom(), v.photoView.Zoom())
	}
	h.write("5")
	v.photoView.ZoomBy(2)
	if b.view.Zoom() == v.photoView.Zoom() {
		t.Error("it goes along though it was unlinked")
	}

	// The keys for the photos walk on that side which has them.
	h.f.focus(b.view)
	h.write(".")
	if b.shown.id != second || v.shown != cleaned {
		t.Errorf("after . there stands %q", b.shown.label)
	}
	h.write(".")
	if b.shown.id != "" || !strings.Contains(b.shown.label, "50911") {
		t.Errorf("after . there stands %q", b.shown.label)
	}
	h.press(fyne.KeyEscape)
	if h.f.window.Canvas().Focused() != fyne.Focusable(v.photoView) {
		t.Error("Escape does not lead back to the photo")
	}
	h.write("2")
	if b.open || b.bar.Visible() {
		t.Error("it does not go away")
	}
	h.write("2")
	h.choose("Input bearing")
	if b.view.HasPhoto() {
		t.Error("a part without photos shows one of another part")
	}
}

func TestLightIsForLookingOnly(t *testing.T) {
	h := atWork(t)
	h.staged("a.jpg", 1, term.Cleaned)
	v := h.place().viewer
	h.settled()
	before := h.record()
	h.write("4")
	h.press(fyne.KeyRight, fyne.KeyRight)
	h.f.focus(v.light.contrast)
	h.press(fyne.KeyUp)
	if got := v.photoView.Light(); got != (Light{Brightness: 10, Contrast: 20}) {
		t.Errorf("the light is %+v", got)
	}
	if !v.lit.Visible() || v.lit.Text != "Brightness +10, contrast +20, for looking only" {
		t.Errorf("it says %q", v.lit.Text)
	}
	h.press(fyne.KeyEscape)
	if h.f.window.Canvas().Focused() != fyne.Focusable(v.photoView) || v.photoView.Light().Plain() {
		t.Error("Escape does not go back to the photo, in that light")
	}
	h.write("4")
	if !v.photoView.Light().Plain() || v.lit.Visible() {
		t.Error("it is not as taken again")
	}
	if h.record() != before {
		t.Error("the record was changed by looking")
	}
}

func TestLensByItsButton(t *testing.T) {
	h := atWork(t)
	h.staged("a.jpg", 1, term.Cleaned)
	v := h.place().viewer.photoView
	h.write("3")
	if !v.Lens() {
		t.Fatal("3 shows no magnifier")
	}
	h.press(fyne.KeyEscape)
	if v.Lens() {
		t.Error("Escape leaves it")
	}
	if fmt.Sprint(h.place().viewer.photoView.Tool()) != "0" {
		t.Error("another tool is in hand")
	}
}

// TestManyThumbnails holds that each picture is asked for once, and only where the
// strip is seen.
func TestManyThumbnails(t *testing.T) {
	h := withPhotos(t, 60)
	v := h.place().viewer
	h.until("the pictures to come", func() bool { return len(v.asked) == 0 })
	if n := h.f.pictures.cache.Len(); n > 30 {
		t.Errorf("%d pictures are held for a strip that shows a dozen", n)
	}
	h.press(fyne.KeyF6, fyne.KeyEnd)
	for range 40 {
		v.strip.Refresh()
	}
	if len(h.f.pictures.waiting) == 0 {
		t.Error("no picture is asked for at the other end")
	}
	for key, waiting := range h.f.pictures.waiting {
		if len(waiting) > 1 {
			t.Errorf("%d wait for picture %+v", len(waiting), key)
		}
	}
	h.until("the last one's", func() bool { return v.strip.parts[59].picture != nil })
}
