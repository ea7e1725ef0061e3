// Package exchange hands a record on to other programs: findings, readings and
// extents as CSV, outlines as SVG, as COCO JSON and as W3C Web Annotations, and
// photos with their outlines burned in or without the camera's data.
//
// A record holds outlines in hundredths of a pixel of the file as stored. Other
// programs see another picture: those that apply a file's own turn, and those that
// do not. Each format says in itself which pixels it means:
//
//	COCO               as stored, (0,0) the outer corner of the first pixel; HEIC
//	                   photos turned upright, since no program shows them otherwise
//	Web Annotations    turned upright by the file's own turn, as browsers show it
//	SVG, PNG, JPEG     as this program shows it, with the user's turning too
//
// Findings that were withdrawn stand in the CSV with the reason; their outlines go
// nowhere else.
package exchange

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Format is what a record is handed on as.
type Format string

// The formats. PNG and JPEG are photos with their outlines burned in.
const (
	CSV         Format = "csv"
	SVG         Format = "svg"
	COCO        Format = "coco"
	Annotations Format = "annotations"
	PNG         Format = "png"
	JPEG        Format = "jpeg"
	// Stripped are copies of all photos without place and serial.
	Stripped Format = "stripped"
)

// Formats are all of them.
var Formats = []Format{CSV, SVG, COCO, Annotations, PNG, JPEG, Stripped}

// Order is what is handed on.
type Order struct {
	Record     *record.Record
	Assessment *assess.Assessment
	// Photos are those of which there is a file each, where a format has one; all if
	// empty.
	Photos []record.ID
	// Creator names the program and its release.
	Creator string
	// Picture gives a photo upright and turned as it is shown, of any size; only PNG
	// and JPEG ask for it.
	Picture func(context.Context, record.Photo) (image.Image, error)
	// Strip gives a copy of a photo without place and serial; only Stripped asks.
	Strip func(context.Context, record.Photo) (Copy, error)
	// Progress is told how many of the files are written; nil for nobody.
	Progress func(done, total int)
}

// file is one file to be written.
type file struct {
	name  string
	write func(io.Writer) error
}

// Write writes a record into a folder, which is made where it is not there, and
// returns the names of the files, each written whole or not at all. A file of the
// same name is replaced. An unknown format, a record without anything of its kind,
// or a folder that can't be written to is an error.
func Write(ctx context.Context, o Order, as Format, dir string) ([]string, error) {
	files, err := o.files(ctx, as)
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s no outline that could be handed on as %s", o.lacking(), as)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("the folder %s can't be made: %w", dir, err)
	}
	var names []string
	for i, f := range files {
		if err := ctx.Err(); err != nil {
			return names, fmt.Errorf("the export was stopped after %d of %d files: %w", i, len(files), err)
		}
		switch err := writeFile(filepath.Join(dir, f.name), f.write); {
		case errors.Is(err, errLeftOut):
		case err != nil:
			return names, err
		default:
			names = append(names, f.name)
		}
		if o.Progress != nil {
			o.Progress(i+1, len(files))
		}
	}
	return names, nil
}

func (o Order) files(ctx context.Context, as Format) ([]file, error) {
	switch as {
	case CSV:
		return []file{{"findings.csv", o.WriteFindings}, {"readings.csv", o.WriteReadings}, {"workings.csv", o.WriteWorkings}, {"extents.csv", o.WriteExtents}}, nil
	case COCO:
		return []file{{"coco.json", o.WriteCOCO}}, nil
	case Annotations:
		return []file{{"annotations.jsonld", o.WriteAnnotations}}, nil
	case SVG, PNG, JPEG:
		return o.perPhoto(ctx, as), nil
	case Stripped:
		return o.stripped(ctx)
	}
	return nil, fmt.Errorf("%q is nothing that a record is handed on as; known are csv, svg, coco, annotations, png, jpeg, stripped", as)
}

// wants tells whether a photo is among those that are handed on.
func (o Order) wants(photo record.ID) bool {
	return len(o.Photos) == 0 || slices.Contains(o.Photos, photo)
}

// lacking begins to say that there is nothing on the photos.
func (o Order) lacking() string {
	if len(o.Photos) > 0 {
		return "these photos have"
	}
	return "the photos of the record have"
}

// perPhoto makes a file of each photo with an outline.
func (o Order) perPhoto(ctx context.Context, as Format) []file {
	ending := map[Format]string{SVG: "svg", PNG: "png", JPEG: "jpg"}[as]
	var files []file
	for id, p := range record.InOrder(o.Record.Photos) {
		if !o.wants(id) || len(o.outlinesOn(id)) == 0 {
			continue
		}
		write := func(w io.Writer) error { return o.WriteSVG(w, id) }
		if as != SVG {
			write = func(w io.Writer) error { return o.WriteBurned(ctx, w, id, as) }
		}
		files = append(files, file{fmt.Sprintf("photo-%03d.%s", p.Number, ending), write})
	}
	return files
}

// writeFile writes into a temporary file beside, and puts it in place.
func writeFile(path string, write func(io.Writer) error) (err error) {
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is there and no file that can be replaced; choose another folder", path)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".fettlebook-*")
	if err != nil {
		return fmt.Errorf("nothing can be written to the folder %s: %w", filepath.Dir(path), err)
	}
	defer os.Remove(f.Name()) // gone already where all went well
	if err := write(f); err != nil {
		f.Close()
		return fmt.Errorf("%s: %w", filepath.Base(path), err)
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("%s can't be written: %w", path, err)
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("%s can't be put in place: %w; is it open elsewhere?", path, err)
	}
	return nil
}

// marked is an outline with its id.
type marked struct {
	record.Outline
	id record.ID
}

// outlinesOn returns what is outlined on a photo, without withdrawn findings and
// without repeats, which would show damage twice.
func (o Order) outlinesOn(photo record.ID) []marked {
	var on []marked
	for id, outline := range record.InOrder(o.Record.Outlines) {
		if outline.Photo == photo && o.Record.Findings[outline.Finding].Withdrawn == "" && outline.Repeats == "" {
			on = append(on, marked{outline, id})
		}
	}
	return on
}

// label is what stands beside an outline: the finding's number, or the outline's own
// with a letter before it.
func (o Order) label(m marked) string {
	if f, ok := o.Record.Findings[m.Finding]; ok {
		return fmt.Sprint(f.Number)
	}
	return fmt.Sprintf("o%d", m.Number)
}

// says tells in words what an outline shows.
func (o Order) says(m marked) string {
	if f, ok := o.Record.Findings[m.Finding]; ok {
		says := fmt.Sprintf("Finding %d: %s, %s, on %s", f.Number, words(string(f.Damage)), f.Severity.Says(), o.place(f.Part, f.Surface))
		if f.Zone != "" {
			says += ", " + words(string(f.Zone))
		}
		if f.Tooth != "" {
			says += ", tooth " + f.Tooth
		}
		return says
	}
	if m.Face != (record.Face{}) {
		return fmt.Sprintf("The %s of %s", words(string(m.Face.Zone)), o.place(m.Face.Part, m.Face.Surface))
	}
	if k := m.Known; k != (record.Known{}) {
		size := k.Length
		if size == "" {
			size = k.Width + " × " + k.Height
		}
		return strings.TrimSpace(fmt.Sprintf("Known size %s %s", size, k.What))
	}
	return fmt.Sprintf("Outline %d", m.Number)
}

// place names a part and a surface of it.
func (o Order) place(part record.ID, surface string) string {
	name := o.partName(part)
	if s := o.surfaceName(part, surface); s != "" {
		name += ", " + s
	}
	return name
}

func (o Order) partName(id record.ID) string {
	if o.Assessment != nil {
		if p, ok := o.Assessment.Part(id); ok {
			return p.Name
		}
	}
	return words(o.Record.Parts[id].Kind)
}

func (o Order) surfaceName(part record.ID, surface string) string {
	if o.Assessment != nil {
		if p, ok := o.Assessment.Part(part); ok {
			if s, ok := p.Surface(surface); ok {
				return s.Name
			}
		}
	}
	return words(surface)
}

// verdict is that of the finding which an outline shows.
func (o Order) verdict(m marked) term.Verdict { return o.verdictOf(m.Finding) }

// band is how an outline is drawn: by its finding's verdict, or as quietly as what is
// sound where it shows none.
func (o Order) band(m marked) drawing.Band {
	if _, ok := o.Record.Findings[m.Finding]; !ok {
		return drawing.BandOf(term.Sound)
	}
	return drawing.BandOf(o.verdict(m))
}

// verdictOf is undecided where the order holds no assessment.
func (o Order) verdictOf(id record.ID) term.Verdict {
	if o.Assessment == nil {
		return term.Undecided
	}
	return o.Assessment.OfFinding(o.Record, id)
}

// words makes a word of the vocabulary readable.
func words(s string) string { return strings.ReplaceAll(s, "-", " ") }
