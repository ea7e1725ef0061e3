package pdf_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fettlebook/report/pdf"
)

// created has a zone on purpose: it must come out in the dates.
var created = time.Date(2026, 11, 25, 9, 30, 0, 0, time.FixedZone("", 90*60))

func font(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "assets", "fonts", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func fonts(t testing.TB) pdf.Fonts {
	return pdf.Fonts{
		Regular:  font(t, "NotoSans-Regular.ttf"),
		Bold:     font(t, "NotoSans-Bold.ttf"),
		Italic:   font(t, "NotoSans-Italic.ttf"),
		Fallback: [][]byte{font(t, "DejaVuSans.ttf"), font(t, "DroidSansFallbackFull.ttf")},
	}
}

func options(t testing.TB) pdf.Options {
	return pdf.Options{Title: "Condition report", Author: "Edda Quillan", Subject: "core 1", Creator: "test 1", Created: created, Fonts: fonts(t)}
}

// build makes a document of one page and gives its bytes.
func build(t testing.TB, o pdf.Options, draw func(d *pdf.Document, p *pdf.Page)) []byte {
	t.Helper()
	var out bytes.Buffer
	d, err := pdf.New(&out, o)
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.NewPage(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	draw(d, p)
	if err := d.Close(context.Background()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// tool runs one of the programs that look at a PDF from outside on a file and
// gives what it printed. FILE in the arguments stands for the file, DIR for a
// folder to write to.
func tool(t testing.TB, file []byte, name string, args ...string) (output, dir string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Fatalf("%s is missing; install the Debian packages poppler-utils and qpdf", name)
	}
	dir = t.TempDir()
	path := filepath.Join(dir, "file.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		args[i] = strings.NewReplacer("FILE", path, "DIR", dir).Replace(a)
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil || stderr.Len() > 0 {
		t.Errorf("%s %s: %v\n%s%s", name, strings.Join(args, " "), err, stdout.String(), stderr.String())
	}
	return stdout.String(), dir
}

// checked is a file that qpdf finds nothing wrong with.
func checked(t testing.TB, file []byte) []byte {
	t.Helper()
	tool(t, file, "qpdf", "--check", "FILE")
	return file
}

func textOf(t testing.TB, file []byte) string {
	t.Helper()
	text, _ := tool(t, file, "pdftotext", "-enc", "UTF-8", "-layout", "FILE", "-")
	return text
}

func TestPropertiesAndFinish(t *testing.T) {
	o := options(t)
	o.Title, o.Subject = "Report é 🔧 (core 1)\\", "a\x00b \xff <&>"
	o.Lang = "en-GB"
	file := checked(t, build(t, o, func(d *pdf.Document, p *pdf.Page) {
		p.Text(20, 20, pdf.Style{Size: 10}, pdf.Left, "hello")
	}))
	info, _ := tool(t, file, "pdfinfo", "-isodates", "FILE")
	for _, want := range []string{
		"Title:           Report é 🔧 (core 1)\\", "Author:          Edda Quillan", "Subject:         a b � <&>",
		"CreationDate:    2026-11-25T09:30:00+01:30", "ModDate:         2026-11-25T09:30:00+01:30", "Metadata Stream: yes",
		"Page size:       595.28 x 841.89 pts (A4)", "PDF version:     1.7",
	} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, info)
		}
	}
	meta, _ := tool(t, file, "pdfinfo", "-meta", "FILE")
	for _, want := range []string{"Report é 🔧 (core 1)\\", "a b � &lt;&amp;&gt;", "2026-11-25T09:30:00+01:30", "en-GB"} {
		if !strings.Contains(meta, want) {
			t.Errorf("the metadata do not say %q:\n%s", want, meta)
		}
	}
	flat, _ := tool(t, file, "qpdf", "--qdf", "--object-streams=disable", "FILE", "-")
	for _, want := range []string{"/DisplayDocTitle true", "/Lang", "/OutputIntents", "/Metadata", "/ID [<", "acsp"} {
		if !strings.Contains(flat, want) {
			t.Errorf("the file has no %s", want)
		}
	}
	if strings.Contains(flat, "/EmbeddedFiles") {
		t.Error("gofpdf's catalogue is still there")
	}
}

func TestSameInputSameBytes(t *testing.T) {
	draw := func(d *pdf.Document, p *pdf.Page) {
		p.TextBox(20, 20, 150, pdf.Style{Size: 10}, pdf.Start, strings.Join(awkward, "\n"))
		p.TextBox(20, 150, 150, pdf.Style{Size: 10, Face: pdf.Bold}, pdf.Start, strings.Join(awkward, "\n"))
		for i := range 4 {
			p.Circle(pdf.Point{X: 50, Y: 200}, 20, pdf.Paint{Fill: pdf.Black, Opacity: 0.1 * float64(i+1)})
		}
		p.Bookmark(0, 0, "one")
	}
	o := options(t) // the same font bytes, too: the subsetter writes into what it is given
	kept := bytes.Clone(o.Fonts.Fallback[1])
	first := build(t, o, draw)
	if !bytes.Equal(kept, o.Fonts.Fallback[1]) {
		t.Error("the bytes of a typeface were changed")
	}
	for range 3 {
		if !bytes.Equal(first, build(t, o, draw)) {
			t.Fatal("the same document came out with other bytes")
		}
	}
	other := build(t, o, func(d *pdf.Document, p *pdf.Page) { p.Text(20, 20, pdf.Style{Size: 10}, pdf.Left, "x") })
	if id(t, first) == id(t, other) {
		t.Error("two different documents have the same /ID")
	}
}

func id(t *testing.T, file []byte) string {
	t.Helper()
	_, after, ok := bytes.Cut(file, []byte("/ID [<"))
	if !ok {
		t.Fatal("no /ID")
	}
	return string(after[:32])
}

func TestPageNumbersLabelsAndProgress(t *testing.T) {
	var pages []int
	o := options(t)
	o.Paper = pdf.Letter
	o.Progress = func(n, _ int) { pages = append(pages, n) }
	o.Decorate = func(p *pdf.Page, n, of int) {
		p.Text(p.Width/2, p.Height-10, pdf.Style{Size: 8}, pdf.Center, strings.Join([]string{"page", itoa(n), "of", itoa(of), p.Label}, " "))
	}
	var out bytes.Buffer
	d, err := pdf.New(&out, o)
	if err != nil {
		t.Fatal(err)
	}
	var all []*pdf.Page
	for i := range 12 {
		p, err := d.NewPage(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		p.Label = "sheet " + itoa(i)
		all = append(all, p)
	}
	all[2].Text(20, 20, pdf.Style{Size: 10}, pdf.Left, "drawn late on the third")
	if err := d.Close(context.Background()); err != nil {
		t.Fatal(err)
	}
	sheets := strings.Split(textOf(t, checked(t, out.Bytes())), "\f")
	for i := range 12 {
		if want := "page " + itoa(i+1) + " of 12 sheet " + itoa(i); !strings.Contains(sheets[i], want) {
			t.Errorf("page %d does not say %q: %q", i+1, want, sheets[i])
		}
	}
	if !strings.Contains(sheets[2], "drawn late") || strings.Contains(sheets[11], "drawn late") {
		t.Error("text for an earlier page went elsewhere")
	}
	if len(pages) != 12 || pages[11] != 12 {
		t.Errorf("progress was told %v", pages)
	}
}

func TestErrors(t *testing.T) {
	ctx := context.Background()
	cancelled, cancel := context.WithCancel(ctx)
	cancel()
	page := func(t *testing.T, d *pdf.Document) *pdf.Page {
		p, err := d.NewPage(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	for name, c := range map[string]struct {
		do   func(t *testing.T, d *pdf.Document) error
		want string
	}{
		"no page":           {func(t *testing.T, d *pdf.Document) error { return d.Close(ctx) }, "at least one page"},
		"cancelled page":    {func(t *testing.T, d *pdf.Document) error { _, err := d.NewPage(cancelled); return err }, "stopped: context canceled"},
		"cancelled close":   {func(t *testing.T, d *pdf.Document) error { page(t, d); return d.Close(cancelled) }, "stopped: context canceled"},
		"cancelled picture": {func(t *testing.T, d *pdf.Document) error { _, err := d.Picture(cancelled, "", "", nil); return err }, "stopped: context canceled"},
		"not a number": {func(t *testing.T, d *pdf.Document) error {
			page(t, d).Circle(pdf.Point{X: nan()}, 1, pdf.Paint{Fill: pdf.Black})
			return d.Close(ctx)
		}, "page 1: a ellipse has a position"},
		"far away": {func(t *testing.T, d *pdf.Document) error {
			page(t, d).Text(1e300, 0, pdf.Style{Size: 9}, pdf.Left, "x")
			return d.Close(ctx)
		}, "page 1: a text has a position"},
		"no size": {func(t *testing.T, d *pdf.Document) error {
			page(t, d).Text(1, 0, pdf.Style{}, pdf.Left, "x")
			return d.Close(ctx)
		}, "size in points"},
		"link to nowhere": {func(t *testing.T, d *pdf.Document) error {
			page(t, d).Link(pdf.Rect{W: 1, H: 1}, d.Anchor())
			return d.Close(ctx)
		}, "never set"},
		"closed twice": {func(t *testing.T, d *pdf.Document) error {
			page(t, d)
			if err := d.Close(ctx); err != nil {
				t.Fatal(err)
			}
			return d.Close(ctx)
		}, "closed already"},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := pdf.New(new(bytes.Buffer), options(t))
			if err != nil {
				t.Fatal(err)
			}
			if err := c.do(t, d); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
		})
	}
}

func TestNewRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*pdf.Options)
		want   string
	}{
		"no date":   {func(o *pdf.Options) { o.Created = time.Time{} }, "date"},
		"no font":   {func(o *pdf.Options) { o.Fonts = pdf.Fonts{} }, "regular typeface"},
		"broken":    {func(o *pdf.Options) { o.Fonts.Bold = []byte("no font at all") }, "bold typeface is no TrueType"},
		"fallback":  {func(o *pdf.Options) { o.Fonts.Fallback = [][]byte{nil} }, "fallback 1"},
		"no paper":  {func(o *pdf.Options) { o.Paper.Width = 210 }, "210 x 0 mm"},
		"bad paper": {func(o *pdf.Options) { o.Paper = pdf.Paper{Width: nan(), Height: 1} }, "cannot be printed on"},
	} {
		o := options(t)
		c.change(&o)
		if _, err := pdf.New(new(bytes.Buffer), o); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
	}
}

// fullDisk takes n bytes.
type fullDisk struct{ n int }

func (f *fullDisk) Write(p []byte) (int, error) {
	if len(p) > f.n {
		return 0, errors.New("no space")
	}
	f.n -= len(p)
	return len(p), nil
}

func TestOutputThatFails(t *testing.T) {
	photo := noise(t, 400, 300, 90)
	write := func(w io.Writer) error {
		d, err := pdf.New(w, options(t))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := d.NewPage(t.Context()); err != nil {
			t.Fatal(err)
		}
		for range 4 {
			if _, err := d.Picture(t.Context(), "p", "", bytesOf(photo)); err != nil {
				return err
			}
		}
		return d.Close(t.Context())
	}
	var whole bytes.Buffer
	if err := write(&whole); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 2 * len(photo), whole.Len() - 1} {
		if err := write(&fullDisk{room}); err == nil || !strings.Contains(err.Error(), "write the PDF: no space") {
			t.Errorf("with room for %d bytes: error %v", room, err)
		}
	}
}
