package inspection_test

import (
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

var dial = record.Instrument{Kind: "dial-indicator", Name: "dial indicator", Serial: "Q-17", Resolution: "0.01 mm", Error: "0.015 mm", Repeatability: "0.003 mm", Calibrated: "2026-02-02"}

func rocked(part record.ID) record.Working {
	return record.Working{Part: part, Surface: "pilot", What: "rock", Unit: "mm", Instrument: dial, Manual: "workshop manual", Page: "31",
		Entries: map[string]string{"rock": "0.60", "at": "200", "arm": "50", "rock-limit": "0.10"}}
}

func floated(part record.ID) record.Working {
	return record.Working{Part: part, What: "shims", Unit: "mm", Instrument: dial, By: "Wren Aldous",
		Entries: map[string]string{"one-end": "0.05", "other-end": "0.65", "sizes": "0.40 0.50", "float-from": "0.05", "float-to": "0.15"}}
}

// What is kept is told in the history, can be changed, undone and struck through, and
// judges the part meanwhile.
func TestAWorkingIsKeptChangedUndoneAndWithdrawn(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	part, id := place(t, n, "input-shaft"), record.NewID()
	do := func(g record.Gesture) {
		t.Helper()
		if err := n.Do(g); err != nil {
			t.Fatal(err)
		}
	}
	g := n.KeepWorking(id, rocked(part))
	if !strings.HasPrefix(g.Says, "rock of a shaft, pilot nose of input shaft, worked out: 0.150 mm ±") {
		t.Errorf("the history says %q", g.Says)
	}
	do(g)
	if w := n.Record().Workings[id]; w.By != "Edda Quillan" || w.At == (record.Stamp{}) || grade(t, n, part) != "condemned" {
		t.Errorf("kept is %+v, and the shaft is %s", w, grade(t, n, part))
	}
	better := rocked(part)
	better.Entries["rock"] = "0.20"
	g = n.KeepWorking(id, better)
	if !strings.Contains(g.Says, "worked out anew: 0.050 mm") {
		t.Errorf("the history says %q", g.Says)
	}
	do(g)
	if got := grade(t, n, part); got == "condemned" {
		t.Error("changed, it still condemns")
	}
	if err := n.Undo(); err != nil {
		t.Fatal(err)
	}
	if w := n.Record().Workings[id]; w.Entries["rock"] != "0.60" || grade(t, n, part) != "condemned" {
		t.Errorf("undone, it is %+v", w.Entries)
	}
	if err := n.Withdraw(id, "another shaft"); err != nil {
		t.Fatal(err)
	}
	if w := n.Record().Workings[id]; w.Withdrawn != "Edda Quillan: another shaft" || grade(t, n, part) == "condemned" {
		t.Errorf("withdrawn, it is %q and the shaft %s", w.Withdrawn, grade(t, n, part))
	}
}

func TestTheReportTellsWhatWasWorkedOut(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	part, gone := place(t, n, "input-shaft"), record.NewID()
	other := rocked(part)
	other.Entries, other.Note = map[string]string{"rock": "0.777", "at": "200", "arm": "50"}, "never mind"
	for id, w := range map[record.ID]record.Working{record.NewID(): rocked(part), record.NewID(): floated(part), gone: other} {
		if err := n.Do(n.KeepWorking(id, w)); err != nil {
			t.Fatal(err)
		}
	}
	if err := n.Withdraw(gone, "wrong shaft"); err != nil {
		t.Fatal(err)
	}
	for _, reader := range []string{"customer", "warranty"} {
		text := printed(t, n, inspection.ReportOrder{Reader: reader})
		for _, want := range []string{
			"Worked out", "Rock of a shaft", "moved altogether 0.60 mm", "0.150 mm ± 0.006 mm diametral clearance", "limit 0.100 mm: past it",
			"× 50 / 200 = 0.150 mm diametral", "workshop manual, p. 31 (typed in by Edda Quillan). Decided by ISO 14253-1:2017",
			"serial Q-17", "calibrated", "0.60 mm ± 0.021 mm end float", "To be set at assembly", "Fit a shim of 0.50 mm", "Wren Aldous",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("the %s report lacks %q", reader, want)
			}
		}
		sees := reader != "customer"
		for _, struck := range []string{"withdrawn (Edda Quillan: wrong shaft): Rock of a shaft", "0.777 mm"} {
			if strings.Contains(text, struck) != sees {
				t.Errorf("the %s report with %q: want shown %v", reader, struck, sees)
			}
		}
		// The adjuster reads it once, in the history.
		if got := strings.Count(text, "0.194 mm"); got > 0 && !sees || got > 1 {
			t.Errorf("the %s report tells what a withdrawn working comes to", reader)
		}
	}
}

// A working is proposed for a surface that it may be of.
func TestAWorkingIsProposedForItsSurface(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft, washer := place(t, n, "input-shaft"), place(t, n, "thrust-washer-front")
	for _, c := range []struct {
		what   string
		part   record.ID
		chosen string
		want   string
	}{
		{"rock", shaft, "cone", "pilot"}, {"rock", shaft, "pilot", "pilot"}, {"rock", shaft, "bearing-seat", "bearing-seat"},
		{"span", shaft, "cone", "flanks"}, {"ring-gap", shaft, "pilot", "cone"}, {"shims", shaft, "cone", ""},
		{"shims", washer, "", "thrust-face"}, {"temperature", shaft, "clutch-spline", "clutch-spline"}, {"hoop-stress", shaft, "cone", "cone"},
	} {
		if got := n.SurfaceFor(c.what, c.part, c.chosen); got != c.want {
			t.Errorf("%s with %q chosen is proposed for %q, want %q", c.what, c.chosen, got, c.want)
		}
	}
}
