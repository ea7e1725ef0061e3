package drawing

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// SVG writes the drawing in millimetres. The same drawing gives the same bytes.
func (l *List) SVG(w io.Writer, p *Palette) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]smm" height="%[2]smm" viewBox="0 0 %[1]s %[2]s">`+"\n",
		number(l.Width), number(l.Height))
	fmt.Fprintf(b, `<rect width="%s" height="%s" fill="%s"/>`+"\n", number(l.Width), number(l.Height), hex(p.Colour(Ground)))
	for i := range l.Items {
		writeItem(b, &l.Items[i], p)
	}
	b.WriteString("</svg>\n")
	if err := b.Flush(); err != nil {
		return fmt.Errorf("the drawing can't be written: %w", err)
	}
	return nil
}

func writeItem(b *bufio.Writer, it *Item, p *Palette) {
	colour := hex(p.Colour(it.Ink))
	of := ""
	if it.Of != "" {
		of = ` data-of="` + escape(it.Of) + `"`
	}
	switch it.Op {
	case Fill:
		fmt.Fprintf(b, `<path%s fill="%s" d="%s"/>`+"\n", of, colour, pathData(it.Paths, true))
	case Stroke:
		fmt.Fprintf(b, `<path%s fill="none" stroke="%s" stroke-width="%s" d="%s"/>`+"\n",
			of, colour, number(it.Width), pathData(it.Paths, false))
	case Text:
		anchor := [...]string{"start", "middle", "end"}[min(it.Anchor, End)]
		weight := ""
		if it.Bold {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(b, `<text%s x="%s" y="%s" font-family="Noto Sans, DejaVu Sans, sans-serif" font-size="%s" text-anchor="%s"%s fill="%s">%s</text>`+"\n",
			of, number(it.At.X), number(it.At.Y), number(it.Size), anchor, weight, colour, escape(it.Text))
	}
}

func pathData(paths [][]Point, fill bool) string {
	var b strings.Builder
	for _, path := range paths {
		ring := len(path) > 2 && path[0] == path[len(path)-1]
		if ring {
			path = path[:len(path)-1]
		}
		for i, q := range path {
			if i == 0 {
				b.WriteByte('M')
			} else {
				b.WriteByte('L')
			}
			b.WriteString(number(q.X))
			b.WriteByte(' ')
			b.WriteString(number(q.Y))
		}
		if ring || fill {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// number writes hundredths of a millimetre, without a sign on nought.
func number(n float64) string {
	n = math.Round(n*100) / 100
	if n == 0 || math.IsNaN(n) || math.IsInf(n, 0) {
		return "0"
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

func hex(colour uint32) string { return fmt.Sprintf("#%06x", colour&0xFFFFFF) }

func escape(text string) string {
	var b strings.Builder
	// A strings.Builder never fails.
	_ = xml.EscapeText(&b, []byte(text))
	return b.String()
}
