package conformance

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Began is a fixed moment: what is tested must not hang on the clock.
var Began = time.Date(2026, 5, 12, 8, 10, 0, 0, time.UTC)

// Failer is what is wanted of a test, be it one of testing or of rapid.
type Failer interface {
	// Helper marks the caller as one whose lines are not named.
	Helper()
	// Fatal and Fatalf end the test with what went wrong.
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// Bench is a rebuilder at work on one record of an archive.
type Bench struct {
	t  Failer
	a  archive.Archive
	at time.Time

	steps []record.Step
}

// Begin makes a record in the archive.
func Begin(t Failer, a archive.Archive, u record.Unit, at time.Time) *Bench {
	t.Helper()
	b := &Bench{t: t, a: a, at: at}
	step, err := record.Create(record.New(u, term.Road), b.Meta())
	if err != nil {
		t.Fatal(err)
	}
	b.MustKeep(step)
	return b
}

// Meta says who makes the next change, and when.
func (b *Bench) Meta() record.Meta {
	return record.Meta{At: record.StampOf(b.at), Who: "Edda", Bench: "bench 1"}
}

// Last is the newest change that was kept.
func (b *Bench) Last() record.Step { return b.steps[len(b.steps)-1] }

// ID is that of the record.
func (b *Bench) ID() record.ID { return b.Last().Record.ID }

// Base is the newest revision.
func (b *Bench) Base() archive.Revision { return archive.Revision(len(b.steps)) }

// Photograph takes in an original and makes the change that shows it, without
// keeping it.
func (b *Bench) Photograph(original []byte) record.Step {
	b.t.Helper()
	blob, err := b.a.Put(context.Background(), bytes.NewReader(original))
	if err != nil {
		b.t.Fatal(err)
	}
	photo := record.Photo{File: string(blob.Hash), Size: blob.Size, Name: "p.jpg", Width: 10, Height: 10, Orientation: 1}
	step, err := b.Last().Make(record.AddPhotos("photo", []record.ID{record.NewID()}, []record.Photo{photo}), b.Meta())
	if err != nil {
		b.t.Fatal(err)
	}
	return step
}

// Complain makes a change without keeping it.
func (b *Bench) Complain(text string) record.Step {
	b.t.Helper()
	b.at = b.at.Add(time.Second)
	step, err := b.Last().Make(record.Set("complaint: "+text, func(r *record.Record) { r.Complaint = text }), b.Meta())
	if err != nil {
		b.t.Fatal(err)
	}
	return step
}

// Commit is what a step looks like to an archive.
func Commit(s record.Step) archive.Commit {
	r := s.Record
	return archive.Commit{Entry: s.EntryBytes, Record: s.Bytes, Row: archive.Row{
		Record: r.ID, Unit: r.Unit.Says(), Serial: r.Unit.Serial, Owner: r.Owner.Name,
		Words: r.Complaint, Received: r.Dates.Received, Changed: s.Entry.At.UTC,
	}}
}

// Keep hands a change to the archive.
func (b *Bench) Keep(s record.Step) error {
	at, err := b.a.Append(context.Background(), s.Record.ID, b.Base(), Commit(s))
	if err != nil {
		return err
	}
	if want := b.Base() + 1; at != want {
		return fmt.Errorf("append gives revision %d, want %d", at, want)
	}
	b.steps = append(b.steps, s)
	return nil
}

// MustKeep keeps a change, or the test fails.
func (b *Bench) MustKeep(s record.Step) {
	b.t.Helper()
	if err := b.Keep(s); err != nil {
		b.t.Fatal(err)
	}
}

// Check compares everything that the archive gives back with what was kept.
func (b *Bench) Check() {
	b.t.Helper()
	ctx := context.Background()
	for i := range len(b.steps) + 1 {
		want := b.Last()
		if i > 0 {
			want = b.steps[i-1]
		}
		got, err := b.a.Load(ctx, b.ID(), archive.Revision(i))
		if err != nil {
			b.t.Fatalf("load revision %d: %v", i, err)
		}
		if string(got.Record) != string(want.Bytes) || got.Revision != archive.Revision(want.Number) || got.Entry != want.State.Entry {
			b.t.Fatalf("revision %d is\n%d %s %s\nwant\n%d %s %s", i, got.Revision, got.Entry, got.Record, want.Number, want.State.Entry, want.Bytes)
		}
	}
	for after := range len(b.steps) + 1 {
		entries, err := b.a.History(ctx, b.ID(), archive.Revision(after))
		if err != nil {
			b.t.Fatal(err)
		}
		if len(entries) != len(b.steps)-after {
			b.t.Fatalf("after entry %d of %d there are %d", after, len(b.steps), len(entries))
		}
		for i, e := range entries {
			if string(e) != string(b.steps[after+i].EntryBytes) {
				b.t.Fatalf("entry %d is\n%s\nwant\n%s", after+i+1, e, b.steps[after+i].EntryBytes)
			}
		}
	}
}

// On goes on with the same record in another opening of its archive.
func (b *Bench) On(a archive.Archive) *Bench {
	return &Bench{t: b.t, a: a, at: b.at, steps: slices.Clone(b.steps)}
}
