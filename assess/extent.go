package assess

import (
	"fmt"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// Extent is how large a finding is on one photo. A length from a photo never
// decides a limit.
type Extent struct {
	// Photo is the number of the photo.
	Photo int
	// HasScale says that something of known size is on the photo, Scale what it is.
	HasScale bool
	Scale    string
	// Figures are of the largest outline of the finding there, where there is a scale.
	Figures plane.Figures
	// HasShare says that the face is outlined too: Share is how much of it all
	// outlines of the finding take.
	HasShare bool
	Share    plane.Share
	// Err says why it can't be measured.
	Err error
}

// Extents measures a finding on each photo on which it is outlined as an area, in
// the order of the photos' numbers.
func Extents(r *record.Record, finding record.ID) []Extent {
	f, ok := r.Findings[finding]
	if !ok {
		return nil
	}
	var out []Extent
	for id, photo := range record.InOrder(r.Photos) {
		var shapes []plane.Polygon
		var lies record.Lies
		for _, o := range record.InOrder(r.Outlines) {
			if o.Photo == id && o.Finding == finding && (o.Shape == record.Polygon || o.Shape == record.Oval) {
				shapes = append(shapes, polygonOf(o))
				lies = o.Lies
			}
		}
		if len(shapes) == 0 {
			continue
		}
		face, faced := faceOn(r, id, f)
		if faced && lies == (record.Lies{}) {
			lies = face.Lies
		}
		if x := extent(r, id, photo, shapes, lies, face, faced); x.HasScale || x.HasShare || x.Err != nil {
			out = append(out, x)
		}
	}
	return out
}

// LineLength measures a line on the photo's scale. ok is false where the photo has
// none, or where the line is the scale itself.
func LineLength(r *record.Record, outline record.ID) (length plane.Figure, ok bool, err error) {
	o := r.Outlines[outline]
	if o.Shape != record.Line || o.Known != (record.Known{}) {
		return plane.Figure{}, false, nil
	}
	scale, _, err := scaleOf(r, o.Photo)
	if scale == nil || err != nil {
		return plane.Figure{}, false, err
	}
	on, err := surfaceOf(o.Lies)
	if err != nil {
		return plane.Figure{}, false, err
	}
	length, err = scale.Length(pointsOf(o), on, plane.UsualPicking)
	return length, err == nil, err
}

func extent(r *record.Record, id record.ID, photo record.Photo, shapes []plane.Polygon, lies record.Lies, face record.Outline, faced bool) Extent {
	x := Extent{Photo: photo.Number}
	scale, what, err := scaleOf(r, id)
	if err != nil {
		x.Err = err
		return x
	}
	on, err := surfaceOf(lies)
	if err != nil {
		x.Err = err
		return x
	}
	if scale != nil {
		x.HasScale, x.Scale = true, what
		for _, g := range shapes {
			figures, err := scale.Outline(g, on, plane.UsualPicking)
			if err != nil {
				x.Err = err
				return x
			}
			if figures.Area.Value > x.Figures.Area.Value {
				x.Figures = figures
			}
		}
	}
	if faced {
		x.Share, x.Err = scale.ShareOf(shapes, polygonOf(face), on, plane.UsualPicking)
		x.HasShare = x.Err == nil
	}
	return x
}

// faceOn finds the outline of the zone in which a finding lies.
func faceOn(r *record.Record, photo record.ID, f record.Finding) (found record.Outline, ok bool) {
	for _, o := range record.InOrder(r.Outlines) {
		if o.Photo == photo && o.Face == (record.Face{Part: f.Part, Surface: f.Surface, Zone: f.Zone}) {
			found, ok = o, true
		}
	}
	return found, ok
}

// scaleOf makes the scale of a photo from what is of known size on it: the newest.
// It is nil where there is none.
func scaleOf(r *record.Record, photo record.ID) (scale *plane.Scale, what string, err error) {
	var known record.Outline
	for _, o := range record.InOrder(r.Outlines) {
		if o.Photo == photo && o.Known != (record.Known{}) {
			known = o
		}
	}
	k := known.Known
	if k == (record.Known{}) {
		return nil, "", nil
	}
	sizes, err := lengthsOf(map[string]string{
		"length": k.Length, "width": k.Width, "height": k.Height, "tolerance": k.Tolerance, "distance": k.Distance,
	})
	if err != nil {
		return nil, "", fmt.Errorf("the scale of the photo: %w", err)
	}
	p := r.Photos[photo]
	camera := plane.Camera{Width: float64(p.Width), Height: float64(p.Height), Distance: sizes["distance"]}
	if p.Focal35 > 0 {
		camera.Focal = plane.FocalFrom35(float64(p.Focal35), camera.Width, camera.Height)
	}
	points := pointsOf(known)
	what = cmpOr(k.What, "a known size")
	if k.Length != "" && len(points) >= 2 {
		scale, err = plane.ScaleByLength(plane.KnownLength{A: points[0], B: points[len(points)-1], Length: sizes["length"], Tolerance: sizes["tolerance"]}, camera)
	} else if len(points) == 4 {
		scale, err = plane.ScaleByRectangle(plane.KnownRectangle{Corners: [4]plane.Point(points), Width: sizes["width"], Height: sizes["height"], Tolerance: sizes["tolerance"]}, camera)
	}
	if err != nil {
		return nil, "", fmt.Errorf("the scale of the photo: %w", err)
	}
	return scale, what, nil
}

// surfaceOf reads how a surface lies to the plane of the scale.
func surfaceOf(l record.Lies) (plane.Surface, error) {
	sizes, err := lengthsOf(map[string]string{"height": l.Height, "bound": l.Bound, "diameter": l.Diameter, "tolerance": l.Tolerance})
	if err != nil {
		return plane.Surface{}, err
	}
	return plane.Surface{
		Height: sizes["height"], Bound: sizes["bound"], Diameter: sizes["diameter"], DiameterTolerance: sizes["tolerance"],
		AxisA: pointOf(l.Axis[0]), AxisB: pointOf(l.Axis[1]),
	}, nil
}

// lengthsOf reads lengths as typed; an empty text is zero.
func lengthsOf(texts map[string]string) (map[string]gauge.Length, error) {
	sizes := make(map[string]gauge.Length, len(texts))
	for name, text := range texts {
		if text == "" {
			continue
		}
		l, err := gauge.ParseLength(text, gauge.Millimetre)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		sizes[name] = l
	}
	return sizes, nil
}

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
