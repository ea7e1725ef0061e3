package inspection_test

import (
	"sync"
	"testing"

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
