package inspection_test

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// printed writes a report and returns its text, with blanks and line ends as one
// blank each.
func printed(t *testing.T, n *inspection.Inspection, o inspection.ReportOrder) string {
	t.Helper()
	o.Path = filepath.Join(t.TempDir(), "report.pdf")
	if err := n.Report(t.Context(), o).Wait(); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), "pdftotext", "-raw", o.Path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian: poppler-utils): %v", err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}

// A customer sees only what counts; the adjuster and the archive see what was
// withdrawn too, each with its reason, also on a part of which nothing else counts.
func TestWhoSeesWhatWasWithdrawn(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft, main := place(t, n, "input-shaft"), place(t, n, "main-shaft")
	found, err := n.AddFinding(inspection.FindingEntry{Finding: record.Finding{Part: shaft, Surface: "pilot", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace}})
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]record.ID{"rust": found}
	enter := func(name string, g func(record.ID) record.Gesture) {
		t.Helper()
		ids[name] = record.NewID()
		if err := n.Do(g(ids[name])); err != nil {
			t.Fatal(name, err)
		}
	}
	enter("size", func(id record.ID) record.Gesture {
		return n.Reading(id, record.Reading{Part: shaft, Surface: "pilot", Dimension: "diameter", Unit: "mm", Values: []record.Value{{Text: "18.4321"}}})
	})
	enter("page", func(id record.ID) record.Gesture {
		return n.TypeLimit(id, record.Limit{Part: main, Surface: "pilot", Dimension: "diameter", Discard: "17.7777", Manual: "workshop manual"})
	})
	enter("trial", func(id record.ID) record.Gesture {
		return n.TrialFit(id, record.TrialFit{Pair: "bearing-on-shaft", A: record.PartOf{Record: n.ID(), Part: shaft}, Unworn: "b", Outcome: "snug"})
	})
	enter("word", func(id record.ID) record.Gesture {
		return n.Judge(id, record.Override{Part: shaft, Verdict: term.Condemned, Reason: "bent", By: "Edda Quillan"})
	})
	enter("cause", func(id record.ID) record.Gesture {
		return n.Sign(id, record.Opinion{Cause: "overload", By: "Edda Quillan"})
	})
	says := map[string]string{"size": "18.4321", "page": "17.7777 mm"}
	for name, id := range ids {
		if err := n.Withdraw(id, "reason-"+name); err != nil {
			t.Fatal(err)
		}
	}
	for _, reader := range []string{"customer", "warranty", "archive"} {
		text := printed(t, n, inspection.ReportOrder{Reader: reader, Causes: true})
		for name := range ids {
			sees := reader != "customer"
			if strings.Contains(text, fmt.Sprintf("Edda Quillan: reason-%s)", name)) != sees {
				t.Errorf("the %s report with what was withdrawn as %s: want shown %v", reader, name, sees)
			}
			if says[name] != "" && strings.Contains(text, says[name]) != sees {
				t.Errorf("the %s report with %q: want shown %v", reader, says[name], sees)
			}
		}
	}
}
