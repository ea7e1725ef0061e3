package ui

import (
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
)

// The room shows what the working comes to, with what was assumed, and asks for what
// is missing.
func TestGaugeRoomWorksOut(t *testing.T) {
	for _, c := range []struct {
		name, working, tool string
		entries             map[string]string
		want                []string
	}{
		{"sizes as written", "fit", exactly, map[string]string{"bore": "40.012", "shaft": "39.990"}, []string{"0.022 mm diametral clearance."}},
		{"a micrometer has an uncertainty", "fit", "a micrometer", map[string]string{"bore": "40.012", "shaft": "39.990"}, []string{"±", "Usual values were taken"}},
		{"a dial below its zero", "run-out", "a dial indicator", map[string]string{"lowest": "-0.02", "highest": "0.03"}, []string{"0.05 mm ±", "run-out"}},
		{"gaps by feeler", "ring-gap", "a feeler gauge", map[string]string{"gaps": "0.95-1.00 0.70-0.75 0.95-1.00", "gap-least": "0.80"},
			[]string{"narrowest gap is between 0.700 mm and 0.750 mm", "outside", "tilted"}},
		{"something is missing", "rock", exactly, map[string]string{"rock": "0.4"}, []string{"Still to be written: indicator from the turning point."}},
		{"something is wrong", "rock", exactly, map[string]string{"rock": "0.4", "at": "twenty"}, []string{"Indicator from the turning point", "is not a length"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
			h.hold(ctrl(fyne.KeyG))
			h.wantTitle("Gauge room — Fettlebook")
			room := h.f.here.(*gaugeRoom)
			room.choose(c.working)
			room.tool.show(c.tool)
			for id, text := range c.entries {
				room.entries[id].SetText(text)
			}
			got := said(room)
			for _, want := range c.want {
				if !strings.Contains(got, want) {
					t.Errorf("it says %q, which lacks %q", got, want)
				}
			}
		})
	}
}

// The entry that can't be taken is marked, and no longer once it is mended.
func TestTheGaugeRoomMarksTheEntry(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyG))
	room := h.f.here.(*gaugeRoom)
	room.choose("rock")
	marked := func() (ids string) {
		for _, a := range room.chosen.Asks {
			if room.labels[a.ID].Text != a.Label {
				ids += a.ID + " "
			}
		}
		return ids
	}
	for _, c := range []struct{ at, want string }{{"twenty", "at "}, {"-20", "at "}, {"1e308", "at "}, {"NaN", "at "}, {"1,000", "at "}, {"0", "at "}, {"20", ""}} {
		room.entries["rock"].SetText("0.4")
		room.entries["arm"].SetText("50")
		room.entries["at"].SetText(c.at)
		if got := marked(); got != c.want {
			t.Errorf("of a distance of %q marked are %q, want %q; it says %q", c.at, got, c.want, said(room))
		}
	}
}

// said is all that the room tells.
func said(room *gaugeRoom) string {
	var says []string
	for _, o := range room.results.Objects {
		for _, one := range o.(*paragraph).pieces {
			says = append(says, one.Text)
		}
	}
	return strings.Join(says, " ")
}

// A bore may be measured with an instrument of its own, where a bore is asked for.
func TestBoreHasItsOwnInstrument(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyG))
	room := h.f.here.(*gaugeRoom)
	room.choose("fit")
	room.entries["bore"].SetText("40.012")
	room.entries["shaft"].SetText("39.990")
	within := func(inner string) float64 {
		room.inner.show(inner)
		room.work()
		_, after, _ := strings.Cut(said(room), "± ")
		number, _, _ := strings.Cut(after, " ")
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || !room.bores.Visible() {
			t.Fatalf("with %s it says %q", inner, said(room))
		}
		return v
	}
	if one, two := within(theSame), within("a bore gauge"); one >= two || one == 0 {
		t.Errorf("± %g mm with one instrument, ± %g mm with two", one, two)
	}
	room.choose("run-out")
	if room.bores.Visible() {
		t.Error("a run-out is asked for a bore's instrument")
	}
}
