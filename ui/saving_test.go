package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
)

// TestSearch types words into the register.
func TestSearch(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	for serial, owner := range map[string]string{"40117": "Joss Ternway", "40342": "Marl Farm Co-operative", "40508": ""} {
		h.begun(serial, owner)
	}
	r := h.f.here.(*register)
	h.until("all records", func() bool { return len(r.rows) == 3 })
	h.hold(ctrl(fyne.KeyF))
	h.write("marl 403")
	h.until("the one record", func() bool { return len(r.rows) == 1 && r.rows[0].Serial == "40342" })
	h.write(" nothing")
	h.until("nothing found", func() bool { return len(r.rows) == 0 && len(r.empty.Objects) > 0 })
	h.press(fyne.KeyEscape)
	h.until("all records again", func() bool { return len(r.rows) == 3 })
	h.press(fyne.KeyDown, fyne.KeyReturn)
	h.until("the second record to open", func() bool { _, ok := h.f.here.(*inspectionPlace); return ok })
	if got := h.record().ID; got != r.rows[1].Record {
		t.Errorf("opened %s, want %s", got, r.rows[1].Record)
	}
}

// TestLookingOnly opens the archive a second time, to look at only.
func TestLookingOnly(t *testing.T) {
	dir := t.TempDir()
	first := newHands(t, inspection.Options{Dir: dir}, "")
	id := first.begun("40117", "Joss Ternway")
	h := newHands(t, inspection.Options{Dir: dir, ReadOnly: true}, "")
	if len(h.f.notices.notices) == 0 || !strings.Contains(h.f.notices.notices[0].Title, "looking only") {
		t.Fatalf("the notices are %+v", h.f.notices.notices)
	}
	h.hold(ctrl(fyne.KeyN))
	h.wantTitle("Register — Fettlebook")
	h.open(id)
	before := h.record()
	h.write("wltkfxrsmd")
	h.hold(ctrl(fyne.KeyO))
	h.hold(ctrl(fyne.KeyZ))
	h.place().dropped([]string{dir})
	if h.record() != before || h.place().side.open() {
		t.Error("something could be changed")
	}
	if got := h.place().status.saved.Text; got != "Open for looking only" {
		t.Errorf("the status says %q", got)
	}
}

// TestNotSaved takes the archive away under an open record: nothing is lost from
// the window, and it says so until it is closed with that knowledge.
func TestNotSaved(t *testing.T) {
	h := atWork(t)
	h.settled()
	if err := h.bench.Archive().Close(); err != nil {
		t.Fatal(err)
	}
	h.write("w")
	h.wantTitle("Input shaft · sound · NOT SAVED — Fettlebook")
	h.until("the notice", func() bool { return len(h.place().notices.notices) > 0 })
	if got := h.place().status.saved.Text; got != "Not saved: 1 change waits" {
		t.Errorf("the status says %q", got)
	}
	h.hold(ctrl(fyne.KeyR))
	if _, still := h.f.here.(*inspectionPlace); !still {
		t.Error("an unsaved record was left")
	}
	h.hold(ctrl(fyne.KeyQ))
	h.until("the question", func() bool { _, asks := h.f.window.Canvas().Focused().(*button); return asks })
	if h.closed {
		t.Fatal("the window closed and lost a change")
	}
	h.f.end()
	if !h.closed {
		t.Error("the window did not close when told to")
	}
}

func TestCloseSaves(t *testing.T) {
	h := atWork(t)
	h.write("w")
	h.hold(ctrl(fyne.KeyQ))
	h.until("the window to close", func() bool { return h.closed })
	if s := h.place().n.Status(); s.Unsaved != 0 {
		t.Errorf("%d changes were not saved", s.Unsaved)
	}
}
