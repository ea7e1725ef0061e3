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
		a.settle(w, &reason)
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
		if _, ok := a.limit(w, m.Reading); !ok {
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
	x, err := a.weighReading(w, m)
	if err != nil {
		return unreadable(err)
	}
	r := a.decided(&x)
	r.Measurement = &x
	x.saysRound(&r)
	a.saysOverdue(&x, &r)
	return r
}

// saysOverdue tells that the calibration was overdue. In a warranty case the limit is
// then undecided.
func (a *assessor) saysOverdue(x *Measurement, r *Reason) {
	if x.Calibration.Standing != gauge.CalibrationOverdue {
		return
	}
	r.Text += " The instrument's calibration was overdue on that day (since " + x.Calibration.Due + ")."
	if a.record.Owner.Claim != "" && x.HasLimit {
		r.Verdicts, r.Remedy = all(term.Undecided), ""
		r.next = cmpOr(strings.TrimSuffix(r.next, "."), "Measure the "+x.Name+" again") + ", with an instrument whose calibration holds: this is a warranty case."
		x.Open = "the instrument's calibration was overdue"
	}
}

// decided words what a reading says of its limit.
func (a *assessor) decided(x *Measurement) Reason {
	size := upperFirst(x.Name) + " " + sizeSays(x.Measured, x.Unit)
	if !x.HasLimit {
		return Reason{Verdicts: all(term.Sound), Source: "no limit", Text: size + "; no limit is known for it."}
	}
	says := size + ", limit " + x.limitSays()
	switch x.Judgement.Discard.Decision {
	case gauge.DoesNotConform:
		return Reason{Verdicts: all(term.Condemned), Remedy: term.Replace, Source: x.Source, Text: says + ": worn past it."}
	case gauge.CannotDecide:
		return Reason{Source: x.Source, Text: says + ": cannot be decided with this instrument.",
			next: "Measure the " + x.Name + " with " + finer(x) + "."}
	}
	return a.wearUsed(x, says)
}

// limitSays shows the limit in the steps in which the length is shown, unless that
// would round it.
func (x *Measurement) limitSays() string {
	return x.Limit.Discard.WholeText(x.Unit, x.Measured.Resolution)
}

// sizeSays words a length with its uncertainty, or the interval that a feeler or
// plug gauge leaves.
func sizeSays(m gauge.Measured, unit gauge.Unit) string {
	step := cmpOr(m.Resolution, gauge.Micrometre)
	switch {
	case m.Open == gauge.Above:
		return "at least " + m.Value.Text(unit, step)
	case m.Open == gauge.Below:
		return "less than " + m.Value.Text(unit, step)
	case m.Half > 0:
		return "between " + (m.Value-m.Half).Text(unit, step) + " and " + (m.Value+m.Half).Text(unit, step)
	}
	return m.Text(unit)
}

// finer names the instrument that would decide a limit.
func finer(x *Measurement) string {
	if x.interval() {
		return "a gauge between these sizes, or an instrument that shows a number"
	}
	u := x.Judgement.Discard.LargestU
	allInAll := "all in all it must be good to ± " + gauge.LargestText(2*u, x.Unit)
	if largest := x.Measured.LargestError(u); largest > 0 {
		return "an instrument that errs by no more than " + gauge.LargestText(largest, x.Unit) + " (" + allInAll + ")"
	}
	if u > 0 {
		return "a finer instrument (" + allInAll + ")"
	}
	return "a finer instrument; it lies on the limit itself"
}

func (a *assessor) wearUsed(x *Measurement, says string) Reason {
	r := Reason{Verdicts: all(term.Sound), Source: x.Source, Text: says + ": within it."}
	if reuse := x.Judgement.Reuse; reuse != nil && reuse.Decision != gauge.Conforms {
		r.Verdicts, r.Text = all(term.Usable), says+": within it, but not surely within what the manual lets be used again without more ado."
	}
	if x.Judgement.Wear == nil {
		return r
	}
	// To a thousandth: a share is never finer than that.
	used := math.Round(x.Judgement.Wear.Used*1000) / 10
	if used < float64(a.wear.UsableFrom) {
		return r
	}
	r.Verdicts = all(term.Usable)
	r.Text = fmt.Sprintf("%s: within it, with %.0f %% of the allowance used%s.", says, used, wearWithin(x))
	if used >= float64(a.wear.NotHardFrom) {
		r.Verdicts[dutyIndex(term.HardDuty)] = term.Condemned
		r.Remedy = term.Replace
	}
	return r
}

// wearWithin says how well the share of the wear is known, to a whole percent.
func wearWithin(x *Measurement) string {
	_, k := x.Measured.Expanded(0.95)
	if within := math.Ceil(x.Judgement.Wear.Standard * k * 100); within >= 1 {
		return fmt.Sprintf(" (± %.0f %%)", within)
	}
	return ""
}

func unreadable(err error) Reason {
	return Reason{Source: "the reading", Text: "The reading can't be judged: " + err.Error() + ".",
		next: "Correct the reading."}
}
