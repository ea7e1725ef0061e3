package ui

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
)

// The inputs and results are those of published checks, or worked by hand where
// no source is named.
func TestGaugeRoomWorksOut(t *testing.T) {
	for _, c := range []struct {
		name, working, tool string
		entries             map[string]string
		want                []string
	}{
		{"clearance of two sizes", "Shaft in a bore", exactly,
			map[string]string{"bore": "40.012", "shaft": "39.990"}, []string{"0.022 mm", "diametral clearance"}},
		{"interference", "Shaft in a bore", exactly,
			map[string]string{"bore": "40.000", "shaft": "40.010"}, []string{"0.010 mm", "interference"}},
		// ISO 286-2: 40 H7 is 0/+25, k6 is +2/+18 micrometres.
		{"classes", "Shaft in a bore", exactly, map[string]string{"nominal": "40", "hole class": "H7", "shaft class": "k6"},
			[]string{"transition fit", "0.018 mm interference", "0.023 mm clearance"}},
		{"a micrometer has an uncertainty", "Shaft in a bore", "micrometer",
			map[string]string{"bore": "40.012", "shaft": "39.990"}, []string{"±", "Usual values were taken"}},
		// Bore 36.009 less two rollers of 3 less journal 29.975.
		{"needles", "Needle rollers", exactly, map[string]string{"bore": "36.009", "journal": "29.975", "roller": "3"},
			[]string{"0.034 mm"}},
		{"rollers from the shelf", "Needle rollers", exactly,
			map[string]string{"bore": "36.009", "journal": "29.975", "shelf": "3.000 3.005 3.010", "clearance from": "0.015", "clearance to": "0.025"},
			[]string{"Rollers of 3.005 mm", "0.024 mm"}},
		{"lever", "Rock of a shaft", exactly, map[string]string{"rock": "0.40", "at": "200", "arm": "50"}, []string{"0.100 mm", "× 50 / 200"}},
		{"shims", "End float and shims", exactly,
			map[string]string{"one end": "0.05", "other end": "0.55", "sizes": "0.30 0.40 0.50", "float from": "0.05", "float to": "0.15"},
			[]string{"0.500 mm end float", "Shim of 0.400 mm"}},
		{"a dial below its zero", "Run-out", "dial indicator", map[string]string{"lowest": "-0.02", "highest": "0.03"}, []string{"0.05 mm ±", "run-out"}},
		{"a dial on its zero", "End float and shims", "dial indicator", map[string]string{"one end": "0.00", "other end": "0.20"},
			[]string{"0.20 mm ±", "end float", "Usual values were taken"}},
		{"gaps with their unit", "Blocking ring gap", exactly, map[string]string{"gaps": "0.037 in 0.028 in; 38 thou", "gap least": "0.8"},
			[]string{"narrowest gap is 0.711", "outside"}},
		{"gaps by feeler", "Blocking ring gap", "feeler gauge", map[string]string{"gaps": "0.95-1.00 0.70-0.75 0.95-1.00", "gap least": "0.80"},
			[]string{"narrowest gap is 0.72", "outside", "tilted"}},
		{"the next feeler was not tried", "Blocking ring gap", "feeler gauge", map[string]string{"gaps": "0.95 0.95 0.95", "gap least": "0.80"},
			[]string{"at least 0.95", "within"}},
		{"gap", "Blocking ring gap", exactly, map[string]string{"gaps": "0.95 0.70 0.96", "gap least": "0.80"},
			[]string{"narrowest gap is 0.70", "outside", "tilted"}},
		{"temperature", "Temperature", exactly, map[string]string{"size": "50", "part temperature": "28", "tool temperature": "20"},
			[]string{"49.995 mm at 20 °C"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
			h.hold(ctrl(fyne.KeyG))
			h.wantTitle("Gauge room — Fettlebook")
			room := h.f.here.(*gaugeRoom)
			room.tool.show(c.tool)
			room.choose(c.working)
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

func TestGaugeRoomSaysWhatIsWrong(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyG))
	room := h.f.here.(*gaugeRoom)
	for _, w := range workings {
		room.choose(w.name)
		if got := said(room); !strings.Contains(got, "Still to be written") {
			t.Errorf("%s, empty, says %q", w.name, got)
		}
		for _, a := range w.asks {
			for _, bad := range []string{"0", "-1", "NaN", "1e308", "abc", "999999999"} {
				room.entries[a.id].SetText(bad)
				if said(room) == "" {
					t.Errorf("%s: %s of %s says nothing", w.name, a.label, bad)
				}
			}
			room.entries[a.id].SetText("")
		}
	}
}

// Every entry of one id means the same wherever it is asked.
func TestGaugeRoomAsksAlike(t *testing.T) {
	labels := map[string]string{}
	for _, w := range workings {
		for _, a := range w.asks {
			if was, ok := labels[a.id]; ok && was != a.label {
				t.Errorf("%q is asked as %q and as %q", a.id, was, a.label)
			}
			labels[a.id] = a.label
		}
	}
	if !slices.ContainsFunc(workings, func(w working) bool { return len(w.asks) > 4 }) {
		t.Error("there are no workings to look at")
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

// The error of one micrometer falls out of the difference of two sizes (GUM 5.2.2);
// those of a micrometer and of a bore gauge do not.
func TestBoreHasItsOwnInstrument(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyG))
	room := h.f.here.(*gaugeRoom)
	room.choose("Shaft in a bore")
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
	if one, two := within(theSame), within("bore gauge"); one >= two || one == 0 {
		t.Errorf("± %g mm with one instrument, ± %g mm with two", one, two)
	}
	room.choose("Run-out")
	if room.bores.Visible() {
		t.Error("a run-out is asked for a bore's instrument")
	}
}
