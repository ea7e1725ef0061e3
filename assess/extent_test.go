package assess_test

import (
	"math"
	"strings"
	"testing"

	"fettlebook/assess"
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
	if x.Err != nil || !x.HasScale || x.Scale != "steel rule" || math.Abs(float64(x.Figures.Area.Value)-100) > 1 || x.Figures.Area.Plus <= 0 {
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
	line, known := record.NewID(), record.ID("")
	for id, o := range r.Outlines {
		if o.Known != (record.Known{}) {
			known = id
			r.Outlines[line] = record.Outline{Number: 4, Photo: o.Photo, Shape: record.Line, Points: []record.Point{{80_000, 40_000}, {80_000, 80_000}}}
		}
	}
	got, ok, err := assess.LineLength(r, line)
	if err != nil || !ok || math.Abs(float64(got.Value)-40) > 0.2 {
		t.Errorf("a line of 40 mm comes to %v (%v, %v)", got.Value, ok, err)
	}
	if _, ok, _ := assess.LineLength(r, known); ok {
		t.Error("the scale measured itself")
	}
	o := r.Outlines[known]
	o.Known.Length = "fifty"
	r.Outlines[known] = o
	if _, ok, err := assess.LineLength(r, line); ok || err == nil {
		t.Error("a scale that can't be read measured")
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
