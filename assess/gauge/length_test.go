package gauge_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

// The international inch is 25.4 mm exactly (agreement of 1959; ISO 80000-3).
func TestLengthsAreReadAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]float64{
		"18.44": 18.44, "18,44": 18.44, ".726 in": 18.4404, "3 thou": 0.0762, `23/32"`: 18.25625, "½ in": 12.7, "1½": 38.1, "1¾″": 44.45, "23⁄32": 18.25625, "−0,02": -0.02,
		"1 1/2 in": 38.1, "1-1/2\"": 38.1, "25.4mm": 25.4, "0,001": 0.001, "1000": 1000, " 2 inch ": 50.8, "-0.02": -0.02,
	} {
		got, err := gauge.ParseLength(text, gauge.Millimetre)
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if math.Abs(float64(got)-want) > 1e-12*math.Abs(want) {
			t.Errorf("%q is %v mm, want %v", text, got, want)
		}
	}
	if got, _ := gauge.ParseLength("0.726", gauge.Inch); math.Abs(float64(got)-18.4404) > 1e-12 {
		t.Errorf("0.726 in inches is %v mm, want 18.4404", got)
	}
}

func TestWhatIsNoLengthIsRefused(t *testing.T) {
	for _, text := range []string{"", "abc", "NaN", "1e308", "Inf", "18.44.1", "1/0 in", "999999", "18 cm", "--2", "1/2 mm"} {
		if got, err := gauge.ParseLength(text, gauge.Millimetre); err == nil {
			t.Errorf("%q was read as %v mm", text, got)
		}
	}
	if _, err := gauge.ParseLength("1,000", gauge.Millimetre); !errors.Is(err, gauge.ErrAmbiguous) {
		t.Errorf("1,000 gives %v, want it asked about", err)
	}
	if _, err := gauge.ParseLength("5", "furlong"); err == nil {
		t.Error("an unknown unit was taken")
	}
}

// 18,440 mm would be over 10 m with a comma for thousands, so a comma is a point.
func TestACommaIsAskedAboutOnlyWhereBothReadingsAreLengths(t *testing.T) {
	for _, c := range []struct {
		text string
		unit gauge.Unit
		want float64
	}{{"18,440", gauge.Millimetre, 18.44}, {"29,985 mm", gauge.Inch, 29.985}, {"1,000", gauge.Inch, 25.4}} {
		got, err := gauge.ParseLength(c.text, c.unit)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-12 {
			t.Errorf("%q in %s is %v (%v), want %v", c.text, c.unit, got, err, c.want)
		}
	}
	for _, text := range []string{"1,000", "9,999 mm", "-2,500", "12,345 thou"} {
		if _, err := gauge.ParseLength(text, gauge.Millimetre); !errors.Is(err, gauge.ErrAmbiguous) {
			t.Errorf("%q gives %v, want it asked about", text, err)
		}
	}
}

// check-values 4: conversions at 25.4 exactly.
func TestInchesAndMillimetres(t *testing.T) {
	for text, want := range map[string]float64{"0.0005 in": 0.0127, "0.001 in": 0.0254, "1.1811 in": 29.99994} {
		if got, err := gauge.ParseLength(text, gauge.Millimetre); err != nil || math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("%s is %v mm (%v), want %v", text, got, err, want)
		}
	}
	if got := gauge.Length(1).In(gauge.Inch); math.Abs(got-0.03937007874) > 1e-11 {
		t.Errorf("1 mm is %v in", got)
	}
}

func TestAnEntryKeepsWhatWasTyped(t *testing.T) {
	for _, c := range []struct {
		text string
		unit gauge.Unit
		step float64
	}{
		{" 18.44 ", gauge.Millimetre, 0.01}, {"18,440", gauge.Millimetre, 0.001}, {".726 in", gauge.Inch, 0.0254},
		{"3 thou", gauge.Thou, 0.0254}, {`23/32"`, gauge.Inch, 25.4 / 32}, {"18", gauge.Millimetre, 1},
	} {
		e, err := gauge.ParseEntry(c.text, gauge.Millimetre)
		if err != nil || e.Text != strings.TrimSpace(c.text) || e.Unit != c.unit || math.Abs(float64(e.Step)-c.step) > 1e-12 {
			t.Errorf("%q: got %+v (%v), want unit %s and step %v mm", c.text, e, err, c.unit, c.step)
		}
	}
}

// Instruments with two scales pair 0.001 in with 0.02 mm, 0.01 mm with 0.0005 in
// and 0.001 mm with 0.00005 in (common practice of their makers, no source).
func TestALengthIsShownAtTheResolutionOfItsInstrument(t *testing.T) {
	for _, c := range []struct {
		mm, resolution gauge.Length
		unit           gauge.Unit
		want           string
	}{
		{18.42, 0.01, gauge.Millimetre, "18.42 mm"},
		{18.42, 0.001, gauge.Millimetre, "18.420 mm"},
		{18.42008, 0.00254, gauge.Inch, "0.7252 in"},
		{18.42008, 0.00254, gauge.Millimetre, "18.420 mm"},
		{18.4229, 0.00254, gauge.Millimetre, "18.422 mm"},
		{18.42, 0.0254, gauge.Inch, "0.725 in"},
		{18.43, 0.0254, gauge.Millimetre, "18.44 mm"},
		{18.42, 0.01, gauge.Inch, "0.7250 in"},
		{18.42, 0.001, gauge.Inch, "0.72520 in"},
		{0.127, 0.0254, gauge.Thou, "5 thou"},
		{-0.0001, 0.01, gauge.Millimetre, "0.00 mm"},
		{12, 1, gauge.Millimetre, "12 mm"},
		{18.42, 0, gauge.Millimetre, "18.420 mm"},
	} {
		if got := c.mm.Text(c.unit, c.resolution); got != c.want {
			t.Errorf("%v mm at %v in %s is shown as %q, want %q", c.mm, c.resolution, c.unit, got, c.want)
		}
	}
}

func TestEntryRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 99999).Draw(t, "steps")
		for unit, resolution := range map[gauge.Unit]gauge.Length{gauge.Millimetre: 0.001, gauge.Inch: 0.00254} {
			text := fmt.Sprintf("%d.%03d mm", n/1000, n%1000)
			if unit == gauge.Inch {
				text = fmt.Sprintf("%d.%04d in", n/10000, n%10000)
			}
			e, err := gauge.ParseEntry(text, gauge.Thou)
			if err != nil {
				t.Fatal(err)
			}
			if got := e.Length.Text(unit, resolution); got != text {
				t.Fatalf("%q comes back as %q", text, got)
			}
			if again, err := gauge.ParseEntry(e.Length.Text(unit, e.Step), unit); err != nil || again.Length != e.Length {
				t.Fatalf("%q read again is %v (%v), not %v", text, again.Length, err, e.Length)
			}
		}
	})
}

// A limit is never rounded to what an instrument shows.
func TestALimitIsShownWhole(t *testing.T) {
	for _, c := range []struct {
		mm, step gauge.Length
		unit     gauge.Unit
		want     string
	}{
		{18.415, 0.01, gauge.Millimetre, "18.415 mm"}, {18.41, 0.01, gauge.Millimetre, "18.41 mm"},
		{18.415, 0.0254, gauge.Inch, "0.725 in"}, {18.44, 0.0254, gauge.Inch, "0.72600 in"},
	} {
		if got := c.mm.WholeText(c.unit, c.step); got != c.want {
			t.Errorf("%v at %v is shown as %q, want %q", c.mm, c.step, got, c.want)
		}
	}
}

func TestARowIsInOneUnit(t *testing.T) {
	row, err := gauge.ParseRow("pilot diameter", []string{"18.44", "18,43 mm"}, gauge.Millimetre)
	if err != nil || len(row) != 2 || row[1].Length != 18.43 {
		t.Errorf("got %v, %v", row, err)
	}
	for name, c := range map[string]struct {
		texts []string
		says  string
	}{
		"mixed":   {[]string{"18.44", ".726 in"}, "pilot diameter, value 2"},
		"bad":     {[]string{"18.44", "18.43", "NaN"}, "pilot diameter, value 3"},
		"nothing": {nil, "pilot diameter"},
		"1e308":   {[]string{"1e308"}, "pilot diameter, value 1"},
	} {
		_, err := gauge.ParseRow("pilot diameter", c.texts, gauge.Millimetre)
		var at *gauge.FieldError
		if !errors.As(err, &at) || at.Field != c.says {
			t.Errorf("%s: got %v, want it at %q", name, err, c.says)
		}
	}
	if _, err := gauge.ParseRow("x", []string{"18.44", ".726 in"}, gauge.Millimetre); !errors.Is(err, gauge.ErrMixedUnits) {
		t.Errorf("mixed units give %v", err)
	}
}

func FuzzParseEntry(f *testing.F) {
	for _, seed := range []string{"18.44", "18,44", "23/32\"", "3 thou", "1,000", "1 1/2 in", "9/0", "1e308", "٣", "-.5″"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, unit := range gauge.Units {
			e, err := gauge.ParseEntry(text, unit)
			if err != nil {
				continue
			}
			if mm := math.Abs(float64(e.Length)); math.IsNaN(mm) || mm > 10_000 || e.Text != strings.TrimSpace(text) {
				t.Errorf("%q gives %+v", text, e)
			}
			again, err := gauge.ParseEntry(e.Text, unit)
			if err != nil || again != e {
				t.Errorf("%q read again gives %+v (%v)", text, again, err)
			}
		}
	})
}
