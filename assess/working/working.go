// Package working holds what can be worked out of several measured sizes: the
// clearance behind the rock of a shaft, the shim that brings a float into its
// band, the thickness that teeth have lost. Each working asks for entries as they
// are typed and gives sentences, numbers with their uncertainty, and the decision
// against the limit or band that was typed with them.
//
// It knows no records, no window and no clock.
package working

import (
	"slices"

	"fettlebook/assess/gauge"
)

// Takes is what an entry holds.
type Takes uint8

// What entries hold. Lengths are several, with blanks or semicolons between them.
const (
	Length Takes = iota
	Lengths
	Number
	Word
)

// Ask is one entry of a working. Its ID is kept in records: one ID means the same
// in every working, and is never given another meaning.
type Ask struct {
	ID, Label, Hint string
	Takes           Takes
	// Optional entries may stay empty.
	Optional bool
	// Inside is whether it is taken inside a bore, for which there may be another
	// instrument.
	Inside bool
	// Limit is whether it comes out of the manual, and so needs a source before it
	// decides anything.
	Limit bool
}

// Working is one thing that can be worked out. Its ID is kept in records.
type Working struct {
	ID, Name, About string
	// With is the kind of instrument that is usual for it, empty where nothing is
	// measured with one: common practice, no source.
	With gauge.InstrumentKind
	Asks []Ask
	// work puts what the entries come to into a result.
	work func(*answers, *Result)
}

// Case is a working with what was typed for it.
type Case struct {
	// Entries are as typed, by the IDs of their asks; what no ask knows is passed
	// over. Unit is that of lengths that name none.
	Entries map[string]string
	Unit    gauge.Unit
	// Instrument took the sizes, nil for sizes as written, without uncertainty. Inner
	// took those inside bores, nil for the same instrument: its error is then one and
	// the same in both, and falls out of their difference.
	Instrument, Inner *gauge.Instrument
	Rule              gauge.Rule
}

// Result is what a working comes to.
type Result struct {
	// Lines are sentences without capital and full stop, the outcome first; how it
	// stands to a limit or a band is said apart. Notes are what must be known to trust
	// it.
	Lines, Notes []string
	// Missing are the labels of what is still to be entered. Err, mostly a
	// [*gauge.FieldError] under the label of its entry, says what can't be read or
	// can't be. With either there are no lines.
	Missing []string
	Err     error
	// Of names what was found: "diametral clearance by rock". Measured is that
	// length, nil where a working finds none; Torque is a turning torque.
	Of       string
	Measured *gauge.Measured
	Torque   *gauge.Torque
	// Worn is set where a limit was typed, Setting where a band was.
	Worn    *Worn
	Setting *Setting
	// Ring is how a gap lies round its ring, nil for any other.
	Ring *gauge.RingGap
}

// Worn is how the outcome stands to the limit from which a part is worn out.
type Worn struct {
	Limit     gauge.Limit
	Judgement gauge.Judgement
	// Says tells it in a sentence.
	Says string
	// Doubt says what would have to be done before an outcome past the limit proves
	// anything, empty where it does.
	Doubt string
}

// Setting is how the outcome stands to the band in which it is set at assembly. It
// says nothing of a part's wear.
type Setting struct {
	// Says tells it in a sentence, Do what is to be done at assembly, empty where
	// nothing is.
	Says, Do string
}

// Decided says how the outcome stands to the limit or band that was typed, empty
// where there is none.
func (r Result) Decided() string {
	switch {
	case r.Worn != nil:
		return r.Worn.Says
	case r.Setting != nil:
		return r.Setting.Says
	}
	return ""
}

// All are the workings in the order in which they are offered.
func All() []*Working { return slices.Clone(all) }

// Called returns the working of an ID.
func Called(id string) (*Working, bool) {
	i := slices.IndexFunc(all, func(w *Working) bool { return w.ID == id })
	if i < 0 {
		return nil, false
	}
	return all[i], true
}

// Ask returns the entry of an ID.
func (w *Working) Ask(id string) (Ask, bool) {
	i := slices.IndexFunc(w.Asks, func(a Ask) bool { return a.ID == id })
	if i < 0 {
		return Ask{}, false
	}
	return w.Asks[i], true
}

// Work tells what a case comes to, or what is missing of it.
func (w *Working) Work(c Case) Result {
	var out Result
	in := &answers{Case: c, w: w}
	w.work(in, &out)
	out.Missing, out.Err = in.missing, in.err
	if !in.ready() {
		return Result{Missing: in.missing, Err: in.err}
	}
	for _, note := range in.notes {
		if !slices.Contains(out.Notes, note) {
			out.Notes = append(out.Notes, note)
		}
	}
	return out
}

var all = slices.Concat(fitting, playing, toothing, warming)

func (out *Result) say(lines ...string) { out.Lines = append(out.Lines, lines...) }

// found keeps what was measured, and under which name.
func (out *Result) found(of string, m gauge.Measured) { out.Of, out.Measured = of, &m }
