package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestStageWithOneStroke holds that each stage is one stroke and one gesture away for
// all photos that are picked.
func TestStageWithOneStroke(t *testing.T) {
	h := withPhotos(t, 3)
	h.tap(0, 0)
	h.tap(1, fyne.KeyModifierShift)
	for _, c := range []struct {
		key  fyne.KeyName
		want term.Stage
	}{{fyne.Key4, term.Installed}, {fyne.Key2, term.Cleaned}, {fyne.Key3, term.Repaired}, {fyne.Key1, term.AsFound}, {fyne.Key4, term.Installed}} {
		h.hold(alt(c.key))
		for _, p := range record.InOrder(h.record().Photos) {
			want := c.want
			if p.Number == 3 {
				want = term.AsFound
			}
			if p.Stage != want {
				t.Errorf("after Alt+%s photo %d is %s, want %s", c.key, p.Number, p.Stage, want)
			}
		}
		if says, _ := h.place().n.Undoable(); says != "photos 1 and 2: "+term.Plain(c.want) {
			t.Errorf("undo says %q", says)
		}
	}
}
