package ui

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

type deed struct {
	name string
	do   func()
}

func (h *hands) performs(most int, deeds ...deed) {
	h.t.Helper()
	for _, d := range deeds {
		d.do()
		h.t.Log(d.name)
	}
	if len(deeds) > most {
		h.t.Errorf("it took %d actions, want no more than %d", len(deeds), most)
	}
	h.settled()
	r := h.record()
	if len(r.Findings) != 1 || len(r.Outlines) != 1 {
		h.t.Fatalf("there are %d findings and %d outlines", len(r.Findings), len(r.Outlines))
	}
	for _, o := range r.Outlines {
		f := r.Findings[o.Finding]
		if f.Damage != term.RustPits || f.Severity != term.Felt || f.Surface != "cone" || f.Method != term.Touch || o.Shape != record.Polygon {
			h.t.Errorf("the finding is %+v, its outline a %s", f, o.Shape)
		}
	}
	if h.place().side.open() {
		h.t.Error("a sheet is still open")
	}
}

func (h *hands) clicks(list *rows, id string) {
	h.t.Helper()
	for i := range list.Items {
		if list.Items[i].ID == id {
			list.parts[i].MouseDown(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
			list.parts[i].MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
			return
		}
	}
	h.t.Fatalf("there is no row %q", id)
}

func (h *hands) drags(button desktop.MouseButton, places ...fyne.Position) {
	v := h.place().viewer.photoView
	at := func(p fyne.Position) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: button}
	}
	v.MouseDown(at(places[0]))
	for _, p := range places {
		v.MouseMoved(at(p))
	}
	v.MouseUp(at(places[len(places)-1]))
}

func readyForPits(t *testing.T) *hands {
	t.Helper()
	h := atWork(t)
	h.attach(photoFile(t, "cone.jpg", color.White))
	h.settled()
	return h
}

func TestPitsFeltWithTheMouseAlone(t *testing.T) {
	h := readyForPits(t)
	sheet := func() *findingSheet { return h.place().side.sheet.(*findingSheet) }
	h.performs(5,
		deed{"click the cone", func() { h.clicks(h.place().side.surfaces.list, "cone") }},
		deed{"draw round the patch with the right button", func() {
			h.drags(desktop.MouseButtonSecondary, fyne.NewPos(200, 150), fyne.NewPos(260, 150), fyne.NewPos(270, 200), fyne.NewPos(230, 230), fyne.NewPos(190, 200))
		}},
		deed{"click rust pits", func() { h.clicks(sheet().damages, string(term.RustPits)) }},
		deed{"click felt", func() {
			width := sheet().severity.Size().Width
			sheet().severity.Tapped(&fyne.PointEvent{Position: fyne.NewPos(width/2, 10)})
		}},
		deed{"click done", func() { sheet().done.Tapped(nil) }},
	)
}

func TestPitsFeltWithTheKeysAlone(t *testing.T) {
	h := readyForPits(t)
	h.performs(6,
		deed{"Ctrl+7", func() { h.hold(ctrl(fyne.Key7)) }},
		deed{"Q", func() { h.write("q") }},
		deed{"hold →", func() {
			for range 8 {
				h.press(fyne.KeyRight)
			}
		}},
		deed{"Enter", func() { h.press(fyne.KeyReturn) }},
		deed{"type rust p 2", func() { h.write("rust p 2") }},
		deed{"Enter", func() { h.press(fyne.KeyReturn) }},
	)
}

func TestTypedSeverity(t *testing.T) {
	for text, want := range map[string]struct {
		name     string
		severity int
	}{
		"": {"", 0}, "rust p": {"rust p", 0}, "Rust P 2": {"rust p", 2}, "2": {"2", 0}, "crack 3 ": {"crack", 3}, "pit2": {"pit", 2}, "pits 12": {"pits 12", 0}, "pits 0": {"pits 0", 0},
	} {
		if name, severity := typedDamage(text); name != want.name || severity != want.severity {
			t.Errorf("%q: %q, %d", text, name, severity)
		}
	}
	h := atWork(t)
	h.write("f")
	h.write("crack 9")
	if s := h.place().side.sheet.(*findingSheet); s.f.Severity != "" {
		t.Errorf("9 is the severity %s", s.f.Severity)
	}
}

// What people call a damage finds it, the surface's own first.
func TestADamageIsFoundByWhatItIsCalled(t *testing.T) {
	h := readyForPits(t)
	h.hold(ctrl(fyne.Key7))
	h.write("f")
	s := h.place().side.sheet.(*findingSheet)
	for typed, want := range map[string]term.Damage{
		"pitting": term.RustPits, "pit": term.RustPits, "Pitted 2": term.RustPits, "blue": term.HeatTint, "worn": term.Wear,
		"scratch": term.Scoring, "wea": term.Wear, "micro": term.Micropitting, "bent": term.Bend,
	} {
		s.filter.SetText(typed)
		if s.f.Damage != want {
			t.Errorf("%q finds %s, want %s", typed, s.f.Damage, want)
		}
	}
}
