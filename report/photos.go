package report

import (
	"fmt"
	"math"

	"fettlebook/assess/drawing"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/report/pdf"
)

// photos sets the photos of a part: large for a person who was not there, four
// in a row for the archive.
func (p *pages) photos(list []photo) {
	perRow, height := 2, 78.0
	if p.order.Reader == Archive {
		perRow, height = 4, 38.0
	}
	for len(list) > 0 && p.err == nil {
		now := min(perRow, len(list))
		if perRow == 2 && len(list) == 1 {
			height = 105
		}
		p.photoRow(list[:now], perRow, height)
		list = list[now:]
	}
}

func (p *pages) photoRow(list []photo, perRow int, height float64) {
	width := (p.width() - gap*float64(perRow-1)) / float64(perRow)
	if len(list) == 1 && perRow == 2 {
		width = p.width()
	}
	captions := make([][]pdf.Line, len(list))
	below := 0.0
	for i, ph := range list {
		captions[i] = p.doc.Wrap(quiet, p.caption(ph), width)
		below = max(below, float64(len(captions[i]))*quiet.LineHeight())
	}
	p.room(height + below + 5)
	foot := p.y
	for i, ph := range list {
		if p.err != nil {
			return
		}
		x := margin + float64(i)*(width+gap)
		box := p.picture(ph, pdf.Rect{X: x, Y: p.y, W: width, H: height})
		foot = max(foot, p.page.Lines(x, box.Bottom()+1.2, width, quiet, pdf.Left, captions[i]))
	}
	p.y = foot + 3
}

// picture places one photo and draws its outlines over it as vectors.
func (p *pages) picture(ph photo, box pdf.Rect) pdf.Rect {
	hash := record.Hash(ph.File)
	pic, err := p.doc.Picture(p.ctx, fmt.Sprintf("photo %d (%s)", ph.Number, ph.Name), ph.File, func() ([]byte, error) {
		return p.order.Preview(p.ctx, hash)
	})
	if err != nil {
		p.err = err
		return box
	}
	turned := pdf.Orientation(ph.Orientation).Turned(ph.Turned / 90)
	placed := p.page.Place(pic, box, pdf.Placement{Orientation: turned, Horizontal: -1, Vertical: -1})
	p.page.Rect(placed.Box, pdf.Paint{Stroke: inkRule, Width: 0.15})
	p.page.ClipRect(placed.Box, func() {
		for _, o := range p.outlinesOf[ph.id] {
			p.outline(o, ph, placed)
		}
	})
	for _, o := range p.outlinesOf[ph.id] {
		p.badge(o, ph, placed)
	}
	return placed.Box
}

// The lines of an outline over a photo, in millimetres: a light casing under
// the band of the finding's verdict, so that it shows on any ground.
const (
	casing = 1.1
	stroke = 0.55
)

func (p *pages) outline(o record.Outline, ph photo, placed pdf.Placed) {
	points := make([]pdf.Point, 0, 64)
	for _, at := range corners(o) {
		points = append(points, placed.At(at[0]/float64(ph.Width*100), at[1]/float64(ph.Height*100)))
	}
	band := drawing.BandOf(p.verdictOf(o))
	dash := make([]float64, len(band.Dash))
	for i, d := range band.Dash {
		dash[i] = d * stroke
	}
	p.page.Polygon(points, pdf.Paint{Stroke: pdf.White, Width: casing})
	p.page.Polygon(points, pdf.Paint{Stroke: pdf.Hex(band.Ink), Width: stroke, Dash: dash})
}

// corners gives an outline's corners in hundredths of a pixel of the file as
// stored; an oval as a polygon that can't be told from it in print.
func corners(o record.Outline) [][2]float64 {
	if o.Shape != record.Oval {
		out := make([][2]float64, len(o.Points))
		for i, pt := range o.Points {
			out[i] = [2]float64{float64(pt[0]), float64(pt[1])}
		}
		return out
	}
	const steps = 72
	a, b := o.Points[0], o.Points[1]
	cx, cy := float64(a[0]+b[0])/2, float64(a[1]+b[1])/2
	rx, ry := math.Abs(float64(a[0]-b[0]))/2, math.Abs(float64(a[1]-b[1]))/2
	out := make([][2]float64, steps)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		out[i] = [2]float64{cx + rx*cos, cy + ry*sin}
	}
	return out
}

// badge sets the finding's number at the outline's highest point.
func (p *pages) badge(o record.Outline, ph photo, placed pdf.Placed) {
	const radius = 2.5
	var best pdf.Point
	for i, at := range corners(o) {
		pt := placed.At(at[0]/float64(ph.Width*100), at[1]/float64(ph.Height*100))
		if i == 0 || pt.Y < best.Y {
			best = pt
		}
	}
	best.X = min(max(best.X, placed.Box.X+radius), placed.Box.Right()-radius)
	best.Y = min(max(best.Y, placed.Box.Y+radius), placed.Box.Bottom()-radius)
	ink := pdf.Hex(drawing.BandOf(p.verdictOf(o)).Ink)
	p.page.Badge(best, radius, p.label(o), ink, pdf.Paint{Fill: pdf.White, Stroke: ink, Width: 0.4})
}

// label is the finding's number; an outline that shows no finding has its own
// with a letter before it.
func (p *pages) label(o record.Outline) string {
	if f, ok := p.order.Record.Findings[o.Finding]; ok {
		return fmt.Sprint(f.Number)
	}
	return "o" + fmt.Sprint(o.Number)
}

// verdictOf returns the verdict that the outline's finding leads to.
func (p *pages) verdictOf(o record.Outline) term.Verdict {
	return p.order.Assessment.OfFinding(p.order.Record, o.Finding)
}

// caption says what a photo is; for the adjuster also whence it comes.
func (p *pages) caption(ph photo) string {
	says := fmt.Sprintf("Photo %d", ph.Number)
	if ph.Stage != "" {
		says += " · " + term.Plain(ph.Stage)
	}
	if ph.Note != "" {
		says += " · " + ph.Note
	}
	says += " · " + taken(ph.Taken)
	if p.order.Reader != Warranty {
		return says
	}
	camera := ph.Camera
	if camera == "" {
		camera = "camera not recorded"
	}
	return says + fmt.Sprintf("\n%s · %s · %d × %d pixels, %d bytes\nSHA-256 of the original: %s\nPrinted here is a reduced view of the original.",
		ph.Name, camera, ph.Width, ph.Height, ph.Size, ph.File)
}
