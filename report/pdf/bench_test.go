package pdf_test

import (
	"context"
	"io"
	"runtime"
	"strings"
	"testing"

	"fettlebook/report/pdf"
)

// counter takes everything and keeps only how much it was.
type counter struct{ n int64 }

func (c *counter) Write(p []byte) (int, error) {
	c.n += int64(len(p))
	return len(p), nil
}

// BenchmarkReport200Pictures writes 200 previews of about 250 kB, two on a page
// with text and outlines. It reports the largest heap seen after any picture and
// at the end, and how much larger the file is than the previews.
func BenchmarkReport200Pictures(b *testing.B) {
	photo := noise(b, 1600, 1200, 79)
	o := options(b)
	var peak uint64
	look := func() {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		peak = max(peak, m.HeapInuse)
	}
	var size int64
	for b.Loop() {
		var out counter
		writeReport(b, &out, o, photo, look)
		size = out.n
	}
	b.ReportMetric(float64(len(photo))/1e3, "kB/preview")
	b.ReportMetric(float64(peak)/1e6, "MB-peak-heap")
	b.ReportMetric(100*(float64(size)/float64(200*len(photo))-1), "%-over-previews")
}

func writeReport(b *testing.B, w io.Writer, o pdf.Options, photo []byte, look func()) {
	ctx := context.Background()
	o.Decorate = func(p *pdf.Page, n, of int) {
		p.Text(195, 285, pdf.Style{Size: 8}, pdf.Right, "page "+itoa(n)+" of "+itoa(of))
	}
	d, err := pdf.New(w, o)
	if err != nil {
		b.Fatal(err)
	}
	st := pdf.Style{Size: 9}
	for i := range 100 {
		p, err := d.NewPage(ctx)
		if err != nil {
			b.Fatal(err)
		}
		p.Bookmark(0, 0, "Sheet "+itoa(i+1))
		for j := range 2 {
			y := 15 + 135*float64(j)
			pic, err := d.Picture(ctx, itoa(i), "", func() ([]byte, error) {
				return append([]byte(nil), photo...), nil // as if read from a file
			})
			if err != nil {
				b.Fatal(err)
			}
			pl := p.Place(pic, pdf.Rect{X: 15, Y: y, W: 180, H: 110}, pdf.Placement{})
			for k := range 3 {
				u := 0.2 + 0.2*float64(k)
				p.Polygon([]pdf.Point{pl.At(u, 0.2), pl.At(u+0.1, 0.3), pl.At(u, 0.5)}, pdf.Paint{Stroke: pdf.Hex(0xE69F00), Width: 0.5})
				p.Badge(pl.At(u, 0.2), 2.5, itoa(k+1), pdf.White, pdf.Paint{Fill: pdf.Black})
			}
			p.TextBox(15, y+112, 180, st, pdf.Start, strings.Repeat("Pits, felt, on the working face. ", 8))
			look()
		}
	}
	if err := d.Close(ctx); err != nil {
		b.Fatal(err)
	}
	look()
}

// BenchmarkWrap shows that the time for a note grows with its length only.
func BenchmarkWrap(b *testing.B) {
	for name, text := range map[string]string{
		"words":      strings.Repeat("the cone is scored and the ring grips late ", 2500)[:100_000],
		"words-x8":   strings.Repeat("the cone is scored and the ring grips late ", 20000)[:800_000],
		"one-word":   strings.Repeat("W", 100_000),
		"Hebrew":     strings.Repeat("גלגל שיניים 18.44 ", 6000),
		"emoji":      strings.Repeat("🔧", 20_000),
		"ideographs": strings.Repeat("歯車の摩耗", 20_000),
	} {
		b.Run(name, func(b *testing.B) {
			d, err := pdf.New(io.Discard, options(b))
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if len(d.Wrap(pdf.Style{Size: 9}, text, 180)) < 100 {
					b.Fatal("too few lines")
				}
			}
		})
	}
}
