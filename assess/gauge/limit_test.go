package gauge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/gauge"
)

func TestLimitsStandInTheOrderOfWear(t *testing.T) {
	for name, l := range map[string]gauge.Limit{
		"shaft":           {Nominal: 30, New: 29.987, Reuse: 29.98, Discard: 29.975},
		"bore":            {Grows: true, Nominal: 40, New: 40.025, Reuse: 40.03, Discard: 40.04},
		"discard alone":   {Discard: 29.975},
		"new is nominal":  {Nominal: 30, New: 30, Discard: 29},
		"without a reuse": {Grows: true, Nominal: 40, Discard: 40.04},
	} {
		if err := l.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for field, l := range map[string]gauge.Limit{
		"limit discard":   {Nominal: 30},
		"limit discard ":  {Nominal: 30, Discard: 30.025},
		"limit discard  ": {Grows: true, Nominal: 40, Discard: 39.9},
		"limit reuse":     {Nominal: 30, Reuse: 30.01, Discard: 29.975},
		"limit discard 1": {Nominal: 30, Reuse: 29.97, Discard: 29.975},
		"limit new":       {Grows: true, Nominal: 40, New: 39.99, Discard: 40.04},
		"limit nominal":   {Nominal: -30, Discard: 29},
		"limit nominal ":  {Nominal: gauge.Length(math.NaN()), Discard: 29},
		"limit discard 2": {Nominal: 30, Discard: 1e308},
		"limit discard 3": {Nominal: 30, Discard: 30},
		// Without the nominal all others stand right.
		"limit nominal 1": {Nominal: 29, New: 29.99, Reuse: 29.98, Discard: 29.97},
		"limit reuse 1":   {Grows: true, Nominal: 40, New: 40.01, Reuse: 39.02, Discard: 40.03},
	} {
		want := strings.Join(strings.Fields(field)[:2], " ") + ": "
		err := l.Check()
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v", field, err)
		}
		named(t, field, err)
		if _, err := l.Judge(known(30, 0.001), gauge.By95); err == nil {
			t.Errorf("%s: judged all the same", field)
		}
	}
}

func TestReuseAndWear(t *testing.T) {
	l := gauge.Limit{Nominal: 30, New: 29.991, Reuse: 29.98, Discard: 29.97}
	j, err := l.Judge(known(29.976, 0.001), gauge.By95)
	if err != nil {
		t.Fatal(err)
	}
	if j.Discard.Decision != gauge.Conforms || j.Reuse == nil || j.Reuse.Decision != gauge.DoesNotConform {
		t.Errorf("between reuse and discard: %+v", j)
	}
	near(t, "wear", j.Wear.Used, 0.8, 1e-9)
	near(t, "u of it", j.Wear.Standard, 0.001/0.03, 1e-9)
	b, err := l.Bar(known(29.976, 0.001))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bar", b.Reading, 0.8, 1e-9)
	near(t, "low", b.Low, 0.8-1.959964*0.001/0.03, 1e-6)
	near(t, "high", b.High, 0.8+1.959964*0.001/0.03, 1e-6)
	near(t, "new", *b.New, 0.3, 1e-9)
	near(t, "reuse", *b.Reuse, 2.0/3, 1e-9)
	if _, err := (gauge.Limit{Discard: 29.97}).WearUsed(known(29.976, 0)); err == nil {
		t.Error("wear without a nominal")
	}
	// A part on the limit conforms where nothing is in doubt.
	if j, _ := l.Judge(known(29.97+1e-9, 0), gauge.By95); j.Discard.Decision != gauge.Conforms {
		t.Errorf("on the limit: %v", j.Discard.Decision)
	}
}

// Swapping millimetres for inches changes no verdict: the same numbers typed in
// the other unit.
func TestUnitsChangeNoVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// In steps of 0.00005 in, which are 0.00127 mm exactly.
		steps := rapid.IntRange(2000, 40000).Draw(t, "limit")
		off := rapid.IntRange(-12, 12).Draw(t, "off")
		grows := rapid.Bool().Draw(t, "grows")
		nominal := steps + 20
		if grows {
			nominal = steps - 20
		}
		rule := rapid.SampledFrom([]gauge.Rule{gauge.By95, gauge.ByU}).Draw(t, "rule")
		judge := func(text func(int) string) gauge.Judgement {
			read := func(n int) gauge.Length {
				l, err := gauge.ParseLength(text(n), gauge.Thou)
				if err != nil {
					t.Fatal(err)
				}
				return l
			}
			r, err := gauge.Reading{Values: []gauge.Value{{Length: read(steps + off)}}, Grows: grows, Instrument: micron, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
			if err != nil {
				t.Fatal(err)
			}
			j, err := gauge.Limit{Grows: grows, Nominal: read(nominal), Discard: read(steps)}.Judge(r.Worst, rule)
			if err != nil {
				t.Fatal(err)
			}
			return j
		}
		mm := judge(func(n int) string { return fmt.Sprintf("%d.%05d mm", n*127/100000, n*127%100000) })
		inch := judge(func(n int) string { return fmt.Sprintf("%d.%05d in", n*5/100000, n*5%100000) })
		if mm.Discard.Decision != inch.Discard.Decision || math.Abs(mm.Wear.Used-inch.Wear.Used) > 1e-9 {
			t.Fatalf("mm: %v, in: %v", mm.Discard, inch.Discard)
		}
	})
}
