package assess

import (
	"fmt"
	"strconv"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// knownOn is what is of known size on a photo: the newest. It has no known size where
// there is none.
func knownOn(r *record.Record, photo record.ID) (known record.Outline) {
	for _, o := range record.InOrder(r.Outlines) {
		if o.Photo == photo && o.Known != (record.Known{}) {
			known = o
		}
	}
	return known
}

// scaleOf makes a photo's scale of what is of known size on it; nil where nothing is.
func scaleOf(r *record.Record, known record.Outline) (*plane.Scale, error) {
	k := known.Known
	if k == (record.Known{}) {
		return nil, nil
	}
	sizes, err := lengthsOf(map[string]string{
		"length": k.Length, "width": k.Width, "height": k.Height, "tolerance": k.Tolerance, "distance": k.Distance,
	})
	if err != nil {
		return nil, fmt.Errorf("the scale of the photo: %w", err)
	}
	p := r.Photos[known.Photo]
	camera := plane.Camera{Width: float64(p.Width), Height: float64(p.Height), Distance: sizes["distance"]}
	if p.Focal35 > 0 {
		camera.Focal = plane.FocalFrom35(float64(p.Focal35), camera.Width, camera.Height)
	}
	points := pointsOf(known)
	rectangle := plane.KnownRectangle{Width: sizes["width"], Height: sizes["height"], Tolerance: sizes["tolerance"]}
	var scale *plane.Scale
	switch {
	case known.Shape == record.Line && len(points) >= 2:
		scale, err = plane.ScaleByLength(plane.KnownLength{
			A: points[0], B: points[len(points)-1], Length: sizes["length"], Tolerance: sizes["tolerance"], Tilt: degrees(k.Tilt),
		}, camera)
	case known.Shape == record.Edges && len(points) == 8:
		for i := range rectangle.Edges {
			rectangle.Edges[i] = points[2*i : 2*i+2]
		}
		scale, err = plane.ScaleByRectangle(rectangle, camera)
	case known.Shape == record.Polygon && len(points) == 4:
		rectangle.Corners = [4]plane.Point(points)
		scale, err = plane.ScaleByRectangle(rectangle, camera)
	default:
		err = fmt.Errorf("a line, four corners or four edges can be a scale; outline %d is none of them", known.Number)
	}
	if err != nil {
		return nil, fmt.Errorf("the scale of the photo: %w", err)
	}
	return scale, nil
}

// degrees reads an angle as typed; the record has checked its form.
func degrees(text string) float64 {
	d, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil {
		return 0
	}
	return d
}

// CheckScale tells whether an outline of something of known size gives its photo a
// scale, and from how far the lens looked at it: 0 where nothing tells.
func CheckScale(r *record.Record, outline record.ID) (lens gauge.Length, err error) {
	scale, err := scaleOf(r, r.Outlines[outline])
	if err != nil || scale == nil {
		return 0, err
	}
	lens, _ = scale.Lens()
	return lens, nil
}

// typed is a length as it was typed, with its unit.
func typed(length string) string { return gauge.WithUnit(length, gauge.Millimetre) }

// within tells the bound of what was typed, "" where there is none.
func within(bound string) string {
	if bound == "" {
		return ""
	}
	return " ± " + typed(bound)
}

// scaleSays names what is of known size, with its size.
func scaleSays(k record.Known) string {
	says := cmpOr(k.What, "a known size") + ", "
	if k.Length != "" {
		says += typed(k.Length)
	} else {
		says += typed(k.Width) + " × " + typed(k.Height)
	}
	return says + cmpOr(within(k.Tolerance), ", taken as exact")
}

func tiltSays(tilt string) string {
	if tilt == "" {
		return fmt.Sprintf("looked at within %d° of square, as is usual", plane.UsualTilt)
	}
	return fmt.Sprintf("looked at within %s° of square", tilt)
}

// LiesSays tells how a surface lies to the plane of the scale.
func LiesSays(l record.Lies) string {
	switch {
	case l.Diameter != "":
		return fmt.Sprintf("on a cylinder of %s%s, its axis %s%s above the scale",
			typed(l.Diameter), within(l.Tolerance), cmpOr(typed(l.Height), "0 mm"), within(l.Bound))
	case l.Height != "":
		return fmt.Sprintf("%s%s above the scale", typed(l.Height), within(l.Bound))
	case l.Bound != "":
		return fmt.Sprintf("within %s of the plane of the scale", typed(l.Bound))
	}
	return "taken to lie in the plane of the scale"
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
