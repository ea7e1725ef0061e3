package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// atShaft opens a record with the pilot nose of the input shaft chosen.
func atShaft(t *testing.T) (*hands, *inspectionPlace) {
	t.Helper()
	h := atWork(t)
	p := h.f.here.(*inspectionPlace)
	for id, part := range p.n.Record().Parts {
		if part.Place == "input-shaft" {
			p.choosePart(id)
		}
	}
	p.chooseSurface("pilot")
	return h, p
}

// rockIn writes a rock of 0.15 mm at the bearing against a limit of 0.10 mm.
func rockIn(h *hands) *gaugeRoom {
	h.t.Helper()
	h.hold(ctrl(fyne.KeyG))
	room := h.f.here.(*gaugeRoom)
	room.list.Mark("rock")
	room.choose("rock")
	for id, text := range map[string]string{"rock": "0.60", "at": "200", "arm": "50", "rock-limit": "0.10"} {
		room.entries[id].SetText(text)
	}
	return room
}

func only(t *testing.T, r *record.Record) (record.ID, record.Working) {
	t.Helper()
	if len(r.Workings) != 1 {
		t.Fatalf("%d workings are kept", len(r.Workings))
	}
	for id, w := range r.Workings {
		return id, w
	}
	return "", record.Working{}
}

// The verdict is told as one types; without its manual a limit decides nothing. What is
// kept is chosen with its surface, opens again to be changed, and can be struck.
func TestAWorkingIsKeptWithThePart(t *testing.T) {
	h, p := atShaft(t)
	room := rockIn(h)
	if got := said(room); !strings.Contains(got, "not decided, its limit has no source") || !strings.Contains(got, "Pilot nose: undecided") {
		t.Errorf("without a manual it says %q", got)
	}
	room.keeping.manual.SetText("workshop manual")
	room.keeping.sheet.SetText("31")
	if got := said(room); !strings.Contains(got, "Limit 0.100 mm: past it") || !strings.Contains(got, "Pilot nose: condemned") {
		t.Errorf("out of a manual it says %q", got)
	}
	h.hold(ctrl(fyne.KeyReturn))
	if h.f.here != place(p) {
		t.Fatal("it did not go back to the part")
	}
	h.settled()
	id, w := only(t, p.n.Record())
	if w.Surface != "pilot" || w.Unit != "mm" || w.Manual != "workshop manual" || w.Page != "31" || w.By != "Wren Aldous" || w.Instrument.Kind != "dial-indicator" || len(w.Entries) != 4 || p.entry != id {
		t.Errorf("kept is %+v, chosen %q", w, p.entry)
	}
	row := p.side.surfaces.entries.Items[len(p.side.surfaces.entries.Items)-1]
	if !strings.HasPrefix(row.Text, "Rock of a shaft: 0.150 mm ±") || !row.Judged {
		t.Errorf("its row is %+v", row)
	}
	h.press(fyne.KeyEscape)
	h.write("e")
	again, open := h.f.here.(*gaugeRoom)
	if !open || again.entries["rock"].Text != "0.60" || again.keeping.sheet.Text != "31" || again.tool.Selected != "a dial indicator" {
		t.Fatal("it does not open again as it was kept")
	}
	again.entries["rock"].SetText("0.20")
	h.hold(ctrl(fyne.KeyReturn))
	if _, w := only(t, p.n.Record()); w.Entries["rock"] != "0.20" || w.At == (record.Stamp{}) {
		t.Errorf("changed it is %+v", w)
	}
	h.hold(ctrl(fyne.KeyZ))
	if _, w := only(t, p.n.Record()); w.Entries["rock"] != "0.60" {
		t.Errorf("undone it is %+v", w)
	}
	p.refresh()
	p.chooseEntry(id)
	h.write("x")
	p.submit()
	if _, w := only(t, p.n.Record()); w.Withdrawn == "" {
		t.Error("it can't be struck through")
	}
}

// What was typed stays when one looks at something else, in whatever unit.
func TestNothingTypedInTheGaugeRoomIsLost(t *testing.T) {
	h, p := atShaft(t)
	room := rockIn(h)
	was := said(room)
	room.choose("needles")
	if room.tool.Selected != "a micrometer" {
		t.Errorf("needles are measured with %s", room.tool.Selected)
	}
	room.entries["bore"].SetText("36.009")
	h.press(fyne.KeyEscape)
	h.hold(ctrl(fyne.KeyG))
	if h.f.here != place(room) || room.entries["bore"].Text != "36.009" {
		t.Error("left and entered again, the room has forgotten what was typed")
	}
	room.choose("rock")
	if got := said(room); got != was || room.tool.Selected != "a dial indicator" {
		t.Errorf("it says %q, and %q before", got, was)
	}
	room.within.SetText("0.02")
	room.unit.choose(1)
	w := room.typed()
	if w.Unit != string(gauge.Inch) || w.Entries["rock"] != "0.60 mm" || w.Instrument.Error != "0.02 mm" {
		t.Errorf("in inches it is %+v", w)
	}
	// Through the instruments and back by Escape, and then out.
	h.hold(ctrl(fyne.KeyM))
	h.hold(ctrl(fyne.KeyG))
	h.press(fyne.KeyEscape)
	if h.f.here != place(p) {
		t.Errorf("Escape leads to %q", h.title())
	}
}

// Another record has another manual; the sizes stay.
func TestAnotherRecordAsksForItsManual(t *testing.T) {
	h, _ := atShaft(t)
	room := rockIn(h)
	room.keeping.manual.SetText("workshop manual")
	h.press(fyne.KeyEscape)
	h.hold(ctrl(fyne.KeyG))
	if room.keeping.manual.Text != "workshop manual" {
		t.Error("the manual was forgotten")
	}
	h.press(fyne.KeyEscape)
	h.hold(ctrl(fyne.KeyR))
	h.open(h.begun("40118", "Joss Ternway"))
	h.hold(ctrl(fyne.KeyG))
	if h.f.here != place(room) || room.keeping.manual.Text != "" || room.entries["rock"].Text != "0.60" {
		t.Errorf("in another record the manual is %q and the rock %q", room.keeping.manual.Text, room.entries["rock"].Text)
	}
}

// The shop's own instruments are offered with all their numbers, the first of the usual
// kind chosen; a kept working keeps its own when the shop has it no more.
func TestTheGaugeRoomOffersTheShopsInstruments(t *testing.T) {
	h, p := atShaft(t)
	in := record.Instrument{Kind: "dial-indicator", Name: "dial indicator", Serial: "Q-17", Error: "0.015 mm", Calibrated: "2026-02-02"}
	if err := h.bench.SetGauges(t.Context(), inspection.Gauges{Instruments: []record.Instrument{in}}); err != nil {
		t.Fatal(err)
	}
	room := rockIn(h)
	if room.tool.Selected != "dial indicator, Q-17" || room.error.Visible() {
		t.Errorf("it is measured with %s", room.tool.Selected)
	}
	h.hold(ctrl(fyne.KeyReturn))
	id, w := only(t, p.n.Record())
	if w.Instrument != in {
		t.Errorf("kept is %+v", w.Instrument)
	}
	if err := h.bench.SetGauges(t.Context(), inspection.Gauges{}); err != nil {
		t.Fatal(err)
	}
	p.showWorking(id)
	if got := h.f.here.(*gaugeRoom).typed(); got.Instrument != in {
		t.Errorf("opened again it is of %+v", got.Instrument)
	}
}

// What can't be worked out is not kept, and what a newer program kept is only shown.
func TestWhatIsNotKept(t *testing.T) {
	h, p := atShaft(t)
	room := rockIn(h)
	room.entries["at"].SetText("")
	h.hold(ctrl(fyne.KeyReturn))
	if h.f.here != place(room) || len(p.n.Record().Workings) != 0 || !room.keeping.fault.Visible() {
		t.Error("what is not complete was kept, or nothing was said")
	}
	h.press(fyne.KeyEscape)
	id := record.NewID()
	if err := p.n.Do(p.n.KeepWorking(id, record.Working{Part: p.part, Surface: "pilot", What: "hoop-stress", Unit: "mm", Entries: map[string]string{"wall": "4"}})); err != nil {
		t.Fatal(err)
	}
	p.refresh()
	p.chooseEntry(id)
	p.editEntry(id)
	if h.f.here != place(p) {
		t.Error("a working that is not known opens to be changed")
	}
	h.hold(ctrl(fyne.KeyR))
	h.hold(ctrl(fyne.KeyG))
	if room := h.f.here.(*gaugeRoom); room.keeping.foot.Visible() || room.keeping.form.Visible() {
		t.Error("without a part it offers to keep")
	}
}
