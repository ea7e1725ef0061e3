package assess_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/assess/working"
)

// wild draws records that the schema admits and nobody would write: real words
// among junk, places twice, readings of nothing, trial fits of strangers.
type wild struct {
	*rapid.T
	specs *spec.Set
	ids   int
}

func (d *wild) id() record.ID {
	d.ids++
	return record.ID(fmt.Sprintf("0197f3a0-1c2b-7def-8123-%012x", d.ids))
}

// word draws a real word, or junk that is not empty.
func (d *wild) word(label string, real ...string) string {
	junk := []string{"{gear}", "{surface} {part}", "a.b", "歯車", "\x00", "-1", "\u2028", "%s %d", "x"}
	if rapid.IntRange(0, 4).Draw(d.T, label+" is junk") == 0 || len(real) == 0 {
		return rapid.SampledFrom(junk).Draw(d.T, label)
	}
	return rapid.SampledFrom(real).Draw(d.T, label)
}

func (d *wild) yes(label string) bool { return rapid.Bool().Draw(d.T, label) }

func (d *wild) maybe(label, text string) string {
	if rapid.IntRange(0, 5).Draw(d.T, label) == 0 {
		return text
	}
	return ""
}

func (d *wild) record() *record.Record {
	var units, kinds, places []string
	for _, u := range d.specs.Units() {
		units = append(units, u.ID)
		for _, p := range u.Places {
			places = append(places, p.ID)
		}
	}
	for _, k := range d.specs.Kinds() {
		kinds = append(kinds, k.ID)
	}
	r := record.New(record.Unit{Type: d.word("unit", units...), Variant: d.maybe("variant", "B")}, rapid.SampledFrom(term.Duties).Draw(d.T, "duty"))
	r.ID = d.id()
	r.Hold, r.Owner.Claim = d.maybe("hold", "{gear}"), d.maybe("claim", "7")
	r.Parts, r.Findings, r.Readings, r.TrialFits = map[record.ID]record.Part{}, map[record.ID]record.Finding{}, map[record.ID]record.Reading{}, map[record.ID]record.TrialFit{}
	r.Overrides, r.Limits = map[record.ID]record.Override{}, map[record.ID]record.Limit{}
	few := func(label string, most int) int { return rapid.IntRange(0, most).Draw(d.T, label) }
	for range 1 + few("parts", 4) {
		r.Parts[d.id()] = d.part(kinds, places)
	}
	for range few("findings", 6) {
		r.Numbers.Finding++
		r.Findings[d.id()] = d.finding(r)
	}
	for range few("readings", 3) {
		r.Readings[d.id()] = d.reading(r)
	}
	for range few("limits", 2) {
		r.Limits[d.id()] = d.limit(r)
	}
	r.Workings = map[record.ID]record.Working{}
	for range few("workings", 2) {
		r.Workings[d.id()] = d.working(r)
	}
	for range few("fits", 3) {
		r.TrialFits[d.id()] = d.fit(r)
	}
	for range few("overrides", 2) {
		id, _, surface := d.somewhere(r)
		if d.yes("whole part") {
			surface = ""
		}
		r.Overrides[d.id()] = record.Override{Part: id, Surface: surface, Verdict: rapid.SampledFrom(term.Verdicts).Draw(d.T, "verdict"),
			Reason: d.word("reason"), By: d.word("by"), Withdrawn: d.maybe("withdrawn", "Wren: wrong")}
	}
	return r
}

func (d *wild) part(kinds, places []string) record.Part {
	p := record.Part{Kind: d.word("kind", kinds...), Place: d.maybe("no place", "x"), State: rapid.SampledFrom(append(slices.Repeat([]term.PartState{term.InHand}, 5), term.PartStates...)).Draw(d.T, "state"),
		Variant: d.maybe("other variant", "C"), Count: rapid.IntRange(0, 1<<53-1).Draw(d.T, "count"), Surfaces: map[string]record.Looked{}}
	if p.Place == "" {
		p.Place = d.word("place", places...)
	} else {
		p.Place = ""
	}
	looked := func() record.Looked {
		return record.Looked{Eye: d.yes("eye"), Touch: d.yes("touch"), Clean: d.yes("clean"), By: d.maybe("by", "Wren")}
	}
	if kind, ok := d.specs.Kind(p.Kind); ok {
		for _, s := range kind.Surfaces {
			if d.yes("looked") {
				p.Surfaces[s.ID] = looked()
			}
		}
	}
	if d.yes("a surface of nothing") {
		p.Surfaces[d.word("surface")] = looked()
	}
	return p
}

// somewhere draws a part, its kind and one of its surfaces.
func (d *wild) somewhere(r *record.Record) (record.ID, *spec.Kind, string) {
	id := rapid.SampledFrom(slices.Sorted(maps.Keys(r.Parts))).Draw(d.T, "part")
	kind, ok := d.specs.Kind(r.Parts[id].Kind)
	var surfaces []string
	if ok {
		for _, s := range kind.Surfaces {
			surfaces = append(surfaces, s.ID)
		}
	}
	return id, kind, d.word("surface", surfaces...)
}

func (d *wild) finding(r *record.Record) record.Finding {
	id, _, surface := d.somewhere(r)
	damage := rapid.SampledFrom(term.Damages).Draw(d.T, "damage")
	return record.Finding{Number: r.Numbers.Finding, Part: id, Surface: surface, Damage: damage,
		Severity: rapid.SampledFrom(damage.Scale().Severities()).Draw(d.T, "severity"), Zone: rapid.SampledFrom(term.Zones).Draw(d.T, "zone"),
		Method: rapid.SampledFrom(term.Methods).Draw(d.T, "method"), Share: rapid.SampledFrom([]string{"", "0", "12", "2.5", "100"}).Draw(d.T, "share"),
		By: d.maybe("by", "{part}"), Withdrawn: d.maybe("withdrawn", "Edda: wrong tray"), Tooth: d.maybe("tooth", "{gear}")}
}

// dimension draws a dimension of a surface.
func (d *wild) dimension(kind *spec.Kind, surface string) string {
	var names []string
	if kind != nil {
		if f, _, ok := kind.Surface(surface); ok {
			for _, x := range f.Dimensions {
				names = append(names, x.ID)
			}
		}
	}
	return d.word("dimension", names...)
}

func (d *wild) length(label string) string {
	return rapid.SampledFrom([]string{"18.42", "18,42", "0.726 in", "1,000", "23/32\"", "-3", "0", "1e9", "NaN", "9999999", "x", "0.0001 mm", "18.4", "9000 mm"}).Draw(d.T, label)
}

func (d *wild) reading(r *record.Record) record.Reading {
	id, kind, surface := d.somewhere(r)
	m := record.Reading{Part: id, Surface: surface, Dimension: d.dimension(kind, surface), Unit: d.word("unit of length", "mm", "in", "thou"),
		Soaked: d.yes("soaked"), PartTemperature: d.maybe("temperature", "-40"), Withdrawn: d.maybe("withdrawn", "x")}
	for range 1 + rapid.IntRange(0, 3).Draw(d.T, "values") {
		m.Values = append(m.Values, record.Value{Text: d.length("value"), Position: d.maybe("position", "top")})
	}
	m.Instrument.Error, m.Instrument.Resolution = d.maybe("error", d.length("error")), d.maybe("resolution", d.length("resolution"))
	m.Instrument.Kind = d.word("instrument", "micrometer", "caliper", "feeler", "plug-gauge")
	return m
}

func (d *wild) working(r *record.Record) record.Working {
	id, _, surface := d.somewhere(r)
	w := record.Working{Part: id, Surface: d.maybe("surface", surface), Unit: d.word("unit of length", "mm", "in", "thou"), Entries: map[string]string{"x": "1"},
		Manual: d.maybe("manual", "m"), Withdrawn: d.maybe("withdrawn", "x")}
	var ids []string
	for _, one := range working.All() {
		ids = append(ids, one.ID)
	}
	w.What = d.word("working", ids...)
	if one, ok := working.Called(w.What); ok {
		for _, a := range one.Asks {
			if d.yes("written") {
				w.Entries[a.ID] = d.length(a.ID)
			}
		}
	}
	w.Instrument.Kind, w.Instrument.Error = d.word("instrument", "dial-indicator", "caliper", "feeler-gauge"), d.maybe("error", d.length("error"))
	w.Inner.Kind = d.maybe("inner", "bore-gauge")
	return w
}

func (d *wild) limit(r *record.Record) record.Limit {
	id, kind, surface := d.somewhere(r)
	return record.Limit{Part: id, Surface: surface, Dimension: d.dimension(kind, surface), Discard: d.length("discard"),
		Nominal: d.maybe("nominal", d.length("nominal")), Reuse: d.maybe("reuse", d.length("reuse")), Manual: d.word("manual"), By: d.word("by")}
}

func (d *wild) fit(r *record.Record) record.TrialFit {
	var pairs []string
	for _, p := range d.specs.Pairs() {
		pairs = append(pairs, p.ID)
	}
	f := record.TrialFit{Pair: d.word("pair", pairs...), Unworn: rapid.SampledFrom([]string{"", "a", "b"}).Draw(d.T, "unworn"), Withdrawn: d.maybe("withdrawn", "x")}
	var outcomes []string
	if p, ok := d.specs.Pair(f.Pair); ok {
		for _, o := range p.Outcomes {
			outcomes = append(outcomes, o.ID)
		}
	}
	f.Outcome = d.word("outcome", outcomes...)
	ours, _, _ := d.somewhere(r)
	theirs := record.PartOf{Record: d.id(), Part: d.id()}
	if other, _, _ := d.somewhere(r); other != ours {
		theirs = record.PartOf{Record: r.ID, Part: other}
	}
	f.A, f.B = record.PartOf{Record: r.ID, Part: ours}, theirs
	if d.yes("the other way round") {
		f.A, f.B = f.B, f.A
	}
	if f.Unworn == "a" && f.B.Record == r.ID && d.yes("from the shelf") {
		f.A = record.PartOf{}
	}
	return f
}

// stands checks what holds of every assessment, whatever the record.
func stands(t interface{ Fatalf(string, ...any) }, c assess.Case, specs *spec.Set) {
	var before map[record.ID]assess.ByDuty
	for _, duty := range append(slices.Clone(term.Duties), "no duty") {
		a := assess.Assess(c, specs, duty)
		verdicts := map[record.ID]assess.ByDuty{}
		for i := range a.Parts {
			p := &a.Parts[i]
			verdicts[p.ID] = p.Verdicts
			if p.Override == nil {
				if wrong := reasonless(p, duty); wrong != "" {
					t.Fatalf("%q: %s", p.Name, wrong)
				}
			}
			for _, g := range p.Grounds {
				if r, _ := p.Ground(g); r == nil {
					t.Fatalf("%q rests on the ground %+v, which is none", p.Name, g)
				}
			}
		}
		if len(a.Parts) != len(c.Record.Parts) || len(a.Why) == 0 {
			t.Fatalf("%d parts of %d are judged, because %q", len(a.Parts), len(c.Record.Parts), a.Why)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Fatalf("%v", err)
		}
		if before != nil && !maps.Equal(before, verdicts) {
			t.Fatalf("asked for %s duty the verdicts are %v, before %v", duty, verdicts, before)
		}
		before = verdicts
	}
	if alone := assess.Verdicts(c, specs); !maps.Equal(alone, before) {
		t.Fatalf("the verdicts alone are %v, with their reasons %v", alone, before)
	}
}

func TestAnyRecordIsJudged(t *testing.T) {
	specs := ownSpecs(t)
	rapid.Check(t, func(rt *rapid.T) {
		d := &wild{T: rt, specs: specs}
		r := d.record()
		if problems := r.Check(); len(problems) > 0 {
			rt.Fatalf("the schema does not admit it: %v", problems)
		}
		c := assess.Case{Record: r, Wear: assess.Wear{UsableFrom: rapid.IntRange(0, 100).Draw(rt, "usable from")}}
		for range rapid.IntRange(0, 2).Draw(rt, "fits of others") {
			c.Fits = append(c.Fits, d.fit(r))
		}
		stands(rt, c, specs)
	})
}

// Whatever JSON is taken for a record is judged.
func FuzzAssess(f *testing.F) {
	specs := ownSpecs(f)
	files, err := filepath.Glob("../testdata/record/format-*.json")
	if err != nil || len(files) < 2 {
		f.Fatalf("%d frozen records were found: %v", len(files), err)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil || len(b) == 0 {
			f.Fatal(name, err)
		}
		f.Add(b)
	}
	for seed := range 12 {
		r := rapid.Custom(func(t *rapid.T) *record.Record { return (&wild{T: t, specs: specs}).record() }).Example(seed)
		b, err := r.Marshal()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := record.Read(b)
		if err != nil {
			return
		}
		stands(t, assess.Case{Record: r}, specs)
	})
}
