package pdf_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettlebook/report/pdf"
)

func encode(t testing.TB, m image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// noise is a photo-like JPEG of a size in pixels: smooth with grain.
func noise(t testing.TB, w, h, quality int) []byte {
	random := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(100 + 60*math.Sin(float64(i%w)/90) + random.NormFloat64()*6)
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 120, 132
	}
	return encode(t, m, quality)
}

var quarter = []color.RGBA{{200, 0, 0, 255}, {0, 160, 0, 255}, {0, 0, 200, 255}, {230, 200, 0, 255}}

// quarters is a picture of 40 x 20 pixels: red, green / blue, yellow.
func quarters(t testing.TB) []byte {
	m := image.NewRGBA(image.Rect(0, 0, 160, 80))
	for y := range 80 {
		for x := range 160 {
			m.Set(x, y, quarter[x/80+2*(y/40)])
		}
	}
	return encode(t, m, 95)
}

func bytesOf(data []byte) func() ([]byte, error) {
	return func() ([]byte, error) { return data, nil }
}

func mustPicture(t testing.TB, d *pdf.Document, name string, data []byte) *pdf.Picture {
	t.Helper()
	pic, err := d.Picture(context.Background(), name, name, bytesOf(data))
	if err != nil {
		t.Fatal(err)
	}
	return pic
}

// render gives the first page at 72 dots per inch.
func render(t testing.TB, file []byte) image.Image {
	t.Helper()
	_, dir := tool(t, file, "pdftoppm", "-r", "72", "-png", "-singlefile", "FILE", "DIR/page")
	data, err := os.ReadFile(filepath.Join(dir, "page.png"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(m image.Image, at pdf.Point, want color.RGBA) (color.RGBA, bool) {
	c := color.RGBAModel.Convert(m.At(int(at.X*72/25.4), int(at.Y*72/25.4))).(color.RGBA)
	d := func(a, b uint8) bool { return math.Abs(float64(a)-float64(b)) < 40 }
	return c, d(c.R, want.R) && d(c.G, want.G) && d(c.B, want.B)
}

// TestOrientation looks at the corners of the page as printed: which quarter of
// the stored picture is where.
func TestOrientation(t *testing.T) {
	const red, green, blue, yellow = 0, 1, 2, 3
	for o, want := range map[pdf.Orientation][4]int{ // top left, top right, bottom left, bottom right
		0: {red, green, blue, yellow}, 1: {red, green, blue, yellow}, 99: {red, green, blue, yellow},
		2: {green, red, yellow, blue}, 3: {yellow, blue, green, red}, 4: {blue, yellow, red, green},
		5: {red, blue, green, yellow}, 6: {blue, red, yellow, green}, 7: {yellow, green, blue, red}, 8: {green, yellow, red, blue},
	} {
		var pl pdf.Placed
		box := pdf.Rect{X: 20, Y: 30, W: 100, H: 100}
		file := checked(t, build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
			pl = p.Place(mustPicture(t, d, "q", quarters(t)), box, pdf.Placement{Orientation: o})
		}))
		shape := pdf.Rect{X: 20, Y: 55, W: 100, H: 50}
		if o >= 5 && o <= 8 {
			shape = pdf.Rect{X: 45, Y: 30, W: 50, H: 100}
		}
		if math.Abs(pl.Box.X-shape.X)+math.Abs(pl.Box.Y-shape.Y)+math.Abs(pl.Box.W-shape.W)+math.Abs(pl.Box.H-shape.H) > 1e-9 {
			t.Errorf("orientation %d stands at %v, want %v", o, pl.Box, shape)
		}
		page := render(t, file)
		inner := pl.Box.Inset(10).Corners()
		for i, at := range []pdf.Point{inner[0], inner[1], inner[3], inner[2]} {
			if c, ok := near(page, at, quarter[want[i]]); !ok {
				t.Errorf("orientation %d: corner %d is %v, want quarter %d", o, i, c, want[i])
			}
		}
		// At must find the quarters, too: outlines are drawn with it.
		for i, c := range quarter {
			at := pl.At(0.25+0.5*float64(i%2), 0.25+0.5*float64(i/2))
			if got, ok := near(page, at, c); !ok {
				t.Errorf("orientation %d: At leads to %v, want quarter %d", o, got, i)
			}
		}
		if c, ok := near(page, pdf.Point{X: pl.Box.X - 2, Y: pl.Box.Y - 2}, color.RGBA{255, 255, 255, 255}); !ok {
			t.Errorf("orientation %d: outside the box is %v", o, c)
		}
	}
}

func TestTurned(t *testing.T) {
	for o := pdf.Orientation(1); o <= 8; o++ {
		if o.Turned(4) != o || o.Turned(-1) != o.Turned(3) || o.Turned(1).Turned(1) != o.Turned(2) {
			t.Errorf("turning orientation %d does not add up", o)
		}
	}
	if pdf.Orientation(1).Turned(1) != 6 || pdf.Orientation(0).Turned(2) != 3 || pdf.Orientation(2).Turned(1) != 7 {
		t.Error("a quarter turn clockwise is something else")
	}
}

func TestCrop(t *testing.T) {
	for o := pdf.Orientation(1); o <= 8; o++ {
		var pl pdf.Placed
		file := checked(t, build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
			// The green quarter and a little of what is round it.
			how := pdf.Placement{Orientation: o, Crop: pdf.Rect{X: 0.4, Y: 0, W: 0.6, H: 0.6}, Horizontal: -1, Vertical: -1}
			pl = p.Place(mustPicture(t, d, "q", quarters(t)), pdf.Rect{X: 50, Y: 50, W: 60, H: 60}, how)
		}))
		if pl.Box.X != 50 || pl.Box.Y != 50 || math.Abs(math.Max(pl.Box.W, pl.Box.H)-60) > 1e-9 || math.Abs(math.Min(pl.Box.W, pl.Box.H)-30) > 1e-9 {
			t.Errorf("orientation %d: the crop stands at %v", o, pl.Box)
		}
		page := render(t, file)
		for _, c := range []struct {
			u, v float64
			want color.RGBA
		}{{0.8, 0.25, quarter[1]}, {0.43, 0.25, quarter[0]}, {0.8, 0.57, quarter[3]}, {0.43, 0.57, quarter[2]},
			{0.3, 0.25, color.RGBA{255, 255, 255, 255}}, {0.8, 0.75, color.RGBA{255, 255, 255, 255}}} {
			if got, ok := near(page, pl.At(c.u, c.v), c.want); !ok {
				t.Errorf("orientation %d: at %g,%g of the picture is %v, want %v", o, c.u, c.v, got, c.want)
			}
		}
	}
}

func TestPicturesAreStoredOnceAndAsTheyAre(t *testing.T) {
	first, gray := noise(t, 320, 200, 80), encode(t, image.NewGray(image.Rect(0, 0, 31, 17)), 80)
	opened := 0
	file := checked(t, build(t, options(t), func(d *pdf.Document, p *pdf.Page) {
		for range 3 {
			pic, err := d.Picture(t.Context(), "a", "same", func() ([]byte, error) { opened++; return first, nil })
			if err != nil || pic.Width != 320 || pic.Height != 200 {
				t.Fatalf("%v %v", pic, err)
			}
			p.Place(pic, pdf.Rect{X: 10, Y: 10, W: 50, H: 50}, pdf.Placement{})
		}
		p.Place(mustPicture(t, d, "gray", gray), pdf.Rect{X: 70, Y: 10, W: 50, H: 50}, pdf.Placement{})
	}))
	if opened != 1 {
		t.Errorf("opened %d times", opened)
	}
	list, _ := tool(t, file, "pdfimages", "-list", "FILE")
	if !strings.Contains(list, "320   200  rgb     3   8  jpeg") || !strings.Contains(list, "31    17  gray    1   8  jpeg") {
		t.Errorf("the pictures are not as they were:\n%s", list)
	}
	if n := bytes.Count(file, []byte("/Subtype /Image")); n != 2 {
		t.Errorf("%d picture objects, want 2", n)
	}
	if !bytes.Contains(file, first) || !bytes.Contains(file, gray) {
		t.Error("the bytes of a picture are not in the file as they were")
	}
}

func TestPicturesThatFail(t *testing.T) {
	good := noise(t, 100, 100, 80)
	for name, c := range map[string]struct {
		open func() ([]byte, error)
		want string
	}{
		"cannot be read": {func() ([]byte, error) { return nil, errors.New("blob is missing") }, "blob is missing"},
		"empty":          {bytesOf(nil), "no JPEG"},
		"no picture":     {bytesOf([]byte("hello")), "no JPEG"},
		"cut short":      {bytesOf(good[:len(good)/2]), "cut short"},
		"only a start":   {bytesOf(good[:20]), "no JPEG"},
		"printing":       {bytesOf(cmyk), "CMYK"},
	} {
		var out bytes.Buffer
		d, err := pdf.New(&out, options(t))
		if err != nil {
			t.Fatal(err)
		}
		p, err := d.NewPage(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		pic, err := d.Picture(t.Context(), "photo 12 (bore.jpg)", "", c.open)
		if err == nil || !strings.Contains(err.Error(), "picture photo 12 (bore.jpg): ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v", name, err)
		}
		p.Place(pic, pdf.Rect{W: 10, H: 10}, pdf.Placement{}) // must not panic
		if closing := d.Close(t.Context()); closing == nil || closing.Error() != err.Error() {
			t.Errorf("%s: Close forgets the error: %v", name, closing)
		}
		if bytes.Contains(out.Bytes(), []byte("%%EOF")) {
			t.Errorf("%s: what was written looks like a finished file", name)
		}
	}
}

// cmyk is the head of a JPEG file of 8 x 8 pixels in four colours.
var cmyk = []byte("\xff\xd8\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00" +
	"\xff\xc0\x00\x14\x08\x00\x08\x00\x08\x04\x01\x11\x00\x02\x11\x00\x03\x11\x00\x04\x11\x00" +
	"\xff\xda\x00\x0e\x04\x01\x00\x02\x00\x03\x00\x04\x00\x00\x3f\x00\xff\xd9")

func TestBookmarksAndLinks(t *testing.T) {
	var out bytes.Buffer
	d, err := pdf.New(&out, options(t))
	if err != nil {
		t.Fatal(err)
	}
	anchor := d.Anchor()
	var pages []*pdf.Page
	for range 3 {
		p, err := d.NewPage(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, p)
	}
	pages[0].Link(pdf.Rect{X: 20, Y: 20, W: 30, H: 5}, anchor)
	pages[2].Set(anchor, 100)
	mustPlace(t, d, pages[0])               // moves all numbers
	pages[0].Bookmark(3, 10, "Outcome 🔧 é") // no level 3 without 0 to 2
	pages[1].Bookmark(1, 10, "Input shaft")
	pages[1].Bookmark(2, 50, "Cone")
	pages[2].Bookmark(1, 10, "Output shaft")
	pages[2].Bookmark(0, 99, "\x00")
	pages[2].Bookmark(1, 99, "Photos")
	if err := d.Close(t.Context()); err != nil {
		t.Fatal(err)
	}
	text, _ := tool(t, checked(t, out.Bytes()), "qpdf", "--json", "--json-key=outlines", "--json-key=pages", "FILE")
	var got struct {
		Outlines []outline
		Pages    []struct{ Object string }
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	want := "Outcome 🔧 é>1 [Input shaft>2 [Cone>2 []] Output shaft>3 []]  >3 [Photos>3 []]"
	if s := flatten(got.Outlines); s != want {
		t.Errorf("outline %q, want %q", s, want)
	}
	annotations, _ := tool(t, out.Bytes(), "qpdf", "--qdf", "--object-streams=disable", "FILE", "-")
	if !strings.Contains(annotations, "/F 4") {
		t.Error("the link is not printable")
	}
	third := strings.ReplaceAll(got.Pages[2].Object, " R", "")
	qdf, _ := tool(t, out.Bytes(), "qpdf", "--json", "--json-key=qpdf", "FILE")
	// 297 - 100 mm from below, in points
	if !strings.Contains(strings.Join(strings.Fields(qdf), ""), strings.ReplaceAll(fmt.Sprintf(`"/Dest":["%s R","/XYZ",0,558.43,null]`, third), " ", "")) {
		t.Error("the link does not lead to the third page")
	}
}

func mustPlace(t *testing.T, d *pdf.Document, p *pdf.Page) {
	p.Place(mustPicture(t, d, "x", quarters(t)), pdf.Rect{X: 10, Y: 10, W: 10, H: 10}, pdf.Placement{})
}

type outline struct {
	Title string
	Page  int `json:"destpageposfrom1"`
	Kids  []outline
}

func flatten(list []outline) string {
	var parts []string
	for _, o := range list {
		parts = append(parts, fmt.Sprintf("%s>%d [%s]", o.Title, o.Page, flatten(o.Kids)))
	}
	return strings.Join(parts, " ")
}
