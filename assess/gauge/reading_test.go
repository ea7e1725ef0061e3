package gauge_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

var micron = gauge.Instrument{Kind: gauge.Micrometer, Name: "micrometer", Serial: "M-3", Resolution: 0.001, Error: 0.002, Repeatability: 0.001}

func soaked() gauge.Temperatures { return gauge.Temperatures{Soaked: true} }

func evaluate(t testing.TB, r gauge.Reading) gauge.Result {
	t.Helper()
	out, err := r.Evaluate()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func line(m gauge.Measured, name string) gauge.Contribution {
	for _, c := range m.Budget {
		if c.Name == name {
			return c
		}
	}
	return gauge.Contribution{}
}

func TestTheWorstPlaceDecides(t *testing.T) {
	values := []gauge.Value{
		{Length: 18.436, Position: "front"}, {Length: 18.431, Position: "front", Angle: 90},
		{Length: 18.440, Position: "back"}, {Length: 18.444, Position: "back", Angle: 90},
	}
	shaft := evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked()})
	near(t, "shaft", float64(shaft.Worst.Value), 18.431, 1e-9)
	if shaft.Where.Position != "front" || shaft.Where.Angle != 90 {
		t.Errorf("the worst place is %+v", shaft.Where)
	}
	bore := evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked(), Grows: true})
	near(t, "bore", float64(bore.Worst.Value), 18.444, 1e-9)
	// Form: 5 µm out of round at the front, 8.5 µm of taper.
	near(t, "out of round", float64(shaft.Form.OutOfRound.Value), 0.005, 1e-9)
	near(t, "taper", float64(shaft.Form.Taper.Value), 0.0085, 1e-9)
	if shaft.Form.At != "front" || shaft.Form.From != "front" || shaft.Form.To != "back" {
		t.Errorf("form is %+v", shaft.Form)
	}
	if !strings.Contains(gauge.OddLobes, "odd") {
		t.Error("the caution about odd lobes is gone")
	}
	// The scatter over the places is form: repeatability stays the pooled one.
	if shaft.Repeatability != 0.001 || shaft.FromRepeats {
		t.Errorf("the repeatability is %v", shaft.Repeatability)
	}
	// The micrometer's error falls out of a difference of its own readings.
	if u, _ := shaft.Form.OutOfRound.Standard(); float64(u) >= math.Sqrt2*0.0012 {
		t.Errorf("out of round is known to %v", u)
	}
}

func TestRepeatsAtOnePlaceTellTheRepeatability(t *testing.T) {
	var values []gauge.Value
	for _, l := range []float64{18.430, 18.434, 18.432, 18.431, 18.433} {
		values = append(values, gauge.Value{Length: gauge.Length(l), Position: "front"})
	}
	r := evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked()})
	if !r.FromRepeats || r.RepeatDoF != 4 || len(r.Places) != 1 || r.Places[0].Repeats != 5 {
		t.Fatalf("got %+v", r)
	}
	near(t, "s", float64(r.Repeatability), 0.0015811, 1e-7)
	near(t, "mean", float64(r.Worst.Value), 18.432, 1e-9)
	near(t, "line", line(r.Worst, gauge.LineRepeatability).Size(), 0.0015811/math.Sqrt(5), 1e-7)
	// Half a turn on is the same place of a two-point measurement.
	values[4].Angle = 180
	if r := evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked()}); len(r.Places) != 1 {
		t.Errorf("half a turn on is another place: %+v", r.Places)
	}
	// Four repeats say less than what was pooled before.
	if r := evaluate(t, gauge.Reading{Values: values[:4], Instrument: micron, Temperatures: soaked()}); r.FromRepeats || r.Repeatability != 0.001 {
		t.Errorf("three degrees of freedom stood for themselves: %+v", r)
	}
	// Two places with three repeats each give four degrees of freedom together.
	values = nil
	for i, l := range []float64{18.430, 18.432, 18.434, 18.440, 18.442, 18.444} {
		values = append(values, gauge.Value{Length: gauge.Length(l), Position: fmt.Sprint(i / 3)})
	}
	r = evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked()})
	near(t, "pooled s", float64(r.Repeatability), 0.002, 1e-9)
	if !r.FromRepeats || r.RepeatDoF != 4 {
		t.Errorf("pooled over two places: %+v", r)
	}
}

func TestTheZeroCheckCorrectsAndDriftCounts(t *testing.T) {
	off := func(l gauge.Length) *gauge.Length { return &l }
	values := []gauge.Value{{Length: 18.430}}
	r := evaluate(t, gauge.Reading{Values: values, Instrument: micron, Temperatures: soaked(), Before: off(0.001), After: off(0.002)})
	near(t, "corrected", float64(r.Worst.Value), 18.4285, 1e-9)
	near(t, "correction", float64(r.Zero), -0.0015, 1e-9)
	near(t, "drift", line(r.Worst, gauge.LineDrift).Size(), 0.0005/math.Sqrt(3), 1e-9)
	_, err := gauge.Reading{Values: values, Instrument: micron, After: off(-0.02)}.Evaluate()
	if err == nil || !strings.HasPrefix(err.Error(), "zero check after: ") {
		t.Errorf("a zero that is far off gives %v", err)
	}
	unchecked := evaluate(t, gauge.Reading{Values: values, Instrument: micron})
	if notes := strings.Join(unchecked.Notes, "; "); !strings.Contains(notes, "not checked") || !strings.Contains(notes, "soaked") {
		t.Errorf("the notes are %q", notes)
	}
}

func TestATelescopicGaugesTransferDominates(t *testing.T) {
	in, err := gauge.Usual(gauge.TelescopicGauge)
	if err != nil {
		t.Fatal(err)
	}
	r := evaluate(t, gauge.Reading{Values: []gauge.Value{{Length: 40.01}}, Grows: true, Instrument: in, Temperatures: soaked()})
	u, _ := r.Worst.Standard()
	if share := line(r.Worst, gauge.LineTransfer).Size() / float64(u); share < 0.9 {
		t.Errorf("the transfer is %.0f %% of the uncertainty", share*100)
	}
}

// check-values 4, recomputed.
func TestTemperature(t *testing.T) {
	for _, c := range []struct{ l, part, expansion, want float64 }{
		{50, 28, gauge.Steel, 49.995400}, {29.985, 26.5, gauge.Steel, 29.982759}, {100, 15, gauge.Steel, 100.005750},
		{62, 100, gauge.Aluminium, 61.886130}, {62, 100, gauge.Steel, 61.943013},
	} {
		got, err := gauge.AtReference(gauge.Length(c.l), c.part, c.expansion, 20, gauge.Steel)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "L20", float64(got), c.want, 1e-6)
	}
	// Steel on steel at one temperature needs no correction.
	got, _ := gauge.AtReference(29.985, 31, gauge.Steel, 31, gauge.Steel)
	near(t, "soaked together", float64(got), 29.985, 0)
	loose, err := gauge.Warmed(62, 80, gauge.Aluminium, gauge.Steel)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "N7 loosened", float64(loose), 0.05704, 1e-9)
	for name, c := range map[string]gauge.Temperatures{
		"part":        {Known: true, Part: math.NaN(), Instrument: 20},
		"instrument":  {Known: true, Part: 20, Instrument: 1e308},
		"uncertainty": {Known: true, Part: 20, Instrument: 20, Uncertain: -1},
		"expansion":   {Known: true, Part: 20, Instrument: 20, PartExpansion: 1},
	} {
		_, err := gauge.Reading{Values: []gauge.Value{{Length: 20}}, Instrument: micron, Temperatures: c}.Evaluate()
		named(t, name, err)
	}
}

func TestNotKnowingTheTemperatureCosts(t *testing.T) {
	u := func(temps gauge.Temperatures) float64 {
		r := evaluate(t, gauge.Reading{Values: []gauge.Value{{Length: 62}}, Instrument: micron, Temperatures: temps})
		u, _ := r.Worst.Standard()
		return float64(u)
	}
	together, nobody := u(soaked()), u(gauge.Temperatures{})
	alone := u(gauge.Temperatures{Known: true, Part: 23, PartOnly: true})
	read, aluminium := u(gauge.Temperatures{Known: true, Part: 23, Instrument: 21}), u(gauge.Temperatures{Soaked: true, PartExpansion: gauge.Aluminium})
	if !(together < read && read < alone && alone <= nobody && together < aluminium) {
		t.Errorf("soaked %v, measured %v, part alone %v, unknown %v, aluminium soaked %v", together, read, alone, nobody, aluminium)
	}
	// Nobody measured the micrometer: it is not taken to be at 20 °C.
	r := evaluate(t, gauge.Reading{Values: []gauge.Value{{Length: 62}}, Instrument: micron, Temperatures: gauge.Temperatures{Known: true, Part: 30, PartOnly: true}})
	near(t, "part of 30 °C by a micrometer nobody measured", float64(r.Worst.Value), 62, 0)
}

func TestCalibrationIsCountedFromDates(t *testing.T) {
	for _, c := range []struct {
		calibrated, due, day string
		want                 gauge.Standing
	}{
		{"2026-02-03", "", "2026-05-12", gauge.CalibrationCurrent}, {"2026-02-03", "", "2027-02-03", gauge.CalibrationCurrent},
		{"2026-02-03", "", "2027-02-04", gauge.CalibrationOverdue}, {"2026-02-03", "2026-05-11", "2026-05-12", gauge.CalibrationOverdue},
		{"", "2026-05-12", "2026-05-12", gauge.CalibrationCurrent}, {"", "", "2026-05-12", gauge.CalibrationUnknown},
		{"2026-06-01", "", "2026-05-12", gauge.CalibrationUnknown},
	} {
		in := gauge.Instrument{Calibrated: c.calibrated, Due: c.due}
		got, err := in.CalibrationOn(c.day)
		if err != nil || got.Standing != c.want {
			t.Errorf("calibrated %q, due %q, on %s: %+v (%v), want %s", c.calibrated, c.due, c.day, got, err, c.want)
		}
	}
	for name, c := range map[string][3]string{"no day": {"", "", ""}, "no date": {"May", "", "2026-05-12"}, "turned round": {"2026-05-12", "2026-05-11", "2026-05-12"}, "31 June": {"", "", "2026-06-31"}} {
		_, err := gauge.Instrument{Calibrated: c[0], Due: c[1]}.CalibrationOn(c[2])
		named(t, name, err)
	}
}

func TestDefaultsAreMarked(t *testing.T) {
	for _, kind := range gauge.InstrumentKinds {
		in, err := gauge.Usual(kind)
		if err != nil || len(in.Assumed) == 0 || in.Error == 0 {
			t.Errorf("%s: %+v (%v)", kind, in, err)
		}
		given := gauge.Instrument{Kind: kind, Resolution: 0.02, Error: 0.05, Repeatability: 0.01, Transfer: 0.01}
		if in, err = given.Completed(); err != nil || len(in.Assumed) != 0 || in.Error != 0.05 {
			t.Errorf("%s, all given: %+v (%v)", kind, in, err)
		}
	}
	// What is given is kept; an instrument is hardly better than its step.
	in, err := gauge.Instrument{Kind: gauge.Micrometer, Resolution: 0.0254}.Completed()
	if err != nil || in.Error != 0.0254 || !slices.Contains(in.Assumed, "permissible error") || slices.Contains(in.Assumed, "resolution") {
		t.Errorf("got %+v (%v)", in, err)
	}
	if _, err := gauge.Usual("ruler"); err == nil {
		t.Error("an unknown kind has defaults")
	}
}

func TestBadReadingsNameTheirField(t *testing.T) {
	good := gauge.Reading{Values: []gauge.Value{{Length: 18.43}}, Instrument: micron, Temperatures: soaked()}
	nan := gauge.Length(math.NaN())
	for field, change := range map[string]func(*gauge.Reading){
		"values":                       func(r *gauge.Reading) { r.Values = nil },
		"value 1":                      func(r *gauge.Reading) { r.Values = []gauge.Value{{}} },
		"value 2":                      func(r *gauge.Reading) { r.Values = append(r.Values, gauge.Value{Length: -1}) },
		"value 3":                      func(r *gauge.Reading) { r.Values = []gauge.Value{{Length: 1}, {Length: 1}, {Length: nan}} },
		"value 1 ":                     func(r *gauge.Reading) { r.Values = []gauge.Value{{Length: 1e308}} },
		"angle of value 1":             func(r *gauge.Reading) { r.Values = []gauge.Value{{Length: 1, Angle: math.Inf(1)}} },
		"instrument":                   func(r *gauge.Reading) { r.Instrument = gauge.Instrument{Name: "mine", Serial: "7"} },
		"instrument kind":              func(r *gauge.Reading) { r.Instrument.Kind = "ruler" },
		"instrument kind ":             func(r *gauge.Reading) { r.Instrument.Kind = gauge.FeelerGauge },
		"instrument resolution":        func(r *gauge.Reading) { r.Instrument.Resolution = nan },
		"instrument permissible error": func(r *gauge.Reading) { r.Instrument.Error = -0.001 },
		"instrument repeatability":     func(r *gauge.Reading) { r.Instrument.Repeatability = 1e308 },
		"instrument calibrated":        func(r *gauge.Reading) { r.Instrument.Calibrated = "12.5.26" },
		"zero check before":            func(r *gauge.Reading) { r.Before = &nan },
	} {
		r := good
		r.Values = slices.Clone(good.Values)
		change(&r)
		_, err := r.Evaluate()
		if err == nil || !strings.HasPrefix(err.Error(), strings.TrimSpace(field)+": ") {
			t.Errorf("%s: got %v", field, err)
		}
		named(t, field, err)
	}
}

func TestAFeelerGaugeGivesAnInterval(t *testing.T) {
	feeler := gauge.Instrument{Kind: gauge.FeelerGauge, Error: 0.005}
	m := func(goes, stops gauge.Length) gauge.Measured {
		m, err := gauge.GoNoGo{Goes: goes, Stops: stops, Instrument: feeler}.Measured()
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	const c, n, q = gauge.Conforms, gauge.DoesNotConform, gauge.CannotDecide
	for name, k := range map[string]struct {
		m    gauge.Measured
		tol  gauge.Tolerance
		want gauge.Decision
	}{
		"wholly above":                         {m(0.60, 0.65), gauge.AtLeast(0.50), c},
		"limit inside":                         {m(0.45, 0.55), gauge.AtLeast(0.50), q},
		"wholly below":                         {m(0.40, 0.45), gauge.AtLeast(0.50), n},
		"just the one that goes":               {m(0.55, 0), gauge.AtLeast(0.50), c},
		"one that goes says nothing of less":   {m(0.45, 0), gauge.AtLeast(0.50), q},
		"one that goes proves too much":        {m(0.55, 0), gauge.AtMost(0.50), n},
		"one that goes can't prove too little": {m(0.45, 0), gauge.AtMost(0.50), q},
		"just one that stops":                  {m(0, 0.45), gauge.AtLeast(0.50), n},
		"one that stops, at most":              {m(0, 0.45), gauge.AtMost(0.50), c},
		"the very blade":                       {m(0.50, 0), gauge.AtLeast(0.50), q},
	} {
		for _, rule := range []gauge.Rule{gauge.By95, gauge.ByU} {
			if v := decide(t, rule, k.tol, k.m); v.Decision != k.want {
				t.Errorf("%s by %s: %v (%v to %v), want %v", name, rule.Name(), v.Decision, v.Least, v.Most, k.want)
			}
		}
	}
	// A quarter of the interval lies below the limit, and blades are perfect.
	exact := gauge.Measured{Value: 0.5, Half: 0.02}
	near(t, "p", decide(t, gauge.By95, gauge.AtLeast(0.49), exact).Least, 0.75, 1e-12)
	for name, g := range map[string]gauge.GoNoGo{
		"nothing": {Instrument: feeler}, "turned round": {Goes: 0.5, Stops: 0.4, Instrument: feeler}, "NaN": {Goes: gauge.Length(math.NaN()), Instrument: feeler},
		"negative": {Goes: -1, Instrument: feeler}, "no instrument": {Goes: 0.5},
	} {
		_, err := g.Measured()
		named(t, name, err)
	}
}

func TestSlipsAreAskedAbout(t *testing.T) {
	for _, c := range []struct {
		text string
		want gauge.SlipKind
		mm   float64
	}{
		{"18.41", "", 0}, {"18.36", "", 0}, {"184.1", gauge.DecimalShifted, 18.41}, {"1.841", gauge.DecimalShifted, 18.41}, {"1841", gauge.DecimalShifted, 18.41},
		{"0.7252", gauge.InchForMM, 18.42008}, {"18.41 in", gauge.MMForInch, 18.41}, {"14.81", gauge.DigitsSwapped, 0}, {"81.41", gauge.DigitsSwapped, 18.41},
		{"14.48", "", 0}, {"1.841 in", "", 0}, {"18,14", gauge.DigitsSwapped, 18.41}, {`23/32"`, "", 0}, {"48.41", "", 0},
	} {
		e, err := gauge.ParseEntry(c.text, gauge.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		s := gauge.SlipIn(e, 18.44, 0.2)
		if c.want == "" || c.mm == 0 {
			if s != nil && c.want == "" {
				t.Errorf("%q is asked about: %s", c.text, s.Text)
			}
			continue
		}
		if s == nil || s.Kind != c.want || math.Abs(float64(s.Meant)-c.mm) > 1e-9 || !strings.Contains(s.Text, c.text) || !strings.HasSuffix(s.Text, "?") {
			t.Errorf("%q: got %+v, want %s, %v mm", c.text, s, c.want, c.mm)
		}
	}
	e, _ := gauge.ParseEntry("18.4363", gauge.Millimetre)
	if !gauge.FinerThan(e, gauge.Instrument{Resolution: 0.01}) || gauge.FinerThan(e, gauge.Instrument{Resolution: 0.0001}) {
		t.Error("digits that the instrument does not show are not told from those that it does")
	}
	if e, _ = gauge.ParseEntry("18.430", gauge.Millimetre); gauge.FinerThan(e, gauge.Instrument{Resolution: 0.01}) {
		t.Error("a nought at the end is no invented digit")
	}
}

// A slip of the pen that is made on purpose is found, whatever the size.
func TestAMovedPointIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(5000, 90000).Draw(t, "micrometres")
		e, err := gauge.ParseEntry(fmt.Sprintf("%d.%02d mm", n/100, n%100), gauge.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		expected := gauge.Length(float64(n) / 1000)
		if s := gauge.SlipIn(e, expected, expected/50); s == nil || s.Kind != gauge.DecimalShifted {
			t.Fatalf("%s for %v: %+v", e.Text, expected, s)
		}
	})
}

func TestTwoSizesByOneMicrometerAreCorrelated(t *testing.T) {
	coarse := gauge.Instrument{Kind: gauge.Micrometer, Serial: "M-3", Resolution: 0.001, Error: 0.01, Repeatability: 0.001}
	other := coarse
	other.Serial = "M-4"
	m := func(l gauge.Length, in gauge.Instrument) gauge.Measured {
		return evaluate(t, gauge.Reading{Values: []gauge.Value{{Length: l}}, Instrument: in, Temperatures: soaked()}).Worst
	}
	u := func(a, b gauge.Measured) float64 {
		d, err := gauge.Difference(a, b)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "difference", float64(d.Value), float64(a.Value-b.Value), 1e-12)
		u, _ := d.Standard()
		return float64(u)
	}
	same, two := u(m(18.44, coarse), m(18.41, coarse)), u(m(18.44, coarse), m(18.41, other))
	far := u(m(24.44, coarse), m(18.41, coarse))
	near(t, "one micrometer", same, math.Sqrt(2)*math.Hypot(0.001, 0.001/math.Sqrt(12)), 1.5e-4)
	if two < 0.008 || far < 0.008 {
		t.Errorf("two micrometers give %v, sizes far apart %v: the error has fallen out", two, far)
	}
	// In a sum it adds up instead.
	sum, err := gauge.Sum(gauge.Term{Times: 1, Of: m(18.44, coarse)}, gauge.Term{Times: 1, Of: m(18.41, coarse)})
	if err != nil {
		t.Fatal(err)
	}
	su, _ := sum.Standard()
	near(t, "sum", float64(su), 2*0.01/math.Sqrt(3), 3e-4)
	// A sum of one term is the term.
	one, _ := gauge.Sum(gauge.Term{Times: 1, Of: m(18.44, coarse)})
	ou, _ := one.Standard()
	mu, _ := m(18.44, coarse).Standard()
	near(t, "one term", float64(ou), float64(mu), 1e-15)
}

func TestAMeasuredLengthIsShownWithItsUncertainty(t *testing.T) {
	m := known(18.4201, 0.0021)
	m.Resolution = 0.001
	if got := m.Text(gauge.Millimetre); got != "18.420 mm ± 0.005 mm" {
		t.Errorf("got %q", got)
	}
	if got := m.Text(gauge.Inch); got != "0.72520 in ± 0.00017 in" {
		t.Errorf("got %q", got)
	}
	for u, want := range map[float64]string{0.0041161: "0.005 mm", 0.00199: "0.0020 mm", 0.03: "0.03 mm", 12: "12 mm", 0: "0 mm", 0.096: "0.10 mm"} {
		if got := gauge.UncertaintyText(gauge.Length(u), gauge.Millimetre); got != want {
			t.Errorf("± %v is shown as %q, want %q", u, got, want)
		}
	}
	for u, want := range map[float64]string{0.0041161: "0.004 mm", 0.00199: "0.0019 mm", 0.03: "0.03 mm", 0.0002: "0.00020 mm", 0: "0 mm", 0.096: "0.09 mm"} {
		if got := gauge.LargestText(gauge.Length(u), gauge.Millimetre); got != want {
			t.Errorf("at the most %v is shown as %q, want %q", u, got, want)
		}
	}
}
