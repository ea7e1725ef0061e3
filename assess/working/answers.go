package working

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fettlebook/assess/gauge"
)

// answers reads the entries of a case. It gathers what is missing and the first
// error, so that a working can read on.
type answers struct {
	Case
	w       *Working
	missing []string
	notes   []string
	err     error
}

func (in *answers) fail(err error) {
	if in.err == nil && err != nil {
		in.err = err
	}
}

// refuse fails at an entry.
func (in *answers) refuse(id, format string, args ...any) {
	in.fail(&gauge.FieldError{Field: in.label(id), Err: fmt.Errorf(format, args...)})
}

// ready reports whether all that was asked for was there and could be read.
func (in *answers) ready() bool { return in.err == nil && len(in.missing) == 0 }

func (in *answers) label(id string) string {
	a, _ := in.w.Ask(id)
	return a.Label
}

func (in *answers) has(id string) bool { return strings.TrimSpace(in.Entries[id]) != "" }

func (in *answers) lack(what string) {
	if in.ready() {
		in.missing = append(in.missing, what)
	}
}

// text is what was typed; ok is false for an empty entry, which is missing unless
// it is optional.
func (in *answers) text(id string) (text string, ok bool) {
	a, _ := in.w.Ask(id)
	text = strings.TrimSpace(in.Entries[id])
	if text == "" && !a.Optional {
		in.missing = append(in.missing, a.Label)
	}
	return text, text != ""
}

func (in *answers) length(id string) gauge.Length {
	text, ok := in.text(id)
	if !ok {
		return 0
	}
	l, err := gauge.ParseLength(text, in.Unit)
	if err != nil {
		in.refuse(id, "%w", err)
	}
	return l
}

// lengths reads several lengths; each may carry its unit.
func (in *answers) lengths(id string) []gauge.Length {
	text, _ := in.text(id)
	var list []gauge.Length
	for _, one := range words(text) {
		l, err := gauge.ParseLength(one, in.Unit)
		if err != nil {
			in.refuse(id, "%w", err)
			return nil
		}
		list = append(list, l)
	}
	return list
}

// words are the lengths of a list, as typed.
func words(text string) []string {
	var list []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' }) {
		if strings.ContainsAny(word, "0123456789") || len(list) == 0 {
			list = append(list, word)
			continue
		}
		list[len(list)-1] += " " + word
	}
	return list
}

// WithUnit adds the unit to lengths as typed that name none, so that they mean the
// same wherever another unit is in force. What is no length stays.
func (a Ask) WithUnit(text string, unit gauge.Unit) string {
	switch a.Takes {
	case Length:
		return gauge.WithUnit(text, unit)
	case Lengths:
		list := words(text)
		for i, one := range list {
			goes, stops, feelers := strings.Cut(one, "-")
			list[i] = gauge.WithUnit(one, unit)
			if feelers && goes != "" {
				list[i] = strings.ReplaceAll(gauge.WithUnit(goes, unit)+"-"+gauge.WithUnit(stops, unit), " ", "")
			}
		}
		return strings.Join(list, "; ")
	}
	return text
}

// gaps reads the gaps round a ring. Feeler gauges leave the blade that goes in and
// the one that does not, as 0.90-0.95.
func (in *answers) gaps(id string) []gauge.Measured {
	tool := in.Instrument
	if tool == nil || !tool.Kind.Interval() {
		var list []gauge.Measured
		for _, l := range in.lengths(id) {
			list = append(list, in.taken(id, l, 0, false))
		}
		return list
	}
	text, _ := in.text(id)
	var list []gauge.Measured
	for _, one := range words(text) {
		g := gauge.GoNoGo{Instrument: *tool}
		goes, stops, both := strings.Cut(one, "-")
		var err error
		if g.Goes, err = gauge.ParseLength(goes, in.Unit); err == nil && both {
			g.Stops, err = gauge.ParseLength(stops, in.Unit)
		}
		var m gauge.Measured
		if err == nil {
			m, err = g.Measured()
		}
		if err != nil {
			in.refuse(id, "%w", err)
			return nil
		}
		list = append(list, m)
	}
	in.assumed(*tool)
	return list
}

// distance is a length that a thing has: above zero, if it was typed.
func (in *answers) distance(id string) gauge.Length {
	l := in.length(id)
	if in.has(id) && in.err == nil && l <= 0 {
		in.refuse(id, "it must be above zero")
	}
	return l
}

// measured is a length with the uncertainty of its instrument.
func (in *answers) measured(id string) gauge.Measured {
	l := in.length(id)
	if in.err == nil && l < 0 {
		in.refuse(id, "it must not be below zero")
	}
	if l == 0 || in.err != nil {
		return gauge.Measured{Value: l}
	}
	a, _ := in.w.Ask(id)
	return in.taken(id, l, in.step(id), a.Inside)
}

// step is what one in the last place typed is worth: what was typed to a micrometre
// was read to a micrometre.
func (in *answers) step(id string) gauge.Length {
	e, err := gauge.ParseEntry(in.Entries[id], in.Unit)
	if err != nil || e.Length == 0 && !strings.ContainsAny(e.Text, ".,") {
		return 0 // a bare 0 of a dial on its zero says nothing of its steps
	}
	return e.Step
}

// taken puts the uncertainty of the instrument to a length.
func (in *answers) taken(id string, l, step gauge.Length, inside bool) gauge.Measured {
	tool := in.tool(step, inside)
	if tool == nil || in.err != nil {
		return gauge.Exactly(l)
	}
	r, err := gauge.Reading{Values: []gauge.Value{{Length: l}}, Instrument: *tool, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
	if err != nil {
		in.refuse(id, "%w", bare(err))
	}
	in.assumed(*tool)
	return r.Worst
}

// bare is an error without the field of the gauge's own that it names: the entry
// has its own label.
func bare(err error) error {
	if field, ok := err.(*gauge.FieldError); ok {
		return field.Err
	}
	return err
}

// tool is the instrument of a size, nil for sizes as written. Its resolution is the
// instrument's own, else the step that was typed.
func (in *answers) tool(step gauge.Length, inside bool) *gauge.Instrument {
	if in.Instrument == nil {
		return nil
	}
	tool := *in.Instrument
	if inside && in.Inner != nil {
		tool = *in.Inner
	}
	if tool.Name == "" {
		// Two sizes by one instrument share its error, also where it has no name.
		tool.Name = strings.ReplaceAll(string(tool.Kind), "-", " ")
		if inside && in.Inner != nil {
			tool.Name += " for bores"
		}
	}
	if tool.Resolution == 0 {
		tool.Resolution = step
	}
	return &tool
}

// assumed notes which usual values stand for what the instrument does not tell.
func (in *answers) assumed(tool gauge.Instrument) {
	full, err := tool.Completed()
	if err != nil || len(full.Assumed) == 0 {
		return
	}
	note := "usual values were taken for the " + strings.ReplaceAll(string(tool.Kind), "-", " ") + "'s " + and(full.Assumed)
	if !slices.Contains(in.notes, note) {
		in.notes = append(in.notes, note)
	}
}

// indicated is where a dial stands, on its zero and below it too.
func (in *answers) indicated(id string) gauge.Measured {
	l := in.length(id)
	if !in.ready() {
		return gauge.Measured{}
	}
	tool := in.tool(in.step(id), false)
	if tool == nil {
		return gauge.Exactly(l)
	}
	m, err := gauge.Indicated(l, *tool)
	if err != nil {
		in.refuse(id, "%w", bare(err))
	}
	in.assumed(*tool)
	return m
}

func (in *answers) number(id string) float64 {
	text, ok := in.text(id)
	if !ok {
		return 0
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		in.refuse(id, "%q is not a number", shortened(text))
	}
	return v
}

func (in *answers) count(id string) int {
	v := in.number(id)
	if v != math.Trunc(v) || math.Abs(v) > 1e6 {
		in.refuse(id, "%g is not a whole number", v)
	}
	return int(v)
}

func (in *answers) class(id string) gauge.Class {
	text, ok := in.text(id)
	if !ok {
		return gauge.Class{}
	}
	c, err := gauge.ParseClass(text)
	in.fail(err)
	return c
}

// material is the expansion of what a part is made of, per kelvin: steel where
// nothing is said.
func (in *answers) material(id string) float64 {
	text, _ := in.text(id)
	by, err := gauge.ExpansionOf(text)
	if err != nil {
		in.refuse(id, "%w", err)
	}
	return by
}

// band reads the ends between which something must lie; ok is false where neither
// was typed.
func (in *answers) band(low, high string) (t gauge.Tolerance, ok bool) {
	t = gauge.Tolerance{Lower: gauge.Length(math.Inf(-1)), Upper: gauge.Length(math.Inf(1))}
	if in.has(low) {
		t.Lower = in.length(low)
	}
	if in.has(high) {
		t.Upper = in.length(high)
	}
	if in.has(low) && in.has(high) && in.err == nil && t.Lower >= t.Upper {
		in.refuse(high, "it is not above the other end of the band; swap them")
	}
	return t, in.has(low) || in.has(high)
}

// worn holds an outcome to the limit that was typed, if one was. Doubt is told with
// [Worn].
func (in *answers) worn(out *Result, id string, grows bool, doubt string) {
	if !in.has(id) || out.Measured == nil || !in.ready() {
		return
	}
	l := gauge.Limit{Grows: grows, Discard: in.length(id)}
	if in.err == nil && l.Discard <= 0 {
		in.refuse(id, "it must be above zero")
	}
	if in.err != nil {
		return
	}
	in.wornBy(out, l, keep(l.Judge(*out.Measured, in.Rule)).or(in), doubt)
}

func (in *answers) wornBy(out *Result, l gauge.Limit, j gauge.Judgement, doubt string) {
	said := decisionSays(j.Discard, "it")
	if doubt != "" && j.Discard.Decision == gauge.DoesNotConform {
		said = "not decided: " + doubt
	}
	out.Worn = &Worn{Limit: l, Judgement: j, Doubt: doubt, Says: "limit " + in.again(l.Discard) + ": " + said}
}

// kept is a result that may have failed.
type kept[T any] struct {
	value T
	err   error
}

func keep[T any](v T, err error) kept[T] { return kept[T]{v, err} }

// or gives the result, or has the answers keep why there is none.
func (k kept[T]) or(in *answers) T {
	in.fail(k.err)
	return k.value
}
