package record_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// drawer draws the values of a record. Its ids are made by counting, so that a
// failure can be drawn again.
type drawer struct {
	*rapid.T
	ids int
}

func (d *drawer) id() record.ID {
	d.ids++
	return record.ID(fmt.Sprintf("0197f3a0-1c2b-7def-8123-%012x", d.ids))
}

func (d *drawer) text(label string) string {
	return rapid.OneOf(rapid.SampledFrom([]string{"", "a/b~c", "~1", "-", "<&>", "\u2028\"\\\x00", "歯車 📷", "שלום", "null"}), rapid.String()).Draw(d.T, label)
}

func (d *drawer) word(label string) string { return "w" + d.text(label) }

// short is a word that a name may be as long as.
func (d *drawer) short(label string) string {
	return rapid.OneOf(rapid.SampledFrom([]string{"a/b~c", "~1", "-", "歯車"}), rapid.StringN(1, 100, -1)).Draw(d.T, label)
}

func (d *drawer) whole(label string, least, most int) int {
	return rapid.IntRange(least, most).Draw(d.T, label)
}

func (d *drawer) yes(label string) bool { return rapid.Bool().Draw(d.T, label) }

func pick[T any](d *drawer, label string, from ...T) T {
	return rapid.SampledFrom(from).Draw(d.T, label)
}

// one picks the id of a member, which is empty if there is none.
func one[V any](d *drawer, label string, from map[record.ID]V) record.ID {
	if len(from) == 0 {
		return ""
	}
	return pick(d, label, slices.Sorted(maps.Keys(from))...)
}

func (d *drawer) record() *record.Record {
	r := record.New(record.Unit{Type: d.word("type"), Maker: d.text("maker"), Serial: d.text("serial"), Oil: d.text("oil")}, pick(d, "duty", term.Duties...))
	r.ID = d.id()
	r.Owner = record.Owner{Name: d.text("owner"), Claim: d.text("claim")}
	r.Complaint = d.text("complaint")
	r.Dates = record.Dates{Received: pick(d, "received", "", "2026-05-12"), Issued: pick(d, "issued", "", "2028-02-29")}
	for range d.whole("people", 0, 2) {
		r.People = append(r.People, record.Person{Name: d.word("name"), Does: d.text("does")})
	}
	r.Parts = map[record.ID]record.Part{}
	for range d.whole("parts", 0, 3) {
		r.Parts[d.id()] = d.part()
	}
	r.Photos, r.Findings, r.Outlines = map[record.ID]record.Photo{}, map[record.ID]record.Finding{}, map[record.ID]record.Outline{}
	for range d.whole("photos", 0, 2) {
		r.Numbers.Photo++
		p := d.photo(r)
		p.Number = r.Numbers.Photo
		r.Photos[d.id()] = p
	}
	if len(r.Parts) == 0 {
		return r
	}
	for range d.whole("findings", 0, 2) {
		r.Numbers.Finding++
		f := d.finding(r)
		f.Number = r.Numbers.Finding
		r.Findings[d.id()] = f
	}
	for range d.whole("outlines", 0, 2) {
		if len(r.Photos) > 0 {
			r.Numbers.Outline++
			o := d.outline(r)
			o.Number = r.Numbers.Outline
			r.Outlines[d.id()] = o
		}
	}
	d.measured(r)
	return r
}

func (d *drawer) part() record.Part {
	p := record.Part{Kind: d.word("kind"), Place: d.text("place"), State: pick(d, "state", term.PartStates...), Count: d.whole("count", 0, 1<<53-1), Note: d.text("note")}
	for range d.whole("surfaces", 0, 2) {
		if p.Surfaces == nil {
			p.Surfaces = map[string]record.Looked{}
		}
		p.Surfaces[d.word("surface")] = record.Looked{Eye: d.yes("looked"), Touch: d.yes("felt"), Clean: d.yes("clean"), By: d.text("by")}
	}
	return p
}

func (d *drawer) photo(r *record.Record) record.Photo {
	p := record.Photo{
		File: strings.Repeat(pick(d, "file", "0a", "ff"), 32), Name: d.word("file name"), Size: int64(d.whole("size", 1, 1<<53-1)),
		Width: d.whole("width", 1, 1_000_000), Height: d.whole("height", 1, 1_000_000),
		Orientation: d.whole("orientation", 1, 8), Turned: pick(d, "turned", 0, 90, 180, 270),
		Taken: record.Taken{Local: pick(d, "local", "", "2026-05-12T09:10:00"), Zone: pick(d, "zone", "", "+05:45")},
		Stage: pick(d, "stage", append(term.Stages, "")...), LeftOut: d.text("left out"), Note: d.text("note"),
	}
	if id := one(d, "subject", r.Parts); id != "" {
		p.Subjects = []record.Subject{{Part: id, Surface: d.text("surface")}}
	}
	return p
}

func (d *drawer) finding(r *record.Record) record.Finding {
	damage := pick(d, "damage", term.Damages...)
	return record.Finding{
		Part: one(d, "part", r.Parts), Surface: d.word("surface"), Damage: damage,
		Severity: pick(d, "severity", damage.Scale().Severities()...), Zone: pick(d, "zone", term.Zones...),
		Method: pick(d, "method", term.Methods...), Flank: pick(d, "flank", append(term.FlankSides, "")...),
		Share: pick(d, "share", "", "12", "2.5", "100"), Standing: pick(d, "standing", append(term.Standings, "")...),
		Note: d.text("note"), Withdrawn: d.text("withdrawn"),
	}
}

func (d *drawer) outline(r *record.Record) record.Outline {
	photo := one(d, "photo", r.Photos)
	o := record.Outline{Photo: photo, Finding: one(d, "finding", r.Findings), By: d.text("by"), Shape: pick(d, "shape", record.Polygon, record.Oval, record.Line, record.Spot, record.Edges)}
	corners := map[record.Shape]int{record.Polygon: d.whole("corners", 3, 5), record.Oval: 2, record.Line: d.whole("places", 2, 3), record.Spot: 1, record.Edges: 8}[o.Shape]
	switch {
	case o.Shape == record.Edges:
		o.Finding = ""
		o.Known = record.Known{Width: d.word("width"), Height: d.word("height"), What: d.text("what")}
	case corners > 2 && o.Shape == record.Polygon && d.yes("a repeat") && d.repeats(r, &o):
	case d.yes("of a face"):
		o.Face = record.Face{Part: one(d, "part", r.Parts), Surface: d.word("surface"), Zone: pick(d, "zone", term.Zones...)}
	case o.Shape == record.Line && d.yes("of known length"):
		o.Known = record.Known{Length: d.word("length"), What: d.text("what"), Tilt: pick(d, "tilt", "", "1", "12.5", "45")}
	case corners == 4:
		o.Known = record.Known{Width: d.word("width"), Height: d.word("height"), Tolerance: d.text("tolerance")}
	}
	if o.Repeats == "" && d.yes("on a cylinder") {
		o.Lies = record.Lies{Diameter: d.text("diameter"), Axis: [2]record.Point{{1, 1}, {d.whole("axis", 0, 100), 3}}}
	}
	for range corners {
		o.Points = append(o.Points, record.Point{d.whole("x", 0, r.Photos[photo].Width*100), d.whole("y", 0, r.Photos[photo].Height*100)})
	}
	return o
}

// repeats makes an outline a repeat of one that is there, if any can be repeated.
func (d *drawer) repeats(r *record.Record, o *record.Outline) bool {
	for id, first := range record.InOrder(r.Outlines) {
		if first.Photo == o.Photo && first.Repeats == "" && (first.Shape == record.Polygon || first.Shape == record.Oval) {
			o.Repeats, o.Finding = id, ""
			return true
		}
	}
	return false
}

func (d *drawer) reading(r *record.Record) record.Reading {
	m := record.Reading{
		Part: one(d, "part", r.Parts), Surface: d.word("surface"), Dimension: d.word("dimension"), Unit: pick(d, "unit", "mm", "in"),
		Values: []record.Value{{Text: d.word("value"), Position: d.text("position"), Angle: d.text("angle"), Stops: d.yes("stops")}}, Instrument: record.Instrument{Name: d.text("instrument")},
		Soaked: d.yes("soaked"), ZeroBefore: d.text("zero"),
	}
	if d.yes("at") {
		m.At = record.Stamp{UTC: pick(d, "utc", "2026-05-12T07:10:00Z", "2026-05-12T07:10:00.5Z", "2026-05-12T07:10:00.123Z"), Zone: "-03:30"}
	}
	return m
}

func (d *drawer) working(r *record.Record) record.Working {
	w := record.Working{Part: one(d, "part", r.Parts), Surface: d.text("surface"), What: d.short("what"), Unit: pick(d, "unit", "mm", "in"),
		Entries: map[string]string{}, Inner: record.Instrument{Kind: d.text("kind")}, Manual: d.text("manual"), Note: d.text("note")}
	for range d.whole("entries", 1, 3) {
		w.Entries[d.short("entry")] = d.text("typed")
	}
	return w
}

func (d *drawer) trialFit(r *record.Record) record.TrialFit {
	f := record.TrialFit{Pair: d.word("pair"), A: record.PartOf{Record: r.ID, Part: one(d, "part", r.Parts)}, B: record.PartOf{Record: d.id(), Part: d.id()}, Outcome: d.word("outcome")}
	if d.yes("the other way round") {
		f.A, f.B = f.B, f.A
		if d.yes("with a reference part from the shelf") {
			f.A, f.Unworn = record.PartOf{}, "a"
		}
	}
	return f
}

func (d *drawer) measured(r *record.Record) {
	r.Readings, r.TrialFits = map[record.ID]record.Reading{}, map[record.ID]record.TrialFit{}
	r.Overrides, r.Installed = map[record.ID]record.Override{}, map[record.ID]record.Installed{}
	if d.yes("a reading") {
		r.Readings[d.id()] = d.reading(r)
	}
	if d.yes("a trial fit") {
		r.TrialFits[d.id()] = d.trialFit(r)
	}
	if d.yes("an override") {
		r.Overrides[d.id()] = record.Override{Part: one(d, "part", r.Parts), Surface: d.text("surface"), Verdict: pick(d, "verdict", term.Verdicts...), Reason: d.word("reason"), By: d.word("by")}
	}
	if d.yes("a limit") {
		r.Limits = map[record.ID]record.Limit{d.id(): {Part: one(d, "part", r.Parts), Surface: d.word("surface"), Dimension: d.word("dimension"),
			Discard: d.word("discard"), Manual: d.word("manual"), By: d.word("by"), Photo: one(d, "page", r.Photos)}}
	}
	if d.yes("a working") {
		r.Workings = map[record.ID]record.Working{d.id(): d.working(r)}
	}
	if d.yes("an opinion") {
		r.Opinions = map[record.ID]record.Opinion{d.id(): {Cause: d.word("cause"), Text: d.text("text"), By: d.word("by")}}
	}
	if d.yes("an installed part") {
		in := record.Installed{Place: d.word("place"), What: d.text("what")}
		if d.yes("from a core") {
			in.From = record.PartOf{Record: d.id(), Part: d.id()}
		}
		r.Installed[d.id()] = in
	}
}

// full is the frozen record of the newest format: one with everything in it.
func full(tb testing.TB) *record.Record {
	tb.Helper()
	r, err := record.Read(frozenFile(tb, frozen[len(frozen)-1].record))
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// first is the id of the oldest member of a collection.
func first[V any](tb testing.TB, collection map[record.ID]V) record.ID {
	tb.Helper()
	for id := range record.InOrder(collection) {
		return id
	}
	tb.Fatal("the collection is empty")
	return ""
}
