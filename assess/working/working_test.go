package working_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/gauge"
	"fettlebook/assess/working"
)

type entries = map[string]string

func called(t *testing.T, id string) *working.Working {
	t.Helper()
	w, ok := working.Called(id)
	if !ok {
		t.Fatalf("there is no working %q", id)
	}
	return w
}

// sized works a case out of sizes as written.
func sized(t *testing.T, id string, e entries) working.Result {
	t.Helper()
	return called(t, id).Work(working.Case{Entries: e, Unit: gauge.Millimetre})
}

func by(kind gauge.InstrumentKind) *gauge.Instrument { return &gauge.Instrument{Kind: kind} }

// The inputs and results are those of published checks where a source is named,
// else worked by hand.
func TestWorkingsComeToWhatTheyShould(t *testing.T) {
	s2 := entries{"module": "3", "teeth": "24", "helix": "25", "shift": "0.4"}
	with := func(e entries, more ...string) entries {
		out := entries{}
		for k, v := range e {
			out[k] = v
		}
		for i := 0; i < len(more); i += 2 {
			out[more[i]] = more[i+1]
		}
		return out
	}
	for name, c := range map[string]struct {
		id      string
		entries entries
		// value is the main length in millimetres, to half a unit of its last place.
		value, within float64
		says          []string
	}{
		"clearance":    {"fit", entries{"bore": "40.012", "shaft": "39.990"}, 0.022, 1e-9, []string{"0.022 mm diametral clearance"}},
		"interference": {"fit", entries{"bore": "40.000", "shaft": "40.010"}, -0.010, 1e-9, []string{"0.010 mm interference"}},
		// ISO 286-2: 40 H7 is 0/+25, k6 is +2/+18 micrometres.
		"classes": {"fit", entries{"nominal": "40", "hole-class": "H7", "shaft-class": "k6"}, math.NaN(), 0,
			[]string{"transition fit", "0.018 mm interference", "0.023 mm clearance"}},
		// Bearing makers' tables: K 16x22 with rollers at gauge -6 µm.
		"needles": {"needles", entries{"bore": "22.006", "journal": "16", "roller": "2.994"}, 0.018, 1e-9, []string{"0.018 mm diametral clearance"}},
		"rollers from the shelf": {"needles", entries{"bore": "36.009", "journal": "29.975", "shelf": "3.000 3.005 3.010", "clearance-from": "0.015", "clearance-to": "0.025"},
			math.NaN(), 0, []string{"rollers of 3.005 mm: 0.024 mm to be expected"}},
		"lever":        {"rock", entries{"rock": "0.40", "at": "200", "arm": "50"}, 0.1, 1e-9, []string{"0.100 mm", "× 50 / 200"}},
		"bush":         {"rock", entries{"rock": "0.20", "at": "100", "bush-length": "40"}, 0.04, 1e-9, []string{"× 40 / (2 × 100)"}},
		"in thou":      {"rock", entries{"rock": "16 thou", "at": "8 in", "arm": "2 in"}, 0.1016, 1e-9, []string{"0.102 mm"}},
		"run-out":      {"run-out", entries{"lowest": "-0.02", "highest": "0.03"}, 0.05, 1e-9, []string{"off its axis"}},
		"end float":    {"shims", entries{"one-end": "0.55", "other-end": "0.05"}, 0.5, 1e-9, []string{"0.500 mm end float"}},
		"tilted ring":  {"ring-gap", entries{"gaps": "0.95 0.70 0.96", "gap-least": "0.80"}, 0.7, 1e-9, []string{"outside", "tilted"}},
		"gaps in inch": {"ring-gap", entries{"gaps": "0.037 in 0.028 in; 38 thou", "gap-least": "0.8"}, 0.7112, 1e-9, []string{"outside"}},
		"torque":       {"turning-torque", entries{"force": "8", "radius": "50", "torque-from": "0.3", "torque-to": "0.5"}, math.NaN(), 0, []string{"0.40 N·m", "lies in its band, from 0.3 N·m to 0.5 N·m"}},
		// "Elements of Metric Gear Technology": span 42.0085 over 5; 41.950 has lost
		// 0.06225 by the formulas of ISO 21771, worked apart.
		"span":        {"span", with(s2, "span", "41.950", "span-teeth", "5"), 0.06225, 5e-5, []string{"over 5 teeth it has 42.008 mm", "lost in normal thickness: 0.062 mm"}},
		"span alone":  {"span", s2, math.NaN(), 0, []string{"over 5 teeth it has 42.008 mm"}},
		"against one": {"span", with(s2, "span", "41.950", "span-teeth", "5", "span-unworn", "41.950"), 0, 1e-9, []string{"lost in normal thickness: 0.000 mm"}},
		// Module 2 with 20 teeth over 3.5 mm pins: 44.9293, each tooth thinned by 0.050: 44.8169.
		"pins":      {"pins", entries{"module": "2", "teeth": "20", "pin": "3.5", "over-pins": "44.8169"}, 0.05, 5e-5, []string{"44.929 mm by its numbers"}},
		"best pins": {"pins", entries{"module": "1", "teeth": "20"}, math.NaN(), 0, []string{"pins of about 1.724 mm touch best"}}, // 1.7245
		// The same source, p. T-81: chord 17.8256 at 13.6657.
		"chord":      {"chord", entries{"module": "10", "teeth": "12", "shift": "0.3", "addendum": "13"}, math.NaN(), 0, []string{"chordal thickness 17.826 mm", "height of 13.666 mm"}},
		"chord worn": {"chord", entries{"module": "10", "teeth": "12", "shift": "0.3", "addendum": "13", "chord": "17.8256"}, 0, 1e-4, []string{"lost in normal thickness"}},
		// ISO 5753-1: bore 30, Normal 5 to 20, C3 13 to 28 micrometres.
		"one of two groups": {"bearing-clearance", entries{"bearing-bore": "30", "radial-clearance": "0.016"}, 0.016, 1e-9, []string{"as read it can be CN or C3"}},
		"a group":           {"bearing-clearance", entries{"bearing-bore": "30", "bearing-type": "roller", "clearance-group": "c3"}, math.NaN(), 0, []string{"new, C3: from 0.035 mm to 0.060 mm radial"}},
		"not its group":     {"bearing-clearance", entries{"bearing-bore": "30", "radial-clearance": "0.033", "clearance-group": "C3"}, 0.033, 1e-9, []string{"against C3: decided: it is outside"}},
		"temperature":       {"temperature", entries{"size": "50", "part-temperature": "28", "tool-temperature": "20"}, 49.9954, 1e-6, []string{"49.995 mm at 20 °C"}},
		// An N7 housing of aluminium on a steel ring of 62 mm, -39 µm at 20 °C, at 100 °C.
		"warm housing": {"warm-fit", entries{"bore": "61.961", "shaft": "62", "bore-material": "Aluminium", "warm": "100"}, 0.01804, 1e-6, []string{"at 100 °C: 0.018 mm diametral clearance", "looser by 0.057 mm"}},
	} {
		t.Run(name, func(t *testing.T) {
			got := sized(t, c.id, c.entries)
			if got.Err != nil || len(got.Missing) > 0 {
				t.Fatalf("it fails (%v) or lacks %q", got.Err, got.Missing)
			}
			if math.IsNaN(c.value) != (got.Measured == nil) || got.Measured != nil && math.Abs(float64(got.Measured.Value)-c.value) > c.within {
				t.Errorf("it comes to %+v, want %v", got.Measured, c.value)
			}
			said := strings.Join(append(got.Lines, got.Decided()), "; ")
			for _, want := range c.says {
				if !strings.Contains(said, want) {
					t.Errorf("it says %q, which lacks %q", said, want)
				}
			}
		})
	}
}

// Module 2.5, 25 teeth, 30 mm from the middle: the pitch radius is 31.25.
func TestBacklashIsReducedToThePitchCircle(t *testing.T) {
	got := sized(t, "backlash", entries{"module": "2.5", "teeth": "25", "moved": "0.12", "touches": "30"})
	if got.Err != nil || math.Abs(float64(got.Measured.Value)-0.125) > 1e-9 {
		t.Errorf("it comes to %+v (%v), want 0.125", got.Measured, got.Err)
	}
}

func TestALimitIsDecidedAsTheInstrumentAllows(t *testing.T) {
	teeth := entries{"module": "2", "teeth": "20", "pin": "3.5", "over-pins": "44.60"}
	unworn := entries{"module": "2", "teeth": "20", "pin": "3.5", "over-pins": "44.60", "over-pins-unworn": "44.90"}
	for name, c := range map[string]struct {
		id      string
		entries entries
		tool    gauge.InstrumentKind
		limit   [2]string
		want    gauge.Decision
		doubt   bool
	}{
		"rock within":          {"rock", entries{"rock": "0.20", "at": "200", "arm": "50"}, gauge.DialIndicator, [2]string{"rock-limit", "0.10"}, gauge.Conforms, false},
		"rock beyond":          {"rock", entries{"rock": "0.60", "at": "200", "arm": "50"}, gauge.DialIndicator, [2]string{"rock-limit", "0.10"}, gauge.DoesNotConform, false},
		"rock on it":           {"rock", entries{"rock": "0.40", "at": "200", "arm": "50"}, gauge.DialIndicator, [2]string{"rock-limit", "0.10"}, gauge.CannotDecide, false},
		"run-out beyond":       {"run-out", entries{"lowest": "0", "highest": "0.12"}, gauge.DialIndicator, [2]string{"run-out-limit", "0.05"}, gauge.DoesNotConform, false},
		"gap by feelers":       {"ring-gap", entries{"gaps": "0.95-1.00 0.70-0.75 0.95-1.00"}, gauge.FeelerGauge, [2]string{"gap-least", "0.80"}, gauge.DoesNotConform, false},
		"no thicker was tried": {"ring-gap", entries{"gaps": "0.95 0.95 0.95"}, gauge.FeelerGauge, [2]string{"gap-least", "0.80"}, gauge.Conforms, false},
		// The wide interval reaches furthest down; the narrow one lies below the limit.
		"a narrow interval proves more": {"ring-gap", entries{"gaps": "0.95-1.00 0.50-0.95 0.70-0.75"}, gauge.FeelerGauge, [2]string{"gap-least", "0.80"}, gauge.DoesNotConform, false},
		"lost against the nominal":      {"pins", teeth, gauge.Pins, [2]string{"loss-limit", "0.05"}, gauge.DoesNotConform, true},
		"lost against an unworn one":    {"pins", unworn, gauge.Pins, [2]string{"loss-limit", "0.05"}, gauge.DoesNotConform, false},
	} {
		t.Run(name, func(t *testing.T) {
			e := entries{c.limit[0]: c.limit[1]}
			for k, v := range c.entries {
				e[k] = v
			}
			got := called(t, c.id).Work(working.Case{Entries: e, Unit: gauge.Millimetre, Instrument: by(c.tool)})
			if got.Err != nil || got.Worn == nil {
				t.Fatalf("nothing is held to the limit: %+v", got)
			}
			if d := got.Worn.Judgement.Discard.Decision; d != c.want || (got.Worn.Doubt != "") != c.doubt {
				t.Errorf("it is %s, doubted %q; want %s: %q", d, got.Worn.Doubt, c.want, got.Lines)
			}
			if !slices.ContainsFunc(got.Notes, func(n string) bool { return strings.Contains(n, "usual values") }) {
				t.Errorf("the notes %q don't say what was assumed", got.Notes)
			}
			if got := sized(t, c.id, c.entries); c.id != "ring-gap" && got.Worn != nil {
				t.Errorf("without a limit it is held to %+v", got.Worn)
			}
		})
	}
}

func TestABandSaysWhatToSet(t *testing.T) {
	float := entries{"one-end": "0.05", "other-end": "0.65", "float-from": "0.05", "float-to": "0.15"}
	with := func(id, text string) entries {
		e := entries{id: text}
		for k, v := range float {
			e[k] = v
		}
		return e
	}
	for name, c := range map[string]struct {
		id      string
		entries entries
		do      string
	}{
		"a shim":              {"shims", with("sizes", "0.40 0.50 0.60"), "fit a shim of 0.50 mm: 0.100 mm to be expected"},
		"no size does":        {"shims", with("sizes", "0.10 0.20"), "none of the sizes to be had brings the end float into its band, from 0.05 mm to 0.15 mm"},
		"no size was written": {"shims", float, "bring the end float into its band"},
		"it is right":         {"shims", entries{"one-end": "0", "other-end": "0.10", "float-from": "0.05", "float-to": "0.15"}, ""},
		"rollers":             {"needles", entries{"bore": "36.009", "journal": "29.975", "roller": "3", "shelf": "3.000 3.005", "clearance-from": "0.015", "clearance-to": "0.025"}, "fit rollers of 3.005 mm: 0.024 mm to be expected"},
		"they may stay":       {"needles", entries{"bore": "36.009", "journal": "29.975", "roller": "3.005", "clearance-from": "0.015", "clearance-to": "0.025"}, ""},
		"preload":             {"turning-torque", entries{"force": "2", "radius": "50", "torque-from": "0.3"}, "set the preload so that the turning torque comes into its band, at least 0.3 N·m"},
	} {
		t.Run(name, func(t *testing.T) {
			got := sized(t, c.id, c.entries)
			if got.Err != nil || got.Setting == nil || got.Worn != nil {
				t.Fatalf("it is held to no band, or to a limit: %+v", got)
			}
			if c.do == "" && got.Setting.Do != "" || !strings.HasPrefix(got.Setting.Do, c.do) {
				t.Errorf("to be done is %q, want %q (%s)", got.Setting.Do, c.do, got.Setting.Says)
			}
		})
	}
}

// The error of one micrometer falls out of the difference of two sizes (GUM 5.2.2);
// those of a micrometer and of a bore gauge do not.
func TestABoreMayHaveItsOwnInstrument(t *testing.T) {
	with := func(inner *gauge.Instrument) gauge.Length {
		got := called(t, "fit").Work(working.Case{Entries: entries{"bore": "40.012", "shaft": "39.990"}, Unit: gauge.Millimetre, Instrument: by(gauge.Micrometer), Inner: inner})
		if got.Err != nil {
			t.Fatal(got.Err)
		}
		half, _ := got.Measured.Expanded(0.95)
		return half
	}
	if one, two := with(nil), with(by(gauge.BoreGauge)); one >= two || one == 0 {
		t.Errorf("± %g mm with one instrument, ± %g mm with two", one, two)
	}
}

// Nothing that can be typed makes a working fall over, and each says something.
func TestBadEntriesAreSaid(t *testing.T) {
	for _, w := range working.All() {
		if got := w.Work(working.Case{Unit: gauge.Millimetre}); len(got.Missing) == 0 || len(got.Lines) > 0 {
			t.Errorf("%s, empty, is %+v", w.Name, got)
		}
		for _, a := range w.Asks {
			for _, bad := range []string{"0", "-1", "NaN", "1e308", "abc", "999999999", "1,000", "5-4"} {
				for _, tool := range []*gauge.Instrument{nil, by(gauge.Micrometer), by(gauge.FeelerGauge), {}} {
					got := w.Work(working.Case{Entries: entries{a.ID: bad}, Unit: gauge.Millimetre, Instrument: tool})
					if got.Err == nil && len(got.Missing) == 0 && len(got.Lines) == 0 {
						t.Errorf("%s: %s of %s says nothing", w.Name, a.Label, bad)
					}
				}
			}
		}
		if len(w.Asks) == 0 || w.ID == "" || w.About == "" {
			t.Errorf("%+v asks nothing or says nothing of itself", w)
		}
	}
	got := sized(t, "rock", entries{"rock": "0.4", "at": "twenty"})
	var field *gauge.FieldError
	if !errors.As(got.Err, &field) || field.Field != "indicator from the turning point" {
		t.Errorf("the error is %v, want one at its entry", got.Err)
	}
	got = sized(t, "rock", entries{"rock": "0.4", "at": "200", "arm": "50", "rock-limit": "0"})
	if !errors.As(got.Err, &field) || field.Field != "largest diametral clearance" {
		t.Errorf("a limit of nothing is %v", got.Err)
	}
}

// Every entry of one ID means the same wherever it is asked, and IDs of workings are
// used once.
func TestAsksAreAlike(t *testing.T) {
	asks, ids := map[string]working.Ask{}, map[string]bool{}
	for _, w := range working.All() {
		if ids[w.ID] {
			t.Errorf("%q names two workings", w.ID)
		}
		ids[w.ID] = true
		for _, a := range w.Asks {
			was, ok := asks[a.ID]
			if ok && (was.Label != a.Label || was.Takes != a.Takes || was.Inside != a.Inside) {
				t.Errorf("%q is asked as %+v and as %+v", a.ID, was, a)
			}
			asks[a.ID] = a
		}
	}
	if len(asks) < 30 {
		t.Errorf("only %d entries are asked", len(asks))
	}
}

// What was typed in one unit means the same when another is in force.
func TestEntriesKeepTheirUnit(t *testing.T) {
	for _, c := range []struct {
		id string
		e  entries
	}{
		{"shims", entries{"one-end": "0.05", "other-end": "0.65", "sizes": "0.40 0,50; 20 thou", "float-from": ".05", "float-to": "0.15"}},
		{"rock", entries{"rock": "0.40", "at": "200", "arm": "1/2", "rock-limit": "0.1"}},
		{"backlash", entries{"module": "2.5", "teeth": "25", "moved": "0.12", "touches": "30"}},
	} {
		w, there := called(t, c.id), entries{}
		for id, text := range c.e {
			a, _ := w.Ask(id)
			there[id] = a.WithUnit(text, gauge.Millimetre)
		}
		here := w.Work(working.Case{Entries: c.e, Unit: gauge.Millimetre})
		got := w.Work(working.Case{Entries: there, Unit: gauge.Inch})
		if here.Err != nil || got.Err != nil || math.Abs(float64(here.Measured.Value-got.Measured.Value)) > 1e-12 {
			t.Errorf("%s: %+v (%v) in millimetres, %+v (%v) of %v in inches", c.id, here.Measured, here.Err, got.Measured, got.Err, there)
		}
	}
	a, _ := called(t, "ring-gap").Ask("gaps")
	feelers := func(text string, unit gauge.Unit) gauge.Decision {
		got := called(t, "ring-gap").Work(working.Case{Entries: entries{"gaps": text, "gap-least": "0.8 mm"}, Unit: unit, Instrument: by(gauge.FeelerGauge)})
		if got.Err != nil {
			t.Fatal(got.Err)
		}
		return got.Worn.Judgement.Discard.Decision
	}
	const typed = "0.95-1.00 0.90-0.95 0.95-1.00"
	if moved := a.WithUnit(typed, gauge.Millimetre); feelers(typed, gauge.Millimetre) != gauge.Conforms || feelers(moved, gauge.Inch) != gauge.Conforms {
		t.Errorf("feelers become %q", moved)
	}
}
