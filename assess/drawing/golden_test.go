package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fettlebook/assess/drawing"
)

// element is what a golden SVG is compared by: what it is, what it belongs to,
// its words and its numbers.
type element struct {
	name, of, paint, text string
	pieces                int
	numbers               []float64
}

func elements(t *testing.T, svg []byte) []element {
	t.Helper()
	var all []element
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local}
			for _, a := range token.Attr {
				switch a.Name.Local {
				case "data-of":
					e.of = a.Value
				case "fill", "stroke", "text-anchor", "font-weight":
					e.paint += a.Name.Local + "=" + a.Value + " "
				case "xmlns", "font-family":
				default:
					e.pieces += strings.Count(a.Value, "M")
					for _, word := range strings.FieldsFunc(a.Value, func(r rune) bool { return strings.ContainsRune("MLZ m", r) }) {
						n, err := strconv.ParseFloat(word, 64)
						if err != nil {
							t.Fatalf("%s = %q holds %q", a.Name.Local, a.Value, word)
						}
						e.numbers = append(e.numbers, n)
					}
				}
			}
			all = append(all, e)
		case xml.CharData:
			if text := strings.TrimSpace(string(token)); text != "" {
				all[len(all)-1].text = text
			}
		}
	}
}

func svgOf(t *testing.T, kind string) []byte {
	t.Helper()
	set := own(t)
	k, _ := set.Kind(kind)
	p, _ := set.Profile(kind, "", "")
	var b bytes.Buffer
	if err := drawing.Part(p, k, someState(k), drawing.Options{Width: 160, Names: true, List: true}).SVG(&b, &drawing.Paper); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The golden files are written by hand only, with the drawing looked at:
// DRAWING_GOLDEN=testdata go test -run Golden.
func TestGolden(t *testing.T) {
	for _, kind := range []string{"input-shaft", "blocking-ring", "fork", "flange-nut"} {
		got := svgOf(t, kind)
		if dir := os.Getenv("DRAWING_GOLDEN"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, kind+".svg"), got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		b, err := os.ReadFile(filepath.Join("testdata", kind+".svg"))
		if err != nil {
			t.Fatal(err)
		}
		want, have := elements(t, b), elements(t, got)
		if len(want) < 50 || len(have) != len(want) {
			t.Errorf("%s has %d elements, the golden one %d", kind, len(have), len(want))
			continue
		}
		for i := range want {
			if !alike(want[i], have[i]) {
				t.Errorf("%s: element %d is\n%+v, in the golden one\n%+v", kind, i, have[i], want[i])
				break
			}
		}
	}
}

func alike(a, b element) bool {
	const tolerance = 0.02 // mm, twice what a coordinate is rounded to
	if a.name != b.name || a.of != b.of || a.paint != b.paint || a.text != b.text || a.pieces != b.pieces || len(a.numbers) != len(b.numbers) {
		return false
	}
	for i := range a.numbers {
		if math.Abs(a.numbers[i]-b.numbers[i]) > tolerance {
			return false
		}
	}
	return true
}

func TestTheSameDrawingIsTheSameBytes(t *testing.T) {
	if !bytes.Equal(svgOf(t, "main-shaft"), svgOf(t, "main-shaft")) {
		t.Error("two drawings of one part differ")
	}
}

func TestSVGKeepsWordsApartFromItsOwn(t *testing.T) {
	set := load(strings.ReplaceAll(kindOf(1), "surface 1 of the thing", "<seat> & 'land'") + `
[[profile]]
kind = "thing"
source = "invented"
[[profile.path]]
circle = [0, 0, 20]
as = "solid"
surface = "s1"
`)
	if set == nil {
		t.Fatal("the spec is refused")
	}
	k, _ := set.Kind("thing")
	p, _ := set.Profile("thing", "", "")
	var b bytes.Buffer
	if err := drawing.Part(p, k, drawing.State{}, drawing.Options{Width: 100, List: true}).SVG(&b, &drawing.Paper); err != nil {
		t.Fatal(err)
	}
	found := false
	for _, e := range elements(t, b.Bytes()) {
		found = found || e.text == "<seat> & 'land'"
	}
	if !found {
		t.Errorf("the name is lost in %s", b.String())
	}
}
