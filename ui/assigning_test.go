package ui

import (
	"fmt"
	"image/color"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// withPhotos opens a record with so many photos that show nothing yet.
func withPhotos(t *testing.T, count int) *hands {
	t.Helper()
	h := atWork(t)
	var paths []string
	for i := range count {
		paths = append(paths, photoFile(t, fmt.Sprintf("IMG_%04d.jpg", i+1), color.RGBA{R: uint8(4 * i), G: uint8(67 * i), B: uint8(200 - 3*i), A: 255}))
	}
	job := h.place().n.AttachPhotos(t.Context(), nil, term.AsFound, paths)
	if err := job.Wait(); err != nil {
		t.Fatal(err)
	}
	h.place().viewer.setScope(unassigned)
	h.until("the photos", func() bool { return len(h.place().viewer.strip.Items) == count })
	h.until("the first to be shown", func() bool { return h.place().viewer.photoView.HasPhoto() })
	return h
}

// thumbAt is the widget of a photo by its place in the strip.
func (h *hands) thumbAt(i int) *thumb { return h.place().viewer.strip.parts[i] }

// tap clicks on a photo of the strip, with modifier keys.
func (h *hands) tap(i int, held fyne.KeyModifier) {
	t := h.thumbAt(i)
	ev := &desktop.MouseEvent{Modifier: held, Button: desktop.MouseButtonPrimary}
	t.MouseDown(ev)
	t.MouseUp(ev)
	t.Tapped(&fyne.PointEvent{})
}

// carry drags a photo of the strip to a place of the window, without letting go.
func (h *hands) carry(i int, to fyne.Position) {
	t := h.thumbAt(i)
	t.MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	from := fyne.CurrentApp().Driver().AbsolutePositionForObject(t)
	for _, part := range []float32{0.3, 1} {
		at := fyne.NewPos(from.X+(to.X-from.X)*part, from.Y+(to.Y-from.Y)*part)
		t.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: at}})
	}
}

// tileOf is the middle of a part's tile in the window.
func (h *hands) tileOf(name string) fyne.Position {
	h.t.Helper()
	for i, item := range h.place().tiles.Items {
		if item.Name == name {
			tile := h.place().tiles.parts[i]
			return fyne.CurrentApp().Driver().AbsolutePositionForObject(tile).AddXY(tile.Size().Width/2, tile.Size().Height/2)
		}
	}
	h.t.Fatalf("there is no part %q", name)
	return fyne.Position{}
}

// shown tells by the numbers of the photos what each shows.
func (h *hands) subjects() string {
	var lines []string
	for _, p := range record.InOrder(h.record().Photos) {
		var names []string
		for _, s := range p.Subjects {
			name := h.place().n.PartName(s.Part)
			if s.Surface != "" {
				name += "/" + s.Surface
			}
			names = append(names, name)
		}
		lines = append(lines, fmt.Sprintf("%d %s", p.Number, strings.Join(names, "+")))
	}
	slices.Sort(lines)
	return strings.Join(lines, "; ")
}

func (h *hands) wantSubjects(want string) {
	h.t.Helper()
	if got := h.subjects(); got != want {
		h.t.Errorf("the photos show %q, want %q", got, want)
	}
}

func TestAssignByDragging(t *testing.T) {
	h := withPhotos(t, 4)
	p := h.place()
	h.carry(1, h.tileOf("Input bearing"))
	if p.tiles.target == "" || !p.viewer.drag.ghost.Visible() || !strings.Contains(p.viewer.drag.says.Text, "input bearing") {
		t.Errorf("while dragging the target is %q and the ghost says %q", p.tiles.target, p.viewer.drag.says.Text)
	}
	h.thumbAt(1).DragEnd()
	h.wantSubjects("1 ; 2 Input bearing; 3 ; 4 ")
	if p.tiles.target != "" || p.viewer.drag.ghost.Visible() {
		t.Error("the ghost or the light stays after the drop")
	}
	// The one after it takes its place.
	if got := h.record().Photos[p.viewer.shown].Number; got != 1 {
		t.Errorf("photo %d is shown, want that which was", got)
	}

	// Several at once, as one gesture.
	h.tap(0, 0)
	h.tap(2, fyne.KeyModifierShift)
	h.carry(1, h.tileOf("Input shaft"))
	h.thumbAt(1).DragEnd()
	h.wantSubjects("1 Input shaft; 2 Input bearing; 3 Input shaft; 4 Input shaft")
	if says, _ := p.n.Undoable(); says != "photos 1, 3 and 4 show input shaft" {
		t.Errorf("undo says %q", says)
	}
	h.hold(ctrl(fyne.KeyZ))
	h.wantSubjects("1 ; 2 Input bearing; 3 ; 4 ")
}

// TestRowOfPartsMovesUnderADrag holds that parts beyond the window are reached, and
// that the row stays there for the next photo.
func TestRowOfPartsMovesUnderADrag(t *testing.T) {
	h := withPhotos(t, 2)
	lane := h.place().lane
	edge := fyne.CurrentApp().Driver().AbsolutePositionForObject(lane).AddXY(lane.Size().Width-8, 20)
	h.carry(0, edge)
	h.until("the row to move", func() bool { return lane.Offset.X > 300 })
	to := h.tileOf("3rd gear")
	h.thumbAt(0).Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: to}})
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 3rd gear; 2 ")
	if lane.Offset.X < 300 {
		t.Error("the row jumped back to the chosen part")
	}
	h.write("]")
	if h.until("the chosen part to be in sight", func() bool { return lane.Offset.X < 200 }); h.place().part == "" {
		t.Error("no part is chosen")
	}
}

func TestDragThatGoesNowhere(t *testing.T) {
	h := withPhotos(t, 2)
	h.carry(0, fyne.NewPos(400, 500))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 ; 2 ")
	h.carry(0, h.tileOf("Input shaft"))
	h.press(fyne.KeyEscape)
	if h.place().viewer.drag.ghost.Visible() {
		t.Error("Escape leaves the ghost")
	}
	h.thumbAt(0).Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: h.tileOf("Input shaft")}})
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 ; 2 ")
	h.carry(0, h.tileOf("Input shaft"))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft; 2 ")
}

func TestAssignByTyping(t *testing.T) {
	h := withPhotos(t, 3)
	h.write("p")
	h.write("3rd g")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 3rd gear; 2 ; 3 ")
	if h.place().side.open() {
		t.Fatal("the sheet is still open")
	}
	// The next one is shown already; it gets a surface.
	h.write("p")
	h.write("input cone")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 3rd gear; 2 Input shaft/cone; 3 ")
	// Nothing typed is the chosen part.
	h.write("p")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 3rd gear; 2 Input shaft/cone; 3 Input shaft")
	// A photo shows two parts, or one only.
	h.write("a") // to those of this part
	h.tap(0, 0)
	h.write("p")
	h.write("main")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 3rd gear; 2 Input shaft/cone+Main shaft; 3 Input shaft")
	h.write("p")
	h.write("main")
	h.press(fyne.KeyReturn) // it shows it already
	h.wantSubjects("1 3rd gear; 2 Input shaft/cone; 3 Input shaft")
	h.write("p")
	h.write("layshaft")
	h.hold(ctrl(fyne.KeyReturn))
	if got := h.subjects(); strings.Contains(got, "Input shaft/cone") {
		t.Errorf("with Control it still shows more: %q", got)
	}
	h.write("p")
	h.write("qqq")
	h.press(fyne.KeyReturn)
	if !h.place().side.open() {
		t.Error("a part that is not there closes the sheet")
	}
	h.press(fyne.KeyEscape)
	if h.place().side.open() {
		t.Error("Escape leaves the sheet open")
	}
}

func TestPicksByKeys(t *testing.T) {
	h := withPhotos(t, 5)
	strip := h.place().viewer.strip
	picked := func() string {
		var numbers []string
		for _, id := range h.place().viewer.picked() {
			numbers = append(numbers, fmt.Sprint(h.record().Photos[id].Number))
		}
		return strings.Join(numbers, " ")
	}
	want := func(after, want string) {
		t.Helper()
		if got := picked(); got != want {
			t.Errorf("after %s the photos %q are picked, want %q", after, got, want)
		}
	}
	want("nothing", "1")
	h.write(">>")
	want("> >", "1 2 3")
	h.write("<")
	want("<", "1 2")
	h.press(fyne.KeyF6)
	if h.f.window.Canvas().Focused() != fyne.Focusable(strip) {
		t.Fatal("F6 does not go to the strip")
	}
	strip.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	h.press(fyne.KeyRight, fyne.KeyRight)
	strip.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
	want("Shift → →", "1 2 3 4")
	h.tap(2, fyne.KeyModifierControl)
	want("Ctrl+click on one of them", "1 2 4")
	h.tap(4, fyne.KeyModifierControl)
	want("Ctrl+click on another", "1 2 4 5")
	h.write("s")
	h.settled()
	for _, p := range h.record().Photos {
		if cleaned := p.Stage == term.Cleaned; cleaned == (p.Number == 3) {
			t.Errorf("photo %d: stage %s", p.Number, p.Stage)
		}
	}
	if says, _ := h.place().n.Undoable(); says != "photos 1, 2, 4 and 5: cleaned" {
		t.Errorf("undo says %q", says)
	}
	h.press(fyne.KeyEscape)
	want("Escape", "5")
	h.press(fyne.KeyHome)
	want("Home", "1")
	h.hold(ctrl(fyne.KeyA))
	want("Ctrl+A", "1 2 3 4 5")
	h.write("r")
	for _, p := range h.record().Photos {
		if p.Turned != 90 {
			t.Errorf("photo %d is turned by %d", p.Number, p.Turned)
		}
	}
	h.hold(ctrl(fyne.KeyDelete))
	if len(h.record().Photos) != 0 {
		t.Error("not all are out of the record")
	}
	h.hold(ctrl(fyne.KeyZ))
	if len(h.record().Photos) != 5 {
		t.Error("undo did not bring all back")
	}
}

// TestUnassignedAreCounted holds that what shows no part is never out of sight.
func TestUnassignedAreCounted(t *testing.T) {
	h := withPhotos(t, 3)
	label := func() string {
		i := slices.IndexFunc(h.place().viewer.scopes.Options, func(c choice) bool { return c.ID == string(unassigned) })
		return h.place().viewer.scopes.Options[i].Label
	}
	if label() != "Unassigned  3" {
		t.Errorf("it says %q", label())
	}
	h.write("m")
	if label() != "Unassigned  2" {
		t.Errorf("after one was assigned it says %q", label())
	}
	h.place().dropped([]string{photoFile(t, "more.jpg", color.White), filepath.Join(t.TempDir(), "none.jpg")})
	h.until("the notice", func() bool { return len(h.place().notices.notices) > 0 })
	if label() != "Unassigned  2" {
		t.Errorf("a photo of the chosen part counts as unassigned: %q", label())
	}
}

// TestStripFollowsTheTime holds that the strip is in the order in which two cameras
// took the photos, each in a zone of its own.
func TestStripFollowsTheTime(t *testing.T) {
	h := withPhotos(t, 3)
	taken := map[int]record.Taken{
		1: {Local: "2026-05-12T14:30:00", Zone: "+01:00"}, 2: {Local: "2026-05-12T15:00:00", Zone: "+02:00"}, 3: {Local: "2026-05-12T13:10:00", Zone: "+00:00"},
	}
	for id, p := range h.record().Photos {
		h.place().do("", record.ChangePhoto("taken", id, func(to *record.Photo) { to.Taken = taken[p.Number] }))
	}
	h.place().refresh()
	var got []string
	for _, item := range h.place().viewer.strip.Items {
		got = append(got, strings.Fields(item.Under)[0])
	}
	if strings.Join(got, " ") != "2 3 1" {
		t.Errorf("the strip is %v, want 2 3 1", got)
	}
}
