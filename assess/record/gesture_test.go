package record_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// started is the frozen record as the beginning of a history.
func started(tb testing.TB) record.State {
	tb.Helper()
	step, err := record.Create(full(tb), meta)
	if err != nil {
		tb.Fatal(err)
	}
	return step.State
}

// gestures are one of each kind, for the frozen record; several where a kind
// can do several things.
func gestures(tb testing.TB, r *record.Record) map[string][]record.Gesture {
	part, photo, finding, outline := first(tb, r.Parts), first(tb, r.Photos), first(tb, r.Findings), first(tb, r.Outlines)
	id := record.NewID
	reading := record.Reading{Part: part, Surface: "nose", Dimension: "diameter", Unit: "mm", Values: []record.Value{{Text: "18,4"}}}
	withdrawn := record.Withdraw(finding, 1, "Edda", "a shadow")
	return map[string][]record.Gesture{
		"Set": {
			record.Set("complaint", func(r *record.Record) { r.Complaint = "whines in <third> & fourth" }),
			record.Set("no complaint", func(r *record.Record) { r.Complaint = "" }),
			record.Set("one person fewer", func(r *record.Record) { r.People = append(r.People[:1], r.People[2:]...) }),
			record.Set("nobody", func(r *record.Record) { r.People = nil }),
			record.Set("no owner, another duty", func(r *record.Record) { r.Owner, r.Duty, r.Unit.Variant = record.Owner{}, term.Yard, "" }),
			record.Set("no readings", func(r *record.Record) { r.Readings = nil }),
			record.Set("no installed", func(r *record.Record) { clear(r.Installed) }),
		},
		"AddParts": {record.AddParts("laid out", map[record.ID]record.Part{
			id(): {Kind: "gear", State: term.InHand, Surfaces: map[string]record.Looked{"~/": {Eye: true}}}, id(): {Kind: "nut", State: term.Missing}})},
		"ChangePart": {
			record.ChangePart("tag", part, func(p *record.Part) { p.Tag = "B7" }),
			record.ChangePart("not inspected", part, func(p *record.Part) { p.Surfaces = nil }),
		},
		"Look":       {record.Look("looked at", part, map[string]record.Looked{"a/b~c": {Eye: true}, "pilot nose": {Touch: true}})},
		"AddFinding": {record.AddFinding("found", id(), record.Finding{Part: part, Surface: "nose", Damage: term.Dents, Severity: term.Deep, Zone: term.Elsewhere, Method: term.ByEye})},
		"ChangeFinding": {record.ChangeFinding("worse", finding, func(f *record.Finding) {
			f.Damage, f.Severity, f.Note = term.Crack, term.Suspected, ""
		})},
		"Withdraw":  {withdrawn},
		"AddPhotos": {record.AddPhotos("2 photos", []record.ID{id(), id()}, []record.Photo{anyPhoto(r), anyPhoto(r)})},
		"ChangePhoto": {
			record.ChangePhoto("turned", photo, func(p *record.Photo) { p.Turned, p.Stage = 90, "" }),
			record.ChangePhoto("shows less", photo, func(p *record.Photo) { p.Subjects = p.Subjects[1:] }),
		},
		"RemovePhoto": {record.RemovePhoto(photo, 1)},
		"AddOutline":  {record.AddOutline("outlined", id(), record.Outline{Photo: photo, Shape: record.Oval, Points: []record.Point{{1, 2}, {3, 4}}})},
		"ChangeOutline": {
			record.ChangeOutline("corner moved", outline, func(o *record.Outline) { o.Points[1] = record.Point{399_999, 13} }),
			record.ChangeOutline("corner taken out", outline, func(o *record.Outline) { o.Points = append(o.Points[:1], o.Points[2:]...) }),
			record.ChangeOutline("corner put in", outline, func(o *record.Outline) { o.Points = append([]record.Point{{5, 5}}, o.Points...) }),
			record.ChangeOutline("of no finding", outline, func(o *record.Outline) { o.Finding = "" }),
		},
		"RemoveOutline": {record.RemoveOutline(outline, 1)},
		"AddReading":    {record.AddReading("measured", id(), reading), record.AddReading("measured again", first(tb, r.Readings), reading)},
		"AddWorking": {
			record.AddWorking("worked out", id(), record.Working{Part: part, What: "rock", Unit: "mm", Entries: map[string]string{"rock": "0,3"}}),
			record.AddWorking("worked out anew", first(tb, r.Workings), record.Working{Part: part, What: "shims", Unit: "in", Entries: map[string]string{"a/b~": ""}}),
		},
		"AddTrialFit": {record.AddTrialFit("tried", id(), record.TrialFit{Pair: "ring-on-cone", A: record.PartOf{Record: id(), Part: id()}, B: record.PartOf{Record: r.ID, Part: part}, Outcome: "rocks"})},
		"SetOverride": {record.SetOverride("own verdict", id(), record.Override{Part: part, Verdict: term.Undecided, Reason: "ask", By: "Edda"})},
		"AddLimit":    {record.AddLimit("limit out of the manual", id(), record.Limit{Part: part, Surface: "nose", Dimension: "diameter", Discard: "18.41 mm", Manual: "shop manual", By: "Edda"})},
		"AddOpinion":  {record.AddOpinion("signed", id(), record.Opinion{Cause: "water", By: "Edda"})},
		"WithdrawEntry": {
			record.WithdrawEntry("reading withdrawn", first(tb, r.Readings), "Edda", "wrong part"),
			record.WithdrawEntry("override withdrawn", first(tb, r.Overrides), "Edda", "wrong part"),
			record.WithdrawEntry("trial fit withdrawn", first(tb, r.TrialFits), "Edda", "wrong part"),
			record.WithdrawEntry("working withdrawn", first(tb, r.Workings), "Edda", "wrong part"),
			record.WithdrawEntry("limit withdrawn", first(tb, r.Limits), "Edda", "wrong page"),
			record.WithdrawEntry("opinion withdrawn", first(tb, r.Opinions), "Edda", "wrong part"),
		},
		"AddInstalled": {record.AddInstalled("put in", id(), record.Installed{Place: "seal", What: "new"})},
		"Together":     {record.Together("both", withdrawn, record.RemovePhoto(photo, 1), record.RemoveOutline(outline, 1))},
	}
}

func anyPhoto(r *record.Record) record.Photo {
	for _, p := range record.InOrder(r.Photos) {
		p.Subjects = nil
		return p
	}
	return record.Photo{}
}

// The table above must know every function of the package that makes a gesture.
func TestEveryKindOfGestureIsTried(t *testing.T) {
	tried := gestures(t, full(t))
	kinds := 0
	for _, name := range sources(t) {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !f.Name.IsExported() || f.Type.Results == nil || fmt.Sprint(f.Type.Results.List[0].Type) != "Gesture" {
				continue
			}
			kinds++
			if len(tried[f.Name.Name]) == 0 {
				t.Errorf("%s is not tried", f.Name.Name)
			}
		}
	}
	if kinds != len(tried) {
		t.Errorf("the package makes %d kinds of gestures, %d are tried", kinds, len(tried))
	}
}

// sources returns the package's files without its tests.
func sources(t *testing.T) []string {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(names, func(name string) bool { return strings.HasSuffix(name, "_test.go") })
}
