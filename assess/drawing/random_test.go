package drawing_test

import (
	"fmt"
	"io"
	"io/fs"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"fettlebook/assess/drawing"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/assets"
)

// kindOf is a kind with so many surfaces, s1 and on, as TOML.
func kindOf(n int) string {
	var b strings.Builder
	b.WriteString("[[kind]]\nid = \"thing\"\nname = \"thing\"\nsource = \"invented\"\n")
	for i := range n {
		fmt.Fprintf(&b, "[[kind.surface]]\nid = \"s%d\"\nname = \"surface %[1]d of the thing\"\nrole = \"seat\"\nzones = [\"working-face\"]\nlook = \"Look.\"\n", i+1)
	}
	return b.String()
}

// load returns the set of one file, nil where the checker refuses it.
func load(text string) *spec.Set {
	set, _, err := spec.Load(fstest.MapFS{"thing.toml": {Data: []byte(text)}}, nil)
	if err != nil {
		return nil
	}
	return set
}

// profiles makes turned parts of all shapes, most of which the checker takes,
// and paths beside them.
func randomProfile(t *rapid.T, surfaces int) string {
	var b strings.Builder
	b.WriteString("[[profile]]\nkind = \"thing\"\nsource = \"invented\"\n")
	surface := func() {
		if n := rapid.IntRange(0, surfaces).Draw(t, "surface"); n > 0 {
			fmt.Fprintf(&b, "surface = \"s%d\"\n", n)
		}
	}
	whole, least := 0.0, math.Inf(1)
	for range rapid.IntRange(1, 14).Draw(t, "features") {
		shape := rapid.SampledFrom(spec.Shapes).Draw(t, "shape")
		d := rapid.Float64Range(8, 120).Draw(t, "diameter")
		long := rapid.SampledFrom([]float64{0.3, 1, 2.5, 12, 40, 160}).Draw(t, "length")
		b.WriteString("[[profile.feature]]\n")
		fmt.Fprintf(&b, "shape = %q\n", shape)
		switch {
		case shape == spec.Shoulder:
			fmt.Fprintf(&b, "surface = \"s%d\"\n", rapid.IntRange(1, surfaces).Draw(t, "face"))
			continue
		case shape == spec.CrossHole:
			fmt.Fprintf(&b, "at = %g\ndiameter = 0.2\n", rapid.Float64Range(0.1, 20).Draw(t, "at"))
			surface()
			continue
		case shape == spec.Taper || shape == spec.Chamfer:
			fmt.Fprintf(&b, "to = %g\n", d*0.9)
			least = min(least, d*0.9)
		case shape.Toothed():
			fmt.Fprintf(&b, "root = %g\nteeth = %d\npoint = \"both\"\n", d*0.85, rapid.IntRange(0, 60).Draw(t, "teeth"))
			least = min(least, d*0.85)
		case shape == spec.Groove:
			d = 5
		}
		fmt.Fprintf(&b, "length = %g\ndiameter = %g\n", long, d)
		whole += long
		least = min(least, d)
		surface()
	}
	for range rapid.IntRange(0, 3).Draw(t, "bores") {
		shape := rapid.SampledFrom([]spec.Shape{spec.Cylinder, spec.Taper, spec.Splined, spec.Threaded, spec.Engagement}).Draw(t, "bore")
		end := rapid.SampledFrom([]spec.Side{spec.Left, spec.Right}).Draw(t, "end")
		d := least * rapid.Float64Range(0.2, 0.8).Draw(t, "share")
		fmt.Fprintf(&b, "[[profile.feature]]\nshape = %q\nbore = %q\nlength = %g\ndiameter = %g\n", shape, end,
			whole*rapid.SampledFrom([]float64{0.02, 0.1, 0.3, 1}).Draw(t, "depth"), d)
		switch {
		case shape == spec.Taper:
			fmt.Fprintf(&b, "to = %g\n", d*0.7)
		case shape.Toothed():
			fmt.Fprintf(&b, "root = %g\npoint = \"left\"\n", d*1.05)
		}
		surface()
	}
	for range rapid.IntRange(0, 4).Draw(t, "paths") {
		as := rapid.SampledFrom([]spec.Use{spec.Solid, spec.Cut, spec.Hole, spec.Edge, spec.ThinLine, spec.CentreLine, spec.HiddenLine}).Draw(t, "as")
		x, y := rapid.Float64Range(-60, 60).Draw(t, "x"), rapid.Float64Range(-60, 60).Draw(t, "y")
		b.WriteString("[[profile.path]]\n")
		fmt.Fprintf(&b, "as = %q\n", as)
		switch rapid.IntRange(0, 2).Draw(t, "form") {
		case 0:
			fmt.Fprintf(&b, "circle = [%g, %g, %g]\naround = 3\n", x, y, rapid.Float64Range(0.01, 90).Draw(t, "d"))
		case 1:
			fmt.Fprintf(&b, "d = \"M %g %g h\"\n", x, y)
		default:
			fmt.Fprintf(&b, "d = \"M %g %g H %g A 30 %g %g Z\"\nmirror = true\n", x, y, x+20, x+10, y+10)
		}
		surface()
	}
	return strings.Replace(b.String(), " h\"", " H 70\"", 1)
}

func drawAnyState(t *rapid.T, k *spec.Kind) drawing.State {
	s := drawing.State{Marks: map[string]drawing.Mark{}}
	for i := range k.Surfaces {
		s.Marks[k.Surfaces[i].ID] = drawing.Mark{
			Verdict: rapid.SampledFrom(term.Verdicts).Draw(t, "verdict"), Looked: rapid.Bool().Draw(t, "looked"),
			Findings: rapid.IntRange(0, 2).Draw(t, "findings"),
		}
	}
	s.Chosen = fmt.Sprintf("s%d", rapid.IntRange(0, len(k.Surfaces)).Draw(t, "chosen"))
	return s
}

func TestLeadersNeverCrossAndLabelsNeverOverlap(t *testing.T) {
	regular, bold := faces(t)
	taken, led := 0, 0
	rapid.Check(t, func(t2 *rapid.T) {
		n := rapid.IntRange(1, 24).Draw(t2, "surfaces")
		set := load(kindOf(n) + randomProfile(t2, n))
		if set == nil {
			return
		}
		taken++
		k, _ := set.Kind("thing")
		p, _ := set.Profile("thing", "", "")
		l := drawing.Part(p, k, drawAnyState(t2, k), drawing.Options{
			Width: rapid.Float64Range(60, 430).Draw(t2, "width"), Height: rapid.SampledFrom([]float64{0, 40, 90}).Draw(t2, "height"),
			Names: rapid.Bool().Draw(t2, "names"), List: true,
		})
		sound(t, "random", l)
		lines := leaders(l)
		led += len(lines)
		for i, a := range lines {
			for _, b := range lines[:i] {
				if crosses(a.line, b.line) {
					t2.Fatalf("the leaders to %s and %s cross: %v, %v", a.of, b.of, a.line, b.line)
				}
			}
		}
		var before []rect
		for text, places := range texts(t, l, regular, bold) {
			for _, r := range places {
				if r.x0 < 0 || r.x1 > l.Width || r.y0 < 0 || r.y1 > l.Height {
					t2.Fatalf("%q is clipped: %v of %.1f × %.1f", text, r, l.Width, l.Height)
				}
				for _, o := range before {
					if r.overlaps(o) {
						t2.Fatalf("%q lies on another label", text)
					}
				}
				before = append(before, r)
			}
		}
	})
	if taken < 20 || led < 40 {
		t.Errorf("of the random profiles only %d were taken, with %d leaders", taken, led)
	}
}

// FuzzProfile: whatever the checker takes can be drawn, at any size, in both
// views, and is finite.
func FuzzProfile(f *testing.F) {
	seeds := 0
	err := fs.WalkDir(assets.Specs(), "profiles", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		b, err := fs.ReadFile(assets.Specs(), name)
		if err != nil {
			return err
		}
		for _, one := range strings.Split(string(b), "[[profile]]")[1:] {
			// The pieces of the kind's own are told as those of a thing.
			lines := strings.Split("[[profile]]"+one, "\n")
			for i, line := range lines {
				switch word, _, _ := strings.Cut(strings.TrimSpace(line), " ="); word {
				case "kind":
					lines[i] = `kind = "thing"`
				case "unit", "place":
					lines[i] = ""
				case "surface":
					lines[i] = `surface = "s1"`
				}
			}
			f.Add(strings.Join(lines, "\n"), 120.0, 40.0)
			seeds++
		}
		return nil
	})
	if err != nil || seeds < 29 {
		f.Fatal("there are too few seeds:", seeds, err)
	}
	kind := kindOf(3)
	f.Fuzz(func(t *testing.T, text string, width, height float64) {
		set := load(kind + text)
		if set == nil {
			return
		}
		for _, k := range set.Kinds() {
			for _, p := range set.Profiles() {
				for _, o := range []drawing.Options{{Width: width, Height: height, List: true}, {Width: width, Height: height, Names: true}, {Width: height, Bare: true}} {
					l := drawing.Part(p, k, someState(k), o)
					sound(t, "fuzzed", l)
					if err := l.SVG(io.Discard, &drawing.Night); err != nil {
						t.Fatal(err)
					}
				}
				place := &spec.Place{ID: "a", Name: "A"}
				l := drawing.Unit([]drawing.Stand{{Place: place, Kind: k, Profile: p, Name: "A"}}, "", drawing.Options{Width: width, Height: height, Names: true})
				sound(t, "fuzzed unit", l)
			}
		}
	})
}
