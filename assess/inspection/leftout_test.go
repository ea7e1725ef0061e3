package inspection_test

import (
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestLeftOutOfTheReport holds that a photo that was left out is in no report, that
// nothing points to it, and that the adjuster and the archive are told of it.
func TestLeftOutOfTheReport(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft := place(t, n, "input shaft")
	ids, _ := withPhotos(t, n, "first.jpg", "second.jpg", "third.jpg")
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(n.Assign(ids[:2], record.Subject{Part: shaft}, false))
	finding, err := n.AddFinding(inspection.FindingEntry{Finding: record.Finding{Part: shaft, Surface: "cone", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace}})
	must(err)
	for _, id := range ids[:2] {
		_, err = n.AddOutline(record.Outline{Photo: id, Finding: finding, Shape: record.Polygon, Points: []record.Point{{0, 0}, {900, 0}, {900, 900}}})
		must(err)
	}
	if whole := printed(t, n, inspection.ReportOrder{Reader: "customer"}); !strings.Contains(whole, "Photo 2 ·") || !strings.Contains(whole, "photos 1 and 2") || !strings.Contains(whole, "Photo 3 ·") {
		t.Fatalf("before, the report shows\n%s", whole)
	}
	must(n.LeaveOut(ids[1:], true))
	if says, _ := n.Undoable(); says != "photos 2 and 3 left out of the report" {
		t.Errorf("undo says %q", says)
	}
	for reader, told := range map[string]bool{"customer": false, "warranty": true, "archive": true} {
		text := printed(t, n, inspection.ReportOrder{Reader: reader})
		if !strings.Contains(text, "Photo 1 ·") {
			t.Errorf("%s: photo 1 is not shown", reader)
		}
		for _, gone := range []string{"Photo 2 ·", "Photo 3 ·", "photos 1 and 2", "on photo 2"} {
			if pages, _, _ := strings.Cut(text, "History of the record"); strings.Contains(pages, gone) {
				t.Errorf("%s: it still says %q", reader, gone)
			}
		}
		file := n.Record().Photos[ids[1]].File
		if strings.Contains(text, "Photos left out of this report") != told || strings.Contains(strings.ReplaceAll(text, " ", ""), file) != told {
			t.Errorf("%s: told of those that are left out: %v, want %v\n%s", reader, !told, told, text)
		}
		if told && !strings.Contains(text, "Edda Quillan") {
			t.Errorf("%s: nobody left them out", reader)
		}
	}
	must(n.Undo())
	if whole := printed(t, n, inspection.ReportOrder{Reader: "customer"}); !strings.Contains(whole, "photos 1 and 2") {
		t.Error("after undo they are still left out")
	}
	must(n.LeaveOut(ids[:1], true))
	must(n.LeaveOut(ids[:1], false))
	if says, _ := n.Undoable(); says != "photo 1 back in the report" || n.Record().Photos[ids[0]].LeftOut != "" {
		t.Errorf("taken back it is left out by %q, undo says %q", n.Record().Photos[ids[0]].LeftOut, says)
	}
}
