package assess_test

import (
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// A pilot nose of 0.726 in that may wear to 0.725 in (common practice, no source:
// one unit's values), typed in out of a manual, with the whole part looked at.
func pilotNose(t *testing.T, m record.Reading) (*record.Record, record.ID) {
	t.Helper()
	w := laidOut(t, ownSpecs(t))
	id := w.at["input-shaft"]
	m.Part, m.Surface, m.Dimension = id, "pilot", "diameter"
	w.record.Readings = map[record.ID]record.Reading{record.NewID(): m}
	w.record.Limits = map[record.ID]record.Limit{record.NewID(): {
		Part: id, Surface: "pilot", Dimension: "diameter", Nominal: "0.726 in", Discard: "0.725 in",
		Manual: "workshop manual", Edition: "2nd edition", Page: "31", By: "Edda Quillan", Checked: "WA",
	}}
	return w.record, id
}

func inches(values ...string) record.Reading {
	m := record.Reading{Unit: "in", Soaked: true, PartTemperature: "20"}
	for _, v := range values {
		m.Values = append(m.Values, record.Value{Text: v})
	}
	m.Instrument = record.Instrument{Kind: "micrometer", Name: "micrometer", Resolution: "0.0001 in", Error: "0.002 mm", Repeatability: "0.001 mm"}
	return m
}

func TestReadingsAreDecidedAsTheirInstrumentAllows(t *testing.T) {
	with := func(m record.Reading, change func(*record.Reading)) record.Reading {
		change(&m)
		return m
	}
	one := inches("0.7252")
	for name, c := range map[string]struct {
		reading    record.Reading
		claim      string
		rule       gauge.Rule
		road, hard string
		says, to   string
	}{
		"a good micrometer decides, and 80 % is worn": {reading: one, road: "usable", hard: "condemned", says: "80 % of the allowance used (± 14 %)"},
		"a micrometer of 4 µm decides by the rule of 2017": {
			reading: with(one, func(m *record.Reading) { m.Instrument.Error = "0.004 mm" }), road: "usable", hard: "condemned", says: "80 %"},
		"by the older rule it does not": {
			reading: with(one, func(m *record.Reading) { m.Instrument.Error = "0.004 mm" }), rule: gauge.ByU, road: "undecided", hard: "undecided",
			says: "cannot be decided with this instrument", to: "errs by no more than"},
		"a caliper does not": {
			reading: with(one, func(m *record.Reading) {
				m.Instrument = record.Instrument{Kind: "caliper", Resolution: "0.001 in", Error: "0.02 mm"}
			}), road: "undecided", hard: "undecided", says: "cannot be decided with this instrument", to: "good to ±"},
		"worn past it":                {reading: inches("0.7246"), road: "condemned", hard: "condemned", says: "worn past it"},
		"the worst of two places":     {reading: inches("0.7259", "0.7246"), road: "condemned", hard: "condemned", says: "0.7246"},
		"in millimetres":              {reading: with(inches("18.420"), func(m *record.Reading) { m.Unit = "mm" }), road: "usable", hard: "condemned", says: "18.420"},
		"hardly worn":                 {reading: inches("0.7259"), road: "sound", hard: "sound", says: "within it"},
		"mixed units":                 {reading: inches("0.7252", "18.42 mm"), road: "undecided", hard: "undecided", says: "different units", to: "Correct the reading"},
		"zero":                        {reading: inches("0"), road: "undecided", hard: "undecided", says: "above zero", to: "Correct the reading"},
		"no instrument":               {reading: with(one, func(m *record.Reading) { m.Instrument = record.Instrument{} }), road: "undecided", hard: "undecided", says: "instrument", to: "Correct the reading"},
		"a zero that is off corrects": {reading: with(inches("0.7255"), func(m *record.Reading) { m.ZeroBefore, m.ZeroAfter = "0.0001", "0.0001" }), road: "usable", hard: "usable", says: "0.7254"},
		"a zero that is far off":      {reading: with(one, func(m *record.Reading) { m.ZeroBefore = "0.01" }), road: "undecided", hard: "undecided", says: "set it and measure again", to: "Correct the reading"},
		"a feeler goes round no shaft": {reading: with(one, func(m *record.Reading) { m.Instrument = record.Instrument{Kind: "feeler-gauge"} }),
			road: "undecided", hard: "undecided", says: "goes into gaps and bores", to: "Correct the reading"},
		"an unknown material":           {reading: with(one, func(m *record.Reading) { m.Material = "wood" }), road: "undecided", hard: "undecided", says: "not known", to: "Correct the reading"},
		"overdue, and no warranty case": {reading: with(one, func(m *record.Reading) { m.Instrument.Due = "2026-01-01" }), road: "usable", hard: "condemned", says: "overdue"},
		"a date in words is no date": {reading: with(one, func(m *record.Reading) { m.Instrument.Calibrated = "last spring" }), claim: "W-17",
			road: "usable", hard: "condemned", says: "80 %"},
		"the part's temperature alone": {reading: with(one, func(m *record.Reading) { m.Soaked, m.PartTemperature = false, "30" }), road: "usable", hard: "condemned", says: "0.7252"},
		"measured a month over twelve, whenever the core came in": {reading: with(one, func(m *record.Reading) {
			m.Instrument.Calibrated, m.At = "2025-06-01", record.Stamp{UTC: "2026-07-01T10:00:00Z", Zone: "+00:00"}
		}), claim: "W-17", road: "undecided", hard: "undecided", says: "overdue", to: "warranty case"},
		"overdue in a warranty case": {reading: with(one, func(m *record.Reading) { m.Instrument.Due = "2026-01-01" }), claim: "W-17",
			road: "undecided", hard: "undecided", says: "overdue", to: "warranty case"},
	} {
		t.Run(name, func(t *testing.T) {
			r, id := pilotNose(t, c.reading)
			r.Owner.Claim, r.Dates.Received = c.claim, "2026-05-12"
			a := assess.Assess(assess.Case{Record: r, Rule: c.rule}, ownSpecs(t), term.Road)
			s := surface(t, a, id, "pilot")
			if got := s.Verdicts.For(term.Road).String(); got != c.road {
				t.Errorf("on the road it is %s, want %s: %s", got, c.road, s.Reasons[0].Text)
			}
			if got := s.Verdicts.For(term.HardDuty).String(); got != c.hard {
				t.Errorf("at hard duty it is %s, want %s", got, c.hard)
			}
			if !strings.Contains(s.Reasons[0].Text, c.says) {
				t.Errorf("it says %q, which lacks %q", s.Reasons[0].Text, c.says)
			}
			if c.to != "" && !strings.Contains(strings.Join(s.Inspect, " "), c.to) {
				t.Errorf("to be inspected: %q, which lacks %q", s.Inspect, c.to)
			}
		})
	}
}

func TestALimitSaysWhereItStandsAndByWhoseHand(t *testing.T) {
	r, id := pilotNose(t, inches("0.7252"))
	s := surface(t, assess.Assess(assess.Case{Record: r}, ownSpecs(t), term.Road), id, "pilot")
	if got, want := s.Reasons[0].Source, "workshop manual, 2nd edition, p. 31 (typed in by Edda Quillan, checked by WA)"; got != want {
		t.Errorf("the source is %q, want %q", got, want)
	}
	if m := s.Reasons[0].Measurement; m == nil || len(m.Measured.Budget) == 0 || !m.HasLimit {
		t.Error("the numbers behind the reading can't be looked at")
	}
	for key, l := range r.Limits {
		l.Withdrawn = "Edda Quillan: another unit's page"
		r.Limits[key] = l
	}
	s = surface(t, assess.Assess(assess.Case{Record: r}, ownSpecs(t), term.Road), id, "pilot")
	if !strings.Contains(s.Reasons[0].Text+s.Reasons[len(s.Reasons)-1].Text, "no limit is known") && s.Verdict != term.Sound {
		t.Errorf("with the limit withdrawn it is %s: %q", s.Verdict, s.Reasons[0].Text)
	}
}

// A ring's gap by feelers at three points: the narrowest decides.
func TestFeelersLeaveAnInterval(t *testing.T) {
	feelers := func(sizes ...string) record.Reading {
		m := record.Reading{Unit: "mm", Instrument: record.Instrument{Kind: "feeler-gauge"}}
		for i, at := range []string{"0", "120", "240"} {
			m.Values = append(m.Values, record.Value{Text: sizes[2*i], Angle: at}, record.Value{Text: sizes[2*i+1], Angle: at, Stops: true})
		}
		return m
	}
	for name, c := range map[string]struct {
		reading record.Reading
		want    string
	}{
		"wide enough all round":                             {feelers("0.95", "1.00", "0.95", "1.00", "0.90", "0.95"), "sound"},
		"worn at one of three":                              {feelers("0.95", "1.00", "0.60", "0.65", "0.90", "0.95"), "condemned"},
		"on the limit at one":                               {feelers("0.95", "1.00", "0.75", "0.85", "0.90", "0.95"), "undecided"},
		"a wide interval at one, just proven at the others": {feelers("0.85", "0.90", "0.70", "1.20", "0.85", "0.90"), "undecided"},
		"a wide interval does not hide a worn place":        {feelers("0.60", "0.65", "0.30", "0.90", "0.85", "0.90"), "condemned"},
		"the wrong way round":                               {feelers("1.00", "0.95", "0.95", "1.00", "0.90", "0.95"), "undecided"},
	} {
		w := laidOut(t, ownSpecs(t))
		id := w.at["ring-4"]
		c.reading.Part, c.reading.Surface, c.reading.Dimension = id, "cone", "gap"
		w.record.Readings = map[record.ID]record.Reading{record.NewID(): c.reading}
		w.record.Limits = map[record.ID]record.Limit{record.NewID(): {
			Part: id, Surface: "cone", Dimension: "gap", Discard: "0.80 mm", Manual: "workshop manual", By: "Edda Quillan",
		}}
		s := surface(t, assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road), id, "cone")
		if s.Verdict.String() != c.want {
			t.Errorf("%s: %s, want %s: %s", name, s.Verdict, c.want, s.Reasons[0].Text)
		}
	}
}

// A ring may sit tilted: its gap passes at three places or more, and tells where
// they differ. One place can condemn it.
func TestAGapIsTakenRoundTheRing(t *testing.T) {
	for name, c := range map[string]struct {
		values        []string
		want, because string
	}{
		"even all round":        {[]string{"1.05", "1.04", "1.06"}, "sound", "within it"},
		"tilted":                {[]string{"1.30", "0.95", "0.95"}, "sound", "tilted"},
		"at one place":          {[]string{"1.05"}, "undecided", "elsewhere round"},
		"at two places":         {[]string{"1.05", "1.05"}, "undecided", "elsewhere round"},
		"worn at the one place": {[]string{"0.60"}, "condemned", "worn past it"},
	} {
		w := laidOut(t, ownSpecs(t))
		id := w.at["ring-4"]
		m := record.Reading{Part: id, Surface: "cone", Dimension: "gap", Unit: "mm", Instrument: record.Instrument{Kind: "caliper", Error: "0.02"}}
		for _, v := range c.values {
			m.Values = append(m.Values, record.Value{Text: v})
		}
		w.record.Readings = map[record.ID]record.Reading{record.NewID(): m}
		w.record.Limits = map[record.ID]record.Limit{record.NewID(): {
			Part: id, Surface: "cone", Dimension: "gap", Discard: "0.80 mm", Manual: "workshop manual", By: "Edda Quillan",
		}}
		s := surface(t, assess.Assess(assess.Case{Record: w.record}, ownSpecs(t), term.Road), id, "cone")
		if s.Verdict.String() != c.want || !strings.Contains(s.Reasons[0].Text, c.because) {
			t.Errorf("%s: %s, want %s for %q: %s", name, s.Verdict, c.want, c.because, s.Reasons[0].Text)
		}
		if open := s.Reasons[0].Measurement.Open != ""; open != (c.want == "undecided") {
			t.Errorf("%s: open is %v", name, open)
		}
	}
}
