package assess_test

import (
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// A reading that decides nothing tells what it would be if that were settled, and
// what would settle it: how fine an instrument must be, and which will do.
func TestAnUndecidedReadingSaysWhatWouldSettleIt(t *testing.T) {
	caliper := record.Instrument{Kind: "caliper", Name: "caliper 150", Serial: "C-1", Resolution: "0.001 in", Error: "0.02 mm"}
	micrometer := record.Instrument{Kind: "micrometer", Name: "micrometer 0–25", Serial: "M-3", Resolution: "0.0001 in", Error: "0.002 mm", Repeatability: "0.001 mm"}
	late := micrometer
	late.Serial, late.Due = "M-1", "2026-01-01"
	bore := record.Instrument{Kind: "bore-gauge", Name: "bore gauge", Error: "0.001 mm"}
	by := func(in record.Instrument, values ...string) record.Reading {
		m := inches(values...)
		m.Instrument = in
		return m
	}
	for name, c := range map[string]struct {
		reading      record.Reading
		claim        string
		shop         []record.Instrument
		would, needs string
		whatIf       string
		// without is what it must not name.
		without string
	}{
		"by a caliper, and no instrument in the shop": {reading: by(caliper, "0.7254"), would: "within the limit if a finer instrument read the same",
			needs: "a micrometer of the usual kind is fine enough", whatIf: "if a finer instrument"},
		"the shop's micrometer will do": {reading: by(caliper, "0.7252"), shop: []record.Instrument{caliper, bore, micrometer},
			would: "within the limit if a finer", needs: "(all in all it must be good to ± 0.00024 in); of the shop's, fine enough is micrometer 0–25, serial M-3", without: "bore gauge"},
		"read past the limit": {reading: by(caliper, "0.7248"), shop: []record.Instrument{micrometer}, would: "worn past the limit if a finer instrument read the same", needs: "serial M-3"},
		"on the limit itself": {reading: by(micrometer, "0.7250"), shop: []record.Instrument{micrometer}, needs: "lies on the limit itself", without: "M-3"},
		"overdue in a warranty case": {reading: by(late, "0.7252"), claim: "W-17", shop: []record.Instrument{late, micrometer},
			would: "within the limit if the instrument's calibration still held", needs: "fine enough is micrometer 0–25, serial M-3", whatIf: "usable if the instrument's calibration still held", without: "M-1"},
		"overdue and past it": {reading: by(late, "0.7240"), claim: "W-17", would: "worn past the limit if the instrument's calibration still held", needs: "calibration holds"},
	} {
		t.Run(name, func(t *testing.T) {
			r, id := pilotNose(t, c.reading)
			r.Owner.Claim, r.Dates.Received = c.claim, "2026-05-12"
			a := assess.Assess(assess.Case{Record: r, Instruments: c.shop}, ownSpecs(t), term.Road)
			s := surface(t, a, id, "pilot")
			x := s.Reasons[0].Measurement
			if x == nil {
				t.Fatal(s.Reasons[0].Text)
			}
			if !strings.Contains(x.Would, c.would) || c.would == "" && x.Would != "" || !strings.Contains(strings.ToLower(s.Reasons[0].Text), strings.ToLower(x.Would)) {
				t.Errorf("it would be %q, want %q: %s", x.Would, c.would, s.Reasons[0].Text)
			}
			if !strings.Contains(x.Needs, c.needs) || !strings.Contains(strings.Join(s.Inspect, " "), x.Needs) {
				t.Errorf("it needs %q, want %q: %q", x.Needs, c.needs, s.Inspect)
			}
			if !strings.Contains(s.WhatIf, c.whatIf) {
				t.Errorf("of the surface it says %q, want %q", s.WhatIf, c.whatIf)
			}
			if c.without != "" && strings.Contains(x.Needs, c.without) {
				t.Errorf("it names %q: %q", c.without, x.Needs)
			}
		})
	}
}

// The error that is named as the largest that would decide does decide.
func TestTheLargestErrorDecides(t *testing.T) {
	m := inches("0.7252")
	m.Instrument.Error = "0.006 mm"
	r, id := pilotNose(t, m)
	x := surface(t, assess.Assess(assess.Case{Record: r}, ownSpecs(t), term.Road), id, "pilot").Reasons[0].Measurement
	_, errs, _ := strings.Cut(x.Needs, "errs by no more than ")
	errs, _, _ = strings.Cut(errs, " (")
	for of, reading := range r.Readings {
		reading.Instrument.Error = errs
		r.Readings[of] = reading
	}
	if x = surface(t, assess.Assess(assess.Case{Record: r}, ownSpecs(t), term.Road), id, "pilot").Reasons[0].Measurement; x.Needs != "" || errs == "" {
		t.Errorf("with an error of %s it still needs %q", errs, x.Needs)
	}
}

// A ring that was measured at one place would pass if it were so all round, even by
// an instrument of which nobody knows better.
func TestOnePlaceOfARing(t *testing.T) {
	w := laidOut(t, ownSpecs(t))
	id := w.at["ring-4"]
	w.record.Readings = map[record.ID]record.Reading{record.NewID(): {
		Part: id, Surface: "cone", Dimension: "gap", Unit: "mm", Instrument: record.Instrument{Kind: "caliper", Error: "0.02", Due: "2026-01-01"},
		Values: []record.Value{{Text: "1.05"}},
	}}
	w.record.Limits = map[record.ID]record.Limit{record.NewID(): {
		Part: id, Surface: "cone", Dimension: "gap", Discard: "0.80 mm", Manual: "workshop manual", By: "Edda Quillan",
	}}
	w.record.Dates.Received = "2026-05-12"
	for claim, want := range map[string]string{
		"":     "it would be within the limit if it were so at three places or more",
		"W-17": "it would be within the limit if it were so at three places or more and the instrument's calibration still held",
	} {
		w.record.Owner.Claim = claim
		s := surface(t, assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road), id, "cone")
		x := s.Reasons[0].Measurement
		if x.Would != want || !strings.Contains(s.WhatIf, "three places") || !strings.Contains(x.Needs, "three places") {
			t.Errorf("claim %q: it says %q, needs %q, and of the surface %q", claim, x.Would, x.Needs, s.WhatIf)
		}
	}
}

// What was worked out tells it too.
func TestAnUndecidedWorkingSaysWhatItWouldBe(t *testing.T) {
	w := laidOut(t, ownSpecs(t))
	id, one := w.at["input-shaft"], rock("0.39")
	one.Part = id
	w.record.Workings = map[record.ID]record.Working{record.NewID(): one}
	s := surface(t, assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road), id, "pilot")
	for _, r := range s.Reasons {
		if x := r.Measurement; x != nil && x.Would == "it would be within the limit if a finer instrument read the same" && strings.Contains(r.Text, x.Would[3:]) && x.Needs != "" {
			return
		}
	}
	t.Errorf("it says %+v", s.Reasons)
}
