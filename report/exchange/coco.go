package exchange

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// The members of COCO's format for object detection. What stands here beside them
// is kept under names of our own, which its readers pass over.
type (
	cocoFile struct {
		Info        cocoInfo         `json:"info"`
		Licenses    []struct{}       `json:"licenses"`
		Images      []cocoImage      `json:"images"`
		Annotations []cocoAnnotation `json:"annotations"`
		Categories  []cocoCategory   `json:"categories"`
	}
	cocoInfo struct {
		Description string `json:"description"`
		Contributor string `json:"contributor"`
		Version     string `json:"version"`
	}
	cocoImage struct {
		ID           int    `json:"id"`
		Width        int    `json:"width"`
		Height       int    `json:"height"`
		FileName     string `json:"file_name"`
		DateCaptured string `json:"date_captured,omitzero"`
		SHA256       string `json:"sha256"`
		// Orientation is how a reader must not turn the file.
		Orientation int `json:"exif_orientation"`
	}
	cocoAnnotation struct {
		ID           int         `json:"id"`
		Image        int         `json:"image_id"`
		Category     int         `json:"category_id"`
		Segmentation [][]float64 `json:"segmentation"`
		Area         float64     `json:"area"`
		Box          [4]float64  `json:"bbox"`
		Crowd        int         `json:"iscrowd"`
		Attributes   attributes  `json:"attributes"`
	}
	attributes struct {
		Outline  record.ID `json:"outline"`
		Finding  int       `json:"finding,omitzero"`
		Part     string    `json:"part,omitzero"`
		Surface  string    `json:"surface,omitzero"`
		Zone     string    `json:"zone,omitzero"`
		Severity string    `json:"severity,omitzero"`
		Verdict  string    `json:"verdict,omitzero"`
		Tooth    string    `json:"tooth,omitzero"`
	}
	cocoCategory struct {
		ID    int    `json:"id"`
		Name  string `json:"name"`
		Super string `json:"supercategory"`
	}
)

const cocoPixels = "Coordinates are pixels of the files as stored, (0,0) the outer corner of the first pixel: " +
	"do not apply the EXIF orientation when reading JPEG, PNG, TIFF or WebP. HEIC photos are upright, as every decoder gives them."

// WriteCOCO writes all outlines with an area in COCO's format for object detection,
// with a category for each damage, each zone, and what is of known size. Ids of
// images and annotations are the record's numbers of photos and outlines. Lines and
// spots have no place in that format; how many there are, its description says.
func (o Order) WriteCOCO(w io.Writer) error {
	f := cocoFile{Licenses: []struct{}{}, Images: []cocoImage{}, Annotations: []cocoAnnotation{}, Categories: []cocoCategory{}}
	left := 0
	var kinds []cocoCategory
	type sorted struct {
		cocoAnnotation
		kind cocoCategory
	}
	var all []sorted
	for id, p := range record.InOrder(o.Record.Photos) {
		frame := stored(p)
		if isHEIC(p) {
			frame = opened(p)
		}
		f.Images = append(f.Images, cocoImageOf(p, frame))
		for _, m := range o.outlinesOn(id) {
			if !closed(m.Outline) {
				left++
				continue
			}
			kind := o.category(m)
			kinds = append(kinds, kind)
			all = append(all, sorted{o.cocoAnnotation(m, p, frame), kind})
		}
	}
	slices.SortFunc(kinds, func(a, b cocoCategory) int {
		return strings.Compare(a.Super+"\x00"+a.Name, b.Super+"\x00"+b.Name)
	})
	kinds = slices.Compact(kinds)
	for _, a := range all {
		a.Category = slices.Index(kinds, a.kind) + 1
		f.Annotations = append(f.Annotations, a.cocoAnnotation)
	}
	for i, k := range kinds {
		k.ID = i + 1
		f.Categories = append(f.Categories, k)
	}
	f.Info = cocoInfo{Description: o.Record.Unit.Says() + ". " + cocoPixels, Contributor: o.Creator, Version: "1.0"}
	if left > 0 {
		f.Info.Description += fmt.Sprintf(" Left out are lines and spots, which have no area: %d.", left)
	}
	return json.MarshalWrite(w, f, jsontext.WithIndent("  "), json.Deterministic(true))
}

func cocoImageOf(p record.Photo, frame frame) cocoImage {
	image := cocoImage{ID: p.Number, Width: int(frame.width), Height: int(frame.height), FileName: p.Name, SHA256: p.File, Orientation: p.Orientation}
	if p.Taken.Local != "" {
		image.DateCaptured = strings.Replace(p.Taken.Local, "T", " ", 1)
	}
	if isHEIC(p) {
		image.Orientation = 1
	}
	return image
}

// hundredths takes away what subtracting adds to a figure in hundredths of a pixel.
func hundredths(v float64) float64 { return math.Round(v*100) / 100 }

func (o Order) cocoAnnotation(m marked, p record.Photo, frame frame) cocoAnnotation {
	at := frame.points(m.Outline)
	low, high := plane.Polygon(at).Bounds()
	a := cocoAnnotation{
		ID: m.Number, Image: p.Number, Area: plane.Polygon(at).Area(),
		Box: [4]float64{low.X, low.Y, hundredths(high.X - low.X), hundredths(high.Y - low.Y)}, Attributes: attributes{Outline: m.id},
	}
	line := make([]float64, 0, 2*len(at))
	for _, q := range at {
		line = append(line, q.X, q.Y)
	}
	a.Segmentation = [][]float64{line}
	if f, ok := o.Record.Findings[m.Finding]; ok {
		a.Attributes = attributes{Outline: m.id, Finding: f.Number, Part: o.partName(f.Part), Surface: o.surfaceName(f.Part, f.Surface),
			Zone: string(f.Zone), Severity: string(f.Severity), Verdict: o.verdict(m).String(), Tooth: f.Tooth}
	} else if m.Face != (record.Face{}) {
		a.Attributes.Part, a.Attributes.Surface = o.partName(m.Face.Part), o.surfaceName(m.Face.Part, m.Face.Surface)
		a.Attributes.Zone = string(m.Face.Zone)
	}
	return a
}

// category is what kind of thing an outline shows, without a number yet.
func (o Order) category(m marked) cocoCategory {
	if f, ok := o.Record.Findings[m.Finding]; ok {
		return cocoCategory{Name: string(f.Damage), Super: "damage"}
	}
	switch {
	case m.Face != (record.Face{}):
		return cocoCategory{Name: string(m.Face.Zone), Super: "zone"}
	case m.Known != (record.Known{}):
		return cocoCategory{Name: "known-size", Super: "reference"}
	}
	return cocoCategory{Name: "unassigned", Super: "outline"}
}
