package inspection_test

import (
	"strings"
	"sync"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

var twoInstruments = []record.Instrument{{Kind: "micrometer", Name: "0 to 25"}, {Kind: "bore-gauge", Name: "bore gauge"}}

// What is remembered by dimension survives a list of instruments that was asked
// for before, and the list survives what is remembered meanwhile.
func TestGaugesAreChangedSideBySide(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	stale := b.Gauges()
	stale.Instruments = twoInstruments
	if err := b.SetGauges(t.Context(), stale); err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for _, surface := range []string{"pilot", "cone", "seat", "bore"} {
		all.Go(func() {
			if err := b.UseFor(t.Context(), "input-shaft", surface, "diameter", twoInstruments[1]); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	stale.OlderRule = true
	if err := b.SetGauges(t.Context(), stale); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	b = bench(t, dir)
	for _, surface := range []string{"pilot", "cone", "seat", "bore"} {
		if last, _ := b.LastFor("input-shaft", surface, "diameter"); last != twoInstruments[1] {
			t.Errorf("for the %s it remembers %+v", surface, last)
		}
	}
	if g := b.Gauges(); !g.OlderRule || len(g.Instruments) != 2 {
		t.Errorf("kept is %+v", g)
	}
}

// Opening a record again while another goroutine looks through other cores for
// partners is no race; it is one to be seen by -race.
func TestNamesAreLearntFromTwoSides(t *testing.T) {
	b := bench(t, t.TempDir())
	one, two := begun(t, b), begun(t, b)
	gear, shaft := place(t, one, "sliding-gear"), place(t, two, "main-shaft")
	fit := record.TrialFit{
		Pair: "gear-on-spline", Outcome: "rocks",
		A: record.PartOf{Record: one.ID(), Part: gear}, B: record.PartOf{Record: two.ID(), Part: shaft},
	}
	if err := one.Do(one.TrialFit(record.NewID(), fit)); err != nil {
		t.Fatal(err)
	}
	if err := two.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	pair := one.Fits(gear, "")[0]
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			if _, err := one.PartnersElsewhere(t.Context(), pair, "b", nil); err != nil {
				t.Error(err)
			}
		})
		all.Go(func() {
			if _, err := b.Inspect(t.Context(), one.ID()); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
}

// A micrometer that comes into the shop is named at once where a caliper could not
// decide, in the open record and in print.
func TestTheShopsInstrumentIsNamed(t *testing.T) {
	b := bench(t, t.TempDir())
	n := begun(t, b)
	shaft := place(t, n, "input-shaft")
	for _, g := range []record.Gesture{
		n.TypeLimit(record.NewID(), record.Limit{Part: shaft, Surface: "pilot", Dimension: "diameter", Nominal: "18.440 mm", Discard: "18.415 mm", Manual: "workshop manual"}),
		n.Reading(record.NewID(), record.Reading{Part: shaft, Surface: "pilot", Dimension: "diameter", Unit: "mm",
			Values: []record.Value{{Text: "18.43"}}, Soaked: true, PartTemperature: "20", Instrument: record.Instrument{Kind: "caliper"}}),
	} {
		if err := n.Do(g); err != nil {
			t.Fatal(err)
		}
	}
	named := "of the shop's, fine enough is micrometer, serial M-3"
	needs := func() string {
		part, _ := n.Assessment().Part(shaft)
		s, _ := part.Surface("pilot")
		return s.Reasons[0].Measurement.Needs
	}
	if strings.Contains(needs(), named) {
		t.Fatalf("before it is there it is named: %q", needs())
	}
	err := b.SetGauges(t.Context(), inspection.Gauges{Instruments: []record.Instrument{{Kind: "micrometer", Name: "micrometer", Serial: "M-3", Resolution: "0.001 mm", Error: "0.002 mm"}}})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(needs(), named) {
		t.Errorf("it needs %q", needs())
	}
	text := printed(t, n, inspection.ReportOrder{Reader: "customer"})
	for _, want := range []string{named, "If a finer instrument read the same"} {
		if !strings.Contains(text, want) && !strings.Contains(text, strings.ToLower(want[:1])+want[1:]) {
			t.Errorf("in print it lacks %q", want)
		}
	}
}
