package ui

import (
	"math"

	"fettlebook/assess/inspection"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// ShownOutline is one outline over the photo.
type ShownOutline struct {
	ID      record.ID
	Number  int
	Outline record.Outline
	Verdict term.Verdict
	// Faint draws the outline thinly: it shows another part's finding.
	Faint bool
}

// outlineShape is an outline by its places on the shown photo.
type outlineShape struct {
	ShownOutline
	// corners are a polygon's, or two opposite ones of the box round an oval, or two
	// places along each of four edges.
	corners []plane.Point
	// line and area are for finding what was clicked on.
	line plane.Polygon
	area float64
}

func newOutlineShape(o ShownOutline, photo record.Photo) outlineShape {
	s := outlineShape{ShownOutline: o}
	corners := make([]plane.Point, len(o.Outline.Points))
	for i, p := range o.Outline.Points {
		corners[i].X, corners[i].Y = inspection.Shown(photo, p)
	}
	s.setCorners(corners)
	return s
}

func (s *outlineShape) oval() bool { return s.Outline.Shape == record.Oval && len(s.corners) == 2 }

func (s *outlineShape) spot() bool { return s.Outline.Shape == record.Spot && len(s.corners) == 1 }

// closed reports whether its last corner meets its first.
func (s *outlineShape) closed() bool { return s.Outline.Shape != record.Line }

// setCorners takes corners over; they are not changed afterwards.
func (s *outlineShape) setCorners(corners []plane.Point) {
	s.corners = corners
	s.line = s.rim(corners)
	if s.oval() {
		s.line = plane.Oval(corners[0], corners[1], 0.25)
	}
	s.area = s.line.Area()
}

// rim is the line through corners as it is drawn: that of edges runs through the
// corners in which they meet.
func (s *outlineShape) rim(corners []plane.Point) []plane.Point {
	if s.Outline.Shape != record.Edges {
		return corners
	}
	return plane.Rectangle(corners)
}

// handles appends the places by which the outline is reshaped: a polygon's corners,
// or the four of the box round an oval. A spot has none: it is moved as a whole.
func (s *outlineShape) handles(to []plane.Point) []plane.Point {
	if s.spot() {
		return to
	}
	if !s.oval() {
		return append(to, s.corners...)
	}
	a, b := s.corners[0], s.corners[1]
	return append(to, a, plane.Point{X: b.X, Y: a.Y}, b, plane.Point{X: a.X, Y: b.Y})
}

// dragged returns the corners with one handle elsewhere.
func (s *outlineShape) dragged(handle int, to plane.Point) []plane.Point {
	corners := append([]plane.Point(nil), s.corners...)
	if !s.oval() {
		corners[handle] = to
		return corners
	}
	switch handle {
	case 0:
		corners[0] = to
	case 1:
		corners[1].X, corners[0].Y = to.X, to.Y
	case 2:
		corners[1] = to
	case 3:
		corners[0].X, corners[1].Y = to.X, to.Y
	}
	return corners
}

// moved returns the corners moved, no further than the photo's edges.
func (s *outlineShape) moved(by, photo plane.Point) []plane.Point {
	low, high := plane.Polygon(s.corners).Bounds()
	by = by.Within(plane.Point{}.Minus(low), photo.Minus(high))
	corners := make([]plane.Point, len(s.corners))
	for i, c := range s.corners {
		corners[i] = c.Plus(by)
	}
	return corners
}

// distance is how far p is from the line, in pixels of the photo.
func (s *outlineShape) distance(p plane.Point) float64 {
	return plane.NearestOn(s.line, s.closed(), p).Distance
}

// anchor is where the number stands: the first corner, or upper left on an oval;
// away points from the middle of the outline outwards, with a length of 1.
func (s *outlineShape) anchor() (at, away plane.Point) {
	if len(s.corners) == 0 {
		return plane.Point{}, plane.Point{Y: -1}
	}
	low, high := plane.Polygon(s.corners).Bounds()
	middle := low.Plus(high).Times(0.5)
	at = s.corners[0]
	if s.oval() {
		at = middle.Plus(low.Minus(middle).Times(math.Sqrt2 / 2))
	}
	length := at.Distance(middle)
	if length == 0 {
		return at, plane.Point{Y: -1}
	}
	return at, at.Minus(middle).Times(1 / length)
}
