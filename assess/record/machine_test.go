package record_test

import (
	"bytes"
	"errors"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// machine makes random gestures, undoes and does again, and replays each entry
// beside it as an archive would: the two must never differ.
type machine struct {
	drawer
	state    record.State
	replayed record.State
	stacks   record.Stacks
	// before holds the record's JSON before each act that stands, for undo.
	before [][]byte
	after  [][]byte
}

func (m *machine) keep(step record.Step) {
	m.state = step.State
	m.stacks.Add(step.Entry)
	next, err := m.replayed.Follow(step.EntryBytes)
	if err != nil {
		m.Fatalf("entry %d can't be replayed: %v\n%s", step.Entry.Number, err, step.EntryBytes)
	}
	m.replayed = next
	same(m, "kept", step)
}

// make makes a gesture drawn for the record as it is. A gesture may be refused
// or change nothing; then all stays.
func (m *machine) make(g record.Gesture) {
	was := bytes.Clone(m.state.Bytes)
	numbers := m.state.Record.Numbers
	step, err := m.state.Make(g, meta)
	if !bytes.Equal(was, m.state.Bytes) || numbers != m.state.Record.Numbers {
		m.Fatal("a gesture changed the state before it")
	}
	var problems record.Problems
	switch {
	case err == nil:
		m.keep(step)
		m.before, m.after = append(m.before, was), nil
	case errors.Is(err, record.ErrNothingChanged):
	case errors.As(err, &problems) && g.Says != "both": // two drawn apart may not fit each other
		m.Fatalf("%s: %v", g.Says, err)
	}
}

// plain gives a record's JSON without the numbers given, which undo leaves.
func (m *machine) plain(b []byte) string {
	r, err := record.Read(b)
	if err != nil {
		m.Fatal(err)
	}
	r.Numbers = record.Numbers{}
	plain, err := r.Marshal()
	if err != nil {
		m.Fatal(err)
	}
	return string(plain)
}

func (m *machine) takeBack(kind record.Kind, of func() (record.Entry, bool), from, to *[][]byte) {
	e, ok := of()
	if ok != (len(*from) > 0) {
		m.Fatalf("%s: there is an entry: %v; there were %d acts", kind, ok, len(*from))
	}
	if !ok {
		return
	}
	was := bytes.Clone(m.state.Bytes)
	step, err := m.state.TakeBack(kind, e, meta)
	if err != nil {
		m.Fatalf("%s of entry %d (%s): %v", kind, e.Number, e.Says, err)
	}
	want := (*from)[len(*from)-1]
	*from, *to = (*from)[:len(*from)-1], append(*to, was)
	if m.plain(step.Bytes) != m.plain(want) {
		m.Fatalf("%s of entry %d leads to\n%s\nwant\n%s", kind, e.Number, step.Bytes, want)
	}
	m.keep(step)
}

// gesture draws one gesture for the record.
func (m *machine) gesture() record.Gesture {
	r := m.state.Record
	d := &m.drawer
	part, photo := one(d, "of part", r.Parts), one(d, "of photo", r.Photos)
	finding, outline := one(d, "of finding", r.Findings), one(d, "of outline", r.Outlines)
	all := []record.Gesture{
		record.Set("complaint", func(r *record.Record) { r.Complaint = d.text("complaint") }),
		record.Set("people", func(r *record.Record) {
			if d.yes("fewer") && len(r.People) > 0 {
				r.People = r.People[1:]
				return
			}
			r.People = append(r.People, record.Person{Name: d.word("name")})
		}),
		record.AddParts("part", map[record.ID]record.Part{d.id(): d.part()}),
		record.AddOpinion("opinion", d.id(), record.Opinion{Cause: d.word("cause"), By: "Edda"}),
		record.RemovePhoto(photo, 0),
		record.RemoveOutline(outline, 0),
	}
	if len(r.Parts) > 0 {
		all = append(all,
			record.ChangePart("tag", part, func(p *record.Part) { p.Tag, p.Count = d.text("tag"), d.whole("count", 0, 3) }),
			record.Look("look", part, map[string]record.Looked{d.word("surface"): {Eye: d.yes("looked"), Touch: d.yes("felt")}}),
			record.AddPhotos("photos", []record.ID{d.id(), d.id()}, []record.Photo{d.photo(r), d.photo(r)}),
			record.AddFinding("finding", d.id(), d.finding(r)),
			record.AddReading("reading", d.id(), d.reading(r)),
			record.AddTrialFit("trial fit", d.id(), d.trialFit(r)),
			record.SetOverride("override", d.id(), record.Override{Part: part, Verdict: pick(d, "verdict", term.Verdicts...), Reason: "r", By: "b"}))
	}
	if len(r.Photos) > 0 {
		all = append(all, record.AddOutline("outline", d.id(), d.outline(r)),
			record.ChangePhoto("photo", photo, func(p *record.Photo) { p.Turned, p.Note = pick(d, "turned", 0, 90), d.text("note") }))
	}
	if len(r.Findings) > 0 {
		all = append(all, record.Withdraw(finding, 0, "Edda", d.text("why")),
			record.ChangeFinding("note", finding, func(f *record.Finding) { f.Note = d.text("note") }))
	}
	if opinion := one(d, "of opinion", r.Opinions); opinion != "" {
		all = append(all, record.WithdrawEntry("opinion withdrawn", opinion, "Edda", d.text("why")))
	}
	if again := one(d, "of reading", r.Readings); again != "" {
		all = append(all, record.AddReading("reading again", again, d.reading(r)), record.WithdrawEntry("reading withdrawn", again, "Edda", "slip"))
	}
	if len(r.Parts) > 0 {
		id := d.id()
		if again := one(d, "of working", r.Workings); again != "" && d.yes("worked out anew") {
			id = again
		}
		all = append(all, record.AddWorking("working", id, d.working(r)), record.WithdrawEntry("withdrawn", id, "Edda", "slip"))
	}
	if outline != "" {
		all = append(all, record.ChangeOutline("corners", outline, func(o *record.Outline) {
			if o.Shape == record.Polygon && d.yes("one more") {
				o.Points = append(o.Points, o.Points[0])
			}
			o.Points[d.whole("corner", 0, 1)%len(o.Points)] = record.Point{0, d.whole("y", 0, 100)}
		}))
	}
	g := pick(d, "gesture", all...)
	if d.yes("together with another") {
		g = record.Together("both", g, pick(d, "second", all...))
	}
	return g
}

func TestAnyHistoryReplaysAndGoesBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := &machine{drawer: drawer{T: rt}}
		r := record.New(record.Unit{Type: "four-speed"}, term.Road)
		r.ID = m.id()
		step, err := record.Create(r, meta)
		if err != nil {
			rt.Fatal(err)
		}
		m.keep(step)
		rt.Repeat(map[string]func(*rapid.T){
			"gesture": func(*rapid.T) { m.make(m.gesture()) },
			"undo":    func(*rapid.T) { m.takeBack(record.Undo, m.stacks.Undoable, &m.before, &m.after) },
			"redo":    func(*rapid.T) { m.takeBack(record.Redo, m.stacks.Redoable, &m.after, &m.before) },
			"reload": func(*rapid.T) { // as the program does when it is started again
				m.state = record.State{Bytes: m.state.Bytes, Number: m.state.Number, Entry: m.state.Entry, Record: m.state.Record}
			},
			"": func(rt *rapid.T) {
				if !bytes.Equal(m.state.Bytes, m.replayed.Bytes) || m.state.Entry != m.replayed.Entry || m.state.Number != m.replayed.Number {
					rt.Fatalf("replayed:\n%s\nwant\n%s", m.replayed.Bytes, m.state.Bytes)
				}
				if again, err := record.Read(m.state.Bytes); err != nil || reflect.ValueOf(again).IsNil() {
					rt.Fatal(err)
				}
			},
		})
	})
}
