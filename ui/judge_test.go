package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestTrialFitByKeyboard tries a sliding gear on the main shaft: Y, the number of
// what came of it, Ctrl+Enter.
func TestTrialFitByKeyboard(t *testing.T) {
	h := atWork(t)
	h.choose("Sliding gear, 1st and reverse")
	h.write("w")
	h.settled()
	h.write("y")
	sheet := h.place().side.sheet.(*fitSheet)
	if sheet.pair.ID != "gear-on-spline" || len(sheet.partners) != 1 {
		t.Fatalf("the sheet asks for %q with %d partners", sheet.pair.ID, len(sheet.partners))
	}
	h.write("3")
	h.hold(ctrl(fyne.KeyReturn))
	h.until("the grade", func() bool { return strings.Contains(h.title(), "condemned · saved") })
	for id, f := range h.record().TrialFits {
		if f.Outcome != "rocks" || f.By != "Wren Aldous" || f.Unworn != "" || f.A.Part != h.place().part || f.B.Record != h.record().ID {
			t.Errorf("the trial fit is %+v", f)
		}
		if h.place().entry != id {
			t.Error("the new trial fit is not chosen")
		}
	}
	h.write("e")
	sheet = h.place().side.sheet.(*fitSheet)
	sheet.list.Selected = fromShelf
	sheet.choosePartner()
	h.write("2")
	h.hold(ctrl(fyne.KeyReturn))
	h.until("the grade", func() bool { return strings.Contains(h.title(), "sound · saved") })
	for _, f := range h.record().TrialFits {
		if f.Outcome != "slight-rotation" || f.Unworn != "b" || f.B != (record.PartOf{}) {
			t.Errorf("after the change the trial fit is %+v", f)
		}
	}
	h.write("x")
	h.write("wrong gear")
	h.press(fyne.KeyReturn)
	h.settled()
	for _, f := range h.record().TrialFits {
		if f.Withdrawn != "Wren Aldous: wrong gear" {
			t.Errorf("withdrawn says %q", f.Withdrawn)
		}
	}
}

// TestPartnerOfAnotherCore tries a part with one of a second core, and finds that
// the other core knows of it.
func TestPartnerOfAnotherCore(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	second := h.begun("50220", "Marl Farm")
	h.open(h.begun("40117", "Joss Ternway"))
	h.choose("Sliding gear, 1st and reverse")
	h.write("y")
	sheet := h.place().side.sheet.(*fitSheet)
	h.until("the other core to be looked through", func() bool { return len(sheet.elseCore) > 0 })
	sheet.list.Selected = sheet.list.Items[len(sheet.list.Items)-1].ID
	sheet.choosePartner()
	h.write("3")
	h.hold(ctrl(fyne.KeyReturn))
	h.settled()
	for _, f := range h.record().TrialFits {
		if f.B.Record != second {
			t.Errorf("the trial fit is %+v, want it with a part of %s", f, second)
		}
	}
	h.hold(ctrl(fyne.KeyR))
	h.until("the register", func() bool { _, ok := h.f.here.(*register); return ok })
	h.open(second)
	h.choose("Main shaft")
	if a := h.place().n.Assessment(); !strings.Contains(partIn(a, "Main shaft").Why, "tilts") {
		t.Errorf("the other core's main shaft says %q", partIn(a, "Main shaft").Why)
	}
}

func partIn(a *inspection.Assessment, name string) *inspection.Part {
	for i := range a.Parts {
		if a.Parts[i].Name == name {
			return &a.Parts[i]
		}
	}
	return nil
}

// TestJudgeOtherwise holds that a person's verdict needs a reason, and that the
// safety set can't be loosened.
func TestJudgeOtherwise(t *testing.T) {
	h := atWork(t)
	h.write("w")
	h.settled()
	h.place().chooseSurface("cone")
	h.write("j")
	h.write("5")
	h.hold(ctrl(fyne.KeyReturn))
	sheet, open := h.place().side.sheet.(*judgeSheet)
	if !open || sheet.fault.Text == "" {
		t.Fatal("a verdict without a reason went in without a word")
	}
	h.f.focus(sheet.reason.entry)
	h.write("worn out of true")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Input shaft · condemned · saved — Fettlebook")
	for _, o := range h.record().Overrides {
		want := record.Override{Part: h.place().part, Surface: "cone", Verdict: term.Condemned, Reason: "worn out of true", By: "Wren Aldous"}
		if o != want {
			t.Errorf("the verdict is %+v, want %+v", o, want)
		}
	}
	h.hold(ctrl(fyne.KeyZ))
	h.wantTitle("Input shaft · sound · saved — Fettlebook")
}

func TestHoldIsSaidAndReleased(t *testing.T) {
	h := atWork(t)
	h.hold(ctrl(fyne.KeyD))
	form := h.f.here.(*details).form
	form.hold.SetText("adjuster to view")
	h.hold(ctrl(fyne.KeyReturn))
	h.settled()
	if got := h.record().Hold; got != "adjuster to view" {
		t.Fatalf("the hold is %q", got)
	}
	h.until("the hold to be said", func() bool { return len(h.place().notices.notices) == 1 })
	h.press(fyne.KeyEscape)
	if n := h.place().notices.notices; len(n) != 1 || !n[0].Stays {
		t.Error("Escape took the hold out of sight")
	}
	h.hold(ctrl(fyne.KeyR))
	h.until("the register to say it", func() bool {
		r, ok := h.f.here.(*register)
		return ok && len(r.rows) == 1 && strings.HasPrefix(r.rows[0].Outcome, "On hold (adjuster to view).")
	})
	h.open(h.f.here.(*register).rows[0].Record)
	h.place().notices.notices[0].Doing()
	h.until("the hold to be released", func() bool { return h.record().Hold == "" && len(h.place().notices.notices) == 0 })
}

func TestSignWhatItIsConsistentWith(t *testing.T) {
	h := atWork(t)
	h.write("f")
	h.write("rust p")
	h.press(fyne.KeyReturn)
	h.write("2")
	h.press(fyne.KeyReturn)
	h.settled()
	h.hold(ctrl(fyne.KeyI))
	sheet := h.place().side.sheet.(*coreSheet)
	if len(sheet.causes.Items) == 0 || len(sheet.next.Items) == 0 {
		t.Fatalf("the sheet lists %d causes and %d parts", len(sheet.causes.Items), len(sheet.next.Items))
	}
	sheet.submit()
	if sheet.fault.Text == "" || len(h.record().Opinions) != 0 {
		t.Error("nothing was chosen, and it was signed")
	}
	sheet.causes.Walk(0)
	sheet.text.SetText("stood wet all winter")
	h.hold(ctrl(fyne.KeyReturn))
	for _, o := range h.record().Opinions {
		if o.By != "Wren Aldous" || o.Text != "stood wet all winter" || o.Cause != sheet.causes.Selected {
			t.Errorf("signed is %+v", o)
		}
	}
	sheet.signed.Walk(0)
	sheet.strike()
	h.press(fyne.KeyReturn)
	for _, o := range h.record().Opinions {
		if o.Withdrawn == "" {
			t.Error("the opinion was not withdrawn")
		}
	}
	if _, back := h.place().side.sheet.(*coreSheet); !back {
		t.Error("the sheet did not come back")
	}
}

// TestNextToInspect goes through the parts in the order that saves most work.
func TestNextToInspect(t *testing.T) {
	h := atWork(t)
	next := h.place().n.Assessment().Next
	h.write("i")
	first := h.place().part
	h.write("i")
	if first == h.place().part || len(next) < 3 {
		t.Errorf("I stays at %s", h.place().n.PartName(first))
	}
}

func TestShopIsKept(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyComma))
	page := h.f.here.(*shopPage)
	page.name.SetText("Quillan Gear Shop")
	page.who.SetText("Edda Quillan")
	page.usable.SetText("80")
	h.hold(ctrl(fyne.KeyReturn))
	if _, still := h.f.here.(*shopPage); !still {
		t.Fatal("80 % usable and 75 % not for hard duty were taken")
	}
	page.notHard.SetText("90 %")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Register — Fettlebook")
	shop, err := h.bench.Shop(t.Context())
	if err != nil || shop.Name != "Quillan Gear Shop" {
		t.Errorf("the shop is %+v (%v)", shop, err)
	}
	if w := h.bench.Wear(); w != (inspection.Wear{UsableFrom: 80, NotHardFrom: 90}) {
		t.Errorf("wear is %+v", w)
	}
	if h.bench.Who() != "Edda Quillan" || h.f.settings.Who != "Edda Quillan" {
		t.Errorf("at the bench is %q", h.bench.Who())
	}
}

// TestFitKeepsWhichPartIsUnworn edits a trial fit without touching which of the
// two parts is unworn, seen from either of them.
func TestFitKeepsWhichPartIsUnworn(t *testing.T) {
	for part, marked := range map[string]string{"Sliding gear, 1st and reverse": "this", "Main shaft": "partner"} {
		h := atWork(t)
		h.choose("Sliding gear, 1st and reverse")
		gear := h.place().part
		h.choose("Main shaft")
		shaft, own := h.place().part, h.record().ID
		id := record.NewID()
		f := record.TrialFit{Pair: "gear-on-spline", A: record.PartOf{Record: own, Part: gear}, B: record.PartOf{Record: own, Part: shaft}, Outcome: "snug", Unworn: "a", By: "Wren Aldous"}
		if err := h.place().n.Do(h.place().n.TrialFit(id, f)); err != nil {
			t.Fatal(err)
		}
		h.choose(part)
		h.place().chooseEntry(id)
		h.place().editEntry(id)
		sheet := h.place().side.sheet.(*fitSheet)
		if sheet.unworn.Selected != marked {
			t.Errorf("%s: marked as unworn is %q, want %q", part, sheet.unworn.Selected, marked)
		}
		h.hold(ctrl(fyne.KeyReturn))
		h.settled()
		if got := h.record().TrialFits[id]; got != f {
			t.Errorf("%s: unchanged it became %+v", part, got)
		}
	}
}

// TestPastTheShelf walks over the unworn part from the shelf to a partner of
// another core, which is no reference for that.
func TestPastTheShelf(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.begun("50220", "Marl Farm")
	h.open(h.begun("40117", "Joss Ternway"))
	h.choose("Sliding gear, 1st and reverse")
	h.write("y")
	sheet := h.place().side.sheet.(*fitSheet)
	h.until("the other core to be looked through", func() bool { return len(sheet.elseCore) > 0 })
	for _, want := range []string{"partner", ""} {
		sheet.list.Walk(1)
		if sheet.unworn.Selected != want {
			t.Errorf("at %q marked as unworn is %q, want %q", sheet.list.Selected, sheet.unworn.Selected, want)
		}
	}
}

// TestFitThatBelongsComesFirst holds that a hub is tried on its own spline.
func TestFitThatBelongsComesFirst(t *testing.T) {
	h := atWork(t)
	for _, part := range h.place().n.Assessment().Parts {
		if part.Kind != "hub" {
			continue
		}
		h.place().choosePart(part.ID)
		h.place().chooseSurface("bore-spline")
		h.place().showFit("")
		sheet := h.place().side.sheet.(*fitSheet)
		if want := map[string]string{"hub-2": "hub-2-on-spline", "hub-34": "hub-34-on-spline"}[part.Place]; sheet.pair.ID != want {
			t.Errorf("%s (%s) is asked for %s, want %s", part.Name, part.Place, sheet.pair.ID, want)
		}
	}
}

// TestWhatNoSpecKnowsIsNotEdited holds that a trial fit of an unknown kind and a
// reading of an unknown dimension stay what they are.
func TestWhatNoSpecKnowsIsNotEdited(t *testing.T) {
	h := atWork(t)
	h.choose("Main shaft")
	n, own := h.place().n, h.record().ID
	part, surface := h.place().part, h.place().surface
	fit, reading := record.NewID(), record.NewID()
	for _, g := range []record.Gesture{
		n.TrialFit(fit, record.TrialFit{Pair: "ring-in-groove", A: record.PartOf{Record: own, Part: part}, Unworn: "b", Outcome: "rattles"}),
		n.Reading(reading, record.Reading{Part: part, Surface: surface, Dimension: "shade", Unit: "mm", Values: []record.Value{{Text: "1"}}}),
	} {
		if err := n.Do(g); err != nil {
			t.Fatal(err)
		}
	}
	for _, id := range []record.ID{fit, reading} {
		h.place().chooseEntry(id)
		if h.place().entry != id {
			t.Fatalf("%s is not shown", id)
		}
		h.place().editEntry(id)
		if h.place().side.open() {
			t.Errorf("a sheet %T opened on it", h.place().side.sheet)
			h.place().side.close()
		}
	}
}

// TestEditedFitAsksForItsPartner hides the partner that was chosen in place of the
// noted one: the noted one does not come back unseen.
func TestEditedFitAsksForItsPartner(t *testing.T) {
	h := atWork(t)
	h.choose("Main shaft")
	shaft := record.PartOf{Record: h.record().ID, Part: h.place().part}
	id := record.NewID()
	noted := record.TrialFit{Pair: "gear-on-spline", B: shaft, Outcome: "snug", Unworn: "a", By: "Wren Aldous"}
	if err := h.place().n.Do(h.place().n.TrialFit(id, noted)); err != nil {
		t.Fatal(err)
	}
	h.place().chooseEntry(id)
	h.place().editEntry(id)
	sheet := h.place().side.sheet.(*fitSheet)
	sheet.list.pick(0)
	if f, ok := sheet.entry(); !ok || f.A.Part == "" || f.B != shaft || f.Unworn != "" {
		t.Errorf("with the gear of this core it is %+v, %v", f, ok)
	}
	sheet.filter.SetText("no such part")
	if f, ok := sheet.entry(); ok {
		t.Errorf("with the partner hidden it is %+v", f)
	}
	sheet.filter.SetText("")
	if f, ok := sheet.entry(); !ok || f.A.Part == "" {
		t.Errorf("in sight again it is %+v, %v", f, ok)
	}
}

// TestHastyShop leaves the page before it shows what the archive holds.
func TestHastyShop(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	want := inspection.Shop{Name: "Quillan Gear Shop", Address: "Mill Lane", Contact: "by letter"}
	if err := h.bench.SetShop(t.Context(), want); err != nil {
		t.Fatal(err)
	}
	h.hold(ctrl(fyne.KeyComma))
	h.f.here.(*shopPage).contact.SetText("by telephone")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Register — Fettlebook")
	want.Contact = "by telephone"
	if got, err := h.bench.Shop(t.Context()); err != nil || got != want {
		t.Errorf("the shop is %+v (%v), want %+v", got, err, want)
	}
}

// TestNothingOfThePartBefore goes from a part with an entry to one without
// surfaces: nothing of the first stands there.
func TestNothingOfThePartBefore(t *testing.T) {
	h := atWork(t)
	n := h.place().n
	if err := n.Do(n.Judge(record.NewID(), record.Override{Part: h.place().part, Surface: h.place().surface, Verdict: term.Condemned, Reason: "bent", By: "Wren Aldous"})); err != nil {
		t.Fatal(err)
	}
	h.place().refresh()
	pane := h.place().side.surfaces
	if len(pane.entries.Items) != 1 || len(pane.reasons.Objects) == 0 {
		t.Fatal("the verdict is not shown")
	}
	bare := slices.IndexFunc(n.Assessment().Parts, func(p inspection.Part) bool { return len(p.Surfaces) == 0 })
	if bare < 0 {
		t.Skip("every part has surfaces")
	}
	h.place().choosePart(n.Assessment().Parts[bare].ID)
	if len(pane.entries.Items) != 0 || len(pane.reasons.Objects) != 0 || pane.eye.Visible() {
		t.Errorf("%d entries and %d reasons of the part before stand there", len(pane.entries.Items), len(pane.reasons.Objects))
	}
}

// TestNothingLeftToWithdraw undoes the entry that is about to be withdrawn.
func TestNothingLeftToWithdraw(t *testing.T) {
	h := atWork(t)
	n, id := h.place().n, record.NewID()
	if err := n.Do(n.Judge(id, record.Override{Part: h.place().part, Surface: h.place().surface, Verdict: term.Condemned, Reason: "bent", By: "Wren Aldous"})); err != nil {
		t.Fatal(err)
	}
	h.place().chooseEntry(id)
	h.place().showWithdraw()
	h.place().refresh()
	if !h.place().side.open() {
		t.Fatal("the sheet does not stay open")
	}
	if err := n.Undo(); err != nil {
		t.Fatal(err)
	}
	h.place().refresh()
	if h.place().side.open() {
		t.Error("the sheet is open on an entry that is gone")
	}
}
