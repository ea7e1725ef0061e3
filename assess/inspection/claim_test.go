package inspection_test

import (
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestClaimWants fills the checklist step by step, as the work at the bench does.
func TestClaimWants(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft := place(t, n, "input shaft")
	state := func() string {
		var lines []string
		for _, w := range n.ClaimWants() {
			line := term.Plain(w.View)
			if w.Part != "" {
				line = strings.ToLower(n.PartName(w.Part)) + " " + line
			}
			if !w.Done {
				line += ": " + w.Lacks
			}
			lines = append(lines, line)
		}
		return strings.Join(lines, "\n")
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	want := func(after, want string) {
		t.Helper()
		if got := state(); got != want {
			t.Errorf("after %s it lists\n%s\nwant\n%s", after, got, want)
		}
	}
	want("nothing", "identity plate: the claim number is not entered\nservice meter: hours or distance are not entered")

	must(n.Do(record.Set("told", func(r *record.Record) { r.Owner.Claim, r.Unit.Service = "C-204", "4210 h" })))
	want("the claim was told", "identity plate: no photo shows it\nservice meter")

	ids, _ := withPhotos(t, n, "plate.jpg", "whole.jpg", "detail.jpg", "place.jpg")
	must(n.ShowView(ids[:1], term.IdentityPlate, ""))
	must(n.LeaveOut(ids[:1], true))
	want("its photo was left out", "identity plate: photo 1 is left out of the report\nservice meter")
	must(n.LeaveOut(ids[:1], false))
	_, err := n.AddFinding(inspection.FindingEntry{Finding: record.Finding{Part: shaft, Surface: "cone", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace}})
	must(err)
	want("a finding", "identity plate\nservice meter\n"+
		"input shaft in place: no photo shows it\ninput shaft whole part: no photo shows it\n"+
		"input shaft detail: no photo with an outline of a finding\ninput shaft stamped number: no photo shows it")

	must(n.Assign(ids[1:3], record.Subject{Part: shaft}, false))
	var finding record.ID
	for id := range n.Record().Findings {
		finding = id
	}
	_, err = n.AddOutline(record.Outline{Photo: ids[2], Finding: finding, Shape: record.Polygon, Points: []record.Point{{0, 0}, {900, 0}, {900, 900}}})
	must(err)
	want("the part was photographed", "identity plate\nservice meter\n"+
		"input shaft in place: no photo shows it\ninput shaft whole part\n"+
		"input shaft detail: no scale on the photo\ninput shaft stamped number: no photo shows it")

	_, err = n.AddOutline(record.Outline{Photo: ids[2], Shape: record.Line, Known: record.Known{What: "steel rule", Length: "50 mm"}, Points: []record.Point{{0, 0}, {900, 0}}})
	must(err)
	must(n.ShowView(ids[3:], term.StampedNumber, shaft))
	if !strings.Contains(n.SaysPhotos(ids[3:]), "photo 4") || len(n.Record().Photos[ids[3]].Subjects) != 1 {
		t.Error("a photo of a part's number does not show the part")
	}
	want("scale and number", "identity plate\nservice meter\n"+
		"input shaft in place: no photo shows it\ninput shaft whole part\ninput shaft detail\ninput shaft stamped number")

	// As found, with its neighbour: in its place.
	must(n.ShowView(ids[3:], "", shaft))
	must(n.Assign(ids[3:], record.Subject{Part: place(t, n, "input bearing")}, false))
	want("a photo in place", "identity plate\nservice meter\n"+
		"input shaft in place\ninput shaft whole part\ninput shaft detail\ninput shaft stamped number: no photo shows it")
	must(n.Undo())
	must(n.Undo())
	if !strings.HasSuffix(state(), "input shaft stamped number") {
		t.Errorf("undo left\n%s", state())
	}
}
