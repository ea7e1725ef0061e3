package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

func TestLeftOutWithOneKey(t *testing.T) {
	h := withPhotos(t, 4)
	v := h.place().viewer
	v.setScope(ofAll)
	marks := func() string {
		h.place().refresh()
		var all []string
		for i, item := range v.strip.Items {
			if part := v.strip.parts[i]; part.item != item {
				t.Errorf("the thumbnail shows %+v for %+v", part.item, item)
			}
			all = append(all, map[bool]string{true: "out", false: "in"}[item.Out])
		}
		return strings.Join(all, " ")
	}
	count := func() string {
		i := slices.IndexFunc(v.scopes.Options, func(c choice) bool { return c.ID == string(leftOut) })
		if i < 0 {
			return ""
		}
		return v.scopes.Options[i].Label
	}
	if marks() != "in in in in" || count() != "" {
		t.Fatalf("at first they are %s, counted as %q", marks(), count())
	}
	h.write("8")
	if got := marks(); got != "out in in in" || count() != "Left out  1" {
		t.Errorf("after 8 they are %s, counted as %q", got, count())
	}
	if says := v.caption.Text; !strings.Contains(says, "left out of the report by Wren Aldous") {
		t.Errorf("the caption says %q", says)
	}
	h.tap(0, 0)
	h.tap(2, fyne.KeyModifierShift)
	h.write("8") // not all of them are out yet
	if got := marks(); got != "out out out in" {
		t.Errorf("three that are picked: %s", got)
	}
	h.write("8")
	if got := marks(); got != "in in in in" {
		t.Errorf("again: %s", got)
	}
	h.hold(ctrl(fyne.KeyZ))
	if got := marks(); got != "out out out in" || count() != "Left out  3" {
		t.Errorf("after undo: %s, counted as %q", got, count())
	}
	h.write("aa") // unassigned, left out
	if v.scope != leftOut || len(v.strip.Items) != 3 {
		t.Errorf("A leads to %q with %d photos", v.scope, len(v.strip.Items))
	}
	h.write("a")
	if v.scope != ofPart {
		t.Errorf("A then leads to %q", v.scope)
	}
}

func TestOneKeyToTheUnassigned(t *testing.T) {
	h := withPhotos(t, 2)
	h.write("mm") // both to the chosen part
	h.place().viewer.setScope(ofPart)
	h.place().attach(photoFiles(t, "loose.jpg"))
	h.until("it", func() bool { return len(h.record().Photos) == 3 })
	h.write("9")
	if v := h.place().viewer; v.scope != unassigned {
		t.Errorf("9 leads to %q", v.scope)
	}
}
