package drawing_test

import (
	"os"
	"path/filepath"
	"testing"

	"fettlebook/assess/drawing"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/assets"
)

func own(t testing.TB) *spec.Set {
	t.Helper()
	set, problems, err := spec.Load(assets.Specs(), nil)
	if err != nil {
		t.Fatal(err, problems)
	}
	return set
}

// someState gives the surfaces of a kind verdicts in turn.
func someState(k *spec.Kind) drawing.State {
	s := drawing.State{Marks: map[string]drawing.Mark{}}
	for i, f := range k.Surfaces {
		switch i % 6 {
		case 1:
			s.Marks[f.ID] = drawing.Mark{Verdict: term.Usable, Looked: true}
		case 2:
			s.Marks[f.ID] = drawing.Mark{Verdict: term.Condemned, Looked: true, Findings: 1}
		case 3:
		case 4:
			s.Marks[f.ID] = drawing.Mark{Verdict: term.Undecided, Looked: true}
		case 5:
			s.Marks[f.ID] = drawing.Mark{Verdict: term.Repairable, Looked: true, Findings: 2}
		default:
			s.Marks[f.ID] = drawing.Mark{Verdict: term.Sound, Looked: true}
		}
	}
	return s
}

// To look at all of them: DRAWING_SHEET=DIR go test -run Sheet.
func TestSheet(t *testing.T) {
	dir := os.Getenv("DRAWING_SHEET")
	if dir == "" {
		t.Skip("DRAWING_SHEET names the folder for the drawings to look at")
	}
	set := own(t)
	for _, k := range set.Kinds() {
		p, _ := set.Profile(k.ID, "", "")
		for name, o := range map[string]drawing.Options{
			"bare": {Width: 80, Height: 52, Bare: true}, "full": {Width: 120, List: true},
			"narrow": {Width: 85, List: true}, "wide": {Width: 260, Names: true, List: true},
		} {
			file, err := os.Create(filepath.Join(dir, k.ID+"-"+name+".svg"))
			if err != nil {
				t.Fatal(err)
			}
			if err := drawing.Part(p, k, someState(k), o).SVG(file, &drawing.Paper); err != nil {
				t.Fatal(err)
			}
			file.Close()
		}
	}
}

// someStands lays out the generic four-speed with verdicts in turn.
func someStands(t testing.TB, set *spec.Set) []drawing.Stand {
	t.Helper()
	u, ok := set.Unit("four-speed")
	if !ok {
		t.Fatal("there is no unit four-speed")
	}
	marks := map[string]drawing.Mark{}
	for i := range u.Places {
		v := []term.Verdict{term.Sound, term.Sound, term.Usable, term.Sound, term.Condemned, term.Sound, term.Undecided, term.Repairable}[i%8]
		marks[u.Places[i].ID] = drawing.Mark{Verdict: v, Looked: i%5 != 4}
	}
	return drawing.Stands(set, u, marks)
}

func TestSheetOfTheUnit(t *testing.T) {
	dir := os.Getenv("DRAWING_SHEET")
	if dir == "" {
		t.Skip("DRAWING_SHEET names the folder for the drawings to look at")
	}
	stands := someStands(t, own(t))
	for name, o := range map[string]drawing.Options{
		"page": {Width: 176, Height: 62, Text: 2.2, Line: 0.3, Band: 0.7}, "screen": {Width: 330, Text: 2.9, Names: true},
		"small": {Width: 85, Text: 2.2, Band: 0.7},
	} {
		file, err := os.Create(filepath.Join(dir, "unit-"+name+".svg"))
		if err != nil {
			t.Fatal(err)
		}
		if err := drawing.Unit(stands, "gear-3", o).SVG(file, &drawing.Paper); err != nil {
			t.Fatal(err)
		}
		file.Close()
	}
}
