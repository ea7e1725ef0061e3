package inspection_test

import (
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// A trial fit with a part of another core counts there as well, also while it
// waits to be saved, and both cores name the other's part.
func TestATrialFitCountsInBothCores(t *testing.T) {
	b := bench(t, t.TempDir())
	one, two := begun(t, b), begun(t, b)
	gear, shaft := place(t, one, "sliding-gear"), place(t, two, "main-shaft")
	fit := record.TrialFit{
		Pair: "gear-on-spline", Outcome: "rocks",
		A: record.PartOf{Record: one.ID(), Part: gear}, B: record.PartOf{Record: two.ID(), Part: shaft},
	}
	if err := one.Do(one.TrialFit(record.NewID(), fit)); err != nil {
		t.Fatal(err)
	}
	again, err := b.Inspect(t.Context(), two.ID())
	if err != nil {
		t.Fatal(err)
	}
	if got := grade(t, again, shaft); got != "condemned" {
		t.Errorf("the main shaft of the second core is %s, want condemned", got)
	}
	if got := again.EndName(fit.A); !strings.Contains(got, "sliding gear") || !strings.Contains(got, "40117") {
		t.Errorf("the second core calls its partner %q", got)
	}
	if got := one.EndName(record.PartOf{}); got != "an unworn reference part" {
		t.Errorf("a part from the shelf is called %q", got)
	}
}

func TestPartnersAreThoseThatTheKindOfTrialFitTakes(t *testing.T) {
	b := bench(t, t.TempDir())
	one, two := begun(t, b), begun(t, b)
	shaft := place(t, one, "input-shaft")
	pair, ok := b.Specs().Pair("ring-on-cone")
	if !ok {
		t.Fatal("there is no trial fit of a ring on its cone")
	}
	here := one.PartnersHere(shaft, pair, "a")
	if len(here) != 3 || here[0].Name != "Blocking ring, 4th" {
		t.Errorf("partners in this core are %+v, want three rings, the one that runs on this cone first", here)
	}
	elsewhere, err := one.PartnersElsewhere(t.Context(), pair, "a", nil)
	if err != nil || len(elsewhere) != 3 || elsewhere[0].Record != two.ID() {
		t.Errorf("partners in other cores are %+v (%v)", elsewhere, err)
	}
	if none, err := one.PartnersElsewhere(t.Context(), pair, "a", []string{"nowhere"}); err != nil || len(none) != 0 {
		t.Errorf("words that fit no core find %+v (%v)", none, err)
	}
}

// The shop's shares judge the records that are open at once, and hold when the
// archive is opened again.
func TestTheShopSetsWhenWearCounts(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	if err := b.SetWear(t.Context(), inspection.Wear{UsableFrom: 70, NotHardFrom: 60}); err == nil {
		t.Error("hard duty was given up before soundness")
	}
	want := inspection.Wear{UsableFrom: 85, NotHardFrom: 95}
	n := begun(t, b)
	told := 0
	defer n.Watch(func() { told++ })()
	if err := b.SetWear(t.Context(), want); err != nil {
		t.Fatal(err)
	}
	if told == 0 {
		t.Error("the open record was not judged anew")
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	if got := bench(t, dir).Wear(); got != want {
		t.Errorf("opened again, wear is %+v, want %+v", got, want)
	}
}

func TestEveryEntryCanBeWithdrawn(t *testing.T) {
	b := bench(t, t.TempDir())
	n := begun(t, b)
	part := place(t, n, "input-shaft")
	judged, signed, worked := record.NewID(), record.NewID(), record.NewID()
	for _, g := range []record.Gesture{
		n.Judge(judged, record.Override{Part: part, Verdict: term.Condemned, Reason: "bent", By: "Edda Quillan"}),
		n.KeepWorking(worked, record.Working{Part: part, What: "rock", Unit: "mm", Entries: map[string]string{"rock": "0.4"}}),
		n.Sign(signed, record.Opinion{Cause: "overload", By: "Edda Quillan"}),
	} {
		if err := n.Do(g); err != nil {
			t.Fatal(err)
		}
	}
	if got := grade(t, n, part); got != "condemned" {
		t.Fatalf("judged condemned it is %s", got)
	}
	for _, id := range []record.ID{judged, signed, worked} {
		if err := n.Withdraw(id, " another shaft "); err != nil {
			t.Fatal(err)
		}
	}
	r := n.Record()
	if got := r.Overrides[judged].Withdrawn; got != "Edda Quillan: another shaft" {
		t.Errorf("the verdict says %q", got)
	}
	if r.Opinions[signed].Withdrawn == "" || r.Workings[worked].Withdrawn == "" || grade(t, n, part) == "condemned" {
		t.Error("what was withdrawn still counts")
	}
	if err := n.Withdraw(record.NewID(), ""); err == nil {
		t.Error("an entry that is not there was withdrawn")
	}
}

// Asking what would be said changes nothing.
func TestWhatIfChangesNothing(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	part, before := place(t, n, "input-shaft"), n.Record()
	a, err := n.WhatIf(n.Judge(record.NewID(), record.Override{Part: part, Verdict: term.Condemned, Reason: "bent", By: "Edda"}))
	if err != nil {
		t.Fatal(err)
	}
	if p, _ := a.Part(part); p.Verdict != term.Condemned {
		t.Errorf("it would be %s", p.Verdict)
	}
	if n.Record() != before || len(before.Overrides) != 0 || grade(t, n, part) == "condemned" {
		t.Error("the record was changed")
	}
}
