package ui

import (
	"fmt"
	"image/color"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// ruled draws a line on the photo and makes it the scale.
func (h *hands) ruled() {
	h.t.Helper()
	h.write("h ")
	for range 20 {
		h.press(fyne.KeyRight)
	}
	h.write(" ")
	h.write("50")
	h.press(fyne.KeyReturn)
	if h.place().side.open() {
		h.t.Fatal("the scale was not taken")
	}
}

// Space goes through the outlines, past the scale as well: its sheet opens and the
// keys stay with the photo, until Enter goes into the sheet.
func TestSpaceWalksPastTheScale(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	patch := h.outlined("rust p", "2")
	h.ruled()
	rule, _ := h.numbered(2)
	h.boxed() // shows nothing yet
	h.press(fyne.KeyEscape)
	bare, _ := h.numbered(3)
	view := h.place().viewer.photoView
	for range 2 {
		for _, want := range []struct {
			outline any
			scale   bool
		}{{patch, false}, {rule, true}, {bare, false}} {
			h.write(" ")
			_, scale := h.place().side.sheet.(*scaleSheet)
			if view.Selected() != want.outline || scale != want.scale || h.f.window.Canvas().Focused() != fyne.Focusable(view) {
				t.Fatalf("%s is selected, the sheet is %T, the keys go to %T", view.Selected(), h.place().side.sheet, h.f.window.Canvas().Focused())
			}
		}
	}
	h.write("  ")
	h.press(fyne.KeyReturn)
	sheet := h.place().side.sheet.(*scaleSheet)
	if h.f.window.Canvas().Focused() != fyne.Focusable(sheet.fields["length"]) {
		t.Errorf("after Enter the keys go to %T", h.f.window.Canvas().Focused())
	}
}

// Undo takes back what an outline shows, and leaves it selected.
func TestUndoLeavesTheOutlineSelected(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.place().chooseSurface("cone")
	first := h.outlined("rust p", "2")
	h.boxed()
	h.press(fyne.KeyUp, fyne.KeyReturn) // finding 1 again
	second, _ := h.numbered(2)
	if o := h.record().Outlines[second]; o.Finding == "" {
		t.Fatal("the second outline does not show finding 1")
	}
	h.hold(ctrl(fyne.KeyZ))
	h.until("undo to be shown", func() bool { return h.place().viewer.outlinesOf(h.place().viewer.shown)[1].Outline.Finding == "" })
	h.settled()
	if got := h.place().viewer.photoView.Selected(); got != second {
		t.Errorf("after undo %s is selected, want %s; the first is %s", got, second, first)
	}
	h.place().chooseFinding(h.record().Outlines[first].Finding)
	if got := h.place().viewer.photoView.Selected(); got != first {
		t.Error("choosing the finding does not select its outline")
	}
}

// A part opens with a photo on which something was found on the chosen surface.
func TestThePhotoOfTheSurfaceComesFirst(t *testing.T) {
	h := atWork(t)
	for i, name := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg", "f.jpg"} {
		h.attach(photoFile(t, name, color.Gray{Y: byte(40 * i)}))
		h.until(name+" to be shown", func() bool {
			p, _ := h.place().viewer.record()
			return p.Name == name && h.place().viewer.photoView.HasPhoto()
		})
		surface := "flanks"
		if i == 3 {
			surface = "cone"
		}
		h.place().chooseSurface(surface)
		h.outlined("rust p", "2")
	}
	v := h.place().viewer
	h.place().chooseSurface("cone")
	for range 8 {
		if got := h.record().Photos[v.preferred(v.list(ofPart))].Name; got != "d.jpg" {
			t.Fatalf("it begins with %s", got)
		}
	}
}

// Whoever has only the mouse in hand makes a rule the scale without typing.
func TestTheScaleWithTheMouseAlone(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	h.write("h")
	h.drags(desktop.MouseButtonPrimary, fyne.NewPos(150, 200), fyne.NewPos(300, 200))
	sheet := h.place().side.sheet.(*scaleSheet)
	at := slices.IndexFunc(sheet.usual.Options, func(c choice) bool { return c.ID == "50 mm" })
	each := sheet.usual.Size().Width / float32(len(sheet.usual.Options))
	sheet.usual.Tapped(&fyne.PointEvent{Position: fyne.NewPos((float32(at)+0.5)*each, 10)})
	sheet.submit()
	if _, o := h.numbered(1); o.Known.Length != "50 mm" {
		t.Errorf("its length is %q", o.Known.Length)
	}
}

// A part without a photo says that some still wait to be assigned.
func TestUnassignedPhotosAreToldWhereAPartHasNone(t *testing.T) {
	h := atWork(t)
	h.place().viewer.newLoose = true
	h.place().attach(photoFiles(t, "a.jpg"))
	h.until("the photo", func() bool { return len(h.record().Photos) == 1 })
	h.place().viewer.setScope(ofPart)
	said := ""
	for _, o := range h.place().viewer.hint.Objects {
		for _, one := range test.LaidOutObjects(o) {
			if c, ok := one.(*caption); ok {
				said += c.Text
			}
		}
	}
	if !strings.Contains(said, "1 photo is unassigned: press 9") {
		t.Errorf("it says %q", said)
	}
}

// The strip draws the pictures of the photos that it goes to, however far.
func TestTheStripDrawsWhereItGoes(t *testing.T) {
	h := atWork(t)
	var names []string
	for i := range 40 {
		names = append(names, fmt.Sprintf("%02d.jpg", i))
	}
	h.place().attach(photoFiles(t, names...))
	v := h.place().viewer
	last := func() *thumb { return v.strip.parts[len(v.strip.parts)-1] }
	h.until("the photos", func() bool { return len(v.picked()) == len(names) && len(v.strip.parts) == len(names) })
	h.settled()
	h.press(fyne.KeyF6)
	h.until("the strip to rest", func() bool { return !v.drawing && len(v.asked) == 0 && v.strip.parts[0].picture != nil })
	if last().picture != nil {
		t.Fatal("the last photo is in sight already")
	}
	h.press(fyne.KeyEnd)
	h.until("the picture of the last photo", func() bool { return last().picture != nil })
}

// A photo of no part on which a finding is outlined shows the part from then on, and
// stays before the eye: its scale is still to be drawn.
func TestThePhotoStaysWhenItIsOutlined(t *testing.T) {
	h := atWork(t)
	h.place().viewer.newLoose = true
	h.place().attach(photoFiles(t, "a.jpg", "b.jpg", "c.jpg"))
	v := h.place().viewer
	h.until("the photos", func() bool { return v.scope == unassigned && len(v.strip.Items) == 3 && v.photoView.HasPhoto() })
	h.place().chooseSurface("cone")
	faced := false
	for _, step := range []func(){
		func() { h.outlined("rust p", "2") },
		func() { h.boxed(); h.press(fyne.KeyUp, fyne.KeyReturn) },                            // finding 1 again
		func() { h.boxed(); h.press(fyne.KeyUp, fyne.KeyUp, fyne.KeyRight, fyne.KeyReturn) }, // working face
	} {
		h.write("9")
		shown := v.shown
		h.until("the photo", v.photoView.HasPhoto)
		step()
		h.settled()
		faced = faced || slices.ContainsFunc(v.outlinesOf(shown), func(s ShownOutline) bool { return s.Outline.Face.Surface == "cone" })
		if p, _ := v.record(); v.shown != shown || v.scope != ofPart || len(p.Subjects) != 1 {
			t.Errorf("shown is photo %d of %s", p.Number, v.scope)
		}
	}
	if !faced {
		t.Error("two steps up from the field, the arrows do not come to the working face")
	}
}

// Escape leads out of all that can be opened about the photo, a step at a time.
func TestEscapeLeadsBackToThePlainPhoto(t *testing.T) {
	h := atWork(t)
	h.place().attach(photoFiles(t, "a.jpg", "b.jpg"))
	v := h.place().viewer
	h.until("the photos", func() bool { return len(v.picked()) == 2 && v.photoView.HasPhoto() })
	open := func() (n int) {
		for _, is := range []bool{v.beside.open, v.light.object.Visible(), h.place().large, h.place().side.open(), len(v.picked()) > 1} {
			if is {
				n++
			}
		}
		return n
	}
	h.press(fyne.KeyEscape, fyne.KeyEscape, fyne.KeyEscape)
	if open() != 0 {
		t.Fatalf("%d are open to begin with", open())
	}
	h.write("624")
	h.press(fyne.KeyEscape) // from the slider to the photo
	for want := 3; want >= 0; want-- {
		if open() != want {
			t.Errorf("%d are open, want %d", open(), want)
		}
		h.press(fyne.KeyEscape)
	}
	if h.f.window.Canvas().Focused() != fyne.Focusable(v.photoView) {
		t.Errorf("the keys go to %T", h.f.window.Canvas().Focused())
	}
}

// What no damage is called names none: a slip of the keys must not keep the one that
// was chosen before.
func TestASlipNamesNoDamage(t *testing.T) {
	h := readyForPits(t)
	h.write("f")
	h.write("pit 2")
	s := h.place().side.sheet.(*findingSheet)
	h.press(fyne.KeyBackspace, fyne.KeyBackspace)
	h.write("zz 2")
	h.press(fyne.KeyReturn)
	h.write("2")
	h.press(fyne.KeyReturn)
	if len(h.record().Findings) != 0 || s.f.Damage != "" || s.fault.Text == "" {
		t.Errorf("there are %d findings, chosen is %q, it says %q", len(h.record().Findings), s.f.Damage, s.fault.Text)
	}
	s.filter.SetText("crack 2")
	h.f.focus(s.filter)
	h.press(fyne.KeyReturn)
	if len(h.record().Findings) != 1 {
		t.Error("a name that is known is not taken after that")
	}
}
