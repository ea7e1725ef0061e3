package record

import (
	"errors"
	"fmt"

	"github.com/go-json-experiment/json/jsontext"
)

// Gesture is one committed act of a person: a finished field, a released mouse
// button, one choice, one batch of photos. Says is a plain sentence for the
// history. Apply changes a record that is its own to change.
type Gesture struct {
	Says  string
	Apply func(*Record) error
}

// Kind tells an act from its undoing.
type Kind string

// The kinds of entries in a history.
const (
	Do   Kind = "do"
	Undo Kind = "undo"
	Redo Kind = "redo"
)

// Entry is one line of a record's history.
type Entry struct {
	Record ID    `json:"record"`
	Number int   `json:"number"`
	At     Stamp `json:"at"`
	// Who did it, at which bench (machine).
	Who   string `json:"who"`
	Bench string `json:"bench"`
	Kind  Kind   `json:"kind"`
	// Of is the number of the entry that is undone or redone.
	Of   int    `json:"of,omitzero"`
	Says string `json:"says"`
	// Forward and Inverse are JSON Patches (RFC 6902). Forward turns the record
	// before into the record after; Inverse turns it back.
	Forward jsontext.Value `json:"forward"`
	Inverse jsontext.Value `json:"inverse"`
	// After is the hash of the record's bytes after this entry; Before is the
	// hash of the entry before this one, empty for the first.
	After  Hash `json:"after"`
	Before Hash `json:"before,omitzero"`
}

// Meta is what an entry says of the person and the moment.
type Meta struct {
	At    Stamp
	Who   string
	Bench string
}

// State is a record at one point of its history. The zero State is that of a
// record that does not exist yet.
type State struct {
	Record *Record
	// Bytes are the record's canonical JSON.
	Bytes []byte
	// Number and Entry are the number and the hash of the last entry.
	Number int
	Entry  Hash

	// form are the Bytes in pieces; nil in a state that was not made here.
	form *form
}

// Step is the outcome of one gesture: the state after it and the entry that
// led to it, also as the bytes that are stored and hashed.
type Step struct {
	State
	Entry      Entry
	EntryBytes []byte
}

// ErrNothingChanged says that a gesture left the record as it was.
var ErrNothingChanged = errors.New("nothing was changed")

// After returns what the record would be after a gesture, unchecked, and leaves
// the record itself as it is. It is for asking what would be said of it.
func (r *Record) After(g Gesture) (*Record, error) {
	next := r.clone()
	if err := g.Apply(next); err != nil {
		return nil, err
	}
	return next, nil
}

// Create starts the history of a record.
func Create(r *Record, meta Meta) (Step, error) {
	says := fmt.Sprintf("record begun for %s", r.Unit.Says())
	return State{}.step(r.clone(), meta, Entry{Kind: Do, Says: says})
}

// Make applies a gesture. The state before is left as it was, also by a gesture
// that fails.
func (s State) Make(g Gesture, meta Meta) (Step, error) {
	s, err := s.settled()
	if err != nil {
		return Step{}, err
	}
	next := s.Record.clone()
	if err := g.Apply(next); err != nil {
		return Step{}, fmt.Errorf("%s: %w", g.Says, err)
	}
	// What the gesture put in may still be in its maker's hands.
	return s.step(next.clone(), meta, Entry{Kind: Do, Says: g.Says})
}

// TakeBack applies the inverse of an entry (undo) or, for Redo, its forward
// patch. The entry is an act, as [Stacks] tell it. Numbers that were given stay
// given.
func (s State) TakeBack(kind Kind, e Entry, meta Meta) (Step, error) {
	s, err := s.settled()
	switch {
	case err != nil:
		return Step{}, err
	case kind != Undo && kind != Redo || e.Kind != Do:
		return Step{}, fmt.Errorf("%q of %q: only an act can be undone and done again", kind, e.Kind)
	case e.Number <= 1:
		return Step{}, errors.New("the record's beginning can't be undone")
	case e.Record != s.Record.ID:
		return Step{}, fmt.Errorf("entry %d is of record %s, not of this one, %s", e.Number, e.Record, s.Record.ID)
	}
	patch, verb := e.Inverse, "undone: "
	if kind == Redo {
		patch, verb = e.Forward, "done again: "
	}
	next, err := takenBack(s.Record, s.form, patch)
	if err != nil {
		return Step{}, fmt.Errorf("%s%s: %w", verb, e.Says, err)
	}
	return s.step(next, meta, Entry{Kind: kind, Of: e.Number, Says: verb + e.Says})
}

// settled returns a state with its record and form; it reads them from the
// bytes of a state that was not made here (an archive knows no more).
func (s State) settled() (State, error) {
	if s.form != nil {
		return s, nil
	}
	if s.Bytes == nil {
		return State{}, errors.New("there is no record yet: create it first")
	}
	var err error
	if s.Record, err = Read(s.Bytes); err != nil {
		return State{}, fmt.Errorf("the record as it stood is not sound: %w", err)
	}
	s.form, err = formOf(s.Record, nil, nil)
	return s, err
}

// step closes a gesture: checks the record, finds the patches, chains the
// entry. The record next is the step's own.
func (s State) step(next *Record, meta Meta, e Entry) (Step, error) {
	if s.Record != nil {
		if next.ID != s.Record.ID {
			return Step{}, Problems{{Pointer: "/id", Text: fmt.Sprintf("is %q; a record keeps the id %q that it was begun with", next.ID, s.Record.ID)}}
		}
		next.Numbers = next.Numbers.orLater(s.Record.Numbers)
	}
	if problems := next.Check(); len(problems) > 0 {
		return Step{}, problems
	}
	now, err := formOf(next, s.Record, s.form)
	if err != nil {
		return Step{}, err
	}
	after, err := now.bytes(len(s.Bytes) + 4096)
	if err != nil {
		return Step{}, err
	}
	if e.Forward, e.Inverse, err = patches(s.form, now, after); err != nil {
		return Step{}, err
	}
	if e.Forward == nil {
		return Step{}, ErrNothingChanged
	}
	e.Record, e.Number, e.At, e.Who, e.Bench = next.ID, s.Number+1, meta.At, meta.Who, meta.Bench
	e.After, e.Before = HashOf(after), s.Entry
	if problems := e.check(); len(problems) > 0 {
		return Step{}, fmt.Errorf("history entry %d: %w", e.Number, problems)
	}
	entryBytes, err := e.Marshal()
	if err != nil {
		return Step{}, err
	}
	state := State{Record: next, Bytes: after, Number: e.Number, Entry: HashOf(entryBytes), form: now}
	return Step{State: state, Entry: e, EntryBytes: entryBytes}, nil
}

// orLater returns the later of the numbers given: one is never given twice.
func (n Numbers) orLater(given Numbers) Numbers {
	return Numbers{
		Finding: max(n.Finding, given.Finding),
		Photo:   max(n.Photo, given.Photo),
		Outline: max(n.Outline, given.Outline),
	}
}
