package exchange

import (
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"mime"
	"path/filepath"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// The classes and properties of the Web Annotation Data Model that are used.
type (
	annotationPage struct {
		Context string       `json:"@context"`
		ID      string       `json:"id"`
		Type    string       `json:"type"`
		PartOf  collection   `json:"partOf"`
		Start   int          `json:"startIndex"`
		Items   []annotation `json:"items"`
	}
	collection struct {
		ID    string `json:"id"`
		Type  string `json:"type"`
		Label string `json:"label"`
		Total int    `json:"total"`
	}
	annotation struct {
		ID         string    `json:"id"`
		Type       string    `json:"type"`
		Motivation string    `json:"motivation"`
		Generator  generator `json:"generator"`
		Body       []body    `json:"body"`
		Target     target    `json:"target"`
	}
	generator struct {
		Type string `json:"type"`
		Name string `json:"name"`
	}
	body struct {
		Type     string `json:"type"`
		Purpose  string `json:"purpose"`
		Value    string `json:"value"`
		Format   string `json:"format"`
		Language string `json:"language,omitzero"`
	}
	target struct {
		Type     string     `json:"type"`
		Source   source     `json:"source"`
		Selector []selector `json:"selector"`
	}
	source struct {
		ID     string `json:"id"`
		Type   string `json:"type"`
		Format string `json:"format,omitzero"`
		Label  string `json:"label"`
	}
	selector struct {
		Type     string `json:"type"`
		Conforms string `json:"conformsTo,omitzero"`
		Value    string `json:"value"`
	}
)

// WriteAnnotations writes all outlines of a record as one page of W3C Web
// Annotations. The target is the original, named by its hash (RFC 6920), with two
// selectors for the same place: the shape as SVG and the box around it as a media
// fragment. Both are in pixels of the photo turned upright by the file's own turn,
// as browsers show it.
func (o Order) WriteAnnotations(w io.Writer) error {
	page := annotationPage{
		Context: "http://www.w3.org/ns/anno.jsonld", ID: "urn:uuid:" + string(o.Record.ID) + "#page", Type: "AnnotationPage",
		PartOf: collection{ID: "urn:uuid:" + string(o.Record.ID) + "#outlines", Type: "AnnotationCollection", Label: "Outlines of " + o.Record.Unit.Says()},
		Items:  []annotation{},
	}
	for id, p := range record.InOrder(o.Record.Photos) {
		from, err := sourceOf(p)
		if err != nil {
			return err
		}
		for _, m := range o.outlinesOn(id) {
			page.Items = append(page.Items, o.annotation(m, opened(p), from))
		}
	}
	page.PartOf.Total = len(page.Items)
	return json.MarshalWrite(w, page, jsontext.WithIndent("  "), json.Deterministic(true))
}

func sourceOf(p record.Photo) (source, error) {
	hash, err := hex.DecodeString(p.File)
	if err != nil {
		return source{}, fmt.Errorf("photo %d: its hash %q is none: %w", p.Number, p.File, err)
	}
	return source{
		ID:     "ni:///sha-256;" + base64.RawURLEncoding.EncodeToString(hash),
		Type:   "Image",
		Format: mediaType(p.Name),
		Label:  fmt.Sprintf("photo %d, %s", p.Number, p.Name),
	}, nil
}

// mediaTypes are asked before the system, which does not know them everywhere.
var mediaTypes = map[string]string{".heic": "image/heic", ".heif": "image/heif", ".hif": "image/heif", ".webp": "image/webp", ".tif": "image/tiff", ".tiff": "image/tiff", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png"}

func mediaType(name string) string {
	ending := strings.ToLower(filepath.Ext(name))
	if known, ok := mediaTypes[ending]; ok {
		return known
	}
	return mime.TypeByExtension(ending)
}

// wholePixels is the box about an outline as a media fragment, which knows whole
// pixels only: those that it touches.
func wholePixels(low, high plane.Point) string {
	x, y := math.Floor(low.X), math.Floor(low.Y)
	return fmt.Sprintf("xywh=pixel:%.0f,%.0f,%.0f,%.0f", x, y, max(math.Ceil(high.X)-x, 1), max(math.Ceil(high.Y)-y, 1))
}

func (o Order) annotation(m marked, in frame, from source) annotation {
	at := in.points(m.Outline)
	low, high := plane.Polygon(at).Bounds()
	a := annotation{
		ID: "urn:uuid:" + string(m.id), Type: "Annotation", Motivation: "describing", Generator: generator{"Software", o.Creator},
		Body: []body{{"TextualBody", "describing", o.says(m), "text/plain", "en"}},
		Target: target{Type: "SpecificResource", Source: from, Selector: []selector{
			{"SvgSelector", "", fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s">%s</svg>`, short(in.width), short(in.height), shape(m.Outline, at, ""))},
			{"FragmentSelector", "http://www.w3.org/TR/media-frags/", wholePixels(low, high)},
		}},
	}
	if f, ok := o.Record.Findings[m.Finding]; ok {
		for _, tag := range []string{string(f.Damage), string(f.Severity), o.verdict(m).String()} {
			if tag != "" {
				a.Body = append(a.Body, body{"TextualBody", "tagging", tag, "text/plain", ""})
			}
		}
	}
	return a
}
