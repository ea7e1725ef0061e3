package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// measure adds what the readings say against the unit's limits.
func (a *assessor) measure(w *work) {
	for _, m := range a.readings[w.ID] {
		reason := a.reading(w, m.Reading)
		reason.Of, reason.work = m.id, ToMeasure
		w.say(m.Surface, reason)
	}
}

// measuredWell reports whether a dimension of the surface was measured and lies
// within its limit.
func (a *assessor) measuredWell(w *work, f *spec.Surface) bool {
	return slices.ContainsFunc(a.readings[w.ID], func(m reading) bool {
		if m.Surface != f.ID {
			return false
		}
		if _, _, ok := a.limit(w, m.Reading); !ok {
			return false
		}
		// What the reading itself rules out, it rules out by its own reason.
		by := a.reading(w, m.Reading).Verdicts
		return slices.ContainsFunc(by[:], term.Verdict.Serves)
	})
}

// say adds a reason to one surface, or to the part where the surface is not known.
func (w *work) say(surface string, r Reason) {
	for i := range w.Surfaces {
		if w.Surfaces[i].ID == surface {
			w.Surfaces[i].Reasons = append(w.Surfaces[i].Reasons, r)
			return
		}
	}
	w.Reasons = append(w.Reasons, r)
}

func (a *assessor) reading(w *work, m record.Reading) Reason {
	known, dimension, ok := a.limit(w, m)
	if !ok {
		return Reason{Verdicts: all(term.Sound), Source: "no limit",
			Text: fmt.Sprintf("The %s was measured; no limit is known for it.", strings.ReplaceAll(m.Dimension, "-", " "))}
	}
	limit, err := limitOf(known, dimension)
	if err != nil {
		return unreadable(err)
	}
	measured, err := evaluate(m, dimension.Grows)
	if err != nil {
		return unreadable(err)
	}
	judged, err := limit.Judge(measured, gauge.By95)
	if err != nil {
		return unreadable(err)
	}
	says := fmt.Sprintf("%s %s, limit %s", upperFirst(dimension.Name), measured.Text(gauge.Unit(m.Unit)), known.Discard)
	switch judged.Discard.Decision {
	case gauge.DoesNotConform:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: known.Source, Text: says + ": worn past it."}
	case gauge.CannotDecide:
		return Reason{Source: known.Source, Text: says + ": cannot be decided with this instrument.",
			next: "Measure the " + dimension.Name + " with " + finer(measured, judged.Discard, gauge.Unit(m.Unit)) + "."}
	}
	return a.wearUsed(judged, known, says)
}

// finer names the instrument that would decide a limit.
func finer(m gauge.Measured, v gauge.Verdict, unit gauge.Unit) string {
	if largest := m.LargestError(v.LargestU); largest > 0 {
		return "an instrument that errs by no more than " + gauge.UncertaintyText(largest, unit)
	}
	return "a finer instrument, and more than once at the same place"
}

// limitOf reads the lengths of a limit.
func limitOf(known *spec.Limit, dimension *spec.Dimension) (gauge.Limit, error) {
	l := gauge.Limit{Grows: dimension.Grows}
	for _, one := range []struct {
		text string
		into *gauge.Length
	}{{known.Nominal, &l.Nominal}, {known.Reuse, &l.Reuse}, {known.Discard, &l.Discard}} {
		if one.text == "" {
			continue
		}
		var err error
		if *one.into, err = gauge.ParseLength(one.text, gauge.Millimetre); err != nil {
			return gauge.Limit{}, err
		}
	}
	return l, l.Check()
}

// evaluate comes to the length at the worst place with its uncertainty.
func evaluate(m record.Reading, grows bool) (gauge.Measured, error) {
	in, err := instrumentOf(m.Instrument)
	if err != nil {
		return gauge.Measured{}, err
	}
	r := gauge.Reading{Grows: grows, Instrument: in}
	texts := make([]string, len(m.Values))
	for i, v := range m.Values {
		texts[i] = v.Text
	}
	entries, err := gauge.ParseRow("values", texts, gauge.Unit(m.Unit))
	if err != nil {
		return gauge.Measured{}, err
	}
	// What was read is no finer than what was typed.
	r.Instrument.Resolution = cmpOr(in.Resolution, entries[0].Step)
	for i, e := range entries {
		r.Values = append(r.Values, gauge.Value{Length: e.Length, Position: m.Values[i].Position})
	}
	result, err := r.Evaluate()
	return result.Worst, err
}

// instrumentOf reads the lengths of an instrument.
func instrumentOf(in record.Instrument) (gauge.Instrument, error) {
	if in.Error == "" && in.Resolution == "" {
		return gauge.Instrument{}, fmt.Errorf("neither the instrument's permissible error nor its resolution is given")
	}
	out := gauge.Instrument{Name: in.Name, Serial: in.Serial, Calibrated: in.Calibrated}
	for _, one := range []struct {
		text string
		into *gauge.Length
	}{{in.Resolution, &out.Resolution}, {in.Error, &out.Error}} {
		if one.text == "" {
			continue
		}
		var err error
		if *one.into, err = gauge.ParseLength(one.text, gauge.Millimetre); err != nil {
			return gauge.Instrument{}, err
		}
	}
	return out, nil
}

func (a *assessor) wearUsed(judged gauge.Judgement, limit *spec.Limit, says string) Reason {
	r := Reason{Verdicts: all(term.Sound), Source: limit.Source, Text: says + ": within it."}
	if judged.Wear == nil {
		return r
	}
	// To a thousandth: a share is never finer than that.
	used := math.Round(judged.Wear.Used*1000) / 10
	if used < float64(a.wear.UsableFrom) {
		return r
	}
	r.Verdicts = all(term.Usable)
	r.Text = fmt.Sprintf("%s: within it, with %.0f %% of the allowance used.", says, used)
	if used >= float64(a.wear.NotHardFrom) {
		r.Verdicts[dutyIndex(term.HardDuty)] = term.Condemned
		r.Remedy = term.Replace
	}
	return r
}

func (a *assessor) limit(w *work, m record.Reading) (*spec.Limit, *spec.Dimension, bool) {
	surface, _, ok := w.kind.Surface(m.Surface)
	if !ok || a.unit == nil {
		return nil, nil, false
	}
	variant := cmpOr(w.entry.Variant, a.record.Unit.Variant)
	for i := range a.unit.Limits {
		l := &a.unit.Limits[i]
		if l.Place != w.Place || l.Surface != m.Surface || l.Dimension != m.Dimension || (l.Variant != "" && l.Variant != variant) {
			continue
		}
		for j := range surface.Dimensions {
			if surface.Dimensions[j].ID == m.Dimension {
				return l, &surface.Dimensions[j], true
			}
		}
	}
	return nil, nil, false
}

func unreadable(err error) Reason {
	return Reason{Source: "the reading", Text: "The reading can't be judged: " + err.Error() + ".",
		next: "Correct the reading."}
}
