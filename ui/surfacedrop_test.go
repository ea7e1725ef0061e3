package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// laidOut lays the surfaces out, which the driver of a real window does before it
// paints.
func (h *hands) laidOut() *surfacePane {
	s := h.place().side.surfaces
	s.scroll.Content.Refresh()
	s.scroll.Refresh()
	return s
}

// rowOf is the middle of a surface's row in the window.
func (h *hands) rowOf(surface string) fyne.Position {
	h.t.Helper()
	list := h.laidOut().list
	for i, item := range list.Items {
		if item.ID == surface {
			row := list.parts[i]
			return fyne.CurrentApp().Driver().AbsolutePositionForObject(row).AddXY(row.Size().Width/2, row.Size().Height/2)
		}
	}
	h.t.Fatalf("there is no surface %q", surface)
	return fyne.Position{}
}

// drawnAt is a place of the window where the drawing of the part shows a surface.
func (h *hands) drawnAt(surface string) fyne.Position {
	h.t.Helper()
	picture := h.laidOut().picture
	from := fyne.CurrentApp().Driver().AbsolutePositionForObject(picture)
	for y := float32(2); y < picture.Size().Height; y += 2 {
		for x := float32(2); x < picture.Size().Width; x += 2 {
			if picture.at(fyne.NewPos(x, y)) == surface {
				return from.AddXY(x, y)
			}
		}
	}
	h.t.Fatalf("the drawing shows no %q", surface)
	return fyne.Position{}
}

func TestDropOnASurface(t *testing.T) {
	h := withPhotos(t, 4)
	p := h.place()
	h.carry(0, h.rowOf("cone"))
	if list := p.side.surfaces.list; list.target != "cone" || p.side.surfaces.picture.hovered != "cone" || p.tiles.target != "" {
		t.Errorf("while dragging the row %q, the drawing's %q and the tile %q are lit", list.target, p.side.surfaces.picture.hovered, p.tiles.target)
	}
	if !strings.Contains(p.viewer.drag.says.Text, "input shaft (synchroniser cone)") {
		t.Errorf("the ghost says %q", p.viewer.drag.says.Text)
	}
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft/cone; 2 ; 3 ; 4 ")
	if list := p.side.surfaces.list; list.target != "" || p.side.surfaces.picture.hovered != "" {
		t.Error("the surface stays lit after the drop")
	}

	// Several at once, on the drawing.
	h.tap(0, 0)
	h.tap(1, fyne.KeyModifierShift)
	h.carry(0, h.drawnAt("pilot"))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft/cone; 2 Input shaft/pilot; 3 Input shaft/pilot; 4 ")
	if says, _ := p.n.Undoable(); says != "photos 2 and 3 show input shaft, pilot nose" {
		t.Errorf("undo says %q", says)
	}
	h.hold(ctrl(fyne.KeyZ))
	h.wantSubjects("1 Input shaft/cone; 2 ; 3 ; 4 ")

	// Beside them lies nothing to drop on.
	h.carry(0, h.rowOf("cone").AddXY(0, 4000))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft/cone; 2 ; 3 ; 4 ")

	// A sheet that lies over the surfaces covers them.
	at := h.rowOf("cone")
	h.write("u")
	h.carry(0, at)
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft/cone; 2 ; 3 ; 4 ")
}

// TestPhotoOfTwoParts holds that one photo shows two parts, dragged or typed.
func TestPhotoOfTwoParts(t *testing.T) {
	h := withPhotos(t, 2)
	h.place().viewer.setScope(ofAll)
	h.carry(0, h.tileOf("Input shaft"))
	h.thumbAt(0).DragEnd()
	h.carry(0, h.tileOf("Input bearing"))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input shaft+Input bearing; 2 ")
	h.carry(0, h.rowOf("cone"))
	h.thumbAt(0).DragEnd()
	h.wantSubjects("1 Input bearing+Input shaft/cone; 2 ")
	if says := h.place().viewer.caption.Text; !strings.Contains(says, "input bearing and synchroniser cone") {
		t.Errorf("the caption says %q", says)
	}

	h.tap(1, 0)
	h.write("p")
	h.write("input bear")
	h.press(fyne.KeyReturn)
	h.write("p")
	h.write("gear 3 cone")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 Input bearing+Input shaft/cone; 2 Input bearing+3rd gear/cone")
}

func TestTypedSurface(t *testing.T) {
	h := withPhotos(t, 1)
	h.place().viewer.setScope(ofAll)
	// The chosen part's surfaces need no name of the part; typed again it is taken off.
	for _, want := range []string{"1 Input shaft/cone", "1 "} {
		h.write("p")
		h.write("synchroniser c")
		h.press(fyne.KeyReturn)
		h.wantSubjects(want)
	}
}
