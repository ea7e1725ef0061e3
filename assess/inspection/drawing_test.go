package inspection_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fettlebook/assess/drawing"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// Every part of the demo that is judged has a drawing with its surfaces, and the
// unit names what there is to do.
func TestTheDemoIsDrawn(t *testing.T) {
	b := bench(t, t.TempDir())
	n, err := b.LayOutDemo(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range n.Assessment().Parts {
		l := n.DrawPart(part.ID, "", drawing.Options{Width: 170, Height: 58, Names: true})
		if part.Consumable {
			continue
		}
		if l == nil || len(l.Walk) != len(part.Surfaces) || len(l.Listed) > 0 {
			t.Errorf("%s is drawn as %+v", part.Name, l)
			continue
		}
		marks := n.Marks(&part)
		for _, f := range part.Surfaces {
			if marks[f.ID].Verdict != f.Verdict {
				t.Errorf("%s: the mark of %s is %+v, its verdict %s", part.Name, f.ID, marks[f.ID], f.Verdict)
			}
		}
	}
	if n.DrawPart("gone", "", drawing.Options{Width: 100}) != nil {
		t.Error("a part that is not there is drawn")
	}
	l := n.DrawUnit("", drawing.Options{Width: 300, Names: true})
	says := map[string]bool{}
	for _, it := range l.Items {
		says[it.Text] = true
	}
	for text, want := range map[string]bool{"Bush of the": true, "Detents": false} {
		if says[text] != want {
			t.Errorf("the unit says %q: %v", text, says[text])
		}
	}
}

// A report's drawings are vectors: it holds no picture but the photos. Page one
// holds the outcome, the work and the grades, on either paper.
func TestReportsDrawInVectors(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	if _, err := b.LayOutDemo(t.Context()); err != nil {
		t.Fatal(err)
	}
	page, err := b.Find(t.Context(), inspection.Query{})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range page.Rows {
		n, err := b.Inspect(t.Context(), row.Record)
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range []string{"a4", "letter"} {
			path := filepath.Join(dir, paper+".pdf")
			if err := n.Report(t.Context(), inspection.ReportOrder{Reader: "customer", Paper: paper, Path: path}).Wait(); err != nil {
				t.Fatal(err)
			}
			if got, want := strings.Count(run(t, "pdfimages", "-list", path), " image "), photosIn(n.Record()); got > want {
				t.Errorf("%d pictures in a report of %d photos", got, want)
			}
			first := run(t, "pdftotext", "-f", "1", "-l", "1", path, "-")
			for _, want := range []string{"What to do", "grades", "Top cover"} {
				if !strings.Contains(first, want) {
					t.Errorf("page one of %s on %s does not say %q", n.Record().Unit.Serial, paper, want)
				}
			}
			// What follows begins with a part, not with what is left of the grades.
			second := strings.Fields(run(t, "pdftotext", "-f", "2", "-l", "2", path, "-"))
			if !strings.Contains(strings.Join(second, " "), "serial "+n.Record().Unit.Serial+" Input shaft") {
				t.Errorf("page one of %s on %s runs over: %.12q", n.Record().Unit.Serial, paper, second)
			}
		}
	}
}

func photosIn(r *record.Record) int { return len(r.Photos) }

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.CommandContext(t.Context(), name, args...).Output()
	if err != nil {
		t.Fatalf("%s (Debian: poppler-utils): %v", name, err)
	}
	return string(out)
}
