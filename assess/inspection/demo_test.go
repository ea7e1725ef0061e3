package inspection_test

import (
	"math"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// The demo must show all that the program can say, and its three reports what
// each reader asks for.
func TestTheDemo(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	first, err := b.LayOutDemo(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	page, err := b.Find(t.Context(), inspection.Query{})
	if err != nil || len(page.Rows) != 3 {
		t.Fatalf("%d cores, %v", len(page.Rows), err)
	}
	verdicts, stages, orientations, outcomes := map[string]int{}, map[term.Stage]int{}, map[int]int{}, map[string]int{}
	photos, measured := 0, map[string]inspection.Extent{}
	for _, row := range page.Rows {
		n, err := b.Inspect(t.Context(), row.Record)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range n.Assessment().Parts {
			verdicts[p.Verdict.String()]++
			verdicts[p.Grade]++
			if p.Order > 1000 {
				t.Errorf("the part %s has no place in the unit", p.Name)
			}
		}
		for _, p := range n.Record().Photos {
			photos++
			stages[p.Stage]++
			orientations[p.Orientation]++
		}
		for id, f := range n.Record().Findings {
			if all := n.Extents(id); len(all) > 0 {
				measured[n.PartName(f.Part)] = all[0]
			}
			if p, _ := n.Assessment().Part(f.Part); p != nil {
				if _, ok := p.Surface(f.Surface); !ok {
					t.Errorf("finding %d is on %q, which %s does not have", f.Number, f.Surface, p.Name)
				}
			}
		}
		outcomes[string(n.Assessment().Outcome)]++
	}
	for _, want := range []string{"sound", "usable", "repairable", "condemned", "undecided", "yard duty only", "missing", "wrong part", "sound, for TW4-C"} {
		if verdicts[want] == 0 {
			t.Errorf("no part of the demo is %s: %v", want, verdicts)
		}
	}
	if photos < 14 || stages[term.AsFound] == 0 || stages[term.Cleaned] == 0 || len(orientations) < 4 || len(outcomes) < 2 {
		t.Errorf("%d photos, stages %v, orientations %v, outcomes %v", photos, stages, orientations, outcomes)
	}
	// The flanks are 5.77 × 22.6 mm and 5.53 × 24.6 mm in the scenes.
	for part, face := range map[string]float64{"3rd gear": 130.4, "Layshaft": 136.0, "Thrust washer, front": 0} {
		x, ok := measured[part]
		if !ok || x.Err != nil || !x.HasScale || x.Figures.Area.Plus <= 0 || x.HasShare != (face > 0) {
			t.Errorf("the finding on the %s measures %+v, %v", part, x, ok)
			continue
		}
		if got, plus := float64(x.Share.Face.Value), float64(x.Share.Face.Plus); face > 0 && (math.Abs(got-face) > plus || plus > face/4) {
			t.Errorf("the flank of the %s measures %.1f mm² ± %.1f mm², true are %.1f", part, got, plus, face)
		}
	}
	again, err := b.LayOutDemo(t.Context())
	if err != nil || again.ID() != first.ID() {
		t.Errorf("laid out a second time it gives %v", err)
	}
	if page, _ := b.Find(t.Context(), inspection.Query{}); len(page.Rows) != 3 {
		t.Errorf("laid out a second time there are %d cores", len(page.Rows))
	}
	readReports(t, first, dir)
}

func readReports(t *testing.T, n *inspection.Inspection, dir string) {
	t.Helper()
	var one record.Photo
	for _, p := range n.Record().Photos {
		one = p
	}
	says := map[string][]string{
		"customer": {"Worth rebuilding", "What to do", "yard duty only", "What was not looked at", "Cautions", "for the owner", "(zone not recorded)"},
		"warranty": {"History of the record", "In no order of likelihood", one.File[:40], one.Name, "micrometer 0-25", "reduced view"},
		"archive":  {"Trial fits", "looked at, felt, by Edda Quillan"},
	}
	without := map[string][]string{"customer": {"SHA-256", "History of the record", "In no order"}, "archive": {"reduced view"}}
	for reader, wanted := range says {
		path := filepath.Join(dir, reader+".pdf")
		if err := n.Report(t.Context(), inspection.ReportOrder{Reader: reader, Path: path}).Wait(); err != nil {
			t.Fatal(err)
		}
		out, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", path, "-").Output()
		if err != nil {
			t.Fatalf("pdftotext (Debian: poppler-utils): %v", err)
		}
		text := string(out)
		for _, want := range wanted {
			if !strings.Contains(text, want) {
				t.Errorf("the %s report does not say %q", reader, want)
			}
		}
		for _, not := range without[reader] {
			if strings.Contains(text, not) {
				t.Errorf("the %s report says %q", reader, not)
			}
		}
	}
}
