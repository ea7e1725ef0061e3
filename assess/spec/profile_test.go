package spec_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fettlebook/assess/spec"
	"fettlebook/assets"
)

// thing is a kind to draw, with the surfaces end and bore.
const thing = `
[[kind]]
id = "thing"
name = "thing"
source = "invented"
[[kind.surface]]
id = "end"
name = "end"
role = "seat"
zones = ["working-face"]
look = "Look."
[[kind.surface]]
id = "bore"
name = "bore"
role = "seat"
zones = ["working-face"]
look = "Look."
[[unit]]
id = "box"
name = "box"
source = "invented"
rebuild_up_to = 40
donor_from = 30
[[unit.place]]
id = "first"
kind = "thing"
name = "First"
[[unit.place]]
id = "second"
kind = "thing"
name = "Second"
`

const head = "[[profile]]\nkind = \"thing\"\nsource = \"invented\"\n"

func feature(lines string) string {
	return "[[profile.feature]]\n" + strings.ReplaceAll(lines, "; ", "\n") + "\n"
}

func path(lines string) string {
	return "[[profile.path]]\n" + strings.ReplaceAll(lines, "; ", "\n") + "\n"
}

const rod = `shape = "cylinder"; length = 40; diameter = 20`

func loadThing(text string) (*spec.Set, error) {
	set, _, err := spec.Load(fstest.MapFS{"thing.toml": {Data: []byte(thing + text)}}, nil)
	return set, err
}

func TestAProfileThatCannotBeDrawnIsRefused(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "needs a feature or a path"},
		{"no source", "", "needs source"},
		{"a surface that is not there", feature(rod + `; surface = "gone"`), `has no surface "gone"`},
		{"a surface of a path that is not there", path(`circle = [0, 0, 9]; as = "hole"; surface = "gone"`), `has no surface "gone"`},
		{"a bore through the outside", feature(rod) + feature(`shape = "cylinder"; length = 10; diameter = 20; bore = "left"`), "overlaps itself: the bore at 0 mm comes through"},
		{"a bore through the root of a spline", feature(`shape = "spline"; length = 40; diameter = 20; root = 16`) + feature(`shape = "cylinder"; length = 10; diameter = 17; bore = "right"`), "overlaps itself: the bore at 30 mm"},
		{"two bores in one another", feature(rod) + feature(`shape = "cylinder"; length = 30; diameter = 10; bore = "left"`) + feature(`shape = "cylinder"; length = 30; diameter = 10; bore = "right"`), "overlaps itself: the bores are 60 mm long"},
		{"a bore in nothing", feature(`shape = "cylinder"; length = 30; diameter = 10; bore = "left"`), "does not close: it has no outside"},
		{"a groove that is none", feature(rod) + feature(`shape = "groove"; length = 4; diameter = 20`) + feature(rod), "the groove at 40 mm is no deeper"},
		{"a shoulder without a step", feature(rod) + feature(`shape = "shoulder"; surface = "end"`) + feature(rod), "the shoulder at 40 mm has no step"},
		{"a shoulder for nothing", feature(rod) + feature(`shape = "shoulder"`), "is there for its surface"},
		{"a cone that is none", feature(`shape = "cone"; length = 4; diameter = 20; to = 20`), "a cone has two diameters"},
		{"a cone of one diameter", feature(`shape = "cone"; length = 4; diameter = 20`), "to is the other diameter"},
		{"teeth without roots", feature(`shape = "spur"; length = 4; diameter = 20`), "root is the diameter"},
		{"roots above the tips", feature(`shape = "spur"; length = 4; diameter = 20; root = 24`), "roots lie below the crests"},
		{"inner roots below the crests", feature(rod) + feature(`shape = "spline"; length = 4; diameter = 10; root = 8; bore = "left"`), "roots lie below the crests"},
		{"a cross hole in the air", feature(rod) + feature(`shape = "cross-hole"; diameter = 4; at = 39`), "breaks out of the end"},
		{"a size below 0", feature(`shape = "cylinder"; length = -4; diameter = 20`), "is no size in mm"},
		{"a size that is no number", feature(`shape = "cylinder"; length = nan; diameter = 20`), "NaN is no size in mm"},
		{"a size without end", feature(`shape = "cylinder"; length = inf; diameter = 20`), "+Inf is no size in mm"},
		{"a shape that is not known", feature(`shape = "blob"; length = 4; diameter = 20`), `"blob" is not a shape of a feature`},
		{"a text for a number", feature(`shape = "cylinder"; length = "4"; diameter = 20`), `"length" wants a number`},
		{"a body that does not close", path(`d = "M 0 0 L 10 0 L 10 10"; as = "solid"`), "does not close"},
		{"a cut that does not close", path(`d = "M 0 0 L 10 0 L 10 10"; as = "cut"`), "does not close"},
		{"a path that crosses itself", path(`d = "M 0 0 L 10 10 L 10 0 L 0 10 Z"; as = "solid"`), "overlaps itself"},
		{"a path that ends on itself", path(`d = "M 0 0 H 10 V 10 H 5 V 0"; as = "edge"`), "overlaps itself"},
		{"an arc that can't reach", path(`d = "M 0 0 A 3 10 0"; as = "edge"`), "an arc of radius 3 can't reach over 10"},
		{"a path to nowhere", path(`d = "M 0 0"; as = "edge"`), "d goes nowhere"},
		{"a path that begins nowhere", path(`d = "L 0 0"; as = "edge"`), "d begins with M"},
		{"a word that is not known", path(`d = "M 0 0 Q 4 4"; as = "edge"`), `"Q" is not known in d`},
		{"half a point", path(`d = "M 0 0 L 4"; as = "edge"`), "d ends where a number should follow"},
		{"a point that is none", path(`d = "M 0 0 L 4 NaN"; as = "edge"`), `"NaN" in d is no number`},
		{"after the end", path(`d = "M 0 0 L 4 0 L 4 4 Z L 9 9"; as = "solid"`), "goes on after Z"},
		{"neither path nor circle", path(`as = "solid"`), "needs either d or circle"},
		{"a circle without a size", path(`circle = [0, 0, 0]; as = "solid"`), "a diameter above 0"},
		{"no use", path(`circle = [0, 0, 9]`), "needs as"},
		{"copies without a step", path(`circle = [0, 0, 9]; as = "solid"; copies = 3`), "copies and a step"},
		{"too many copies", path(`circle = [0, 0, 9]; as = "solid"; around = 100000`), "around and copies are at most"},
		{"copies of copies", strings.Repeat(path(`circle = [0, 0, 9]; as = "solid"; around = 200; copies = 200; step = [1, 1]`), 1), "more than 2000"},
		{"hatching of a line", path(`circle = [0, 0, 9]; as = "edge"; hatch = "left"`), "only what is cut is hatched"},
	} {
		text := head + c.text
		if c.name == "no source" {
			text = "[[profile]]\nkind = \"thing\"\n" + path(`circle = [0, 0, 9]; as = "solid"`)
		}
		if _, err := loadThing(text); err == nil || !strings.Contains(problemsOf(text), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// problemsOf joins all problems of a text, since the one asked for may not be
// the first.
func problemsOf(text string) string {
	_, problems, _ := spec.Load(fstest.MapFS{"thing.toml": {Data: []byte(thing + text)}}, nil)
	var all []string
	for _, p := range problems {
		all = append(all, p.Error())
	}
	return strings.Join(all, "\n")
}

func TestAProfileThatCanBeDrawnIsTaken(t *testing.T) {
	for name, text := range map[string]string{
		"a tube":            feature(rod) + feature(`shape = "cylinder"; length = 40; diameter = 10; bore = "left"`),
		"bores that meet":   feature(rod) + feature(`shape = "cylinder"; length = 20; diameter = 10; bore = "left"`) + feature(`shape = "cylinder"; length = 20; diameter = 12; bore = "right"`),
		"an end face":       feature(`shape = "shoulder"; surface = "end"`) + feature(rod),
		"a groove":          feature(rod) + feature(`shape = "groove"; length = 4; diameter = 18`) + feature(rod),
		"whole numbers":     path(`circle = [0, 0, 9]; as = "solid"`),
		"closed by its end": path(`d = "M 0 0 H 10 V 10 L 0 0"; as = "cut"; hatch = "left"`),
	} {
		if _, err := loadThing(head + text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAUnitsOwnProfileTakesThePlaceOfTheGenericOne(t *testing.T) {
	of := func(where, diameter string) string {
		return "[[profile]]\nkind = \"thing\"\nsource = \"invented\"\n" + where + feature(`shape = "cylinder"; length = 9; diameter = `+diameter)
	}
	set, err := loadThing(of("", "1") + of("unit = \"box\"\n", "2") + of("unit = \"box\"\nplace = \"second\"\n", "3"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		unit, place string
		want        float64
	}{{"", "", 1}, {"other", "first", 1}, {"box", "", 2}, {"box", "first", 2}, {"box", "second", 3}} {
		if p, ok := set.Profile("thing", c.unit, c.place); !ok || p.Features[0].Diameter != c.want {
			t.Errorf("in %q at %q: %v", c.unit, c.place, p)
		}
	}
	if _, ok := set.Profile("other", "", ""); ok {
		t.Error("a kind without a profile has one")
	}
	for where, want := range map[string]string{
		"place = \"first\"\n": "a place wants its unit", "unit = \"gone\"\n": `no unit "gone"`,
		"unit = \"box\"\nplace = \"third\"\n": `no place "third"`,
	} {
		if got := problemsOf(of(where, "1")); !strings.Contains(got, want) {
			t.Errorf("%q: %s", where, got)
		}
	}
	if got := problemsOf(of("", "1") + of("", "2")); !strings.Contains(got, "stands twice") {
		t.Errorf("two generic profiles: %s", got)
	}
}

func TestWhatNoFeatureShowsIsTold(t *testing.T) {
	set, err := loadThing(head + feature(rod+`; surface = "end"`))
	if err != nil {
		t.Fatal(err)
	}
	if got := set.Unshown("thing"); !slices.Equal(got, []string{"bore"}) {
		t.Errorf("unshown are %v", got)
	}
	none, err := loadThing("")
	if err != nil {
		t.Fatal(err)
	}
	if got := none.Unshown("thing"); !slices.Equal(got, []string{"end", "bore"}) {
		t.Errorf("of a kind without a profile unshown are %v", got)
	}
}

// A user's kind need not have the surfaces that the program's picture shows.
func TestAUsersKindKeepsThePictureThatWasThere(t *testing.T) {
	kind := `
[[kind]]
id = "hub"
name = "hub of ours"
source = "invented"
[[kind.surface]]
id = "bore-spline"
name = "bore spline"
role = "spline"
zones = ["working-face"]
look = "Look."
`
	users := fstest.MapFS{"hub.toml": {Data: []byte(kind)}}
	for _, p := range loadProblems(t, users) {
		if strings.Contains(p.Error(), "profile") {
			t.Error(p)
		}
	}
	wrong := fstest.MapFS{"hub.toml": {Data: []byte("[[profile]]\nkind = \"hub\"\nsource = \"invented\"\n" + feature(rod+`; surface = "gone"`))}}
	if problems := loadProblems(t, wrong); len(problems) == 0 {
		t.Error("a user's picture of a surface that is not there is taken")
	}
}

func loadProblems(t *testing.T, users fstest.MapFS) []spec.Problem {
	t.Helper()
	_, problems, err := spec.Load(assets.Specs(), users)
	if err != nil {
		t.Fatal(err)
	}
	return problems
}

func TestFeaturesStandOnTheAxis(t *testing.T) {
	set, err := loadThing(head + feature(`shape = "cone"; length = 10; diameter = 20; to = 30`) + feature(`shape = "spline"; length = 5; diameter = 24; root = 22`) +
		feature(`shape = "cylinder"; length = 4; diameter = 8; bore = "right"`) + feature(`shape = "cone"; length = 2; diameter = 8; to = 2; bore = "right"`))
	if err != nil {
		t.Fatal(err)
	}
	p, _ := set.Profile("thing", "", "")
	if p.Length() != 15 {
		t.Errorf("it is %g mm long", p.Length())
	}
	out := p.Outside()
	if len(out) != 2 || out[0].R0 != 10 || out[0].R1 != 15 || out[1].X0 != 10 || out[1].X1 != 15 || out[1].Root0 != 11 || out[1].R0 != 12 {
		t.Errorf("outside are %+v", out)
	}
	in := p.Inside()
	if len(in) != 2 || in[0].X0 != 9 || in[0].X1 != 11 || in[0].R0 != 1 || in[0].R1 != 4 || in[1].X0 != 11 || in[1].R1 != 4 {
		t.Errorf("inside are %+v", in)
	}
}

// An arc keeps its radius and turns the way that it says; the sagitta of its
// chords is at most 0.015 mm.
func TestArcsAreRound(t *testing.T) {
	for radius, want := range map[string]float64{"10": -10, "-10": 10} {
		p := spec.Path{D: "M -10 0 A " + radius + " 10 0", As: spec.Edge}
		lines, err := p.Lines()
		if err != nil || len(lines) != 1 || lines[0].Closed {
			t.Fatal(lines, err)
		}
		extreme := 0.0
		points := lines[0].Points
		for i, q := range points {
			if r := math.Hypot(q.X, q.Y); math.Abs(r-10) > 1e-6 {
				t.Errorf("a point of the arc is %g from the middle", r)
			}
			if i > 0 {
				middle := math.Hypot((q.X+points[i-1].X)/2, (q.Y+points[i-1].Y)/2)
				if 10-middle > 0.0151 {
					t.Errorf("a chord lies %g off its arc", 10-middle)
				}
			}
			if math.Abs(q.Y) > math.Abs(extreme) {
				extreme = q.Y
			}
		}
		if math.Abs(extreme-want) > 0.1 {
			t.Errorf("radius %s goes by %g, want %g", radius, extreme, want)
		}
	}
}

func TestCopiesStandInARowRoundTheMiddleAndMirrored(t *testing.T) {
	count := func(p spec.Path) int {
		lines, err := p.Lines()
		if err != nil {
			t.Fatal(err)
		}
		return len(lines)
	}
	one := spec.Path{Circle: []float64{5, 5, 2}, As: spec.Solid}
	row, round, turned := one, one, one
	row.Copies, row.Step = 4, []float64{10, 0}
	round.Around = 6
	turned.Mirror = true
	if count(one) != 1 || count(row) != 4 || count(round) != 6 || count(turned) != 2 {
		t.Errorf("%d, %d, %d and %d lines", count(one), count(row), count(round), count(turned))
	}
	lines, _ := turned.Lines()
	for _, q := range lines[1].Points {
		if q.Y > 0 {
			t.Errorf("the mirrored circle goes to %v", q)
		}
	}
}

func FuzzPath(f *testing.F) {
	for _, d := range []string{"M 0 0 L 10 0 V 4 Z", "M -10 0 A 10 10 0", "M 0 0 A -5 3 3 H 9 Z", "M 0 0 Z", "L", "M 1e9 0 L 0 0"} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		p := spec.Path{D: d, As: spec.Edge, Around: 2, Mirror: true}
		lines, err := p.Lines()
		if err != nil {
			return
		}
		for _, l := range lines {
			if len(l.Points) < 2 {
				t.Fatalf("%q gives %v", d, l)
			}
			for _, q := range l.Points {
				if math.IsNaN(q.X) || math.IsNaN(q.Y) || math.Abs(q.X) > 1e6 || math.Abs(q.Y) > 1e6 {
					t.Fatalf("%q goes to %v", d, q)
				}
			}
		}
	})
}
