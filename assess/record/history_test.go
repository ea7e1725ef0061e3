package record_test

import (
	"errors"
	"fmt"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func complaint(text string) record.Gesture {
	return record.Set("complaint "+text, func(r *record.Record) { r.Complaint = text })
}

// a bench makes gestures, undoes and does them again as a person would.
type bench struct {
	t       testing.TB
	state   record.State
	stacks  record.Stacks
	entries [][]byte
}

func (b *bench) keep(s record.Step, err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
	b.state = s.State
	b.stacks.Add(s.Entry)
	b.entries = append(b.entries, s.EntryBytes)
}

func (b *bench) do(g record.Gesture) { b.t.Helper(); b.keep(b.state.Make(g, meta)) }

func (b *bench) undo() bool {
	b.t.Helper()
	e, ok := b.stacks.Undoable()
	if ok {
		b.keep(b.state.TakeBack(record.Undo, e, meta))
	}
	return ok
}

func (b *bench) redo() bool {
	b.t.Helper()
	e, ok := b.stacks.Redoable()
	if ok {
		b.keep(b.state.TakeBack(record.Redo, e, meta))
	}
	return ok
}

func begin(t testing.TB) *bench {
	b := &bench{t: t}
	b.keep(record.Create(record.New(record.Unit{Type: "four-speed"}, term.Yard), meta))
	return b
}

func TestUndoAndRedoGoUpAndDownOneLine(t *testing.T) {
	b := begin(t)
	if b.undo() || b.redo() {
		t.Error("the beginning can be undone or done again")
	}
	said := func(want string) {
		t.Helper()
		if got := b.state.Record.Complaint; got != want {
			t.Fatalf("the complaint is %q, want %q", got, want)
		}
	}
	for _, text := range []string{"one", "two", "three"} {
		b.do(complaint(text))
	}
	for _, want := range []string{"two", "one", ""} {
		b.undo()
		said(want)
	}
	if b.undo() {
		t.Error("more was undone than was done")
	}
	for _, want := range []string{"one", "two"} {
		b.redo()
		said(want)
	}
	b.undo()
	said("one")
	b.do(complaint("other"))
	if b.redo() {
		t.Error("what was undone can be done again after another act")
	}
	b.undo()
	said("one")
	b.redo()
	said("other")
	b.undo()
	b.undo()
	said("")
	if len(b.entries) != 15 || b.state.Number != 15 {
		t.Errorf("the history has %d entries, number %d, want 15: it never shrinks", len(b.entries), b.state.Number)
	}
}

// The stacks are made anew from a stored history, so they must not depend on
// having seen the acts themselves.
func TestTheStacksOfAStoredHistoryAreThoseOfTheBench(t *testing.T) {
	b := begin(t)
	for i := range 5 {
		b.do(complaint(fmt.Sprint("x", i)))
	}
	b.undo()
	b.undo()
	b.redo()
	var again record.Stacks
	for _, line := range b.entries {
		e, err := record.ReadEntry(line)
		if err != nil {
			t.Fatal(err)
		}
		again.Add(e)
	}
	for name, of := range map[string]func(*record.Stacks) (record.Entry, bool){"undo": (*record.Stacks).Undoable, "redo": (*record.Stacks).Redoable} {
		got, _ := of(&again)
		want, ok := of(&b.stacks)
		if !ok || got.Number != want.Number {
			t.Errorf("%s is of entry %d, want %d", name, got.Number, want.Number)
		}
	}
}

func TestOnlyAnActOfThisRecordIsUndone(t *testing.T) {
	b, other := begin(t), begin(t)
	b.do(complaint("one"))
	other.do(complaint("one"))
	act, _ := b.stacks.Undoable()
	foreign, _ := other.stacks.Undoable()
	beginning, _ := record.ReadEntry(b.entries[0])
	b.undo()
	undoing, _ := record.ReadEntry(b.entries[2])
	for name, try := range map[string]func() error{
		"the beginning":          func() error { _, err := b.state.TakeBack(record.Undo, beginning, meta); return err },
		"the beginning, again":   func() error { _, err := b.state.TakeBack(record.Redo, beginning, meta); return err },
		"an undo":                func() error { _, err := b.state.TakeBack(record.Undo, undoing, meta); return err },
		"a foreign record's act": func() error { _, err := b.state.TakeBack(record.Redo, foreign, meta); return err },
		"what was undone":        func() error { _, err := b.state.TakeBack(record.Undo, act, meta); return err },
		"an act, as an act":      func() error { _, err := b.state.TakeBack(record.Do, act, meta); return err },
		"nothing":                func() error { _, err := record.State{}.TakeBack(record.Undo, act, meta); return err },
		"a gesture of nothing":   func() error { _, err := record.State{}.Make(complaint("x"), meta); return err },
	} {
		if err := try(); err == nil || errors.Is(err, record.ErrNothingChanged) {
			t.Errorf("%s: got %v, want it refused", name, err)
		}
	}
}

// A state as an archive knows it: bytes, a number and a hash.
func TestAStoredStateGoesOnWhereItWas(t *testing.T) {
	b := begin(t)
	b.do(complaint("one"))
	stored := record.State{Bytes: b.state.Bytes, Number: b.state.Number, Entry: b.state.Entry}
	for name, s := range map[string]record.State{"kept": b.state, "stored": stored} {
		step := do(t, s, complaint("two"))
		act, _ := b.stacks.Undoable()
		undone, err := s.TakeBack(record.Undo, act, meta)
		if err != nil {
			t.Fatal(err)
		}
		for what, step := range map[string]record.Step{"act": step, "undo": undone} {
			same(t, name, step)
			if _, err := b.state.Follow(step.EntryBytes); err != nil {
				t.Errorf("%s: its %s does not follow: %v", name, what, err)
			}
		}
	}
}
