package report

import (
	"errors"
	"fmt"

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
		p.pictureOf(ph) // the caption says whether it is there
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
	pic := p.pictureOf(ph)
	if p.err != nil {
		return box
	}
	if pic == nil {
		return p.missing(ph, box)
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

// pictureOf returns a photo's picture; nil for one that can't be had, of which the
// person who asked for the report is told once.
func (p *pages) pictureOf(ph photo) *pdf.Picture {
	if p.gone[ph.File] != nil {
		return nil
	}
	var none error
	pic, err := p.doc.Picture(p.ctx, fmt.Sprintf("photo %d (%s)", ph.Number, ph.Name), ph.File, func() ([]byte, error) {
		view, err := p.order.Preview(p.ctx, record.Hash(ph.File))
		if err != nil && p.ctx.Err() == nil {
			none = err
			return nil, pdf.ErrNoPicture
		}
		return view, err
	})
	if none == nil {
		p.err = err
		return pic
	}
	p.gone[ph.File] = none
	if p.order.Missed != nil {
		p.order.Missed(ph.Photo, none)
	}
	return nil
}

// missing keeps the place of a photo that can't be printed: which it was stays on
// record.
func (p *pages) missing(ph photo, box pdf.Rect) pdf.Rect {
	box.H = 20
	p.page.Rect(box, pdf.Paint{Fill: inkPaper, Stroke: inkRule, Width: 0.15})
	says := "Original missing: "
	if !errors.Is(p.gone[ph.File], ErrMissing) {
		says = "Original can't be read: "
	}
	lines := p.doc.Wrap(strong, says+ph.Name, box.W-6)
	y := p.page.Lines(box.X+3, box.Y+3, box.W-6, strong, pdf.Left, lines[:min(len(lines), 2)])
	p.page.Lines(box.X+3, y+1, box.W-6, tiny, pdf.Left, p.doc.Wrap(tiny, "SHA-256: "+ph.File, box.W-6))
	return box
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
	printed := "\nPrinted here is a reduced view of the original."
	if p.gone[ph.File] != nil {
		printed = ""
	}
	return says + fmt.Sprintf("\n%s · %s · %d × %d pixels, %d bytes\nSHA-256 of the original: %s%s",
		ph.Name, camera, ph.Width, ph.Height, ph.Size, ph.File, printed)
}
