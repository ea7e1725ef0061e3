package assess

import (
	"fmt"
	"slices"

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
	limit, dimension, ok := a.limit(w, m)
	if !ok {
		return Reason{Verdicts: all(term.Sound), Source: "no limit",
			Text: fmt.Sprintf("The %s was measured; no limit is known for it.", m.Dimension)}
	}
	at := gauge.Limit{Grows: dimension.Grows}
	var err error
	if at.At, err = gauge.ParseLength(limit.Discard, gauge.Millimetre); err != nil {
		return unreadable(err)
	}
	worst, text, err := worstValue(m, dimension.Grows)
	if err != nil {
		return unreadable(err)
	}
	plusMinus, err := errorOf(m.Instrument)
	if err != nil {
		return unreadable(err)
	}
	says := fmt.Sprintf("%s %s %s, limit %s", upperFirst(dimension.Name), text, m.Unit, limit.Discard)
	switch at.Decide(worst, plusMinus) {
	case gauge.DoesNotConform:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: limit.Source, Text: says + ": worn past it."}
	case gauge.CannotDecide:
		return Reason{Source: limit.Source, Text: says + ": too near to the limit for this instrument.",
			next: "Measure the " + dimension.Name + " with a finer instrument."}
	}
	return a.wearUsed(at, limit, worst, says)
}

func (a *assessor) wearUsed(at gauge.Limit, limit *spec.Limit, worst gauge.Length, says string) Reason {
	r := Reason{Verdicts: all(term.Sound), Source: limit.Source, Text: says + ": within it."}
	nominal, err := gauge.ParseLength(limit.Nominal, gauge.Millimetre)
	if limit.Nominal == "" || err != nil {
		return r
	}
	used, ok := at.WearUsed(nominal, worst)
	if !ok || used*100 < float64(a.wear.UsableFrom) {
		return r
	}
	r.Verdicts = all(term.Usable)
	r.Text = fmt.Sprintf("%s: within it, with %.0f %% of the allowance used.", says, used*100)
	if used*100 >= float64(a.wear.NotHardFrom) {
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

// worstValue returns the value that lies nearest to being discarded, and its text.
func worstValue(m record.Reading, grows bool) (gauge.Length, string, error) {
	var worst gauge.Length
	var text string
	for i, v := range m.Values {
		length, err := gauge.ParseLength(v.Text, gauge.Unit(m.Unit))
		if err != nil {
			return 0, "", err
		}
		if i == 0 || (length > worst) == grows {
			worst, text = length, v.Text
		}
	}
	return worst, text, nil
}

// errorOf returns the half-width within which the instrument can be trusted:
// its permissible error, or its resolution where no error is given.
func errorOf(in record.Instrument) (gauge.Length, error) {
	text := cmpOr(in.Error, in.Resolution)
	if text == "" {
		return 0, fmt.Errorf("the instrument's permissible error is not given")
	}
	return gauge.ParseLength(text, gauge.Millimetre)
}

func unreadable(err error) Reason {
	return Reason{Source: "the reading", Text: "The reading can't be judged: " + err.Error() + ".",
		next: "Correct the reading."}
}
