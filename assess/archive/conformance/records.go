package conformance

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// Unit is the unit that most records here are of.
var Unit = record.Unit{Type: "four-speed", Maker: "Tarnwell", Model: "TW4-B", Serial: "40117"}

func notThere(t *testing.T, a archive.Archive) {
	ctx, id := context.Background(), record.NewID()
	if _, err := a.Load(ctx, id, 0); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("load gives %v, want ErrNotFound", err)
	}
	if _, err := a.History(ctx, id, 0); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("history gives %v, want ErrNotFound", err)
	}
	b := Begin(t, a, Unit, Began)
	for _, at := range []archive.Revision{-1, 2} {
		if _, err := a.Load(ctx, b.ID(), at); !errors.Is(err, archive.ErrNotFound) {
			t.Errorf("load of revision %d of 1 gives %v, want ErrNotFound", at, err)
		}
	}
}

func everyRevision(t *testing.T, a archive.Archive) {
	b, other := Begin(t, a, Unit, Began), Begin(t, a, Unit, Began)
	for i := range 70 {
		b.MustKeep(b.Complain(fmt.Sprintf("jumps out of third, %d times", i)))
		other.MustKeep(other.Complain(fmt.Sprintf("howls in second %d", i)))
	}
	b.Check()
	other.Check()
}

func stale(t *testing.T, a archive.Archive) {
	b := Begin(t, a, Unit, Began)
	b.MustKeep(b.Complain("howls"))
	late := b.Complain("rattles")
	for _, base := range []archive.Revision{0, 1, 3} {
		_, err := a.Append(context.Background(), b.ID(), base, Commit(late))
		var stale *archive.StaleError
		if !errors.As(err, &stale) {
			t.Fatalf("base %d gives %v, want a *StaleError", base, err)
		}
		if stale.Newest != 2 || stale.Base != base || stale.Record != b.ID() {
			t.Errorf("base %d gives %+v, want newest 2", base, stale)
		}
	}
	b.Check()
}

func atOnce(t *testing.T, a archive.Archive) {
	b := Begin(t, a, Unit, Began)
	for round := range 5 {
		base := b.Base()
		steps := make([]record.Step, 4)
		for i := range steps {
			steps[i] = b.Complain(fmt.Sprintf("round %d, said by %d", round, i))
		}
		won := make([]bool, len(steps))
		var all sync.WaitGroup
		for i, s := range steps {
			all.Go(func() {
				_, err := a.Append(context.Background(), b.ID(), base, Commit(s))
				var stale *archive.StaleError
				if err != nil && !errors.As(err, &stale) {
					t.Errorf("got %v, want a *StaleError", err)
				}
				won[i] = err == nil
			})
		}
		all.Wait()
		winners := 0
		for i := range won {
			if won[i] {
				winners++
				b.steps = append(b.steps, steps[i])
			}
		}
		if winners != 1 {
			t.Fatalf("%d changes were kept as revision %d, want one", winners, base+1)
		}
	}
	b.Check()
}

func brokenChain(t *testing.T, a archive.Archive) {
	b, other := Begin(t, a, Unit, Began), Begin(t, a, Unit, Began)
	good := b.Complain("howls")
	for name, spoil := range map[string]func(*archive.Commit, *record.Entry){
		"another record's bytes": func(c *archive.Commit, _ *record.Entry) { c.Record = other.Last().Bytes },
		"bytes with one more":    func(c *archive.Commit, _ *record.Entry) { c.Record = append([]byte(" "), c.Record...) },
		"no bytes":               func(c *archive.Commit, _ *record.Entry) { c.Record = nil },
		"an entry too far":       func(_ *archive.Commit, e *record.Entry) { e.Number++ },
		"an entry of before":     func(_ *archive.Commit, e *record.Entry) { e.Number-- },
		"another entry before":   func(_ *archive.Commit, e *record.Entry) { e.Before = record.HashOf([]byte("x")) },
		"no entry before":        func(_ *archive.Commit, e *record.Entry) { e.Before = "" },
		"another hash after":     func(_ *archive.Commit, e *record.Entry) { e.After = record.HashOf([]byte("x")) },
		"another record":         func(_ *archive.Commit, e *record.Entry) { e.Record = other.ID() },
		"no entry":               func(c *archive.Commit, _ *record.Entry) { c.Entry = []byte("{}") },
		"another record's row":   func(c *archive.Commit, _ *record.Entry) { c.Row.Record = other.ID() },
		"a row without a moment": func(c *archive.Commit, _ *record.Entry) { c.Row.Changed = "yesterday" },
	} {
		c, e := Commit(good), good.Entry
		spoil(&c, &e)
		if e.Number != good.Entry.Number || e.Before != good.Entry.Before || e.After != good.Entry.After || e.Record != good.Entry.Record {
			c.Entry, _ = e.Marshal()
		}
		_, err := a.Append(context.Background(), b.ID(), b.Base(), c)
		var stale *archive.StaleError
		if err == nil || errors.As(err, &stale) {
			t.Errorf("%s: got %v, want it refused as broken", name, err)
		}
	}
	b.Check()
	other.Check()
	b.MustKeep(good)
	b.Check()
}

func refusedLeavesNothing(t *testing.T, a archive.Archive) {
	ctx := context.Background()
	step, err := record.Create(record.New(Unit, "road"), record.Meta{At: record.StampOf(Began), Who: "Edda"})
	if err != nil {
		t.Fatal(err)
	}
	c := Commit(step)
	c.Record = []byte("{}")
	if _, err := a.Append(ctx, step.Record.ID, 0, c); err == nil {
		t.Fatal("a record that its entry does not lead to was kept")
	}
	if _, err := a.Load(ctx, step.Record.ID, 0); !errors.Is(err, archive.ErrNotFound) {
		t.Errorf("load gives %v, want ErrNotFound", err)
	}
	page, err := a.Find(ctx, archive.Query{})
	if err != nil || len(page.Rows) != 0 {
		t.Errorf("the register has %v, %v; want nothing", page.Rows, err)
	}
}
