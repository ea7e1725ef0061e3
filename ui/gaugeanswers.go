package ui

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fettlebook/assess/gauge"
)

// ask is one entry of a working; optional ones may stay empty.
type ask struct {
	id, label, hint string
	optional        bool
	// inside is whether it is taken inside a bore, for which there may be another
	// instrument.
	inside bool
}

// working is one thing that can be worked out.
type working struct {
	name, about string
	asks        []ask
	// work returns sentences, the outcome first.
	work func(in *answers) []string
}

// answers reads the entries of a working. It gathers what is missing and the
// first error, so that a working can read on.
type answers struct {
	g       *gaugeRoom
	unit    gauge.Unit
	missing []string
	notes   []string
	err     error
}

func (in *answers) fail(err error) {
	if in.err == nil && err != nil {
		in.err = err
	}
}

// ready reports whether all that was asked for was there and could be read.
func (in *answers) ready() bool { return in.err == nil && len(in.missing) == 0 }

func (in *answers) ask(id string) ask {
	at := slices.IndexFunc(in.g.chosen.asks, func(a ask) bool { return a.id == id })
	return in.g.chosen.asks[at]
}

// text is what was typed; ok is false for an empty entry, which is missing unless
// it is optional.
func (in *answers) text(id string) (text string, ok bool) {
	a := in.ask(id)
	text = strings.TrimSpace(in.g.entries[id].Text)
	if text == "" && !a.optional {
		in.missing = append(in.missing, a.label)
	}
	return text, text != ""
}

func (in *answers) has(id string) bool { return strings.TrimSpace(in.g.entries[id].Text) != "" }

func (in *answers) length(id string) gauge.Length {
	text, ok := in.text(id)
	if !ok {
		return 0
	}
	l, err := gauge.ParseLength(text, in.unit)
	if err != nil {
		in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: err})
	}
	return l
}

// lengths reads several lengths with blanks or semicolons between them; each may
// carry its unit.
func (in *answers) lengths(id string) []gauge.Length {
	var all []gauge.Length
	for _, one := range in.words(id) {
		l, err := gauge.ParseLength(one, in.unit)
		if err != nil {
			in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: err})
			return nil
		}
		all = append(all, l)
	}
	return all
}

// words are the lengths of a list, as typed.
func (in *answers) words(id string) []string {
	text, _ := in.text(id)
	var words []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' }) {
		if strings.ContainsAny(word, "0123456789") || len(words) == 0 {
			words = append(words, word)
			continue
		}
		words[len(words)-1] += " " + word
	}
	return words
}

// feelers reads what feeler gauges left at several places: the blade that goes in
// and the one that does not, as 0.90-0.95.
func (in *answers) feelers(id string, tool gauge.Instrument) []gauge.Measured {
	var all []gauge.Measured
	for _, one := range in.words(id) {
		g := gauge.GoNoGo{Instrument: tool}
		goes, stops, both := strings.Cut(one, "-")
		var err error
		if g.Goes, err = gauge.ParseLength(goes, in.unit); err == nil && both {
			g.Stops, err = gauge.ParseLength(stops, in.unit)
		}
		var m gauge.Measured
		if err == nil {
			m, err = g.Measured()
		}
		if err != nil {
			in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: err})
			return nil
		}
		all = append(all, m)
	}
	return all
}

// measured is a length with the uncertainty of the chosen instrument.
func (in *answers) measured(id string) gauge.Measured {
	l := in.length(id)
	if l == 0 || in.err != nil {
		return gauge.Measured{Value: l}
	}
	tool, err := in.g.instrument(in.unit, in.ask(id).inside)
	if err != nil {
		in.fail(err)
		return gauge.Measured{}
	}
	if tool == nil {
		return gauge.Exactly(l)
	}
	// What was typed to a micrometre was read to a micrometre.
	if e, err := gauge.ParseEntry(in.g.entries[id].Text, in.unit); err == nil {
		tool.Resolution = e.Step
	}
	r, err := gauge.Reading{Values: []gauge.Value{{Length: l}}, Instrument: *tool, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
	if err != nil {
		in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: err})
	}
	for _, note := range r.Notes {
		if !slices.Contains(in.notes, note) && strings.Contains(note, "usual values") {
			in.notes = append(in.notes, note)
		}
	}
	return r.Worst
}

// indicated is where a dial stands, on its zero and below it too.
func (in *answers) indicated(id string) gauge.Measured {
	l := in.length(id)
	if !in.ready() {
		return gauge.Measured{}
	}
	tool, err := in.g.instrument(in.unit, false)
	if err != nil || tool == nil {
		in.fail(err)
		return gauge.Exactly(l)
	}
	if e, err := gauge.ParseEntry(in.g.entries[id].Text, in.unit); err == nil {
		tool.Resolution = e.Step
	}
	m, err := gauge.Indicated(l, *tool)
	in.fail(err)
	if full, err := tool.Completed(); err == nil && len(full.Assumed) > 0 {
		if note := "usual values were taken for the instrument's " + and(full.Assumed); !slices.Contains(in.notes, note) {
			in.notes = append(in.notes, note)
		}
	}
	return m
}

func (in *answers) number(id string) float64 {
	text, ok := in.text(id)
	if !ok {
		return 0
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: fmt.Errorf("%q is not a number", shortened(text, 40))})
	}
	return v
}

func (in *answers) count(id string) int {
	v := in.number(id)
	if v != math.Trunc(v) || math.Abs(v) > 1e6 {
		in.fail(&gauge.FieldError{Field: in.ask(id).label, Err: fmt.Errorf("%g is not a whole number", v)})
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

// band reads the ends between which something must lie.
func (in *answers) band(low, high string) gauge.Tolerance {
	t := gauge.Tolerance{Lower: gauge.Length(math.Inf(-1)), Upper: gauge.Length(math.Inf(1))}
	if in.has(low) {
		t.Lower = in.length(low)
	}
	if in.has(high) {
		t.Upper = in.length(high)
	}
	return t
}

// kept is a result that may have failed.
type kept[T any] struct {
	value T
	err   error
}

func keep[T any](v T, err error) kept[T] { return kept[T]{v, err} }

// or gives the result, or has the answers keep why there is none.
func (k kept[T]) or(in *answers) T {
	if k.err != nil {
		in.fail(k.err)
	}
	return k.value
}

// size words a length with its uncertainty, if it has one.
func (in *answers) size(m gauge.Measured) string {
	if u, _ := m.Standard(); u == 0 {
		return m.Value.Text(in.unit, gauge.Micrometre)
	}
	return m.Text(in.unit)
}

func (in *answers) says(l gauge.Length) string { return l.Text(in.unit, gauge.Micrometre) }

// clearanceSays words a diametral clearance, below zero an interference.
func (in *answers) clearanceSays(m gauge.Measured) string {
	if m.Value < 0 {
		m.Value = -m.Value
		return in.size(m) + " interference, on the diameter"
	}
	return in.size(m) + " diametral clearance"
}

func (in *answers) fitSays(f gauge.Fit) string {
	word := func(l gauge.Length) string {
		if l < 0 {
			return in.says(-l) + " interference"
		}
		return in.says(l) + " clearance"
	}
	return fmt.Sprintf("%s fit: from %s to %s, on the diameter", f.Says(), word(f.Least), word(f.Most))
}

func decisionSays(v gauge.Verdict, of string) string {
	switch v.Decision {
	case gauge.Conforms:
		return "decided: " + of + " is within"
	case gauge.DoesNotConform:
		return "decided: " + of + " is outside"
	}
	return "cannot be decided with this instrument"
}
