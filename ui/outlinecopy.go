package ui

import (
	"fmt"
	"path/filepath"
	"slices"

	"fettlebook/assess/inspection"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// copiedOutline is an outline that was copied, by its places on the photo as that
// was shown. The clipboard carries only text: mark is what stands there for it, so
// that a text copied since is not mistaken for an outline.
type copiedOutline struct {
	mark    string
	from    record.ID // the photo
	number  int
	shape   record.Shape
	corners []plane.Point
	width   float64
	height  float64
	finding record.ID
	face    record.Face
}

// pasteAside is how far from the one it was copied of an outline comes to lie on
// the same photo, as a share of the photo's width.
const pasteAside = 0.02

// copyOutline takes the chosen outline along.
func (v *viewer) copyOutline() {
	r := v.p.n.Record()
	o, ok := r.Outlines[v.photoView.Selected()]
	if !ok {
		v.photoView.tell("Choose the outline that is to be copied.")
		return
	}
	if o.Shape == record.Edges {
		v.photoView.tell("A scale belongs to its photo: draw the edges anew on the other one.")
		return
	}
	p := r.Photos[o.Photo]
	c := copiedOutline{
		mark: fmt.Sprintf("outline %d of photo %d (%s)", o.Number, p.Number, r.Unit.Says()),
		from: o.Photo, number: o.Number, shape: o.Shape, finding: o.Finding, face: o.Face, corners: make([]plane.Point, len(o.Points)),
	}
	for i, at := range o.Points {
		c.corners[i].X, c.corners[i].Y = inspection.Shown(p, at)
	}
	width, height := inspection.ShownSize(p)
	c.width, c.height = float64(width), float64(height)
	v.copied = c
	v.p.f.app.Clipboard().SetContent(c.mark)
	v.photoView.tell(fmt.Sprintf("Outline %d is copied. Ctrl+V puts it on the photo that is shown.", o.Number))
}

// paste puts on the photo what was copied: an outline, or photo files by their
// paths.
func (v *viewer) paste() {
	text := v.p.f.app.Clipboard().Content()
	if v.copied.mark != "" && text == v.copied.mark {
		v.pasteOutline(v.copied)
		return
	}
	paths := pathsIn(text)
	if len(paths) == 0 || slices.ContainsFunc(paths, func(path string) bool { return !filepath.IsAbs(path) }) {
		v.photoView.tell("On the clipboard is neither an outline nor the path of a photo.")
		return
	}
	v.p.attach(paths)
}

// pasteOutline puts a copied outline on the photo that is shown: a little aside of
// the first one on the same photo, at the same place of another. It shows the same
// finding, or the same zone of a surface.
func (v *viewer) pasteOutline(c copiedOutline) {
	p, ok := v.record()
	if !ok || !v.p.editable() {
		return
	}
	width, height := inspection.ShownSize(p)
	size := plane.Point{X: float64(width), Y: float64(height)}
	corners := make([]plane.Point, len(c.corners))
	for i, at := range c.corners {
		corners[i] = plane.Point{X: at.X * size.X / c.width, Y: at.Y * size.Y / c.height}
	}
	if c.from == v.shown {
		corners = aside(corners, size)
	}
	o := record.Outline{Photo: v.shown, Shape: c.shape, Points: make([]record.Point, len(corners))}
	for i, at := range corners {
		o.Points[i] = inspection.StoredPoint(p, at.X, at.Y)
	}
	says := "it shows no finding yet: F enters one"
	if f, ok := v.p.n.Record().Findings[c.finding]; ok {
		o.Finding = c.finding
		says = fmt.Sprintf("it shows finding %d as well", f.Number)
	} else if _, ok := v.p.n.Record().Parts[c.face.Part]; ok {
		o.Face = c.face
		says = fmt.Sprintf("it is the %s of %s too", term.Plain(c.face.Zone), v.p.saysSubject(record.Subject{Part: c.face.Part, Surface: c.face.Surface}))
	}
	id, err := v.p.n.AddOutline(o)
	if !v.p.tried("The outline was not put there.", err) {
		return
	}
	v.photoView.SetTool(PointTool)
	v.showTool()
	v.p.refresh()
	v.photoView.Select(id)
	v.photoView.tell(fmt.Sprintf("Outline %d is a copy of %d; %s.", v.p.n.Record().Outlines[id].Number, c.number, says))
	v.p.f.focus(v.photoView)
}

// aside moves corners down to the right, or up to the left where there is no room.
func aside(corners []plane.Point, photo plane.Point) []plane.Point {
	low, high := plane.Polygon(corners).Bounds()
	step := pasteAside * photo.X
	by := plane.Point{X: step, Y: step}
	if high.X+step > photo.X {
		by.X = -min(step, low.X)
	}
	if high.Y+step > photo.Y {
		by.Y = -min(step, low.Y)
	}
	for i := range corners {
		corners[i] = corners[i].Plus(by)
	}
	return corners
}
