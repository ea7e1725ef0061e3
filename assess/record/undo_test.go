package record_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// but gives a record's JSON with the numbers given of another record.
func but(t *testing.T, r *record.Record, numbers record.Numbers) string {
	t.Helper()
	c := *r
	c.Numbers = numbers
	b, err := c.Marshal()
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestEveryGestureIsUndoneAndDoneAgain(t *testing.T) {
	before := started(t)
	for kind, several := range gestures(t, before.Record) {
		for _, g := range several {
			t.Run(kind+" "+g.Says, func(t *testing.T) {
				done := do(t, before, g)
				same(t, "done", done)
				undone, err := done.TakeBack(record.Undo, done.Entry, meta)
				if err != nil {
					t.Fatal(err)
				}
				same(t, "undone", undone)
				if got, want := string(undone.Bytes), but(t, before.Record, done.Record.Numbers); got != want {
					t.Errorf("undone:\n%s\nwant\n%s", got, want)
				}
				redone, err := undone.TakeBack(record.Redo, done.Entry, meta)
				if err != nil {
					t.Fatal(err)
				}
				same(t, "done again", redone)
				if string(redone.Bytes) != string(done.Bytes) {
					t.Errorf("done again:\n%s\nwant\n%s", redone.Bytes, done.Bytes)
				}
				// The history alone leads to the same bytes.
				state := before
				for _, step := range []record.Step{done, undone, redone} {
					if state, err = state.Follow(step.EntryBytes); err != nil {
						t.Fatal(err)
					}
					if string(state.Bytes) != string(step.Bytes) || state.Entry != step.State.Entry {
						t.Errorf("entry %d leads to\n%s\nwant\n%s", state.Number, state.Bytes, step.Bytes)
					}
				}
				if undone.Entry.Says != "undone: "+g.Says || redone.Entry.Says != "done again: "+g.Says {
					t.Errorf("the history says %q and %q", undone.Entry.Says, redone.Entry.Says)
				}
			})
		}
	}
}

// same asks that a step's record and bytes are the same: what Read makes of the
// bytes, and what Marshal makes of the record.
func same(t rapid.TB, when string, s record.Step) {
	t.Helper()
	read, err := record.Read(s.Bytes)
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	written, err := s.Record.Marshal()
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	if string(written) != string(s.Bytes) {
		t.Fatalf("%s: the record is\n%s\nand the bytes are\n%s", when, written, s.Bytes)
	}
	if again, _ := read.Marshal(); string(again) != string(s.Bytes) || s.Entry.After != record.HashOf(s.Bytes) || s.State.Entry != record.HashOf(s.EntryBytes) {
		t.Fatalf("%s: the bytes or their hashes are others than they say", when)
	}
}

// scribble changes everything that can be reached in place.
func scribble(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		scribble(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			scribble(v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			scribble(v.Index(i))
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			scribble(v.MapIndex(key))
			v.SetMapIndex(key, reflect.Zero(v.Type().Elem()))
		}
	case reflect.String:
		if v.CanSet() {
			v.SetString("scribbled over")
		}
	case reflect.Int, reflect.Int64:
		if v.CanSet() {
			v.SetInt(-77)
		}
	}
}

func TestAGestureNeverTouchesTheStateBefore(t *testing.T) {
	before := started(t)
	untouched := func(t *testing.T) {
		t.Helper()
		if want := full(t); !reflect.DeepEqual(before.Record, want) {
			t.Fatalf("the record before is now\n%+v", before.Record)
		}
		if string(before.Bytes) != string(frozenFile(t, frozen[len(frozen)-1].record)) || before.Number != 1 {
			t.Fatal("the state before has other bytes or another number")
		}
	}
	untouched(t)
	for _, several := range gestures(t, before.Record) {
		for _, g := range several {
			do(t, before, g)
			untouched(t)
		}
	}
	stop := errors.New("stop")
	for name, apply := range map[string]func(*record.Record) error{
		"fails":        func(r *record.Record) error { scribble(reflect.ValueOf(r)); return stop },
		"is not sound": func(r *record.Record) error { scribble(reflect.ValueOf(r)); return nil },
	} {
		if _, err := before.Make(record.Gesture{Says: name, Apply: apply}, meta); err == nil {
			t.Errorf("a gesture that %s was taken", name)
		}
		untouched(t)
	}
	// Nor may an undo, whose record is put together from the one before.
	done := do(t, before, gestures(t, before.Record)["ChangeOutline"][0])
	undone, err := done.TakeBack(record.Undo, done.Entry, meta)
	if err != nil {
		t.Fatal(err)
	}
	scribble(reflect.ValueOf(undone.Record))
	untouched(t)
	if _, err := done.Record.Marshal(); err != nil || done.Record.Outlines[first(t, done.Record.Outlines)].Points[1] != (record.Point{399_999, 13}) {
		t.Error("the state that was undone is touched")
	}
}

func TestWhatAGesturePutInIsNoLongerItsMakers(t *testing.T) {
	before := started(t)
	surfaces := map[string]record.Looked{"nose": {Eye: true}}
	points := []record.Point{{0, 0}, {9, 9}}
	part, outline := record.NewID(), record.NewID()
	step := do(t, before, record.Together("both",
		record.AddParts("", map[record.ID]record.Part{part: {Kind: "gear", State: term.InHand, Surfaces: surfaces}}),
		record.AddOutline("", outline, record.Outline{Photo: first(t, before.Record.Photos), Shape: record.Oval, Points: points})))
	clear(surfaces)
	points[1] = record.Point{-1, -1}
	same(t, "changed afterwards", step)
}

func TestSeveralGesturesAreOneOrNone(t *testing.T) {
	before := started(t)
	missing := record.NewID()
	step, err := before.Make(record.Together("three",
		record.Set("", func(r *record.Record) { r.Complaint = "half done" }),
		record.AddOutline("", record.NewID(), record.Outline{Photo: first(t, before.Record.Photos), Shape: record.Oval, Points: []record.Point{{0, 0}, {9, 9}}}),
		record.ChangeFinding("", missing, func(f *record.Finding) {}),
	), meta)
	if err == nil || !strings.Contains(err.Error(), "three: there is no such finding") {
		t.Errorf("got %v, want it refused for the finding that is missing", err)
	}
	if step.Record != nil || step.EntryBytes != nil {
		t.Error("a gesture that failed left a step")
	}
	if !reflect.DeepEqual(before.Record, full(t)) {
		t.Error("a gesture that failed left something in the record")
	}
	whole := do(t, before, record.Together("two",
		record.Set("", func(r *record.Record) { r.Complaint = "done" }),
		record.RemoveOutline(first(t, before.Record.Outlines), 1)))
	if whole.Number != 2 || whole.Record.Complaint != "done" || len(whole.Record.Outlines) != len(before.Record.Outlines)-2 {
		t.Errorf("two gestures made %d entries, complaint %q, %d outlines of %d: the first was drawn twice", whole.Number-1, whole.Record.Complaint, len(whole.Record.Outlines), len(before.Record.Outlines))
	}
}

func TestWhatIsGivenOnceStays(t *testing.T) {
	before := started(t)
	finding, photo, outline := first(t, before.Record.Findings), first(t, before.Record.Photos), first(t, before.Record.Outlines)
	kept := do(t, before, record.Together("renumbered",
		record.ChangeFinding("", finding, func(f *record.Finding) { f.Number, f.Note = 17, "x" }),
		record.ChangePhoto("", photo, func(p *record.Photo) { p.Number, p.Note = 17, "x" }),
		record.ChangeOutline("", outline, func(o *record.Outline) { o.Number, o.Finding = 17, "" }),
		record.Set("", func(r *record.Record) { r.Numbers = record.Numbers{Finding: 38, Photo: 4, Outline: 2} })))
	if f, p, o := kept.Record.Findings[finding], kept.Record.Photos[photo], kept.Record.Outlines[outline]; f.Number != 1 || p.Number != 1 || o.Number != 1 {
		t.Errorf("numbers are now %d, %d, %d; they are given once", f.Number, p.Number, o.Number)
	}
	if kept.Record.Numbers != before.Record.Numbers {
		t.Errorf("the numbers given went back to %+v", kept.Record.Numbers)
	}
	for name, g := range map[string]record.Gesture{
		"id of the record": record.Set("id", func(r *record.Record) { r.ID = record.NewID() }),
		"part":             record.AddParts("part", map[record.ID]record.Part{first(t, before.Record.Parts): {Kind: "nut", State: term.InHand}}),
		"finding":          record.AddFinding("finding", finding, before.Record.Findings[finding]),
		"photo":            record.AddPhotos("photo", []record.ID{photo}, []record.Photo{anyPhoto(before.Record)}),
		"photos and ids":   record.AddPhotos("photo", nil, []record.Photo{anyPhoto(before.Record)}),
		"outline":          record.AddOutline("outline", outline, before.Record.Outlines[outline]),
		"two of one id":    record.AddInstalled("installed", photo, record.Installed{Place: "seal"}),
		"no valid text":    record.Set("text", func(r *record.Record) { r.Complaint = "\xff" }),
		"missing entry":    record.WithdrawEntry("entry", record.NewID(), "Edda", "slip"),
		"missing part":     record.ChangePart("part", record.NewID(), func(*record.Part) {}),
		"missing photo":    record.ChangePhoto("photo", record.NewID(), func(*record.Photo) {}),
		"missing outline":  record.ChangeOutline("outline", record.NewID(), func(*record.Outline) {}),
	} {
		if _, err := before.Make(g, meta); err == nil || errors.Is(err, record.ErrNothingChanged) {
			t.Errorf("%s: got %v, want it refused", name, err)
		}
	}
}

func TestARecordKeepsItsID(t *testing.T) {
	before, _ := begun(t)
	_, err := before.Make(record.Set("another id", func(r *record.Record) { r.ID = record.NewID() }), meta)
	if err == nil || !strings.Contains(err.Error(), "keeps the id") {
		t.Errorf("got %v, want the id kept", err)
	}
}
