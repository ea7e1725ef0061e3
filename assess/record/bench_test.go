package record_test

import (
	"fmt"
	"strings"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// large returns a record of the size that the design asks figures for: 60 parts
// of 8 surfaces, 200 photos, 150 findings, 300 outlines of 12 corners.
func large(tb testing.TB) (record.State, []record.ID) {
	tb.Helper()
	r := record.New(record.Unit{Type: "four-speed", Maker: "Tarnwell", Serial: "40117"}, term.Road)
	r.Parts, r.Photos = map[record.ID]record.Part{}, map[record.ID]record.Photo{}
	r.Findings, r.Outlines = map[record.ID]record.Finding{}, map[record.ID]record.Outline{}
	var parts, photos, findings []record.ID
	for i := range 60 {
		p := record.Part{Kind: "gear", Place: fmt.Sprintf("gear-%d", i), State: term.InHand, Surfaces: map[string]record.Looked{}}
		for s := range 8 {
			p.Surfaces[fmt.Sprintf("surface-%d", s)] = record.Looked{Eye: true, Touch: true, Clean: s%2 == 0, By: "Edda Quillan"}
		}
		parts = append(parts, record.NewID())
		r.Parts[parts[i]] = p
	}
	for i := range 200 {
		photos = append(photos, record.NewID())
		r.Photos[photos[i]] = record.Photo{
			Number: i + 1, File: strings.Repeat("0a", 32), Name: fmt.Sprintf("IMG_%04d.jpg", i), Size: 4_812_000,
			Width: 4000, Height: 3000, Orientation: 6, Taken: record.Taken{Local: "2026-05-12T09:10:00"}, Camera: "pocket camera",
			Stage: term.Cleaned, Subjects: []record.Subject{{Part: parts[i%60], Surface: "surface-1"}},
		}
	}
	for i := range 150 {
		findings = append(findings, record.NewID())
		f := pits(parts[i%60])
		f.Number, f.By, f.Note = i+1, "Wren Aldous", "a row of them along the edge"
		r.Findings[findings[i]] = f
	}
	for i := range 300 {
		o := record.Outline{Number: i + 1, Photo: photos[i%200], Finding: findings[i%150], Shape: record.Polygon}
		for c := range 12 {
			o.Points = append(o.Points, record.Point{120_000 + 977*c, 90_000 + 613*(c%5)})
		}
		r.Outlines[record.NewID()] = o
	}
	r.Numbers = record.Numbers{Finding: 150, Photo: 200, Outline: 300}
	step, err := record.Create(r, meta)
	if err != nil {
		tb.Fatal(err)
	}
	return step.State, parts
}

// Each gesture is made on the window's thread, so it must fit into a frame.
func BenchmarkMake(b *testing.B) {
	s, parts := large(b)
	b.Run("look", func(b *testing.B) {
		g := record.Look("felt", parts[7], map[string]record.Looked{"surface-3": {Eye: true, By: "Wren Aldous"}})
		b.ReportMetric(float64(len(s.Bytes)), "record-bytes")
		gesture(b, s, g)
	})
	b.Run("finding", func(b *testing.B) {
		gesture(b, s, record.AddFinding("finding", record.NewID(), pits(parts[3])))
	})
}

func gesture(b *testing.B, s record.State, g record.Gesture) {
	for b.Loop() {
		if _, err := s.Make(g, meta); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTakeBack(b *testing.B) {
	s, parts := large(b)
	step, err := s.Make(record.AddFinding("finding", record.NewID(), pits(parts[3])), meta)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := step.TakeBack(record.Undo, step.Entry, meta); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	s, _ := large(b)
	b.SetBytes(int64(len(s.Bytes)))
	for b.Loop() {
		if _, err := record.Read(s.Bytes); err != nil {
			b.Fatal(err)
		}
	}
}
