package record

import (
	"bytes"
	"errors"
	"fmt"

	jsonpatch "github.com/evanphx/json-patch/v5"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/wI2L/jsondiff"
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

// ReadEntry reads one stored line of a history.
func ReadEntry(b []byte) (Entry, error) {
	var e Entry
	err := readStrictly(b, &e)
	return e, err
}

// Marshal returns the entry's JSON in the canonical form of RFC 8785.
func (e Entry) Marshal() ([]byte, error) { return canonical(e) }

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

// Create starts the history of a record.
func Create(r *Record, meta Meta) (Step, error) {
	says := fmt.Sprintf("record begun for %s", r.Unit.Says())
	return State{}.step(r, meta, Entry{Record: r.ID, Kind: Do, Says: says})
}

// Make applies a gesture. The state before is left as it was.
func (s State) Make(g Gesture, meta Meta) (Step, error) {
	next, err := Read(s.Bytes)
	if err != nil {
		return Step{}, fmt.Errorf("the record as it stood is not sound: %w", err)
	}
	if err := g.Apply(next); err != nil {
		return Step{}, fmt.Errorf("%s: %w", g.Says, err)
	}
	return s.step(next, meta, Entry{Kind: Do, Says: g.Says})
}

// TakeBack applies the inverse of an entry (undo) or, for Redo, its forward
// patch. Numbers that were given stay given.
func (s State) TakeBack(kind Kind, e Entry, meta Meta) (Step, error) {
	if e.Number <= 1 && kind == Undo {
		return Step{}, errors.New("the record's beginning can't be undone")
	}
	patch, verb := e.Inverse, "undone: "
	if kind == Redo {
		patch, verb = e.Forward, "done again: "
	}
	b, err := apply(patch, s.Bytes)
	if err != nil {
		return Step{}, fmt.Errorf("%s%s: %w", verb, e.Says, err)
	}
	var next Record
	if err := readStrictly(b, &next); err != nil {
		return Step{}, fmt.Errorf("%s%s: %w", verb, e.Says, err)
	}
	next.Numbers = next.Numbers.orLater(s.Record.Numbers)
	return s.step(&next, meta, Entry{Kind: kind, Of: e.Number, Says: verb + e.Says})
}

// Follow replays a stored entry over the state and checks the chain: the
// entry's number, the hash of the entry before it and the hash of the record
// after it. It is how a record is rebuilt from its history.
func (s State) Follow(entryBytes []byte) (State, error) {
	e, err := ReadEntry(entryBytes)
	if err != nil {
		return State{}, fmt.Errorf("history entry %d: %w", s.Number+1, err)
	}
	switch {
	case e.Number != s.Number+1:
		return State{}, fmt.Errorf("history entry %d follows entry %d: one is missing or doubled", e.Number, s.Number)
	case e.Before != s.Entry:
		return State{}, fmt.Errorf("history entry %d does not follow the entry before it: one of the two was changed", e.Number)
	}
	before := s.Bytes
	if s.Number == 0 {
		before = []byte("null")
	}
	b, err := apply(e.Forward, before)
	if err != nil {
		return State{}, fmt.Errorf("history entry %d: %w", e.Number, err)
	}
	text := jsontext.Value(b)
	if err := text.Canonicalize(); err != nil {
		return State{}, fmt.Errorf("history entry %d: %w", e.Number, err)
	}
	if HashOf(text) != e.After {
		return State{}, fmt.Errorf("history entry %d does not lead to the record whose hash it names: it was changed", e.Number)
	}
	r, err := Read(text)
	if err != nil {
		return State{}, fmt.Errorf("history entry %d: %w", e.Number, err)
	}
	return State{Record: r, Bytes: text, Number: e.Number, Entry: HashOf(entryBytes)}, nil
}

// step closes a gesture: checks the record, finds the patches, chains the entry.
func (s State) step(next *Record, meta Meta, e Entry) (Step, error) {
	if problems := next.Check(); len(problems) > 0 {
		return Step{}, problems
	}
	after, err := next.Marshal()
	if err != nil {
		return Step{}, err
	}
	if bytes.Equal(after, s.Bytes) {
		return Step{}, ErrNothingChanged
	}
	e.Record, e.Number, e.At, e.Who, e.Bench = next.ID, s.Number+1, meta.At, meta.Who, meta.Bench
	e.After, e.Before = HashOf(after), s.Entry
	if e.Forward, e.Inverse, err = patches(s.Bytes, after); err != nil {
		return Step{}, err
	}
	entryBytes, err := e.Marshal()
	if err != nil {
		return Step{}, err
	}
	state := State{Record: next, Bytes: after, Number: e.Number, Entry: HashOf(entryBytes)}
	return Step{State: state, Entry: e, EntryBytes: entryBytes}, nil
}

// patches returns the JSON Patches that lead from one record to the other and
// back. A record that did not exist is JSON null.
func patches(before, after []byte) (forward, inverse jsontext.Value, err error) {
	if before == nil {
		before = []byte("null")
	}
	if forward, err = patch(before, after); err != nil {
		return nil, nil, err
	}
	inverse, err = patch(after, before)
	return forward, inverse, err
}

func patch(from, to []byte) (jsontext.Value, error) {
	p, err := jsondiff.CompareJSON(from, to)
	if err != nil {
		return nil, fmt.Errorf("find what changed: %w", err)
	}
	return canonical(p)
}

func apply(patch jsontext.Value, doc []byte) ([]byte, error) {
	p, err := jsonpatch.DecodePatch(patch)
	if err != nil {
		return nil, fmt.Errorf("the patch is not a JSON Patch: %w", err)
	}
	out, err := p.Apply(doc)
	if err != nil {
		return nil, fmt.Errorf("the patch does not fit the record: %w", err)
	}
	return out, nil
}

func (n Numbers) orLater(given Numbers) Numbers {
	return Numbers{
		Finding: max(n.Finding, given.Finding),
		Photo:   max(n.Photo, given.Photo),
		Outline: max(n.Outline, given.Outline),
	}
}
