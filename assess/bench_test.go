package assess_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"
	"testing/fstest"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// small is a spec of one kind with eight surfaces, two kinds that run on each
// other, and a unit of the given number of places.
func small(tb testing.TB, places int) *spec.Set {
	tb.Helper()
	text := `
[[damage]]
id = "rust-pits"
plain = "Rust has eaten small holes."
source = "test"
[[damage]]
id = "crack"
plain = "A crack."
source = "test"
[[damage]]
id = "missing-metal"
plain = "A piece broke off."
shock = true
source = "test"
[[damage]]
id = "water-stain"
plain = "Water stood here."
colour = true
source = "test"
[[kind]]
id = "wheel"
name = "wheel"
torque = true
source = "test"
`
	for i := range 8 {
		text += fmt.Sprintf(`
[[kind.surface]]
id = "s%d"
name = "surface %d"
role = "flank"
zones = ["working-face", "stressed-zone"]
look = "Look at it."
feel = "Feel it."
mates = ["wheel.s%d"]
  [[kind.surface.dimension]]
  id = "width"
  name = "width"
`, i, i, i)
	}
	text += `
[[kind]]
id = "axle"
name = "axle"
source = "test"
[[kind.surface]]
id = "s1"
name = "seat"
role = "seat"
zones = ["working-face"]
look = "Look at it."
[[pair]]
id = "rock"
name = "wheel on wheel"
a = ["wheel.s1"]
b = ["axle.s1"]
how = "Rock it."
source = "test"
  [[pair.outcome]]
  id = "snug"
  verdict = "sound"
  reason = "It sits."
  [[pair.outcome]]
  id = "rocks"
  verdict = "condemned"
  remedy = "replace"
  reason = "It rocks."
[[rule]]
id = "pits-seen"
role = ["flank"]
damage = ["rust-pits"]
severity = ["seen"]
verdict = "usable"
reason = "Few pits on the {surface}."
source = "test"
[[rule]]
id = "pits-felt"
role = ["flank"]
damage = ["rust-pits"]
severity = ["felt", "deep"]
zone = ["working-face"]
by = "load"
light = "usable"
normal = "condemned"
hard = "condemned"
remedy = "replace"
ask_mate = "pits may have printed"
reason = "Pits on the {surface}."
source = "test"
[[rule]]
id = "pits-root"
role = ["flank"]
damage = ["rust-pits"]
severity = ["felt", "deep"]
zone = ["stressed-zone"]
by = "load"
verdict = "usable"
until_tested = { for = "crack", by = ["penetrant"], light = "undecided", normal = "undecided", hard = "condemned", next = "Crack-test it." }
remedy = "replace"
reason = "Pits in a root."
source = "test"
[[rule]]
id = "crack-none"
role = ["flank"]
damage = ["crack"]
severity = ["not-found"]
verdict = "sound"
reason = "No crack was found."
source = "test"
[[rule]]
id = "crack-maybe"
role = ["flank"]
damage = ["crack"]
severity = ["suspected"]
verdict = "undecided"
next = "Crack-test it."
reason = "There may be a crack."
source = "test"
[[rule]]
id = "gone"
role = ["flank"]
damage = ["crack", "missing-metal"]
severity = ["present"]
verdict = "condemned"
remedy = "replace"
reason = "It is broken."
source = "test"
[[rule]]
id = "stain"
role = ["flank"]
damage = ["water-stain"]
severity = ["seen"]
verdict = "sound"
reason = "Only a stain."
source = "test"
[[unit]]
id = "box"
name = "box"
rebuild_up_to = 40
donor_from = 30
source = "test"
  [[unit.variant]]
  id = "A"
  name = "A"
  [[unit.variant]]
  id = "B"
  name = "B"
`
	for i := range places {
		text += fmt.Sprintf(`
  [[unit.place]]
  id = "w%d"
  kind = "wheel"
  name = "Wheel %d"
  gear = "third"
  group = "upper"
  share = 1
  differs = true
  heart = %v
`, i, i, i == 0)
	}
	for i := 0; i+1 < places; i += 2 {
		text += fmt.Sprintf("  [[unit.mate]]\n  a = \"w%d.s0\"\n  b = \"w%d.s0\"\n", i, i+1)
	}
	text += "  [[unit.limit]]\n  place = \"w0\"\n  surface = \"s2\"\n  dimension = \"width\"\n  nominal = \"20 mm\"\n  discard = \"19 mm\"\n  source = \"manual p. 4\"\n"
	set, problems, err := spec.Load(fstest.MapFS{"small.toml": {Data: []byte(text)}}, nil)
	if err != nil {
		tb.Fatal(err, problems)
	}
	return set
}

// core returns a record with a wheel in every place, all looked at and felt.
func core(places int) (*record.Record, []record.ID) {
	r := record.New(record.Unit{Type: "box", Variant: "A"}, term.Road)
	r.Parts = map[record.ID]record.Part{}
	ids := make([]record.ID, places)
	for i := range places {
		ids[i] = record.NewID()
		p := record.Part{Kind: "wheel", Place: fmt.Sprintf("w%d", i), State: term.InHand, Variant: "A", Surfaces: map[string]record.Looked{}}
		for s := range 8 {
			p.Surfaces[fmt.Sprintf("s%d", s)] = record.Looked{Eye: true, Touch: true, Clean: true}
		}
		r.Parts[ids[i]] = p
	}
	return r, ids
}

// busy is a core of many parts, each in a place of its own and with four findings.
func busy(parts int) *record.Record {
	r, ids := core(parts)
	r.Findings = map[record.ID]record.Finding{}
	for i, id := range ids {
		for s := range 4 {
			r.Findings[record.NewID()] = record.Finding{Part: id, Surface: fmt.Sprintf("s%d", (i+s)%8), Damage: term.RustPits,
				Severity: term.Severities[s%3], Zone: term.WorkingFace, Method: term.Touch}
		}
	}
	return r
}

// With reasons, steps and what-ifs.
func BenchmarkAssess(b *testing.B) {
	for _, parts := range []int{60, 600, 6000} {
		b.Run(fmt.Sprintf("%dparts", parts), func(b *testing.B) {
			r, set := busy(parts), small(b, parts)
			b.ReportAllocs()
			for b.Loop() {
				assess.Assess(assess.Case{Record: r}, set, term.Road)
			}
		})
	}
}

func BenchmarkVerdicts(b *testing.B) {
	for _, parts := range []int{60, 600, 6000} {
		b.Run(fmt.Sprintf("%dparts", parts), func(b *testing.B) {
			r, set := busy(parts), small(b, parts)
			b.ReportAllocs()
			for b.Loop() {
				assess.Verdicts(assess.Case{Record: r}, set)
			}
		})
	}
}

// The generic gearbox by the program's own specs, 240 findings on its 38 parts.
func BenchmarkAssessOwnSpecs(b *testing.B) {
	specs := ownSpecs(b)
	w := laidOut(b, specs)
	n := 0
	for n < 240 {
		for _, p := range slices.Sorted(maps.Keys(w.record.Parts)) {
			kind, _ := specs.Kind(w.record.Parts[p].Kind)
			for i := range kind.Surfaces {
				f := &kind.Surfaces[(i+n)%len(kind.Surfaces)]
				d := f.Damages[n%len(f.Damages)]
				if n++; n <= 240 {
					finding(w.record, p, f.ID, d, d.Scale().Severities()[n%3], f.Zones[n%len(f.Zones)], term.Touch)
				}
			}
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		assess.Assess(assess.Case{Record: w.record}, specs, term.Road)
	}
}
