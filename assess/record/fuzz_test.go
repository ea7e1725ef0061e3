package record_test

import (
	"bytes"
	"reflect"
	"testing"

	"fettlebook/assess/record"
)

// seeds adds the frozen files: the records, or the lines of the histories.
func seeds(f *testing.F, lines bool) {
	n := 0
	for _, one := range frozen {
		if lines {
			for _, line := range entriesOf(frozenFile(f, one.history)) {
				f.Add(line)
				n++
			}
			continue
		}
		f.Add(frozenFile(f, one.record))
		n++
	}
	if n == 0 {
		f.Fatal("there are no seeds")
	}
}

func FuzzRead(f *testing.F) {
	seeds(f, false)
	f.Add([]byte(`{"format":1,"id":"0197f3a0-1c2b-7def-8123-456789abcdef","unit":{"type":"four-speed"},"duty":"yard"}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := record.Read(b)
		if err != nil {
			return
		}
		written, err := r.Marshal()
		if err != nil {
			t.Fatalf("read, and can't be written: %v", err)
		}
		again, err := record.Read(written)
		if err != nil {
			t.Fatalf("read, and what is written can't be: %v\n%s", err, written)
		}
		rewritten, err := again.Marshal()
		if err != nil || !bytes.Equal(written, rewritten) {
			t.Fatalf("written as\n%s\nand then (%v) as\n%s", written, err, rewritten)
		}
	})
}

// What is followed comes from a file as well, and a patch may ask for anything.
func FuzzReadEntry(f *testing.F) {
	seeds(f, true)
	var states []record.State
	for _, one := range frozen {
		var s record.State
		for _, line := range entriesOf(frozenFile(f, one.history)) {
			states = append(states, s)
			s, _ = s.Follow(line)
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := record.ReadEntry(b)
		if err != nil {
			return
		}
		written, err := e.Marshal()
		if err != nil {
			t.Fatalf("read, and can't be written: %v", err)
		}
		again, err := record.ReadEntry(written)
		if err != nil {
			t.Fatalf("read, and what is written can't be: %v\n%s", err, written)
		}
		e.Forward, e.Inverse = again.Forward, again.Inverse // by value; their spacing may differ
		if !reflect.DeepEqual(e, again) {
			t.Fatalf("read as\n%+v\nand then as\n%+v", e, again)
		}
		for _, s := range states {
			if s.Number+1 != e.Number {
				continue
			}
			e.Before = s.Entry
			chained, err := e.Marshal()
			if err != nil {
				t.Fatal(err)
			}
			// Most fail, and some do not: none may panic.
			_, _ = s.Follow(chained)
			if s.Record != nil {
				e.Record, e.Kind, e.Of, e.Number = s.Record.ID, record.Do, 0, 2
				_, _ = s.TakeBack(record.Undo, e, meta)
				_, _ = s.TakeBack(record.Redo, e, meta)
			}
		}
	})
}
