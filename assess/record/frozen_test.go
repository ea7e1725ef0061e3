package record_test

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"fettlebook/assess/record"
)

// The files of every released form. They are never written again; the next form
// adds a line and files of its own, the newest last (testdata/record/README.md).
var frozen = []struct {
	record, history string
	// The SHA-256 of the record's bytes and of the history's last entry.
	bytes, entry record.Hash
	entries      int
}{{
	record: "format-1.json", history: "history-1.jsonl", entries: 26,
	bytes: "e39f2a50af177898566798769f220b7bf67fe489140b94bf1a4e6c6e063fff5e",
	entry: "eb8fa5e271b55034214fd382357bb4f554493453fc25103a7cb8e98e75b6af00",
}, {
	record: "format-1-claim.json", history: "history-1-claim.jsonl", entries: 43,
	bytes: "c05bc769e6966505cede9e096153fbae4c200c458b8089d7d351893471569fd1",
	entry: "1c68c9b39f12059035aca70ce7ebdc6d86aa7d83552920b30be9ba95e1ac1c4f",
}, {
	record: "format-1-measured.json", history: "history-1-measured.jsonl", entries: 56,
	bytes: "25379ac96efbadfa2aec783894f5de3f1ad62d61835774891312ad8f4d02f4a1",
	entry: "685b544cb0c9bc17c39f68b0818612794605569ac34ab34e7e49444bba215049",
}, {
	record: "format-1-worked.json", history: "history-1-worked.jsonl", entries: 63,
	bytes: "679a4d742d1386edf4cf2eb6cf8efd4025b6288abf55641a7a8434f368e6fc2a",
	entry: "96341b6ba707ef4ed7815f790d8a7d303a8e8cdd203b56b7518488d33db62367",
}, {
	record: "format-1-left-out.json", history: "history-1-left-out.jsonl", entries: 65,
	bytes: "3e7bc9986f270fd45a96a3275b17e2ebd789f6700558767c07639e6afbac1f72",
	entry: "2c2cfdfdc238f8a9a1680d4db08c9d1d50cb63d65681ae5ed6aa822215810a68",
}, {
	record: "format-1-picked.json", history: "history-1-picked.jsonl", entries: 68,
	bytes: "5748ad59833639aad93884fef4228f2017949bb42ee68fdc1b7a05ef2dedf70a",
	entry: "5339d15c2170847acc9fefe9936e3542e2acd9bc16c770e35aaed0781d8ee2bc",
}}

// A name that no frozen record has could be lost by a later release unseen.
func TestTheNewestFrozenRecordHasEverythingInIt(t *testing.T) {
	empty := map[string]bool{}
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				name := v.Type().Name() + "." + v.Type().Field(i).Name
				if _, met := empty[name]; !met || !v.Field(i).IsZero() {
					empty[name] = v.Field(i).IsZero()
				}
				walk(v.Field(i))
			}
		case reflect.Map:
			for _, key := range v.MapKeys() {
				walk(v.MapIndex(key))
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(*full(t)))
	for name, is := range empty {
		if is {
			t.Errorf("%s is empty throughout: freeze a record that has it, as files of its own", name)
		}
	}
	if len(empty) < 90 {
		t.Errorf("only %d fields were met", len(empty))
	}
}

func frozenFile(tb testing.TB, name string) []byte {
	tb.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "record", name))
	if err != nil {
		tb.Fatal(err)
	}
	if len(b) == 0 {
		tb.Fatalf("%s is empty", name)
	}
	return b
}

// entriesOf returns the stored lines of a history.
func entriesOf(history []byte) [][]byte {
	return bytes.Split(bytes.TrimSuffix(history, []byte("\n")), []byte("\n"))
}

func TestAFrozenRecordReadsAndIsWrittenTheSame(t *testing.T) {
	for _, f := range frozen {
		stored := frozenFile(t, f.record)
		if got := record.HashOf(stored); got != f.bytes {
			t.Errorf("%s has the hash %s; it is frozen with %s", f.record, got, f.bytes)
		}
		r, err := record.Read(stored)
		if err != nil {
			t.Errorf("%s: %v", f.record, err)
			continue
		}
		again, err := r.Marshal()
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(again, stored) {
			t.Errorf("%s is written differently:\n%s", f.record, again)
		}
	}
}

func TestAFrozenHistoryLeadsToItsRecord(t *testing.T) {
	for _, f := range frozen {
		lines := entriesOf(frozenFile(t, f.history))
		if len(lines) != f.entries {
			t.Errorf("%s has %d entries, want %d", f.history, len(lines), f.entries)
		}
		var state record.State
		kinds := map[record.Kind]int{}
		for i, line := range lines {
			next, err := state.Follow(line)
			if err != nil {
				t.Fatalf("%s, line %d: %v", f.history, i+1, err)
			}
			state = next
			entry, err := record.ReadEntry(line)
			if err != nil {
				t.Fatal(err)
			}
			again, err := entry.Marshal()
			if err != nil || !bytes.Equal(again, line) {
				t.Errorf("%s, line %d is written differently (%v):\n%s", f.history, i+1, err, again)
			}
			kinds[entry.Kind]++
		}
		if kinds[record.Undo] == 0 || kinds[record.Redo] == 0 {
			t.Errorf("%s undoes %d and redoes %d entries, want some of both", f.history, kinds[record.Undo], kinds[record.Redo])
		}
		if !bytes.Equal(state.Bytes, frozenFile(t, f.record)) {
			t.Errorf("%s leads to\n%s", f.history, state.Bytes)
		}
		if state.Entry != f.entry {
			t.Errorf("%s ends at entry %s, want %s", f.history, state.Entry, f.entry)
		}
	}
}
