package drawing_test

import (
	"io"
	"testing"

	"fettlebook/assess/drawing"
)

// A part is drawn on a cache miss, while the hand moves on: under 2 ms.
func BenchmarkPart(b *testing.B) {
	set := own(b)
	for _, kind := range []string{"input-shaft", "main-shaft", "layshaft-cluster", "hub", "case", "ball-bearing"} {
		k, _ := set.Kind(kind)
		p, _ := set.Profile(kind, "", "")
		state := someState(k)
		b.Run(kind, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				drawing.Part(p, k, state, drawing.Options{Width: 423, Names: true, List: true})
			}
		})
	}
}

func BenchmarkUnit(b *testing.B) {
	stands := someStands(b, own(b))
	b.ReportAllocs()
	for b.Loop() {
		drawing.Unit(stands, "gear-3", drawing.Options{Width: 330, Names: true})
	}
}

func BenchmarkSVG(b *testing.B) {
	set := own(b)
	k, _ := set.Kind("input-shaft")
	p, _ := set.Profile(k.ID, "", "")
	l := drawing.Part(p, k, someState(k), drawing.Options{Width: 160, List: true})
	for b.Loop() {
		if err := l.SVG(io.Discard, &drawing.Paper); err != nil {
			b.Fatal(err)
		}
	}
}
