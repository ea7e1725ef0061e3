package record_test

import (
	"errors"
	"testing"
	"time"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

var meta = record.Meta{At: record.StampOf(time.Date(2026, 5, 12, 9, 10, 0, 0, time.FixedZone("", 3600))), Who: "Edda", Bench: "bench 1"}

// begun returns a record with one part, and the part's id.
func begun(t *testing.T) (record.State, record.ID) {
	t.Helper()
	step, err := record.Create(record.New(record.Unit{Type: "four-speed", Serial: "40117"}, term.Road), meta)
	if err != nil {
		t.Fatal(err)
	}
	id := record.NewID()
	part := record.Part{Kind: "input-shaft", Place: "input-shaft", State: term.InHand}
	return do(t, step.State, record.AddParts("parts laid out", map[record.ID]record.Part{id: part})).State, id
}

func do(t *testing.T, s record.State, g record.Gesture) record.Step {
	t.Helper()
	step, err := s.Make(g, meta)
	if err != nil {
		t.Fatalf("%s: %v", g.Says, err)
	}
	return step
}

func pits(part record.ID) record.Finding {
	return record.Finding{Part: part, Surface: "cone", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace, Method: term.Touch}
}

func TestUndoGivesBackAllButTheNumbersThatWereGiven(t *testing.T) {
	before, part := begun(t)
	added := do(t, before, record.AddFinding("finding", record.NewID(), pits(part)))
	undone, err := added.TakeBack(record.Undo, added.Entry, meta)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(undone.Record.Findings); n != 0 {
		t.Errorf("after undo there are %d findings, want none", n)
	}
	again := do(t, undone.State, record.AddFinding("another", record.NewID(), pits(part)))
	for _, f := range again.Record.Findings {
		if f.Number != 2 {
			t.Errorf("the next finding has number %d, want 2: number 1 was given once already", f.Number)
		}
	}
	redone, err := undone.TakeBack(record.Redo, added.Entry, meta)
	if err != nil {
		t.Fatal(err)
	}
	if string(redone.Bytes) != string(added.Bytes) {
		t.Errorf("redo gives\n%s\nwant\n%s", redone.Bytes, added.Bytes)
	}
}

func TestAHistoryRebuildsItsRecordAndShowsAChange(t *testing.T) {
	created, err := record.Create(record.New(record.Unit{Type: "four-speed"}, term.Yard), meta)
	if err != nil {
		t.Fatal(err)
	}
	set := do(t, created.State, record.Set("complaint", func(r *record.Record) { r.Complaint = "jumps out of third" }))
	state, err := record.State{}.Follow(created.EntryBytes)
	if err != nil {
		t.Fatal(err)
	}
	if state, err = state.Follow(set.EntryBytes); err != nil {
		t.Fatal(err)
	}
	if string(state.Bytes) != string(set.Bytes) {
		t.Errorf("rebuilt\n%s\nwant\n%s", state.Bytes, set.Bytes)
	}
	for i := range created.EntryBytes {
		bad := append([]byte(nil), created.EntryBytes...)
		bad[i] ^= 1
		first, err := record.State{}.Follow(bad)
		if err != nil {
			continue
		}
		if _, err := first.Follow(set.EntryBytes); err == nil {
			t.Fatalf("a bit flipped at byte %d of the first entry (%s) went unseen", i, bad)
		}
	}
}

func TestAGestureThatChangesNothingLeavesNoEntry(t *testing.T) {
	s, _ := begun(t)
	_, err := s.Make(record.Set("duty", func(r *record.Record) { r.Duty = term.Road }), meta)
	if !errors.Is(err, record.ErrNothingChanged) {
		t.Errorf("got %v, want ErrNothingChanged", err)
	}
}
