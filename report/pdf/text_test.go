package pdf_test

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"fettlebook/report/pdf"
)

func itoa(n int) string { return strconv.Itoa(n) }

func nan() float64 { return math.NaN() }

// awkward are texts that have broken PDF writers.
var awkward = []string{
	"",
	"plain (with parentheses) \\ and \\( ) > < %",
	"ÄÖÜß éñøčő Жук Ωμ µ°½″–—… €№",
	"loose accents: e\u0301 u\u0308 o\u0308, many: a" + strings.Repeat("\u0301", 60),
	"⌀ 18.4 ≤ 18.44 ≥ ≈ − → ✓ ✗ □ Δ ∅",
	"漢字かな交じり文、歯車の摩耗。中文字符测试：齿轮箱。",
	"한국어",
	"עברית: גלגל שיניים 18.44 מ\"מ (בדיקה) ABC סוף.",
	"the note says שלום עולם 123 abc and (ends",
	"عربي: صندوق التروس 18.44 مم (فحص) لا إله ١٢٣ نص",
	"emoji 🔧👩‍🔧 flag 🇩🇪",
	"controls \x00\x01\x07\x1b[31m\x7f\u0085\u2028\u2029\r\n\t.",
	"no UTF-8: \xff\xfe \xed\xa0\x80 \xc3",
	"invisible: soft\u00adhyphen\u200b\u200c\u200d\u2060\ufeff\u202e\u2066x\u2069\ufe0f",
	"private \ue000 \uf8ff, none \uffff \ufffe \ufdd0",
	strings.Repeat("W", 500),
	strings.Repeat("(", 300) + "א" + strings.Repeat(")", 300),
	"\u0301\u05bc\u064b begins with marks",
	"कानून ภาษาไทย",
}

func TestTextComesBack(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "18.44 mm (0.726 in) \\ \"x\"", "18.44 mm (0.726 in) \\ \"x\""},
		{"accents", "Größe, naïve, ő, Жук", "Größe, naïve, ő, Жук"},
		{"composed", "e\u0301", "é"},
		{"signs", "⌀18.4 ≤18.44 ≥−0.5 →✓", "⌀18.4 ≤18.44 ≥−0.5 →✓"},
		{"CJK", "歯車の摩耗。齿轮箱", "歯車の摩耗。齿轮箱"},
		{"Hebrew", "גלגל שיניים", "גלגל שיניים"},
		{"Arabic", "صندوق التروس لا", "صندوق التروس لا"},
		{"emoji", "a🔧b", "a‹U+1F527›b"},
		{"language without a face", "한", "‹U+D55C›"},
		{"control", "a\x07b\x00c", "a‹U+0007›b‹U+0000›c"},
		{"not UTF-8", "a\xff\xfeb", "a�b"},
		{"surrogate", "a\xed\xa0\x80b", "a�b"},
		{"private", "\ue123", "‹U+E123›"},
		{"invisible", "so\u00adft\u200b \ufeffx\ufe0f", "soft x"},
		{"line ends", "one\r\ntwo\rthree\u2028four", "one two three four"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, face := range []pdf.Face{pdf.Regular, pdf.Bold, pdf.Italic} {
				file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
					p.Text(20, 30, pdf.Style{Size: 11, Face: face}, pdf.Left, c.in)
				})
				// pdftotext puts direction marks round what runs to the left.
				got := norm.NFKC.String(strings.TrimSpace(strings.NewReplacer("\u202a", "", "\u202b", "", "\u202c", "").Replace(textOf(t, file))))
				if got != c.want {
					t.Errorf("face %d: %q came back as %q, want %q", face, c.in, got, c.want)
				}
			}
		})
	}
}

func TestAwkwardTextInOneFile(t *testing.T) {
	file := checked(t, build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		y := 10.0
		for i, s := range awkward {
			st := pdf.Style{Size: 7, Face: pdf.Face(i % 3)}
			y = p.TextBox(10, y, 190, st, pdf.Start, s)
			p.Text(10, y, st, pdf.Left, s)
			p.Bookmark(i%4, y, s)
			p.Badge(pdf.Point{X: 200, Y: y}, 2, s, pdf.White, pdf.Paint{Fill: pdf.Black})
		}
	}))
	list, _ := tool(t, file, "pdffonts", "FILE")
	rows := strings.Split(strings.TrimSpace(list), "\n")[2:]
	if len(rows) != 5 {
		t.Errorf("%d typefaces in the file, want 5:\n%s", len(rows), list)
	}
	for _, row := range rows {
		if !regexp.MustCompile(`^[A-Z]{6}\+\S+ +CID TrueType +Identity-H +yes yes yes `).MatchString(row) {
			t.Errorf("a typeface is not embedded as a subset with text: %s", row)
		}
	}
	if utf8.ValidString(textOf(t, file)) == false {
		t.Error("the text of the file is no UTF-8")
	}
}

func TestUnusedFacesStayOut(t *testing.T) {
	file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		d.Wrap(pdf.Style{Size: 10, Face: pdf.Bold}, "measured, never drawn: 歯車", 100)
		p.Text(20, 20, pdf.Style{Size: 10}, pdf.Left, "drawn")
	})
	if list, _ := tool(t, file, "pdffonts", "FILE"); strings.Count(list, "yes yes yes") != 1 {
		t.Errorf("want one typeface:\n%s", list)
	}
	if len(file) > 20_000 {
		t.Errorf("a page with one word takes %d bytes", len(file))
	}
}

// TestMeasuredWidth compares with where pdftotext finds the ends of a word.
func TestMeasuredWidth(t *testing.T) {
	for _, s := range []string{"Wavelength", "18.44mm", "Ω⌀≤漢字", "ЖукÄé"} {
		for _, align := range []pdf.Align{pdf.Left, pdf.Center, pdf.Right} {
			var width float64
			file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
				st := pdf.Style{Size: 13.37}
				width = d.Width(st, s)
				if got := p.Text(100, 100, st, align, s); math.Abs(got-width) > 1e-9 {
					t.Errorf("Text says %g wide, Width %g", got, width)
				}
			})
			boxes, _ := tool(t, file, "pdftotext", "-bbox", "FILE", "-")
			m := regexp.MustCompile(`xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"`).FindAllStringSubmatch(boxes, -1)
			if len(m) == 0 {
				t.Fatalf("no word found: %s", boxes)
			}
			left, _ := strconv.ParseFloat(m[0][1], 64)
			right, _ := strconv.ParseFloat(m[len(m)-1][2], 64)
			left, right = left*25.4/72, right*25.4/72
			from := map[pdf.Align]float64{pdf.Left: 100, pdf.Center: 100 - width/2, pdf.Right: 100 - width}[align]
			if math.Abs(left-from) > 0.05 || math.Abs(right-from-width) > 0.05 {
				t.Errorf("%s stands from %.3f to %.3f, measured %.3f to %.3f", s, left, right, from, from+width)
			}
		}
	}
}

func TestReadingOrder(t *testing.T) {
	// Read off the page from left to right, letters in the order in which they stand.
	for _, c := range []struct{ in, want string }{
		{"abc אבג def", "abc גבא def"},
		{"אבג abc דהו", "והד abc גבא"},
		{"אבג 123 דהו", "והד 123 גבא"},
		{"abc אבג 123 דהו def", "abc והד 123 גבא def"},
		{"abc אבג 12.5 def", "abc 12.5 גבא def"},
		{"abc 12.5 אבג", "abc 12.5 גבא"},
		{"אבג (דה) abc.", ".abc (הד) גבא"},
		// Arabic letters take the shapes that join: initial, medial, final, alone.
		{"بيت د", "\uFEA9 \uFE96\uFEF4\uFE91"},
		{"لا بَي", "\uFEF2\uFE91\u064E \uFEFB"},
	} {
		file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
			p.Text(20, 30, pdf.Style{Size: 11}, pdf.Left, c.in)
		})
		var got strings.Builder
		for _, m := range glyphs(t, file) {
			got.WriteRune(m)
		}
		if got.String() != c.want {
			t.Errorf("%q stands as %q, want %q", c.in, got.String(), c.want)
		}
	}
}

// glyphs gives the codes of a one-line page in the order of the page's content,
// which is from left to right.
func glyphs(t *testing.T, file []byte) []rune {
	t.Helper()
	flat, _ := tool(t, file, "qpdf", "--qdf", "--object-streams=disable", "--normalize-content=y", "FILE", "-")
	var out []rune
	for _, m := range regexp.MustCompile(`(?s)Td <([0-9a-f]+)> Tj|Td \((.*?)\) Tj ET`).FindAllStringSubmatch(flat, -1) {
		raw := []byte(m[2])
		if m[1] != "" {
			raw = nil
			for i := 0; i < len(m[1]); i += 2 {
				b, _ := strconv.ParseUint(m[1][i:i+2], 16, 8)
				raw = append(raw, byte(b))
			}
		} else {
			raw = unescape(raw)
		}
		for i := 0; i+1 < len(raw); i += 2 {
			out = append(out, rune(raw[i])<<8|rune(raw[i+1]))
		}
	}
	return out
}

func unescape(in []byte) []byte {
	var out []byte
	for i := 0; i < len(in); i++ {
		if in[i] != '\\' {
			out = append(out, in[i])
			continue
		}
		i++
		if in[i] >= '0' && in[i] <= '7' {
			n, _ := strconv.ParseUint(string(in[i:i+3]), 8, 8)
			out = append(out, byte(n))
			i += 2
			continue
		}
		out = append(out, map[byte]byte{'n': '\n', 'r': '\r', 't': '\t', 'f': '\f', 'b': '\b', '(': '(', ')': ')', '\\': '\\'}[in[i]])
	}
	return out
}

func TestWrap(t *testing.T) {
	st := pdf.Style{Size: 10}
	build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		for _, c := range []struct {
			in    string
			width float64
			lines int
		}{
			{"", 50, 1}, {"a", 50, 1}, {"a\n\nb", 50, 3}, {"a\n", 50, 2}, {"\r\n\r\n", 50, 3},
			{strings.TrimSpace(strings.Repeat("word ", 10)), d.Width(st, "word word"), 5},
			{strings.Repeat("W", 100), 10 * d.Width(st, "W"), 10},
			{strings.Repeat("歯", 100), 10 * d.Width(st, "歯"), 10},
			{"aaaa " + strings.Repeat("W", 25) + " bbbb", 10 * d.Width(st, "W"), 4},
		} {
			lines := d.Wrap(st, c.in, c.width)
			if len(lines) != c.lines {
				t.Errorf("%.20q... makes %d lines, want %d", c.in, len(lines), c.lines)
			}
			for i, l := range lines {
				if l.Width > c.width+1e-5 {
					t.Errorf("line %d of %.20q is %g wide, limit %g", i, c.in, l.Width, c.width)
				}
			}
		}
		if n := len(d.Wrap(st, "abc", 0)); n != 3 {
			t.Errorf("a column without width makes %d lines of three letters", n)
		}
		if !d.Wrap(st, "עברית abc", 50)[0].RTL || d.Wrap(st, "abc עברית", 50)[0].RTL {
			t.Error("the first letter does not decide the direction of a paragraph")
		}
	})
}

// TestWrapKeepsAllText draws what was wrapped and reads it back.
func TestWrapKeepsAllText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-zA-Z0-9éÄЖ.,;()/-]{1,40}`), 1, 60).Draw(r, "words")
		width := rapid.Float64Range(2, 100).Draw(r, "width")
		text := strings.Join(words, " ")
		file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
			st := pdf.Style{Size: 4}
			lines := d.Wrap(st, text, width)
			for i, l := range lines {
				if l.Width > width+1e-5 {
					r.Fatalf("line %d is %g wide", i, l.Width)
				}
			}
			for len(lines) > 0 {
				n := min(len(lines), 100)
				p.Lines(10, 10, width, st, pdf.Start, lines[:n])
				lines = lines[n:]
				p, _ = d.NewPage(t.Context())
			}
		})
		got := glyphs(t, file)
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if bare(string(got)) != bare(text) {
			r.Fatalf("%q was set as %q", text, string(got))
		}
	})
}

func TestShorten(t *testing.T) {
	build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		st := pdf.Style{Size: 9}
		if got := d.Shorten(st, "short", 100); got != "short" {
			t.Errorf("shortened to %q", got)
		}
		got := d.Shorten(st, strings.Repeat("long name ", 20), 40)
		if w := d.Width(st, got); w > 40 || w < 36 || !strings.HasSuffix(got, "…") {
			t.Errorf("%q is %g wide", got, w)
		}
		if got := d.Shorten(st, "abc", 0); got != "…" {
			t.Errorf("shortened to nothing: %q", got)
		}
	})
}

// TestLongNote sets a note of 100,000 characters over as many pages as it takes.
func TestLongNote(t *testing.T) {
	var note strings.Builder
	for i := 0; note.Len() < 100_000; i++ {
		fmt.Fprintf(&note, "w%d gear. ", i)
	}
	st := pdf.Style{Size: 9}
	file := build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		flow(t, d, p, st, d.Wrap(st, note.String(), 180))
	})
	text := strings.Join(strings.Fields(textOf(t, checked(t, file))), " ")
	if text != strings.TrimSpace(note.String()) {
		t.Errorf("a note of %d characters came back with %d", note.Len(), len(text))
	}
}

func flow(t testing.TB, d *pdf.Document, p *pdf.Page, st pdf.Style, lines []pdf.Line) {
	for len(lines) > 0 {
		n := min(len(lines), int(260/st.LineHeight()))
		p.Lines(15, 15, 180, st, pdf.Start, lines[:n])
		if lines = lines[n:]; len(lines) > 0 {
			var err error
			if p, err = d.NewPage(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func seed(f *testing.F) {
	if len(awkward) < 10 {
		f.Fatal("no seeds")
	}
	for i, s := range awkward {
		f.Add(s, 20+10*float64(i))
	}
}

// FuzzWrap measures and breaks any text, which needs no file to be made.
func FuzzWrap(f *testing.F) {
	seed(f)
	d, err := pdf.New(io.Discard, options(f))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, s string, width float64) {
		st := pdf.Style{Size: 9}
		lines := d.Wrap(st, s, width)
		if len(lines) < 1+strings.Count(strings.ReplaceAll(s, "\r", ""), "\n") {
			t.Errorf("%d lines for more line ends", len(lines))
		}
		for i, l := range lines {
			if l.Width > max(width, 40)+1e-5 && !math.IsNaN(width) {
				t.Errorf("line %d is %g wide in a column of %g", i, l.Width, width)
			}
		}
		if w := d.Width(st, d.Shorten(st, s, 50)); w > 50+1e-5 {
			t.Errorf("shortened to %g", w)
		}
	})
}

// FuzzText sets any text in every way there is.
func FuzzText(f *testing.F) {
	seed(f)
	o := options(f)
	o.Fonts.Fallback = o.Fonts.Fallback[:1] // the large one takes most of the time
	f.Fuzz(func(t *testing.T, s string, width float64) {
		o.Title, o.Author = s, s
		file := build(t, o, func(d *pdf.Document, p *pdf.Page) {
			st := pdf.Style{Size: 9}
			p.TextBox(10, 10, width, st, pdf.Start, s)
			p.Text(10, 10, st, pdf.Right, s)
			p.Bookmark(0, 10, s)
		})
		if !strings.HasSuffix(string(file), "%%EOF\n") {
			t.Error("the file has no end")
		}
	})
}
