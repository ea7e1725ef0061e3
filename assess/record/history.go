package record

import (
	"fmt"

	"github.com/go-json-experiment/json/jsontext"
)

// ReadEntry reads one stored line of a history, as strictly as [Read].
func ReadEntry(b []byte) (Entry, error) {
	var e Entry
	if err := readStrictly(b, &e, entryDepth); err != nil {
		return Entry{}, err
	}
	if problems := e.check(); len(problems) > 0 {
		return Entry{}, problems
	}
	return e, nil
}

// Marshal returns the entry's JSON in the canonical form of RFC 8785.
func (e Entry) Marshal() ([]byte, error) { return canonical(e) }

// check returns what is wrong in the entry by itself, nil for nothing.
func (e Entry) check() Problems {
	c := checker{}
	c.id(e.Record, "/record")
	c.count(int64(e.Number), 1, "/number")
	if _, err := e.At.Time(); err != nil {
		c.add("/at", "%v", err)
	}
	switch e.Kind {
	case Do:
		c.want(e.Of == 0, "/of", "only an undo and a redo are of another entry")
	case Undo, Redo:
		c.want(e.Of > 1 && e.Of < e.Number, "/of", "is %d; it names an earlier entry, not the first", e.Of)
	default:
		c.add("/kind", "%q is not a kind of entry; known are: do, undo, redo", string(e.Kind))
	}
	for at, patch := range map[string]jsontext.Value{"/forward": e.Forward, "/inverse": e.Inverse} {
		c.want(patch.Kind() == '[', at, "is not a JSON Patch")
	}
	c.want(hexHash(string(e.After)), "/after", "is not a SHA-256 in lower-case hex")
	if e.Number == 1 {
		c.want(e.Before == "" && e.Kind == Do, "/before", "the first entry begins the record and follows no other")
	} else {
		c.want(hexHash(string(e.Before)), "/before", "is not a SHA-256 in lower-case hex")
	}
	return c.sorted()
}

// Follow replays a stored entry over the state and checks the chain: the
// entry's number, the hash of the entry before it and the hash of the record
// after it. It is how a record is rebuilt from its history. It patches and reads
// the whole record, so it also proves a [Step] before it is kept. What the last
// entry of a history says of itself is guarded by the hash of that entry,
// which the state names.
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
	if r.ID != e.Record {
		return State{}, fmt.Errorf("history entry %d is of record %s and leads to record %s", e.Number, e.Record, r.ID)
	}
	return State{Record: r, Bytes: text, Number: e.Number, Entry: HashOf(entryBytes)}, nil
}

// Stacks tell what can be undone and done again at the end of a history.
type Stacks struct {
	undo, redo []Entry
}

// Add takes the next entry of the history into account.
func (s *Stacks) Add(e Entry) {
	switch e.Kind {
	case Undo:
		if last, ok := s.Undoable(); ok && last.Number == e.Of {
			s.undo = s.undo[:len(s.undo)-1]
			s.redo = append(s.redo, last)
		}
	case Redo:
		if last, ok := s.Redoable(); ok && last.Number == e.Of {
			s.redo = s.redo[:len(s.redo)-1]
			s.undo = append(s.undo, last)
		}
	default:
		if e.Number > 1 {
			s.undo = append(s.undo, e)
		}
		s.redo = nil
	}
}

// Undoable returns the entry that undo would take back.
func (s *Stacks) Undoable() (Entry, bool) { return top(s.undo) }

// Redoable returns the entry that redo would do again.
func (s *Stacks) Redoable() (Entry, bool) { return top(s.redo) }

func top(entries []Entry) (Entry, bool) {
	if len(entries) == 0 {
		return Entry{}, false
	}
	return entries[len(entries)-1], true
}
