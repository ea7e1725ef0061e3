package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// thumbPicks are the photos that are picked besides the one that is shown. While
// there is none of them, the shown one stands for itself.
type thumbPicks struct {
	of map[string]bool
	// anchor is the photo from which Shift counts.
	anchor string
}

// shiftHeld tells whether Shift is held. The driver knows best: it may have been
// pressed before the widget had the focus.
func shiftHeld(seen bool) bool {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
	}
	return seen
}

// Picked returns the photos that something is done to, in their order: those that
// are picked, or else the one that is shown.
func (t *thumbs) Picked() []string {
	var ids []string
	for i := range t.Items {
		if id := t.Items[i].ID; t.picks.of[id] || (len(t.picks.of) == 0 && id == t.Selected) {
			ids = append(ids, id)
		}
	}
	return ids
}

// Extend goes so many photos along and picks those on the way.
func (t *thumbs) Extend(by int) {
	if len(t.Items) > 0 {
		t.ExtendTo(min(max(t.index()+by, 0), len(t.Items)-1))
	}
}

// ExtendTo picks the photos from where picking began up to one of them.
func (t *thumbs) ExtendTo(i int) {
	if t.indexOf(t.picks.anchor) < 0 {
		t.picks.anchor = t.Selected
	}
	from := max(t.indexOf(t.picks.anchor), 0)
	of := map[string]bool{}
	for k := min(from, i); k <= max(from, i); k++ {
		of[t.Items[k].ID] = true
	}
	t.setPicks(of)
	t.choose(i)
}

// Toggle picks a photo besides the others, or no longer.
func (t *thumbs) Toggle(i int) {
	id := t.Items[i].ID
	of := map[string]bool{}
	for _, other := range t.Picked() {
		of[other] = true
	}
	if of[id] && len(of) > 1 {
		delete(of, id)
		t.setPicks(of)
		t.picks.anchor = id
		if id == t.Selected {
			t.choose(t.indexOf(t.Picked()[0]))
			return
		}
		t.Refresh()
		return
	}
	of[id] = true
	t.setPicks(of)
	t.picks.anchor = id
	t.choose(i)
}

// PickAll picks every photo of the strip.
func (t *thumbs) PickAll() {
	of := map[string]bool{}
	for i := range t.Items {
		of[t.Items[i].ID] = true
	}
	t.setPicks(of)
	t.Refresh()
}

// pickOnly leaves one photo picked, or none.
func (t *thumbs) pickOnly(id string) {
	t.dropPicks(func(string) bool { return true })
	t.picks.anchor = id
	t.Refresh()
}

// setPicks takes picks over. One photo alone needs none if it is the one shown.
func (t *thumbs) setPicks(of map[string]bool) {
	t.picks.of = of
	if t.OnPicked != nil {
		t.OnPicked()
	}
}

// dropPicks forgets picks, and where picking began once there is none left.
func (t *thumbs) dropPicks(drop func(id string) bool) {
	before := len(t.picks.of)
	for id := range t.picks.of {
		if drop(id) {
			delete(t.picks.of, id)
		}
	}
	if len(t.picks.of) == 0 {
		t.picks.anchor = ""
	}
	if len(t.picks.of) != before && t.OnPicked != nil {
		t.OnPicked()
	}
}

// drag carries photos along: all that are picked if the one taken hold of is among
// them, else that one alone. The keys come here, so that Escape can end it.
func (t *thumbs) drag(id string, at fyne.Position) {
	if t.OnDragged == nil {
		return
	}
	if t.dragged != id {
		t.dragged = id
		if c := fyne.CurrentApp().Driver().CanvasForObject(t); c != nil {
			c.Focus(t)
		}
		t.left = false
	}
	if t.left {
		return
	}
	ids := []string{id}
	if t.picks.of[id] {
		ids = t.Picked()
	}
	var picture image.Image
	if t.Picture != nil {
		picture = t.Picture(id)
	}
	t.OnDragged(ids, at, picture)
}

func (t *thumbs) drop() {
	left := t.left
	t.dragged, t.left = "", false
	if !left && t.OnDropped != nil {
		t.OnDropped()
	}
}

// leaveDrag gives a drag up: what is let go then goes nowhere.
func (t *thumbs) leaveDrag() {
	if t.dragged != "" && !t.left {
		t.left = true
		if t.OnLeft != nil {
			t.OnLeft()
		}
	}
}
