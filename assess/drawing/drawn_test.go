package drawing_test

import (
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"fettlebook/assess/drawing"
	"fettlebook/assets"

	"io/fs"
)

// leader is a line from a number to its surface.
type leader struct {
	of   string
	line []drawing.Point
}

// leaders finds them by what they are made of: a fine line, then the dot at its
// foot.
func leaders(l *drawing.List) []leader {
	var found []leader
	for i := 0; i+1 < len(l.Items); i++ {
		line, dot := l.Items[i], l.Items[i+1]
		if line.Op == drawing.Stroke && len(line.Paths) == 1 && len(line.Paths[0]) == 3 &&
			dot.Op == drawing.Fill && dot.Ink == drawing.Outline && dot.Of == line.Of {
			found = append(found, leader{line.Of, line.Paths[0]})
		}
	}
	return found
}

func crosses(a, b []drawing.Point) bool {
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			if meet(a[i-1], a[i], b[j-1], b[j]) {
				return true
			}
		}
	}
	return false
}

func meet(a, b, c, d drawing.Point) bool {
	side := func(a, b, c drawing.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	apart := max(a.X, b.X) < min(c.X, d.X) || max(c.X, d.X) < min(a.X, b.X) ||
		max(a.Y, b.Y) < min(c.Y, d.Y) || max(c.Y, d.Y) < min(a.Y, b.Y)
	return !apart && side(a, b, c)*side(a, b, d) <= 0 && side(c, d, a)*side(c, d, b) <= 0
}

// rect is where a text stands.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) overlaps(o rect) bool {
	const touch = 0.05
	return r.x0 < o.x1-touch && o.x0 < r.x1-touch && r.y0 < o.y1-touch && o.y0 < r.y1-touch
}

// faces are the typefaces that screen and print set a drawing in.
func faces(t testing.TB) (regular, bold *sfnt.Font) {
	t.Helper()
	read := func(name string) *sfnt.Font {
		b, err := fs.ReadFile(assets.Fonts(), name)
		if err != nil {
			t.Fatal(err)
		}
		f, err := sfnt.Parse(b)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	return read("NotoSans-Regular.ttf"), read("NotoSans-Bold.ttf")
}

func measure(t testing.TB, f *sfnt.Font, text string, size float64) float64 {
	t.Helper()
	var buf sfnt.Buffer
	sum := 0.0
	for _, r := range text {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil {
			t.Fatal(err)
		}
		a, err := f.GlyphAdvance(&buf, g, fixed.I(1000), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		sum += float64(a) / 64 / 1000
	}
	return sum * size
}

// texts returns where the texts of a drawing stand, as the real typeface sets
// them: from the height of a capital to the depth of a descender.
func texts(t testing.TB, l *drawing.List, regular, bold *sfnt.Font) map[string][]rect {
	t.Helper()
	all := map[string][]rect{}
	for _, it := range l.Items {
		if it.Op != drawing.Text {
			continue
		}
		f := regular
		if it.Bold {
			f = bold
		}
		w := measure(t, f, it.Text, it.Size)
		x := it.At.X
		switch it.Anchor {
		case drawing.Middle:
			x -= w / 2
		case drawing.End:
			x -= w
		}
		all[it.Text] = append(all[it.Text], rect{x, it.At.Y - 0.74*it.Size, x + w, it.At.Y + 0.24*it.Size})
	}
	return all
}

// sound fails where a drawing holds what no canvas can draw, or what lies
// outside it.
func sound(t testing.TB, name string, l *drawing.List) {
	t.Helper()
	finite := func(v float64) bool { return !math.IsNaN(v) && math.Abs(v) < 1e5 }
	if !(l.Width > 0) || !(l.Height > 0) || !finite(l.Height) {
		t.Fatalf("%s: is %g × %g mm", name, l.Width, l.Height)
	}
	for i, it := range l.Items {
		if it.Op != drawing.Text && len(it.Paths) == 0 {
			t.Fatalf("%s: item %d draws nothing", name, i)
		}
		if it.Op == drawing.Stroke && !(it.Width > 0) {
			t.Fatalf("%s: item %d is a line of width %g", name, i, it.Width)
		}
		for _, path := range it.Paths {
			for _, p := range path {
				if !finite(p.X) || !finite(p.Y) {
					t.Fatalf("%s: item %d goes to %v", name, i, p)
				}
			}
		}
	}
}
