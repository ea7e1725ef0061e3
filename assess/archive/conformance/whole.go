package conformance

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func ended(t *testing.T, a archive.Archive) {
	b := Begin(t, a, Unit, Began)
	late := b.Complain("howls")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	hash := record.HashOf(nil)
	for name, call := range map[string]func() error{
		"Find":       func() error { _, err := a.Find(ctx, archive.Query{}); return err },
		"Load":       func() error { _, err := a.Load(ctx, b.ID(), 0); return err },
		"Append":     func() error { _, err := a.Append(ctx, b.ID(), 1, Commit(late)); return err },
		"History":    func() error { _, err := a.History(ctx, b.ID(), 0); return err },
		"Put":        func() error { _, err := a.Put(ctx, bytes.NewReader([]byte("x"))); return err },
		"PutView":    func() error { return a.PutView(ctx, hash, archive.Preview, []byte("\xff\xd8\xff\xd9")) },
		"SetSetting": func() error { _, err := a.SetSetting(ctx, "shop", 0, []byte("{}")); return err },
		"Verify":     func() error { _, err := a.Verify(ctx, nil); return err },
	} {
		if err := call(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s gives %v, want that it was cancelled", name, err)
		}
	}
	b.Check()
}

func closed(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	b := Begin(t, a, Unit, Began)
	late := b.Complain("howls")
	for range 2 { // closing twice is no mistake
		if err := a.Close(); err != nil {
			t.Fatal(err)
		}
	}
	for name, call := range map[string]func() error{
		"Find":   func() error { _, err := a.Find(ctx, archive.Query{}); return err },
		"Load":   func() error { _, err := a.Load(ctx, b.ID(), 0); return err },
		"Append": func() error { _, err := a.Append(ctx, b.ID(), 1, Commit(late)); return err },
		"Put":    func() error { _, err := a.Put(ctx, bytes.NewReader([]byte("x"))); return err },
		"Watch":  func() error { _, err := a.Watch(ctx); return err },
	} {
		if err := call(); !errors.Is(err, archive.ErrClosed) {
			t.Errorf("%s gives %v, want ErrClosed", name, err)
		}
	}
}

func sound(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	for i := range 3 {
		b := Begin(t, a, Unit, Began)
		for n := range 20 {
			b.MustKeep(b.Complain(fmt.Sprint("complaint ", n)))
		}
		b.MustKeep(b.Photograph(fmt.Appendf(nil, "photo %d", i)))
	}
	last, all := 0, 0
	damage, err := a.Verify(ctx, func(done, total int) {
		if done < last || done > total {
			t.Errorf("progress went from %d to %d of %d", last, done, total)
		}
		last, all = done, total
	})
	if err != nil || len(damage) > 0 {
		t.Errorf("verify finds %+v, %v; want nothing", damage, err)
	}
	if last != all || all == 0 {
		t.Errorf("progress ended at %d of %d", last, all)
	}
	if a.ReadOnly() {
		t.Error("an archive that was opened for writing says that it is read-only")
	}
}

// histories makes random changes, undoes and redoes some, and compares with a
// plain map what the archive gives back.
func histories(t *testing.T, a archive.Archive) {
	rapid.Check(t, func(t *rapid.T) {
		b := Begin(t, a, Unit, Began)
		var stacks record.Stacks
		stacks.Add(b.Last().Entry)
		parts := []record.ID{}
		for range rapid.IntRange(1, 25).Draw(t, "changes") {
			step, err := change(t, b, &stacks, &parts)
			if errors.Is(err, record.ErrNothingChanged) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			b.MustKeep(step)
			stacks.Add(step.Entry)
		}
		b.Check()
		rebuilt := record.State{}
		for _, s := range b.steps {
			var err error
			if rebuilt, err = rebuilt.Follow(s.EntryBytes); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(rebuilt.Bytes, b.Last().Bytes) {
			t.Fatalf("the history rebuilds\n%s\nwant\n%s", rebuilt.Bytes, b.Last().Bytes)
		}
	})
}

// change draws one change of a record, or an undo, or a redo.
func change(t *rapid.T, b *Bench, stacks *record.Stacks, parts *[]record.ID) (record.Step, error) {
	words := rapid.StringN(0, 40, -1)
	switch rapid.SampledFrom([]string{"complaint", "part", "finding", "undo", "redo", "undo"}).Draw(t, "what") {
	case "part":
		id := record.NewID()
		part := record.Part{Kind: "input-shaft", State: term.InHand, Note: words.Draw(t, "note")}
		step, err := b.Last().Make(record.AddParts("part laid out", map[record.ID]record.Part{id: part}), b.Meta())
		*parts = append(*parts, id)
		return step, err
	case "finding":
		var there []record.ID
		for _, id := range *parts {
			if _, ok := b.Last().Record.Parts[id]; ok {
				there = append(there, id)
			}
		}
		if len(there) == 0 {
			return record.Step{}, record.ErrNothingChanged
		}
		f := record.Finding{Part: rapid.SampledFrom(there).Draw(t, "part"), Surface: "cone", Damage: term.RustPits,
			Severity: term.Felt, Zone: term.WorkingFace, Method: term.Touch, Note: words.Draw(t, "note")}
		return b.Last().Make(record.AddFinding("finding", record.NewID(), f), b.Meta())
	case "undo":
		if e, ok := stacks.Undoable(); ok {
			return b.Last().TakeBack(record.Undo, e, b.Meta())
		}
		return record.Step{}, record.ErrNothingChanged
	case "redo":
		if e, ok := stacks.Redoable(); ok {
			return b.Last().TakeBack(record.Redo, e, b.Meta())
		}
		return record.Step{}, record.ErrNothingChanged
	}
	return b.Last().Make(record.Set("complaint", func(r *record.Record) { r.Complaint = words.Draw(t, "complaint") }), b.Meta())
}
