package assess

import (
	"fmt"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Extent is how large something is on one photo. A length from a photo never
// decides a limit.
type Extent struct {
	// Photo is the number of the photo.
	Photo int
	// HasScale says that something of known size is on the photo, Scale what it is.
	HasScale bool
	Scale    string
	// IsLine says that it is a line, of which Length is measured; else Figures are
	// of the outline, of the largest where several show the finding.
	IsLine  bool
	Length  plane.Figure
	Figures plane.Figures
	// HasShare says that the face is outlined too: Share is how much of it all
	// outlines of the finding take, Face which it is.
	HasShare bool
	Share    plane.Share
	Face     string
	// Notes tell what the figures and their uncertainty rest on: how the surface lies,
	// how the camera looked, how well places were picked.
	Notes []string
	// Err says why it can't be measured.
	Err error
}

// Extents measures a finding on each photo on which it is outlined as an area, in
// the order of the photos' numbers.
func Extents(r *record.Record, finding record.ID) []Extent {
	var out []Extent
	for id := range record.InOrder(r.Photos) {
		var shapes []record.Outline
		for _, o := range record.InOrder(r.Outlines) {
			if o.Photo == id && o.Finding == finding && finding != "" && encloses(o) {
				shapes = append(shapes, o)
			}
		}
		if len(shapes) == 0 {
			continue
		}
		if x := extent(r, shapes); x.HasScale || x.HasShare || x.Err != nil {
			out = append(out, x)
		}
	}
	return out
}

// ExtentOf measures one outline or line on its photo. ok is false where there is
// nothing to be measured: no scale and no face, a spot, or the scale itself.
func ExtentOf(r *record.Record, outline record.ID) (x Extent, ok bool) {
	o := r.Outlines[outline]
	switch {
	case o.Known != (record.Known{}):
		return Extent{}, false
	case o.Shape == record.Line:
		x = lengthOf(r, o)
	case encloses(o):
		x = extent(r, []record.Outline{o})
	}
	return x, x.HasScale || x.HasShare || x.Err != nil
}

func lengthOf(r *record.Record, o record.Outline) Extent {
	x := Extent{Photo: r.Photos[o.Photo].Number, IsLine: true}
	m, ok := x.ready(r, o)
	if !ok || m.scale == nil {
		return x
	}
	x.Length, x.Err = m.scale.Length(pointsOf(o), m.on, m.pick)
	return x
}

// extent measures outlines on one photo that show the same.
func extent(r *record.Record, shapes []record.Outline) Extent {
	first := shapes[0]
	x := Extent{Photo: r.Photos[first.Photo].Number}
	m, ok := x.ready(r, largest(shapes))
	if !ok {
		return x
	}
	damage := make([]plane.Polygon, len(shapes))
	for i, o := range shapes {
		damage[i] = polygonOf(o)
	}
	if m.scale != nil {
		for _, g := range damage {
			figures, err := m.scale.Outline(g, m.on, m.pick)
			if err != nil {
				x.Err = err
				return x
			}
			if figures.Area.Value > x.Figures.Area.Value {
				x.Figures = figures
			}
		}
	}
	if face, faced := faceOn(r, first); faced {
		x.Share, x.Err = m.scale.ShareOf(damage, polygonOf(face), m.on, m.pick)
		x.HasShare, x.Face = x.Err == nil, faceSays(r.Findings[first.Finding])
	}
	return x
}

// faceSays names the face of which a finding takes a share.
func faceSays(f record.Finding) string {
	says := term.Plain(f.Zone)
	if f.Zone == term.Elsewhere {
		says = "face"
	}
	if f.Tooth != "" {
		says += " of tooth " + f.Tooth
	}
	return says
}

// largest is the outline that encloses most of the photo.
func largest(shapes []record.Outline) record.Outline {
	best, area := shapes[0], -1.0
	for _, o := range shapes {
		if a := polygonOf(o).Area(); a > area {
			best, area = o, a
		}
	}
	return best
}

// means is what an outline is measured with; scale is nil where the photo has none.
type means struct {
	scale *plane.Scale
	on    plane.Surface
	pick  plane.Picking
}

// ready finds what an outline is measured with, and notes it.
func (x *Extent) ready(r *record.Record, o record.Outline) (m means, ok bool) {
	known := knownOn(r, o.Photo)
	if m.scale, x.Err = scaleOf(r, known); x.Err != nil {
		return m, false
	}
	lies := liesOf(r, o)
	if m.on, x.Err = surfaceOf(lies); x.Err != nil {
		return m, false
	}
	var picked string
	m.pick, picked = pickingOf(r, o.By)
	if m.scale != nil {
		x.HasScale, x.Scale = true, scaleSays(known.Known)
		if known.Known.Length != "" {
			x.Notes = append(x.Notes, tiltSays(known.Known.Tilt))
		}
		x.Notes = append(x.Notes, LiesSays(lies))
	}
	x.Notes = append(x.Notes, picked)
	return m, true
}

// faceOn finds the outline of the zone in which an outline's finding lies, on the
// same photo: the newest.
func faceOn(r *record.Record, of record.Outline) (found record.Outline, ok bool) {
	f, ok := r.Findings[of.Finding]
	if !ok {
		return found, false
	}
	ok = false
	for _, o := range record.InOrder(r.Outlines) {
		if o.Photo == of.Photo && encloses(o) && o.Face == (record.Face{Part: f.Part, Surface: f.Surface, Zone: f.Zone}) {
			found, ok = o, true
		}
	}
	return found, ok
}

// liesOf tells how what an outline shows lies: as was told of itself, else of
// another outline of the same surface on the same photo, the newest.
func liesOf(r *record.Record, of record.Outline) record.Lies {
	if of.Lies != (record.Lies{}) {
		return of.Lies
	}
	lies, surface := record.Lies{}, surfaceShown(r, of)
	for _, o := range record.InOrder(r.Outlines) {
		if o.Photo == of.Photo && o.Lies != (record.Lies{}) && surface != (record.Subject{}) && surfaceShown(r, o) == surface {
			lies = o.Lies
		}
	}
	return lies
}

// LiesOf tells how what an outline shows lies to the plane of its photo's scale.
func LiesOf(r *record.Record, outline record.ID) record.Lies { return liesOf(r, r.Outlines[outline]) }

// OnSurface returns the outlines on a photo that show the same surface as one of
// them does, that one among them; it alone where it shows none.
func OnSurface(r *record.Record, outline record.ID) []record.ID {
	of := r.Outlines[outline]
	surface := surfaceShown(r, of)
	if surface == (record.Subject{}) {
		return []record.ID{outline}
	}
	var same []record.ID
	for id, o := range record.InOrder(r.Outlines) {
		if o.Photo == of.Photo && surfaceShown(r, o) == surface {
			same = append(same, id)
		}
	}
	return same
}

// surfaceShown is the surface that an outline shows damage or a zone of.
func surfaceShown(r *record.Record, o record.Outline) record.Subject {
	if f, ok := r.Findings[o.Finding]; ok {
		return record.Subject{Part: f.Part, Surface: f.Surface}
	}
	return record.Subject{Part: o.Face.Part, Surface: o.Face.Surface}
}

// encloses tells whether an outline has an area.
func encloses(o record.Outline) bool { return o.Shape == record.Polygon || o.Shape == record.Oval }

func pointOf(p record.Point) plane.Point {
	return plane.Point{X: float64(p[0]) / 100, Y: float64(p[1]) / 100}
}

func pointsOf(o record.Outline) []plane.Point {
	points := make([]plane.Point, len(o.Points))
	for i, p := range o.Points {
		points[i] = pointOf(p)
	}
	return points
}

func polygonOf(o record.Outline) plane.Polygon {
	points := pointsOf(o)
	if o.Shape == record.Oval && len(points) == 2 {
		return plane.Oval(points[0], points[1], 0.25)
	}
	return points
}

// pickingOf tells how well somebody picks, from what they drew more than once in
// this record, and says so.
func pickingOf(r *record.Record, who string) (plane.Picking, string) {
	const usual = "usual picking error"
	if who == "" {
		return plane.UsualPicking, usual
	}
	groups, repeats := map[record.ID][]plane.Polygon{}, 0
	for _, o := range record.InOrder(r.Outlines) {
		if o.Repeats != "" && o.By == who {
			groups[o.Repeats] = append(groups[o.Repeats], polygonOf(o))
			repeats++
		}
	}
	var all [][]plane.Polygon
	for id, first := range record.InOrder(r.Outlines) {
		if group := groups[id]; len(group) > 0 {
			if first.By == who {
				group = append(group, polygonOf(first))
			}
			all = append(all, group)
		}
	}
	pick, ok := plane.PickingFrom(all...)
	switch {
	case !ok:
		return pick, usual
	case repeats == 1:
		return pick, "picking error from a repeat of " + who
	}
	return pick, fmt.Sprintf("picking error from %d repeats of %s", repeats, who)
}
