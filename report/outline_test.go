package report

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/report/pdf"
)

// A line over a photo stays open, a spot is a ring about its place, and a polygon is
// closed: the page is rendered and looked at, in tenths of the photo.
func TestOutlinesKeepTheirShape(t *testing.T) {
	const side = 1000
	at := func(tenths ...int) []record.Point {
		var points []record.Point
		for i := 0; i < len(tenths); i += 2 {
			points = append(points, record.Point{tenths[i] * side * 10, tenths[i+1] * side * 10})
		}
		return points
	}
	for name, c := range map[string]struct {
		outline      record.Outline
		inked, blank [2]float64
	}{
		"line":    {record.Outline{Shape: record.Line, Points: at(2, 2, 2, 8, 8, 8)}, [2]float64{2, 5}, [2]float64{5, 5}},
		"polygon": {record.Outline{Shape: record.Polygon, Points: at(2, 2, 2, 8, 8, 8)}, [2]float64{5, 5}, [2]float64{6, 3}},
		"oval":    {record.Outline{Shape: record.Oval, Points: at(2, 2, 8, 8)}, [2]float64{5, 2}, [2]float64{2.2, 2.2}},
		"spot":    {record.Outline{Shape: record.Spot, Points: at(5, 5)}, [2]float64{5.15, 5}, [2]float64{5, 5}},
	} {
		t.Run(name, func(t *testing.T) {
			typeface, err := os.ReadFile("../assets/fonts/NotoSans-Regular.ttf")
			if err != nil {
				t.Fatal(err)
			}
			var file bytes.Buffer
			doc, err := pdf.New(&file, pdf.Options{Created: time.Date(2026, 5, 12, 14, 0, 0, 0, time.UTC), Paper: pdf.A4, Fonts: pdf.Fonts{Regular: typeface, Bold: typeface, Italic: typeface}})
			if err != nil {
				t.Fatal(err)
			}
			page, err := doc.NewPage(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			photoFile := white(t, side)
			pic, err := doc.Picture(context.Background(), "photo", "photo", func() ([]byte, error) { return photoFile, nil })
			if err != nil {
				t.Fatal(err)
			}
			placed := page.Place(pic, pdf.Rect{X: 50, Y: 50, W: 100, H: 100}, pdf.Placement{Orientation: 1})
			p := &pages{doc: doc, page: page, order: Order{Record: &record.Record{}, Assessment: &assess.Assessment{}}}
			p.outline(c.outline, photo{Photo: record.Photo{Width: side, Height: side}}, placed)
			if err := doc.Close(context.Background()); err != nil {
				t.Fatal(err)
			}
			look := rendered(t, file.Bytes())
			if !look(50+10*c.inked[0], 50+10*c.inked[1]) {
				t.Errorf("nothing is drawn at %v", c.inked)
			}
			if look(50+10*c.blank[0], 50+10*c.blank[1]) {
				t.Errorf("something is drawn at %v", c.blank)
			}
		})
	}
}

func white(t *testing.T, side int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, side, side))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// rendered tells where the first page of a file is dark within a millimetre, by
// millimetres from its upper left corner.
func rendered(t *testing.T, file []byte) func(x, y float64) bool {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "file.pdf"), file, 0o600); err != nil {
		t.Fatal(err)
	}
	const dpi = "254" // ten pixels for a millimetre
	if out, err := exec.Command("pdftoppm", "-r", dpi, "-png", "-singlefile", filepath.Join(dir, "file.pdf"), filepath.Join(dir, "page")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "page.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return func(x, y float64) bool {
		for dy := -5; dy <= 5; dy++ {
			for dx := -5; dx <= 5; dx++ {
				if color.GrayModel.Convert(img.At(int(x*10)+dx, int(y*10)+dy)).(color.Gray).Y < 200 {
					return true
				}
			}
		}
		return false
	}
}
