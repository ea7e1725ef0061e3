package archive_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/archive"
	"fettlebook/assess/archive/conformance"
	"fettlebook/assess/record"
)

// sizes are those of a shop after some years and of a large works.
var sizes = []int{10_000, 100_000}

// register makes an archive with so many rows of invented units.
func register(b *testing.B, n int) archive.Archive {
	b.Helper()
	a := open(b, b.TempDir(), archive.Write)
	random := rand.New(rand.NewPCG(1, 2))
	pick := func(words ...string) string { return words[random.IntN(len(words))] }
	rows := make([]archive.Row, n)
	for i := range rows {
		serial := fmt.Sprint(100_000 + random.IntN(900_000))
		rows[i] = archive.Row{
			Record:  record.NewID(),
			Unit:    fmt.Sprintf("Tarnwell %s, serial %s", pick("TW4-B", "TW4-C", "TW5", "TW2-R"), serial),
			Serial:  serial,
			Owner:   pick("Joss", "Marl", "Edda", "Wren", "Ansel", "Brid") + " " + pick("Ternway", "Quillan", "Aldous", "Farm Co-operative", "Harrowmere Haulage"),
			Outcome: pick("worth rebuilding", "worth rebuilding", "a donor", "scrap"),
			Words: pick("jumps out of third", "howls in second", "grinds into first", "no drive in reverse", "leaks at the front seal") + "; " +
				pick("blocking ring worn, cone polished", "pits on the input shaft's raceway", "dog teeth rounded", "bush loose in its gear", "flank spalled"),
			Received: "2026-05-12",
			Changed:  record.StampOf(conformance.Began.Add(time.Duration(i) * time.Minute)).UTC,
		}
	}
	if err := archive.FillRegister(a, rows); err != nil {
		b.Fatal(err)
	}
	return a
}

var searches = []struct {
	name  string
	words []string
}{
	{"all", nil},
	{"one letter", []string{"t"}},
	{"in every row", []string{"tarnwell"}},
	{"long beginning, in every row", []string{"tarnw"}},
	{"in many", []string{"rebuil"}},
	{"two in many", []string{"howls", "spal"}},
	{"unit with a hyphen", []string{"TW4-B"}},
	{"serial as typed", []string{"4827"}},
	{"in none", []string{"zzz"}},
	{"many and one", []string{"tarnwell", "482713"}},
	{"never together", []string{"tw4", "tw5"}},
}

// BenchmarkFind looks for a page in registers of two sizes. p99-ms is what one
// search in a hundred takes at least.
func BenchmarkFind(b *testing.B) {
	for _, n := range sizes {
		a := register(b, n)
		for _, s := range searches {
			b.Run(fmt.Sprintf("%d/%s", n, s.name), func(b *testing.B) {
				var took []time.Duration
				for b.Loop() {
					start := time.Now()
					if _, err := a.Find(context.Background(), archive.Query{Words: s.words}); err != nil {
						b.Fatal(err)
					}
					took = append(took, time.Since(start))
				}
				slices.Sort(took)
				b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
			})
		}
	}
}

// BenchmarkPages reads a register to its end, page by page.
func BenchmarkPages(b *testing.B) {
	a := register(b, sizes[0])
	for b.Loop() {
		rows := 0
		for q := (archive.Query{Words: []string{"t"}}); ; {
			page, err := a.Find(context.Background(), q)
			if err != nil {
				b.Fatal(err)
			}
			if rows += len(page.Rows); page.Next == "" {
				break
			}
			q.After = page.Next
		}
		if rows != sizes[0] {
			b.Fatalf("the pages hold %d rows, want %d", rows, sizes[0])
		}
	}
}

// BenchmarkAppend keeps changes of a record in an archive with a full register.
func BenchmarkAppend(b *testing.B) {
	for _, note := range []int{100, 100_000} {
		b.Run(fmt.Sprintf("note of %d", note), func(b *testing.B) {
			a := register(b, sizes[1])
			w := conformance.Begin(b, a, conformance.Unit, conformance.Began.Add(100_000*time.Hour))
			var text strings.Builder
			for i := 0; text.Len() < note; i++ {
				fmt.Fprintf(&text, "word%x ", i*7919%10_007)
			}
			for i := 0; b.Loop(); i++ {
				b.StopTimer()
				step := w.Complain(fmt.Sprint(i, " ", text.String()))
				b.StartTimer()
				w.MustKeep(step)
			}
		})
	}
}

// BenchmarkLoad opens the newest revision of a large record, and one long ago.
func BenchmarkLoad(b *testing.B) {
	a := open(b, b.TempDir(), archive.Write)
	w := conformance.Begin(b, a, conformance.Unit, conformance.Began)
	for range 500 {
		w.MustKeep(w.Photograph([]byte("photo")))
	}
	b.Logf("the record has %d bytes", len(w.Last().Bytes))
	for _, at := range []archive.Revision{0, 495} {
		b.Run(fmt.Sprint("revision ", at), func(b *testing.B) {
			for b.Loop() {
				if _, err := a.Load(context.Background(), w.ID(), at); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPut takes in originals of 4 MB.
func BenchmarkPut(b *testing.B) {
	a := open(b, b.TempDir(), archive.Write)
	photo := make([]byte, 4<<20)
	b.SetBytes(int64(len(photo)))
	for i := 0; b.Loop(); i++ {
		copy(photo, fmt.Sprint(i))
		if _, err := a.Put(context.Background(), bytes.NewReader(photo)); err != nil {
			b.Fatal(err)
		}
	}
}
