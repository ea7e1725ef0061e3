package gauge_test

import (
	"testing"

	"fettlebook/assess/gauge"
)

// What is worked out at every key while a value is typed: the text read, a slip
// looked for, the reading's budget and the decision with its wear bar.
func BenchmarkDecidingWhileTyping(b *testing.B) {
	limit := gauge.Limit{Nominal: in(0.726), Discard: in(0.725)}
	b.ReportAllocs()
	for b.Loop() {
		e, err := gauge.ParseEntry("0.7252", gauge.Inch)
		if err != nil {
			b.Fatal(err)
		}
		if s := gauge.SlipIn(e, limit.Nominal, 1); s != nil {
			b.Fatal(s.Text)
		}
		r, err := gauge.Reading{Values: []gauge.Value{{Length: e.Length}}, Instrument: micron, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := limit.Judge(r.Worst, gauge.By95); err != nil {
			b.Fatal(err)
		}
		if _, err := limit.Bar(r.Worst); err != nil {
			b.Fatal(err)
		}
	}
}

// The dearest decision: between two limits, by Student's t.
func BenchmarkDecisionOfFewRepeats(b *testing.B) {
	m := known(40.01, 0.003)
	m.Budget[0].DoF = 4
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gauge.By95.Decide(gauge.Between(40, 40.025), m); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseEntry(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gauge.ParseEntry("18,440 mm", gauge.Millimetre); err != nil {
			b.Fatal(err)
		}
	}
}
