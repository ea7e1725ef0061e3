package assess

import (
	"slices"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
)

// settle tells of a reading or a working that decides nothing what it would say if
// what keeps it open were settled, and what would settle it.
func (a *assessor) settle(w *work, r *Reason) {
	x := r.Measurement
	if a.terse || x == nil || !x.HasLimit || x.Open == "" && x.Judgement.Discard.Decision != gauge.CannotDecide {
		return
	}
	x.Needs = r.next
	same, how := a.settledSame(w, r)
	if same == nil || same.Measurement == nil {
		return
	}
	would := same.Measurement.Judgement.Discard.Decision
	if m, ok := a.record.Readings[r.Of]; ok && (x.Calibration.Standing == gauge.CalibrationOverdue || would != x.Judgement.Discard.Decision) {
		if able := a.fineEnough(w, m); able != "" {
			r.next = strings.TrimSuffix(r.next, ".") + "; " + able + "."
		}
	}
	if says := map[gauge.Decision]string{gauge.Conforms: "within the limit", gauge.DoesNotConform: "worn past the limit"}[would]; says != "" {
		x.Would = "it would be " + says + " " + how
		r.Text += " " + upperFirst(x.Would) + "."
	}
	x.Needs = r.next
}

// settledSame is what a reading or a working would say if what keeps it open were
// settled and it came to the same, and that condition in words; nil where nobody can
// say: where it lies between two gauges, or for what neither is.
func (a *assessor) settledSame(w *work, r *Reason) (same *Reason, how string) {
	x := r.Measurement
	if x == nil || x.interval() && x.Open == "" {
		return nil, ""
	}
	if m, ok := a.record.Readings[r.Of]; ok {
		m, how = x.settled(m)
		said := a.reading(w, m)
		return &said, how
	}
	one, ok := a.record.Workings[r.Of]
	if !ok || one.Instrument == (record.Instrument{}) || x.Open != "" && x.Calibration.Standing != gauge.CalibrationOverdue {
		return nil, ""
	}
	one.Instrument = finest
	if one.Inner != (record.Instrument{}) {
		one.Inner = finest
	}
	_, same = a.worked(r.Of, one)
	how = "if a finer instrument read the same"
	if x.Judgement.Discard.Decision != gauge.CannotDecide {
		how = "if the instrument's calibration still held"
	}
	return same, how
}

// settled is the reading as if what keeps it open were settled and it came to the
// same, and that condition in words.
func (x *Measurement) settled(m record.Reading) (record.Reading, string) {
	var how []string
	if x.few {
		how = append(how, "it were so at three places or more")
		m = sameAtThree(m, x)
	}
	switch {
	case x.Judgement.Discard.Decision == gauge.CannotDecide:
		how = append(how, "a finer instrument read the same")
		m = byInstrument(m, finest)
	case x.Calibration.Standing == gauge.CalibrationOverdue && x.Open != openPlaces:
		how = append(how, "the instrument's calibration still held")
		m.Instrument.Calibrated, m.Instrument.Due = "", ""
	}
	return m, "if " + strings.Join(how, " and ")
}

// sameAtThree is a reading as if the worst of its values had been found at three
// places.
func sameAtThree(m record.Reading, x *Measurement) record.Reading {
	worst := slices.IndexFunc(m.Values, func(v record.Value) bool {
		l, err := gauge.ParseLength(v.Text, x.Unit)
		return err == nil && !v.Stops && (x.Result.Where.Mean == 0 || l == x.Result.Where.Mean)
	})
	v := m.Values[max(worst, 0)]
	m.Values = nil
	for _, angle := range [roundPlaces]string{"0", "120", "240"} {
		v.Angle = angle
		m.Values = append(m.Values, v)
	}
	return m
}

// finest is an instrument that would decide whatever can be decided.
var finest = record.Instrument{Error: "0.00001 mm", Resolution: "0.00001 mm", Repeatability: "0.00001 mm"}

// interval reports whether gauges left the length between two sizes, or on one side
// of one.
func (x *Measurement) interval() bool { return x.Measured.Open != gauge.Both || x.Measured.Half > 0 }

// byInstrument is a reading as if another instrument had read the same. The zero of
// one says nothing of the other.
func byInstrument(m record.Reading, in record.Instrument) record.Reading {
	m.Instrument, m.ZeroBefore, m.ZeroAfter = in, "", ""
	return m
}

// enoughNamed is how many instruments are named that would do.
const enoughNamed = 3

// fineEnough names the shop's instruments by which the same figures would decide, or
// else the kinds of which a usual one would; empty where there is none.
func (a *assessor) fineEnough(w *work, m record.Reading) string {
	var names []string
	kinds := kindsFor(m)
	decides := func(in record.Instrument) bool {
		if !slices.Contains(kinds, gauge.InstrumentKind(in.Kind)) || in == m.Instrument {
			return false
		}
		y, err := a.weighReading(w, byInstrument(m, in))
		return err == nil && y.Judgement.Discard.Decision != gauge.CannotDecide && y.Calibration.Standing != gauge.CalibrationOverdue
	}
	for _, in := range a.instruments {
		if decides(in) {
			name := cmpOr(in.Name, strings.ReplaceAll(in.Kind, "-", " "))
			if in.Serial != "" {
				name += ", serial " + in.Serial
			}
			names = append(names, name)
		}
	}
	if len(names) > 0 {
		return "of the shop's, fine enough " + isAre(len(names)) + " " + strings.Join(names[:min(len(names), enoughNamed)], "; ")
	}
	for _, kind := range kinds {
		if decides(record.Instrument{Kind: string(kind)}) {
			names = append(names, "a "+strings.ReplaceAll(string(kind), "-", " "))
		}
	}
	if len(names) > 0 {
		return strings.Join(names, " or ") + " of the usual kind is fine enough"
	}
	return ""
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// takenBy are the kinds of instruments that show a number of a dimension, by the name
// that the specs give it: common practice, no source.
var takenBy = map[string][]gauge.InstrumentKind{
	diameterDimension: {gauge.Micrometer, gauge.Caliper},
	"thickness":       {gauge.Micrometer, gauge.Caliper},
	"free-length":     {gauge.Micrometer, gauge.Caliper},
	boreDimension:     {gauge.BoreGauge, gauge.TelescopicGauge, gauge.Caliper},
	"width":           {gauge.BoreGauge, gauge.TelescopicGauge, gauge.Caliper},
	"span":            {gauge.SpanMicrometer, gauge.Caliper},
	"run-out":         {gauge.DialIndicator},
	"end-float":       {gauge.DialIndicator},
	"backlash":        {gauge.DialIndicator},
}

// kindsFor are the kinds by which the dimension of a reading may be taken; of one
// that is not known, that by which it was.
func kindsFor(m record.Reading) []gauge.InstrumentKind {
	if kinds, ok := takenBy[m.Dimension]; ok {
		return kinds
	}
	if kind := gauge.InstrumentKind(m.Instrument.Kind); !kind.Interval() {
		return []gauge.InstrumentKind{kind}
	}
	return nil
}
