package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func TestClaimSheet(t *testing.T) {
	h := withPhotos(t, 2)
	v := h.place().viewer
	if v.claim.Visible() {
		t.Error("a record without a claim has a list of what a claim wants beside the strip")
	}
	h.place().do("", record.Set("claim", func(r *record.Record) { r.Owner.Claim = "C-204" }))
	h.place().refresh()
	if !v.claim.Visible() || v.claim.Text != "Claim 0/2" {
		t.Errorf("beside the strip it says %q", v.claim.Text)
	}
	h.hold(ctrl(fyne.KeyW))
	sheet := h.place().side.sheet.(*claimSheet)
	if sheet.list.Selected != "identity-plate/" || sheet.list.Items[0].Quiet != "no photo shows it" {
		t.Fatalf("it begins with %q, %+v", sheet.list.Selected, sheet.list.Items[0])
	}
	h.write(" ")
	if p := h.record().Photos[v.shown]; p.Shows != term.IdentityPlate {
		t.Errorf("the photo shows %q", p.Shows)
	}
	if !sheet.list.Items[0].Ticked || sheet.list.Items[0].Quiet != "photo 1" || v.claim.Text != "Claim 1/2" {
		t.Errorf("the list says %+v, beside the strip %q", sheet.list.Items[0], v.claim.Text)
	}
	if !strings.HasPrefix(v.caption.Text, "Photo 1 · identity plate · ") {
		t.Errorf("over the photo it says %q", v.caption.Text)
	}
	h.write(" ")
	if sheet.list.Items[0].Ticked {
		t.Error("a second time does not take it back")
	}

	// Of a part: it is assigned as well.
	h.press(fyne.KeyEscape)
	h.place().chooseSurface("cone")
	h.write("f")
	h.write("rust p")
	h.press(fyne.KeyReturn)
	h.write("2")
	h.press(fyne.KeyReturn)
	h.hold(ctrl(fyne.KeyW))
	sheet = h.place().side.sheet.(*claimSheet)
	i := slices.IndexFunc(sheet.list.Items, func(r rowItem) bool { return strings.HasPrefix(r.ID, "stamped-number/") })
	if i < 0 {
		t.Fatalf("the part's number is not in %+v", sheet.list.Items)
	}
	sheet.list.pick(i)
	h.write(" ")
	p := record.Photo{}
	for _, other := range h.record().Photos {
		if other.Number == 1 {
			p = other
		}
	}
	if p.Shows != term.StampedNumber || !shows(p, h.place().part) {
		t.Errorf("the photo is %+v", p)
	}
	v.setScope(ofAll)
	v.strip.Walk(5)
	h.f.focus(sheet.list)
	h.press(fyne.KeyReturn)
	if got := h.record().Photos[v.shown].Shows; got != term.StampedNumber {
		t.Errorf("Enter goes to a photo of %q", got)
	}
}
