package assess

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// Measurement is what a reading comes to in numbers: for who wants to see how a
// limit was decided.
type Measurement struct {
	// Name is the dimension's, Unit that in which it was read.
	Name string
	Unit gauge.Unit
	// Measured is the length at the worst place with its budget. Result holds the
	// places, the form and the instrument; of feeler and plug gauges it is empty.
	Measured gauge.Measured
	Result   gauge.Result
	// HasLimit says that a limit is known: Limit, Source and Judgement then hold.
	HasLimit  bool
	Limit     gauge.Limit
	Source    string
	Judgement gauge.Judgement
	Rule      gauge.Rule
	// Calibration is how the instrument's stood on the day of the reading.
	Calibration gauge.Calibration
	// Ring is how a dimension that is taken round a part lies there, nil for any
	// other and for too few places.
	Ring *gauge.RingGap
	// Open says why the reading decides nothing although its figure would; empty
	// where it does not.
	Open string
	// Would says of a reading that decides nothing what it would be and if what were
	// settled; Needs is what would settle it. Both are empty where it is not known.
	Would, Needs string
	// Notes are what must be known to trust the figure.
	Notes []string
	// tries are what feeler or plug gauges left at each place, the worst end first;
	// round are all places in the order in which they were taken.
	tries []gauge.Measured
	round []gauge.GapPoint
	few   bool
}

// Says tells the length with its uncertainty, or the interval that a feeler or plug
// gauge leaves.
func (x *Measurement) Says() string { return sizeSays(x.Measured, x.Unit) }

// weighReading works out a reading of a part whose kind the specs know. Unit is the
// unit's spec, nil where none is known. An error says what can't be read.
func (a *assessor) weighReading(w *work, m record.Reading) (Measurement, error) {
	out := Measurement{Name: strings.ReplaceAll(m.Dimension, "-", " "), Unit: gauge.Unit(m.Unit), Rule: a.rules}
	grows := false
	if d := dimensionOf(w.kind, m); d != nil {
		out.Name, grows = d.Name, d.Grows
	}
	in, err := instrumentOf(m.Instrument)
	if err != nil {
		return out, err
	}
	if d := dimensionOf(w.kind, m); d != nil && in.Kind.Interval() && !d.Grows && !d.Round {
		return out, fmt.Errorf("a %s goes into gaps and bores; the %s wants an instrument that shows a size", strings.ReplaceAll(string(in.Kind), "-", " "), out.Name)
	}
	if err := out.evaluate(m, in, grows); err != nil {
		return out, err
	}
	if d := dimensionOf(w.kind, m); d != nil && d.Round {
		out.lieRound(m)
	}
	a.calibrated(&out, m.Instrument, m.At)
	limit, ok := a.limit(w, m)
	if !ok {
		return out, nil
	}
	if out.Limit, err = limit.Lengths(grows); err != nil {
		return out, fmt.Errorf("the limit: %w", err)
	}
	out.HasLimit, out.Source = true, limit.Source
	out.Judgement, err = out.Limit.Judge(out.Measured, a.rules)
	if err == nil {
		err = out.worstTry()
	}
	return out, err
}

// worstTry takes the place that decides where gauges left an interval at several:
// the widest interval may reach furthest and yet prove less than a narrow one that
// lies wholly beyond the limit.
func (out *Measurement) worstTry() error {
	harder := map[gauge.Decision]int{gauge.Conforms: 0, gauge.CannotDecide: 1, gauge.DoesNotConform: 2}
	for _, m := range out.tries {
		j, err := out.Limit.Judge(m, out.Rule)
		if err != nil {
			return err
		}
		if harder[j.Discard.Decision] > harder[out.Judgement.Discard.Decision] {
			out.Measured, out.Judgement = m, j
		}
	}
	return nil
}

// calibration tells how the instrument's stood on a day. Dates that are none make
// it unknown and the reading no worse: earlier records hold whatever was typed.
func (out *Measurement) calibration(typed record.Instrument, in gauge.Instrument, day string) {
	if in.Calibrated != typed.Calibrated || in.Due != typed.Due {
		out.Notes = append(out.Notes, "the date of the instrument's calibration can't be read; write it as 2026-05-12")
	}
	if day == "" {
		return
	}
	c, err := in.CalibrationOn(day)
	if err != nil {
		out.Notes = append(out.Notes, err.Error())
		return
	}
	out.Calibration = c
}

// calibrated notes how the calibration of the instrument stood on the day. Of two
// instruments one that was overdue is enough.
func (a *assessor) calibrated(out *Measurement, typed record.Instrument, at record.Stamp) {
	in, err := instrumentOf(typed)
	if err != nil || out.Calibration.Standing == gauge.CalibrationOverdue {
		return
	}
	out.calibration(typed, in, a.dayOf(at))
	if out.Calibration.Standing == gauge.CalibrationOverdue {
		out.Notes = append(out.Notes, "the instrument's calibration was overdue since "+out.Calibration.Due)
	}
}

func dimensionOf(kind *spec.Kind, m record.Reading) *spec.Dimension {
	surface, _, ok := kind.Surface(m.Surface)
	if !ok {
		return nil
	}
	i := slices.IndexFunc(surface.Dimensions, func(d spec.Dimension) bool { return d.ID == m.Dimension })
	if i < 0 {
		return nil
	}
	return &surface.Dimensions[i]
}

// evaluate comes to the length at the worst place.
func (out *Measurement) evaluate(m record.Reading, in gauge.Instrument, grows bool) error {
	texts := make([]string, len(m.Values))
	for i, v := range m.Values {
		texts[i] = v.Text
	}
	entries, err := gauge.ParseRow("values", texts, out.Unit)
	if err != nil {
		return err
	}
	if in.Kind.Interval() {
		return out.tried(m, in, entries, grows)
	}
	// What was read is no finer than what was typed.
	in.Resolution = cmpOr(in.Resolution, entries[0].Step)
	r := gauge.Reading{Grows: grows, Instrument: in}
	for i, e := range entries {
		angle, err := angleOf(m.Values[i].Angle)
		if err != nil {
			return err
		}
		r.Values = append(r.Values, gauge.Value{Length: e.Length, Position: m.Values[i].Position, Angle: angle})
	}
	if r.Before, err = offset("zero check before", m.ZeroBefore, out.Unit); err != nil {
		return err
	}
	if r.After, err = offset("zero check after", m.ZeroAfter, out.Unit); err != nil {
		return err
	}
	if r.Temperatures, err = temperaturesOf(m); err != nil {
		return err
	}
	out.Result, err = r.Evaluate()
	out.Measured = out.Result.Worst
	out.Notes = slices.Clone(out.Result.Notes)
	return err
}

// tried comes to the length that feeler or plug gauges leave at the worst place.
func (out *Measurement) tried(m record.Reading, in gauge.Instrument, entries []gauge.Entry, grows bool) error {
	places := map[string]*gauge.GoNoGo{}
	var order []string
	for i, e := range entries {
		at := m.Values[i].Position + "|" + m.Values[i].Angle
		g := places[at]
		if g == nil {
			g = &gauge.GoNoGo{Instrument: in}
			places[at], order = g, append(order, at)
		}
		if m.Values[i].Stops {
			if g.Stops == 0 || e.Length < g.Stops {
				g.Stops = e.Length
			}
			continue
		}
		g.Goes = max(g.Goes, e.Length)
	}
	for _, at := range order {
		measured, err := places[at].Measured()
		if err != nil {
			return err
		}
		out.tries = append(out.tries, measured)
		_, typed, _ := strings.Cut(at, "|")
		angle, err := angleOf(typed)
		if err != nil {
			return err
		}
		out.round = append(out.round, gauge.GapPoint{Gap: measured, Angle: angle})
	}
	slices.SortStableFunc(out.tries, func(x, y gauge.Measured) int {
		if grows {
			x, y = y, x
		}
		return cmp.Compare(wornEnd(x, grows), wornEnd(y, grows))
	})
	out.Measured = out.tries[0]
	return nil
}

// wornEnd is how far worn the length may be at the most.
func wornEnd(m gauge.Measured, grows bool) float64 {
	switch {
	case grows && m.Open == gauge.Above:
		return math.Inf(1)
	case !grows && m.Open == gauge.Below:
		return 0
	case grows:
		return float64(m.Value + m.Half)
	}
	return float64(m.Value - m.Half)
}

// CheckInstrument says what can't be read or can't be of an instrument. Days that
// are none pass: earlier records and lists hold whatever was typed.
func CheckInstrument(in record.Instrument) error {
	_, err := instrumentOf(in)
	return err
}

// CheckDays says what is wrong with the days of an instrument's calibration.
func CheckDays(in record.Instrument) error {
	one := gauge.Instrument{Kind: gauge.Micrometer, Calibrated: in.Calibrated, Due: in.Due}
	if err := one.Check(); err != nil {
		return err
	}
	_, err := one.CalibrationOn("2026-01-01") // any day shows days in the wrong order
	return err
}

// CheckReading says what can't be read or can't be of a reading. Where one entry is
// at fault, it is a [gauge.FieldError].
func CheckReading(m record.Reading) error {
	in, err := instrumentOf(m.Instrument)
	if err == nil {
		out := Measurement{Unit: gauge.Unit(m.Unit)}
		err = out.evaluate(m, in, false)
	}
	return err
}

// instrumentOf reads what the record says of the instrument.
func instrumentOf(in record.Instrument) (gauge.Instrument, error) {
	out := gauge.Instrument{
		Kind: gauge.InstrumentKind(in.Kind), Name: in.Name, Serial: in.Serial,
		Calibrated: dayOrNone(in.Calibrated), Due: dayOrNone(in.Due), Certificate: in.Certificate, Standard: in.Standard,
	}
	for _, one := range []struct {
		name, text string
		into       *gauge.Length
	}{
		{"resolution", in.Resolution, &out.Resolution}, {"permissible error", in.Error, &out.Error},
		{"repeatability", in.Repeatability, &out.Repeatability}, {"transfer", in.Transfer, &out.Transfer},
	} {
		if one.text == "" {
			continue
		}
		var err error
		if *one.into, err = gauge.ParseLength(one.text, gauge.Millimetre); err != nil {
			return gauge.Instrument{}, &gauge.FieldError{Field: "instrument " + one.name, Err: err}
		}
	}
	return out, out.Check()
}

func dayOrNone(text string) string {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return ""
	}
	return text
}

func temperaturesOf(m record.Reading) (gauge.Temperatures, error) {
	t := gauge.Temperatures{Soaked: m.Soaked, Known: m.PartTemperature != ""}
	var err error
	if t.PartExpansion, err = gauge.ExpansionOf(m.Material); err != nil {
		return t, err
	}
	if t.Part, err = number("temperature of the part", m.PartTemperature); err != nil {
		return t, err
	}
	t.Instrument = t.Part
	if m.InstrumentTemperature != "" {
		t.Instrument, err = number("temperature of the instrument", m.InstrumentTemperature)
	} else {
		t.PartOnly = t.Known && !t.Soaked
	}
	return t, err
}

// angleOf reads an angle round a part.
func angleOf(text string) (float64, error) {
	angle, err := number("angle", text)
	if err == nil && math.Abs(angle) > 360 {
		err = &gauge.FieldError{Field: "angle", Err: fmt.Errorf("%g° is more than once round", angle)}
	}
	return angle, err
}

// number reads a number as typed; an empty text is zero.
func number(field, text string) (float64, error) {
	text = strings.TrimSpace(strings.TrimRight(strings.TrimSpace(text), "°C"))
	if text == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, &gauge.FieldError{Field: field, Err: fmt.Errorf("%q is not a number", text)}
	}
	return v, nil
}

// offset reads what an instrument showed on its zero; nil where nobody looked.
func offset(field, text string, unit gauge.Unit) (*gauge.Length, error) {
	if text == "" {
		return nil, nil
	}
	l, err := gauge.ParseLength(text, unit)
	if err != nil {
		return nil, &gauge.FieldError{Field: field, Err: err}
	}
	return &l, nil
}

// dayOf is the day on which something was measured: its own, else that of the strip,
// else that on which the core came in; empty where none is known.
func (a *assessor) dayOf(at record.Stamp) string {
	if t, err := at.Time(); err == nil {
		return t.Format("2006-01-02")
	}
	return cmpOr(a.record.Dates.Stripped, a.record.Dates.Received)
}

// limit returns the limit that holds for a reading: the newest that a person
// typed in for this part, else that of the unit's spec.
func (a *assessor) limit(w *work, m record.Reading) (spec.Limit, bool) {
	if id, ok := TypedLimit(a.record, w.ID, m.Surface, m.Dimension); ok {
		l := a.record.Limits[id]
		return spec.Limit{Nominal: l.Nominal, New: l.New, Reuse: l.Reuse, Discard: l.Discard, Source: LimitSource(a.record, l)}, true
	}
	if a.unit == nil || dimensionOf(w.kind, m) == nil {
		return spec.Limit{}, false
	}
	variant := cmpOr(w.entry.Variant, a.record.Unit.Variant)
	for _, l := range a.unit.Limits {
		if l.Place == w.Place && l.Surface == m.Surface && l.Dimension == m.Dimension && (l.Variant == "" || l.Variant == variant) {
			return l, true
		}
	}
	return spec.Limit{}, false
}
