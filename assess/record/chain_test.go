package record_test

import (
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func TestAnyChangedByteOfAHistoryIsSeen(t *testing.T) {
	f := frozen[len(frozen)-1]
	lines := entriesOf(frozenFile(t, f.history))
	states := []record.State{{}}
	for _, line := range lines {
		s, err := states[len(states)-1].Follow(line)
		if err != nil {
			t.Fatal(err)
		}
		states = append(states, s)
	}
	tried := 0
	for i, line := range lines {
		for at := i % 7; at < len(line); at += 1 + len(line)/40 {
			for _, bit := range []byte{1, 0x20} {
				bad := slices.Clone(line)
				bad[at] ^= bit
				tried++
				s, err := states[i].Follow(bad)
				if err == nil && i+1 < len(lines) {
					_, err = s.Follow(lines[i+1])
				}
				// The last entry is guarded by the hash that the archive holds of it.
				if err == nil && (i+1 < len(lines) || s.Entry == f.entry) {
					t.Errorf("entry %d with byte %d (%q) changed goes unseen", i+1, at, line[max(0, at-20):at+1])
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d bytes were tried", tried)
	}
}

func TestAHistoryWithAnEntryMissingDoubledOrMovedIsSeen(t *testing.T) {
	lines := entriesOf(frozenFile(t, frozen[0].history))
	for name, bad := range map[string][][]byte{
		"missing":     slices.Delete(slices.Clone(lines), 4, 5),
		"doubled":     slices.Insert(slices.Clone(lines), 4, lines[4]),
		"moved":       {lines[0], lines[2], lines[1]},
		"headless":    lines[1:],
		"begun twice": {lines[0], lines[0]},
	} {
		var s record.State
		var err error
		for _, line := range bad {
			if s, err = s.Follow(line); err != nil {
				break
			}
		}
		if err == nil {
			t.Errorf("a history with an entry %s is followed", name)
		}
	}
}

func TestAFaultyEntryIsRefusedWithThePlace(t *testing.T) {
	lines := entriesOf(frozenFile(t, frozen[0].history))
	begun, act, undo := string(lines[0]), string(lines[1]), string(lines[8])
	for _, c := range []struct{ line, old, new, place string }{
		{act, `"kind":"do"`, `"kind":"forget"`, "/kind"},
		{act, `"kind":"do"`, `"Kind":"do"`, "/Kind"},
		{act, `"kind":"do"`, `"kind":"do","kind":"do"`, "/kind"},
		{act, `"kind":"do"`, `"kind":"undo"`, "/of"},
		{act, `"kind":"do"`, `"kind":"do","of":1`, "/of"},
		{act, `"kind":"do"`, `"kind":"do","why":"fun"`, "/why"},
		{act, `"bench":"bench 1"`, `"bench":null`, "/bench"},
		{act, `"number":2`, `"number":0`, "/number"},
		{act, `"number":2`, `"number":1`, "/before"},
		{act, `"number":2`, `"number":2.0`, "/number"},
		{act, `"after":"`, `"after":"x`, "/after"},
		{act, `"before":"`, `"before":"x`, "/before"},
		{act, `"utc":"2026-05-12T`, `"utc":"2026-05-12 `, "/at"},
		{act, `"forward":[`, `"forward":7,"inverse":[`, "/inverse"},
		{act, `"forward":[`, `"forward":null,"inverse":[`, "/forward"},
		{act, `"record":"019e`, `"record":"019E`, "/record"},
		{begun, `"number":1`, `"number":2`, "/before"},
		{undo, `"of":`, `"of":99`, "/of"},
	} {
		bad := strings.Replace(c.line, c.old, c.new, 1)
		if bad == c.line {
			t.Fatalf("%s is not in the entry", c.old)
		}
		_, err := record.ReadEntry([]byte(bad))
		if err == nil {
			t.Errorf("%s was taken", c.new)
		} else if places := placesOf(t, err); !slices.Contains(places, c.place) {
			t.Errorf("%s is refused at %q (%v), want %s", c.new, places, err, c.place)
		}
	}
	if _, err := record.Create(record.New(record.Unit{Type: "four-speed"}, term.Yard), record.Meta{Who: "Edda", At: record.Stamp{UTC: "yesterday"}}); err == nil {
		t.Error("a record was begun at no moment")
	}
}

// An entry that was made anew by someone who knows the chain, and not all of it.
func TestAnEntryThatDoesNotDoWhatItSaysIsNotFollowed(t *testing.T) {
	b := begin(t)
	b.do(complaint("one"))
	before := b.state
	b.do(complaint("two"))
	for name, forge := range map[string]func(*record.Entry){
		"another patch":  func(e *record.Entry) { e.Forward = []byte(`[{"op":"replace","path":"/complaint","value":"2"}]`) },
		"another hash":   func(e *record.Entry) { e.After = before.Entry },
		"another number": func(e *record.Entry) { e.Number = 4 },
		"another record": func(e *record.Entry) { e.Record = record.NewID() },
		"no such place":  func(e *record.Entry) { e.Forward = []byte(`[{"op":"replace","path":"/people/0","value":"2"}]`) },
	} {
		e, err := record.ReadEntry(b.entries[2])
		if err != nil {
			t.Fatal(err)
		}
		forge(&e)
		line, err := e.Marshal()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := before.Follow(line); err == nil {
			t.Errorf("an entry with %s is followed", name)
		}
	}
	// A chain that is sound, and leads to what is no sound record.
	e, err := record.ReadEntry(b.entries[2])
	if err != nil {
		t.Fatal(err)
	}
	e.Forward = []byte(`[{"op":"remove","path":"/unit/type"}]`)
	e.After = record.HashOf([]byte(strings.Replace(string(before.Bytes), `"type":"four-speed"`, "", 1)))
	line, err := e.Marshal()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := before.Follow(line); err == nil || !strings.Contains(err.Error(), "/unit/type") {
		t.Errorf("a record without its unit: got %v", err)
	}
}
