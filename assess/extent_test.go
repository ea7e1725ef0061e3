package assess_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// A photo seen square on at 10 pixels a millimetre, with a rule of 50 mm, a working
// face of 20 × 40 mm and a patch of 10 × 10 mm on it.
func photographed(t testing.TB) (*record.Record, record.ID) {
	t.Helper()
	r, ids := core(1)
	found := finding(r, ids[0], "s1", term.RustPits, term.Felt, term.WorkingFace, term.Touch)
	photo := record.NewID()
	r.Photos = map[record.ID]record.Photo{photo: {Number: 1, File: strings.Repeat("0a", 32), Name: "a.jpg", Size: 1, Width: 2000, Height: 1500, Orientation: 1}}
	box := func(x, y, w, h int) []record.Point {
		return []record.Point{{x * 1000, y * 1000}, {(x + w) * 1000, y * 1000}, {(x + w) * 1000, (y + h) * 1000}, {x * 1000, (y + h) * 1000}}
	}
	r.Outlines = map[record.ID]record.Outline{
		record.NewID(): {Number: 1, Photo: photo, Shape: record.Line, Points: []record.Point{{50_000, 100_000}, {100_000, 100_000}},
			Known: record.Known{What: "steel rule", Length: "50 mm", Tolerance: "0.1 mm"}},
		record.NewID(): {Number: 2, Photo: photo, Shape: record.Polygon, Points: box(80, 40, 20, 40),
			Face: record.Face{Part: ids[0], Surface: "s1", Zone: term.WorkingFace}},
		record.NewID(): {Number: 3, Photo: photo, Shape: record.Polygon, Finding: found, Points: box(85, 60, 10, 10)},
	}
	return r, found
}

func TestAFindingIsMeasuredOnItsPhoto(t *testing.T) {
	r, found := photographed(t)
	all := assess.Extents(r, found)
	if len(all) != 1 {
		t.Fatalf("it is measured on %d photos", len(all))
	}
	x := all[0]
	if x.Err != nil || !x.HasScale || x.Scale != "steel rule, 50 mm ± 0.1 mm" || math.Abs(float64(x.Figures.Area.Value)-100) > 1 || x.Figures.Area.Plus <= 0 {
		t.Errorf("the patch of 100 mm² comes to %+v", x)
	}
	if !x.HasShare || math.Abs(x.Share.Percent-12.5) > 0.2 {
		t.Errorf("an eighth of the face comes to %.2f %%", x.Share.Percent)
	}
}

func TestWithoutAScaleThereIsAShareAlone(t *testing.T) {
	r, found := photographed(t)
	for id, o := range r.Outlines {
		if o.Known != (record.Known{}) {
			delete(r.Outlines, id)
		}
	}
	all := assess.Extents(r, found)
	if len(all) != 1 || all[0].HasScale || !all[0].HasShare || math.Abs(all[0].Share.Percent-12.5) > 0.2 {
		t.Errorf("without a scale it comes to %+v", all)
	}
}

func TestALineIsMeasuredOnTheScale(t *testing.T) {
	r, _ := photographed(t)
	known := knownOf(t, r)
	line := record.NewID()
	r.Outlines[line] = record.Outline{Number: 4, Photo: r.Outlines[known].Photo, Shape: record.Line, Points: []record.Point{{80_000, 40_000}, {80_000, 80_000}}}
	got, ok := assess.ExtentOf(r, line)
	if got.Err != nil || !ok || !got.IsLine || math.Abs(float64(got.Length.Value)-40) > 0.2 {
		t.Errorf("a line of 40 mm comes to %+v (%v)", got, ok)
	}
	if says := got.Says(gauge.Millimetre); !strings.HasPrefix(says, "40 mm ± ") || !strings.Contains(says, "mm long (scale: steel rule, 50 mm ± 0.1 mm; looked at within 10° of square, as is usual; taken to lie in the plane of the scale; usual picking error).") {
		t.Errorf("it says %q", says)
	}
	if _, ok := assess.ExtentOf(r, known); ok {
		t.Error("the scale measured itself")
	}
	changed(r, known, func(o *record.Outline) { o.Known.Length = "fifty" })
	if x, _ := assess.ExtentOf(r, line); x.Err == nil {
		t.Error("a scale that can't be read measured")
	}
}

func knownOf(t testing.TB, r *record.Record) record.ID {
	t.Helper()
	for id, o := range r.Outlines {
		if o.Known != (record.Known{}) {
			return id
		}
	}
	t.Fatal("nothing is of known size")
	return ""
}

func changed(r *record.Record, id record.ID, change func(*record.Outline)) {
	o := r.Outlines[id]
	change(&o)
	r.Outlines[id] = o
}

// outlineNumbered finds an outline by its number.
func outlineNumbered(t testing.TB, r *record.Record, number int) record.ID {
	t.Helper()
	for id, o := range r.Outlines {
		if o.Number == number {
			return id
		}
	}
	t.Fatalf("there is no outline %d", number)
	return ""
}

// plus is the uncertainty of the finding's area in percent.
func plus(t *testing.T, r *record.Record, found record.ID) float64 {
	t.Helper()
	x := assess.Extents(r, found)[0]
	if x.Err != nil {
		t.Fatal(x.Err)
	}
	return 100 * float64(x.Figures.Area.Plus/x.Figures.Area.Value)
}

// What a tilt or a height may do to a measurement stands in its uncertainty, and the
// figure says what it was taken to be.
func TestTiltAndHeightWidenTheInterval(t *testing.T) {
	for name, c := range map[string]struct {
		change func(known, patch *record.Outline)
		low    float64 // of the area's uncertainty, in percent
		high   float64
		says   string
	}{
		"as is usual":     {func(_, _ *record.Outline) {}, 9, 15, "within 10° of square, as is usual; taken to lie in the plane of the scale"},
		"square on":       {func(k, _ *record.Outline) { k.Known.Tilt = "1" }, 5, 9, "within 1° of square; taken"},
		"askew":           {func(k, _ *record.Outline) { k.Known.Tilt = "30,5" }, 15, 40, "within 30,5° of square; taken"},
		"20 mm at 300 mm": {func(k, p *record.Outline) { k.Known.Tilt, k.Known.Distance, p.Lies.Bound = "1", "300 mm", "20 mm" }, 13, 17, "within 20 mm of the plane of the scale"},
		"20 mm, measured": {func(k, p *record.Outline) { k.Known.Tilt, k.Known.Distance, p.Lies.Height = "1", "300 mm", "20" }, 5, 9, "20 mm above the scale"},
		"on a round thing": {func(k, p *record.Outline) {
			k.Known.Distance = "300 mm"
			p.Lies = record.Lies{Height: "15 mm", Diameter: "30 mm", Tolerance: "0.1 mm", Axis: [2]record.Point{{50_000, 65_000}, {120_000, 65_000}}}
		}, 3, 20, "on a cylinder of 30 mm ± 0.1 mm, its axis 15 mm above the scale"},
	} {
		t.Run(name, func(t *testing.T) {
			r, found := photographed(t)
			delete(r.Outlines, outlineNumbered(t, r, 2)) // larger than the round thing
			known, patch := r.Outlines[outlineNumbered(t, r, 1)], r.Outlines[outlineNumbered(t, r, 3)]
			c.change(&known, &patch)
			r.Outlines[outlineNumbered(t, r, 1)], r.Outlines[outlineNumbered(t, r, 3)] = known, patch
			if got := plus(t, r, found); got < c.low || got > c.high {
				t.Errorf("the area is ± %.1f %%, want %v to %v", got, c.low, c.high)
			}
			if says := assess.Extents(r, found)[0].Says(gauge.Millimetre); !strings.Contains(says, c.says) {
				t.Errorf("it says %q, want %q", says, c.says)
			}
		})
	}
}

// How a surface lies is told once: of its face, of one outline, of any.
func TestASurfaceLiesTheSameForAllItsOutlines(t *testing.T) {
	r, found := photographed(t)
	changed(r, outlineNumbered(t, r, 2), func(o *record.Outline) { o.Lies.Height = "20 mm" })
	if says := assess.Extents(r, found)[0].Says(gauge.Millimetre); !strings.Contains(says, "20 mm above the scale") {
		t.Errorf("told of the face, it says %q", says)
	}
	changed(r, outlineNumbered(t, r, 3), func(o *record.Outline) { o.Lies.Height = "5 mm" })
	if says := assess.Extents(r, found)[0].Says(gauge.Millimetre); !strings.Contains(says, "5 mm above the scale") {
		t.Errorf("told of the patch itself, it says %q", says)
	}
}

// A card is known by its edges as well as by its corners, however the corners are
// rounded; edges that do not go round it are no scale.
func TestACardIsKnownByItsEdges(t *testing.T) {
	r, found := photographed(t)
	known := outlineNumbered(t, r, 1)
	changed(r, known, func(o *record.Outline) {
		o.Shape, o.Known = record.Edges, record.Known{What: "blank card", Width: "50 mm", Height: "30 mm", Tolerance: "0.1 mm"}
		o.Points = []record.Point{{55_000, 100_000}, {95_000, 100_000}, {100_000, 105_000}, {100_000, 125_000}, {95_000, 130_000}, {55_000, 130_000}, {50_000, 125_000}, {50_000, 105_000}}
	})
	x := assess.Extents(r, found)[0]
	if x.Err != nil || x.Scale != "blank card, 50 mm × 30 mm ± 0.1 mm" || math.Abs(float64(x.Figures.Area.Value)-100) > 0.01 {
		t.Errorf("the patch of 100 mm² comes to %+v", x)
	}
	if slices.ContainsFunc(x.Notes, func(n string) bool { return strings.Contains(n, "square") }) {
		t.Errorf("a card shows its tilt itself, yet the figure rests on %q", x.Notes)
	}
	if lens, err := assess.CheckScale(r, known); err != nil || lens < 50 || lens > 1000 {
		t.Errorf("the lens is %v away (%v)", lens, err)
	}
	changed(r, known, func(o *record.Outline) {
		o.Points[2], o.Points[3] = record.Point{55_000, 110_000}, record.Point{95_000, 110_000}
	})
	if _, err := assess.CheckScale(r, known); err == nil {
		t.Error("two edges side by side are a scale")
	}
	// A record that nobody checked, as while a size is being typed in.
	changed(r, known, func(o *record.Outline) { o.Points = o.Points[:5] })
	if _, err := assess.CheckScale(r, known); err == nil {
		t.Error("five places are a scale")
	}
}

// repeated draws the patch again and again, larger and smaller in turn.
func repeated(t *testing.T, r *record.Record, who string, times, off int) {
	t.Helper()
	first := outlineNumbered(t, r, 3)
	changed(r, first, func(o *record.Outline) { o.By = who })
	for i := range times {
		by := off * (1 - 2*(i%2))
		again := r.Outlines[first]
		again.Number, again.Finding, again.Repeats = 100+i, "", first
		again.Points = []record.Point{{85_000 - by, 60_000 - by}, {95_000 + by, 60_000 - by}, {95_000 + by, 70_000 + by}, {85_000 - by, 70_000 + by}}
		r.Outlines[record.NewID()] = again
	}
}

func TestHowWellSomebodyPicksComesOfTheirRepeats(t *testing.T) {
	r, found := photographed(t)
	changed(r, outlineNumbered(t, r, 1), func(o *record.Outline) { o.Known.Tilt = "1" })
	before := assess.Extents(r, found)[0]
	usual := plus(t, r, found)
	repeated(t, r, "J. M.", 4, 600)
	after := assess.Extents(r, found)[0]
	if got := plus(t, r, found); got < 1.5*usual {
		t.Errorf("with a shaky hand the area is ± %.1f %%, with the usual one ± %.1f %%", got, usual)
	}
	if after.Figures.Area.Value != before.Figures.Area.Value || after.Share.Percent != before.Share.Percent {
		t.Errorf("repeats count as damage: %+v, before %+v", after, before)
	}
	if !slices.Contains(before.Notes, "usual picking error") || !slices.Contains(after.Notes, "picking error from 4 repeats of J. M.") {
		t.Errorf("the figures rest on %q, before on %q", after.Notes, before.Notes)
	}
	// Another person's hand tells nothing of this one's.
	changed(r, outlineNumbered(t, r, 3), func(o *record.Outline) { o.By = "A. N." })
	if notes := assess.Extents(r, found)[0].Notes; !slices.Contains(notes, "usual picking error") {
		t.Errorf("another person's figures rest on %q", notes)
	}

	r, found = photographed(t)
	changed(r, outlineNumbered(t, r, 1), func(o *record.Outline) { o.Known.Tilt = "1" })
	repeated(t, r, "J. M.", 6, 0)
	if got := plus(t, r, found); got > 0.8*usual {
		t.Errorf("with a steady hand the area is ± %.1f %%, with the usual one ± %.1f %%", got, usual)
	}
	if x, ok := assess.ExtentOf(r, outlineNumbered(t, r, 100)); !ok || math.Abs(float64(x.Figures.Area.Value)-100) > 1 {
		t.Errorf("a repeat by itself comes to %+v", x)
	}
}

func TestTheShareIsOfThatToothInSquareMillimetres(t *testing.T) {
	r, found := photographed(t)
	f := r.Findings[found]
	f.Tooth = "7"
	r.Findings[found] = f
	says := assess.Extents(r, found)[0].Says(gauge.Millimetre)
	for _, want := range []string{"% of the working face of tooth 7: 100 mm² ±", "mm² of 80", "mm across at most"} {
		if !strings.Contains(says, want) {
			t.Errorf("it says %q, want %q in it", says, want)
		}
	}
	for id, o := range r.Outlines {
		if o.Known != (record.Known{}) {
			delete(r.Outlines, id)
		}
	}
	says = assess.Extents(r, found)[0].Says(gauge.Millimetre)
	if strings.Contains(says, "mm²") || !strings.Contains(says, "% of the working face of tooth 7 as the photo shows it; in percent only, since the photo has no scale") {
		t.Errorf("without a scale it says %q", says)
	}
}

func BenchmarkExtents(b *testing.B) {
	r, found := photographed(b)
	for b.Loop() {
		if len(assess.Extents(r, found)) == 0 {
			b.Fatal("nothing was measured")
		}
	}
}
