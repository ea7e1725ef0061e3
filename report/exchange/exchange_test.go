package exchange_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/report/exchange"
)

const (
	partID    = record.ID("0197f3a0-1c2b-7def-8123-456789abcd01")
	workingID = record.ID("0197f3a0-1c2b-7def-8123-456789abcd77")
	findingID = record.ID("0197f3a0-1c2b-7def-8123-456789abcd02")
	goneID    = record.ID("0197f3a0-1c2b-7def-8123-456789abcd03")
	photoID   = record.ID("0197f3a0-1c2b-7def-8123-456789abcd04")
	heicID    = record.ID("0197f3a0-1c2b-7def-8123-456789abcd05")
	outlineID = "0197f3a0-1c2b-7def-8123-456789abce0"
)

// points are places by their whole pixels.
func points(xy ...int) (p []record.Point) {
	for i := 0; i < len(xy); i += 2 {
		p = append(p, record.Point{xy[i] * 100, xy[i+1] * 100})
	}
	return p
}

// told is a record with a photo that lies on its side and was turned once more, and
// a HEIC photo; and with every shape that there is.
func told() *record.Record {
	hash := strings.Repeat("ab", 32)
	r := record.New(record.Unit{Type: "four-speed", Maker: "Tarnwell", Model: "TW4", Serial: "40117"}, term.Road)
	r.Numbers = record.Numbers{Finding: 2, Photo: 8, Outline: 6}
	r.Parts = map[record.ID]record.Part{partID: {Kind: "input-shaft", Place: "input-shaft", Tag: "1-01", State: term.PartStates[0]}}
	r.Findings = map[record.ID]record.Finding{
		findingID: {Number: 1, Part: partID, Surface: "cone", Damage: "rust-pits", Severity: term.Felt, Zone: "working-face", Method: term.Touch,
			Note: "=HYPERLINK(\"x\"), \"bad\"\nnext <line>", By: "Wren Aldous", Share: "3.5", Tooth: "-3"},
		goneID: {Number: 2, Part: partID, Surface: "cone", Damage: "scoring", Severity: term.Felt, Zone: "working-face", Method: term.ByEye, Withdrawn: "a hair"},
	}
	r.Photos = map[record.ID]record.Photo{
		photoID: {Number: 7, File: hash, Name: "IMG_0007 <a&b>.jpg", Size: 9, Width: 400, Height: 300, Orientation: 6, Turned: 90, Taken: record.Taken{Local: "2026-05-12T09:10:00"}},
		heicID:  {Number: 8, File: hash, Name: "IMG_0008.HEIC", Size: 9, Width: 400, Height: 300, Orientation: 6},
	}
	r.Outlines = map[record.ID]record.Outline{
		outlineID + "1": {Number: 1, Photo: photoID, Finding: findingID, Shape: record.Polygon, Points: points(100, 50, 140, 50, 140, 80)},
		outlineID + "2": {Number: 2, Photo: photoID, Finding: goneID, Shape: record.Polygon, Points: points(10, 10, 20, 10, 20, 20)},
		outlineID + "3": {Number: 3, Photo: photoID, Face: record.Face{Part: partID, Surface: "cone", Zone: "working-face"}, Shape: record.Oval, Points: points(50, 30, 250, 130)},
		outlineID + "4": {Number: 4, Photo: photoID, Shape: record.Line, Points: points(20, 250, 320, 250), Known: record.Known{What: "steel rule", Length: "150"}},
		outlineID + "5": {Number: 5, Photo: photoID, Finding: findingID, Shape: record.Spot, Points: points(200, 200)},
		outlineID + "6": {Number: 6, Photo: heicID, Finding: findingID, Shape: record.Polygon, Points: points(100, 50, 140, 50, 140, 80)},
	}
	r.Readings = map[record.ID]record.Reading{
		record.NewID(): {Part: partID, Surface: "cone", Dimension: "gap", Unit: "mm", Values: []record.Value{{Text: "1,20", Position: "front"}, {Text: "1.25"}},
			Instrument: record.Instrument{Name: "feeler gauge", Serial: "F-2"}, By: "Edda Quillan"},
	}
	r.Workings = map[record.ID]record.Working{
		workingID: {Part: partID, Surface: "cone", What: "shims", Unit: "mm", By: "Edda Quillan", Instrument: record.Instrument{Kind: "dial-indicator", Serial: "17"},
			Entries: map[string]string{"one-end": "0.00", "other-end": "0.60", "sizes": "0.50", "float-from": "0.05", "float-to": "0.15"}},
		workingID[:35] + "8": {Part: partID, What: "hoop-stress", Unit: "in", Entries: map[string]string{"wall": "=1+1"}, Withdrawn: "a slip"},
	}
	return r
}

func order() exchange.Order { return exchange.Order{Record: told(), Creator: "Fettlebook 0.1.0"} }

func TestRecordForTheTestsIsWhole(t *testing.T) {
	if err := told().Check(); err != nil {
		t.Fatal(err)
	}
}

func TestCOCO(t *testing.T) {
	var b bytes.Buffer
	if err := order().WriteCOCO(&b); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Info     struct{ Description string }
		Licenses []any
		Images   []struct {
			ID, Width, Height int
			FileName          string `json:"file_name"`
			Date              string `json:"date_captured"`
			Orientation       int    `json:"exif_orientation"`
		}
		Annotations []struct {
			ID           int
			Image        int `json:"image_id"`
			Category     int `json:"category_id"`
			Segmentation [][]float64
			Area         float64
			Box          []float64 `json:"bbox"`
			Crowd        *int      `json:"iscrowd"`
		}
		Categories []struct {
			ID            int
			Name          string
			SuperCategory string `json:"supercategory"`
		}
	}
	if err := json.Unmarshal(b.Bytes(), &got, json.MatchCaseInsensitiveNames(true)); err != nil {
		t.Fatal(err)
	}
	if len(got.Images) != 2 || got.Images[0].ID != 7 || got.Images[0].Width != 400 || got.Images[0].Height != 300 || got.Images[0].Orientation != 6 ||
		got.Images[0].FileName != "IMG_0007 <a&b>.jpg" || got.Images[0].Date != "2026-05-12 09:10:00" {
		t.Errorf("images: %+v", got.Images)
	}
	// Every decoder turns a HEIC photo, so its picture lies the other way.
	if got.Images[1].Width != 300 || got.Images[1].Height != 400 || got.Images[1].Orientation != 1 {
		t.Errorf("the HEIC photo: %+v", got.Images[1])
	}
	if len(got.Annotations) != 3 || !strings.Contains(got.Info.Description, "lines and spots, which have no area: 2.") {
		t.Fatalf("%d annotations; %s", len(got.Annotations), got.Info.Description)
	}
	names := map[int]string{}
	for i, c := range got.Categories {
		if c.ID != i+1 {
			t.Errorf("category %d has the id %d", i, c.ID)
		}
		names[c.ID] = c.SuperCategory + "/" + c.Name
	}
	first, face, heic := got.Annotations[0], got.Annotations[1], got.Annotations[2]
	if first.ID != 1 || first.Image != 7 || names[first.Category] != "damage/rust-pits" || first.Area != 600 || first.Crowd == nil || *first.Crowd != 0 ||
		!slices.Equal(first.Box, []float64{100, 50, 40, 30}) || !slices.Equal(first.Segmentation[0], []float64{100, 50, 140, 50, 140, 80}) {
		t.Errorf("the finding's outline: %+v, %s", first, names[first.Category])
	}
	if names[face.Category] != "zone/working-face" || !slices.Equal(face.Box, []float64{50, 30, 200, 100}) || face.Area < 15500 || face.Area > 15708 {
		t.Errorf("the face: %s, box %v, area %v", names[face.Category], face.Box, face.Area)
	}
	// (x, y) comes to (h − y, x) by a quarter turn clockwise.
	if heic.Image != 8 || !slices.Equal(heic.Segmentation[0], []float64{250, 100, 250, 140, 220, 140}) || heic.Area != 600 {
		t.Errorf("the outline on the HEIC photo: %+v", heic)
	}
}

// wholeBox is what Media Fragments URI 1.0 (4.2.2) allows, with a box that is not empty.
var wholeBox = regexp.MustCompile(`^xywh=pixel:\d+,\d+,[1-9]\d*,[1-9]\d*$`)

func TestAnnotations(t *testing.T) {
	var b bytes.Buffer
	if err := order().WriteAnnotations(&b); err != nil {
		t.Fatal(err)
	}
	var page struct {
		Context string `json:"@context"`
		ID      string
		Type    string
		PartOf  struct {
			Type  string
			Total int
		}
		Items []struct {
			ID, Type, Motivation string
			Body                 []struct{ Type, Purpose, Value, Format string }
			Target               struct {
				Type     string
				Source   struct{ ID, Type, Format string }
				Selector []struct {
					Type, Value string
					Conforms    string `json:"conformsTo"`
				}
			}
		}
	}
	if err := json.Unmarshal(b.Bytes(), &page, json.MatchCaseInsensitiveNames(true)); err != nil {
		t.Fatal(err)
	}
	if page.Context != "http://www.w3.org/ns/anno.jsonld" || page.Type != "AnnotationPage" || page.PartOf.Type != "AnnotationCollection" || page.PartOf.Total != 5 || len(page.Items) != 5 {
		t.Fatalf("page: %+v", page)
	}
	for _, a := range page.Items {
		if a.Type != "Annotation" || !strings.HasPrefix(a.ID, "urn:uuid:"+outlineID) || len(a.Body) == 0 || a.Body[0].Type != "TextualBody" ||
			a.Target.Type != "SpecificResource" || !strings.HasPrefix(a.Target.Source.ID, "ni:///sha-256;q6urq6urq") || a.Target.Source.Type != "Image" || len(a.Target.Selector) != 2 {
			t.Errorf("annotation: %+v", a)
		}
		checkXML(t, []byte(a.Target.Selector[0].Value))
		if box := a.Target.Selector[1].Value; !wholeBox.MatchString(box) {
			t.Errorf("%q is no media fragment", box)
		}
	}
	first := page.Items[0]
	if first.Body[0].Value != "Finding 1: rust pits, a fingernail catches, on input shaft, cone, working face, tooth -3" || first.Body[1].Purpose != "tagging" || first.Body[1].Value != "rust-pits" || first.Body[3].Value != "undecided" {
		t.Errorf("body: %+v", first.Body)
	}
	svg, box := first.Target.Selector[0], first.Target.Selector[1]
	// Upright by the file's own turn only: 300 wide, 400 high.
	if svg.Type != "SvgSelector" || !strings.Contains(svg.Value, `viewBox="0 0 300 400"`) || !strings.Contains(svg.Value, `<polygon points="250,100 250,140 220,140"/>`) {
		t.Errorf("svg: %+v", svg)
	}
	if box.Type != "FragmentSelector" || box.Conforms != "http://www.w3.org/TR/media-frags/" || box.Value != "xywh=pixel:220,100,30,40" {
		t.Errorf("box: %+v", box)
	}
	if got := page.Items[1].Target.Source.Format; got != "image/jpeg" {
		t.Errorf("format %q", got)
	}
}

func checkXML(t *testing.T, b []byte) (titles []string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(b))
	for in := ""; ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return titles
		}
		if err != nil {
			t.Fatalf("%v in %s", err, b)
		}
		switch x := token.(type) {
		case xml.StartElement:
			in = x.Name.Local
		case xml.CharData:
			if in == "title" {
				titles = append(titles, string(x))
			}
			in = ""
		}
	}
}

func TestSVG(t *testing.T) {
	var b bytes.Buffer
	if err := order().WriteSVG(&b, photoID); err != nil {
		t.Fatal(err)
	}
	titles := checkXML(t, b.Bytes())
	if len(titles) != 5 || titles[0] != "Photo 7, IMG_0007 <a&b>.jpg" {
		t.Errorf("titles %q", titles)
	}
	// As shown: a quarter turn by the file, one by the user: upside down, 400 wide.
	for _, want := range []string{`viewBox="0 0 400 300"`, `<polygon points="300,250 260,250 260,220"`, `id="outline-` + outlineID + `1"`, "<polyline", "<circle"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %s in %s", want, b.String())
		}
	}
	if strings.Contains(b.String(), outlineID+"2") {
		t.Error("a withdrawn finding is in it")
	}
	if err := order().WriteSVG(&b, "nobody"); err == nil {
		t.Error("a photo that is not there: no error")
	}
}

func rows(t *testing.T, write func(io.Writer) error) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	text, ok := strings.CutPrefix(b.String(), "\ufeff")
	if !ok || !strings.Contains(text, "\r\n") {
		t.Errorf("not as spreadsheets want it: %q", b.String()[:20])
	}
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func cell(t *testing.T, all [][]string, row int, column string) string {
	t.Helper()
	i := slices.Index(all[0], column)
	if i < 0 {
		t.Fatalf("no column %q in %q", column, all[0])
	}
	return all[row][i]
}

func TestCSV(t *testing.T) {
	findings := rows(t, order().WriteFindings)
	if len(findings) != 3 {
		t.Fatalf("%d rows", len(findings))
	}
	for column, want := range map[string]string{
		"finding": "1", "part": "input shaft", "tag": "1-01", "damage": "rust pits", "severity": "felt", "found": "by touch", "photos": "7 8",
		"share of face, %": "3.5", "tooth": "-3", "note": "'=HYPERLINK(\"x\"), \"bad\"\nnext <line>", "by": "Wren Aldous", "id": string(findingID), "withdrawn": "",
	} {
		if got := cell(t, findings, 1, column); got != want {
			t.Errorf("%s: %q, want %q", column, got, want)
		}
	}
	if got := cell(t, findings, 2, "withdrawn"); got != "a hair" {
		t.Errorf("the withdrawn finding: %q", got)
	}
	readings := rows(t, order().WriteReadings)
	if got := cell(t, readings, 1, "values as typed"); len(readings) != 2 || got != "1,20 (front); 1.25" {
		t.Errorf("reading: %q", readings)
	}
	o := order()
	shims, _ := assess.WorkOut(o.Record.Workings[workingID], gauge.By95)
	o.Assessment = &assess.Assessment{Parts: []assess.Part{{ID: partID, Name: "Input shaft", Workings: []assess.Worked{{
		ID: workingID, Name: "End float and shims", Typed: []string{"float from 0.05 mm"}, Lines: shims.Lines, Set: shims.Setting.Do, Measurement: &assess.Measurement{Measured: *shims.Measured}}}}}}
	workings := rows(t, o.WriteWorkings)
	if len(workings) != 3 {
		t.Fatalf("%d rows of workings", len(workings))
	}
	for column, want := range map[string]string{
		"working": "End float and shims", "entries as typed": "float from 0.05 mm",
		"length, mm": "0.6000", "instrument": "dial indicator", "serial": "17", "by": "Edda Quillan", "id": string(workingID), "withdrawn": "",
	} {
		if got := cell(t, workings, 1, column); got != want {
			t.Errorf("%s of the working: %q, want %q", column, got, want)
		}
	}
	if got := cell(t, workings, 1, "to be set at assembly"); !strings.HasPrefix(got, "fit a shim of 0.50 mm: 0.10 mm ±") {
		t.Errorf("to be set: %q", got)
	}
	if got := cell(t, workings, 2, "withdrawn") + cell(t, workings, 2, "working") + cell(t, workings, 2, "entries as typed") + cell(t, workings, 2, "comes to"); got != "a slipHoop stresswall =1+1 (lengths in in)" {
		t.Errorf("the withdrawn working: %q", got)
	}
	extents := rows(t, order().WriteExtents)
	if len(extents) != 2 || cell(t, extents, 1, "scale") != "steel rule, 150 mm, taken as exact" || cell(t, extents, 1, "area, mm²") == "" || cell(t, extents, 1, "± share, %") == "" {
		t.Errorf("extents: %q", extents)
	}
}

// A card is handed on by the corners in which its edges meet; an outline that only
// tells how well somebody picks is not handed on.
func TestEdgesAreHandedOnAndRepeatsAreNot(t *testing.T) {
	o := order()
	o.Record.Numbers.Outline = 8
	o.Record.Outlines[outlineID+"7"] = record.Outline{Number: 7, Photo: heicID, Shape: record.Edges, Known: record.Known{What: "blank card", Width: "80 mm", Height: "50 mm"},
		Points: points(110, 100, 190, 100, 200, 110, 200, 190, 190, 200, 110, 200, 100, 190, 100, 110)}
	o.Record.Outlines[outlineID+"8"] = record.Outline{Number: 8, Photo: heicID, Shape: record.Polygon, Repeats: outlineID + "6", By: "Wren Aldous", Points: points(101, 51, 141, 51, 141, 81)}
	if problems := o.Record.Check(); len(problems) > 0 {
		t.Fatal(problems)
	}
	var svg, coco bytes.Buffer
	if err := o.WriteSVG(&svg, heicID); err != nil {
		t.Fatal(err)
	}
	// Turned upright, x is 300 less the stored y.
	if !strings.Contains(svg.String(), `points="200,100 200,200 100,200 100,100"`) || strings.Contains(svg.String(), string(outlineID)+"8") {
		t.Errorf("the card is not drawn by its corners, or the repeat is drawn:\n%s", svg.String())
	}
	if err := o.WriteCOCO(&coco); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(coco.String(), "known-size") || !strings.Contains(coco.String(), `"area": 10000`) || strings.Contains(coco.String(), string(outlineID)+"8") {
		t.Errorf("the card or the repeat: %s", coco.String())
	}
}

// picture is what the program shows of a photo: grey, of a size.
func picture(w, h int) func(context.Context, record.Photo) (image.Image, error) {
	return func(context.Context, record.Photo) (image.Image, error) {
		img := image.NewGray(image.Rect(0, 0, w, h))
		for i := range img.Pix {
			img.Pix[i] = 90
		}
		return img, nil
	}
}

func TestOutlinesAreBurnedIn(t *testing.T) {
	for _, zoom := range []int{1, 2} {
		o := order()
		o.Picture = picture(400*zoom, 300*zoom)
		for format, decode := range map[exchange.Format]func(io.Reader) (image.Image, error){exchange.PNG: png.Decode, exchange.JPEG: jpeg.Decode} {
			var b bytes.Buffer
			if err := o.WriteBurned(t.Context(), &b, photoID, format); err != nil {
				t.Fatal(err)
			}
			img, err := decode(&b)
			if err != nil || img.Bounds() != image.Rect(0, 0, 400*zoom, 300*zoom) {
				t.Fatalf("%s: %v, %v", format, img.Bounds(), err)
			}
			grey := func(x, y int) bool {
				r, g, b, _ := img.At(x*zoom, y*zoom).RGBA()
				near := func(v uint32) bool { return v>>8 > 80 && v>>8 < 100 }
				return near(r) && near(g) && near(b)
			}
			// The edge from (300, 250) to (260, 250), the rule, the spot; and beside them.
			for _, at := range [][2]int{{280, 250}, {260, 235}, {200, 50}, {200, 94}} {
				if grey(at[0], at[1]) {
					t.Errorf("%s × %d: nothing is drawn at %v", format, zoom, at)
				}
			}
			for _, at := range [][2]int{{320, 240}, {20, 20}, {385, 285}} {
				if !grey(at[0], at[1]) {
					t.Errorf("%s × %d: %v at %v", format, zoom, img.At(at[0]*zoom, at[1]*zoom), at)
				}
			}
		}
	}
	o := order()
	o.Picture = picture(300, 400)
	if err := o.WriteBurned(t.Context(), io.Discard, photoID, exchange.PNG); err == nil {
		t.Error("a picture that lies the other way: no error")
	}
	o.Picture = func(context.Context, record.Photo) (image.Image, error) { return nil, os.ErrNotExist }
	if err := o.WriteBurned(t.Context(), io.Discard, photoID, exchange.PNG); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no picture: %v", err)
	}
	if err := order().WriteBurned(t.Context(), io.Discard, photoID, exchange.PNG); err == nil {
		t.Error("without photos at hand: no error")
	}
}

// The original is not drawn on.
func TestBurningLeavesThePictureAlone(t *testing.T) {
	o := order()
	img := image.NewNRGBA(image.Rect(0, 0, 400, 300))
	o.Picture = func(context.Context, record.Photo) (image.Image, error) { return img, nil }
	if err := o.WriteBurned(t.Context(), io.Discard, photoID, exchange.PNG); err != nil {
		t.Fatal(err)
	}
	for y := range 300 {
		for x := range 400 {
			if img.NRGBAAt(x, y) != (color.NRGBA{}) {
				t.Fatalf("drawn on at (%d, %d)", x, y)
			}
		}
	}
}

func TestWrite(t *testing.T) {
	for format, want := range map[exchange.Format][]string{
		exchange.CSV: {"findings.csv", "readings.csv", "workings.csv", "extents.csv"}, exchange.COCO: {"coco.json"}, exchange.Annotations: {"annotations.jsonld"},
		exchange.SVG: {"photo-007.svg", "photo-008.svg"},
	} {
		dir := filepath.Join(t.TempDir(), "new", "folder")
		for range 2 { // the second time over the first
			got, err := exchange.Write(t.Context(), order(), format, dir)
			if err != nil || !slices.Equal(got, want) {
				t.Fatalf("%s: %q, %v", format, got, err)
			}
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) != len(want) {
			t.Errorf("%s: %d files in the folder, %v", format, len(entries), err)
		}
	}
	if _, err := exchange.Write(t.Context(), order(), "poster", t.TempDir()); err == nil || !strings.Contains(err.Error(), "annotations") {
		t.Errorf("an unknown format: %v", err)
	}
	bare := order()
	bare.Record = record.New(record.Unit{Type: "four-speed"}, term.Road)
	if _, err := exchange.Write(t.Context(), bare, exchange.SVG, t.TempDir()); err == nil {
		t.Error("nothing to write: no error")
	}
	for _, as := range []exchange.Format{exchange.CSV, exchange.COCO, exchange.Annotations} {
		if _, err := exchange.Write(t.Context(), bare, as, t.TempDir()); err != nil {
			t.Errorf("an empty record as %s: %v", as, err)
		}
	}
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "coco.json"), 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := exchange.Write(t.Context(), order(), exchange.COCO, dir); err == nil {
		t.Error("over a folder: no error")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := exchange.Write(ctx, order(), exchange.CSV, t.TempDir()); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A photo that fails leaves no half file behind.
func TestFailureLeavesNothing(t *testing.T) {
	o, dir := order(), t.TempDir()
	o.Picture = func(context.Context, record.Photo) (image.Image, error) { return nil, os.ErrPermission }
	if _, err := exchange.Write(t.Context(), o, exchange.PNG, dir); !errors.Is(err, os.ErrPermission) {
		t.Errorf("got %v", err)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 0 {
		t.Errorf("%d files, %v", len(entries), err)
	}
}
