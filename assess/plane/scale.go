package plane

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"fettlebook/assess/gauge"
)

// KnownLength is a length that a photo shows: two marks of a steel rule.
type KnownLength struct {
	A, B Point
	// Length is between the marks, true within ±Tolerance.
	Length, Tolerance gauge.Length
	// Tilt is the most that the camera may have looked askew at the rule's plane,
	// in degrees; [UsualTilt] where it is 0. A rule alone does not show it, and it
	// makes all that lies in another direction, or nearer to the camera, seem
	// shorter or longer.
	Tilt float64
}

// UsualTilt is how far from square a careful hand holds a camera, in degrees.
const UsualTilt = 10

// mostTilt is beyond what one length can give a scale for.
const mostTilt = 45

// KnownRectangle is a rectangle that a photo shows at an angle: a card, a square
// gauge block.
type KnownRectangle struct {
	// Corners are in order round the rectangle; from the first to the second runs
	// the Width. They are not looked at where Edges are given.
	Corners [4]Point
	// Edges are points picked along the four edges, edge 0 between corners 0 and 1,
	// and so on; for rectangles with rounded corners. Nil where Corners are given.
	Edges [4][]Point
	// Width and Height are true within ±Tolerance each.
	Width, Height, Tolerance gauge.Length
}

// byEdges tells whether edges were picked.
func (r KnownRectangle) byEdges() bool { return r.Edges[0] != nil }

// Why a reference gives no scale.
var (
	ErrNoLength = errors.New("the reference needs a length above 0, and a tolerance below it")
	ErrTooNear  = errors.New("the two ends of the known length lie in one place; pick them again")
	ErrTilt     = errors.New("a length gives no scale at a tilt over 45°; use a rectangle")
)

// Scale turns places on one photo into millimetres on the plane of a reference,
// with an uncertainty. It is made by [ScaleByLength] or [ScaleByRectangle]; the
// zero value is none.
//
// Uncertainties are found by drawing: the whole measurement is done again 1000
// times, each time with other picks, another true size of the reference, another
// tilt, focal length, distance and height, all within what is known of them. Picks
// are drawn from a normal distribution; whatever is known by its bounds only is
// drawn evenly between them. The seed is fixed, so that the same outline
// always has the same figure. Linearising would do for a line on a card; for a tilt
// that can only make things shorter, or the chord of an outline, it would not.
type Scale struct {
	camera Camera
	draw   func(rnd *rand.Rand, pick Picking) (Homography, error)
	now    view
}

// draws is how often a measurement is done again. The bound of the interval is
// then good to about 4 %.
const draws = 1000

// ScaleByLength makes a scale of a known length. The photo's size must be known,
// since how much a tilt matters hangs on the focal length.
func ScaleByLength(known KnownLength, camera Camera) (*Scale, error) {
	if err := sizes(known.Tolerance, known.Length); err != nil {
		return nil, err
	}
	if !known.A.finite() || !known.B.finite() {
		return nil, ErrNotFinite
	}
	if known.A.Distance(known.B) < 1 {
		return nil, ErrTooNear
	}
	if known.Tilt == 0 {
		known.Tilt = UsualTilt
	}
	if !(known.Tilt > 0 && known.Tilt <= mostTilt) {
		return nil, ErrTilt
	}
	if !(camera.Width > 0 && camera.Height > 0) {
		return nil, fmt.Errorf("the photo's size is not known: %w", ErrNoCamera)
	}
	s := &Scale{camera: camera}
	s.draw = func(rnd *rand.Rand, pick Picking) (Homography, error) { return known.drawn(rnd, pick, camera) }
	return s, s.settle()
}

// drawn looks along each ray at a plane that is tilted, and makes the plane as far
// away as the known length wants it.
func (k KnownLength) drawn(rnd *rand.Rand, pick Picking, camera Camera) (Homography, error) {
	ends, length, tilt, towards := []Point{k.A, k.B}, float64(k.Length), 0.0, 0.0
	if rnd != nil {
		pick.shaken(rnd, []Point{k.A, k.B}, ends)
		length += float64(k.Tolerance) * uniform(rnd)
		tilt = k.Tilt * math.Pi / 180 * math.Sqrt(rnd.Float64())
		towards = 2 * math.Pi * rnd.Float64()
	}
	f := camera.focal(rnd)
	sin, cos := math.Sincos(tilt)
	sinTo, cosTo := math.Sincos(towards)
	// n is square to the plane, e1 and e2 lie in it.
	n := [3]float64{sin * cosTo, sin * sinTo, cos}
	e1 := minus([3]float64{1, 0, 0}, times(n, n[0]))
	e1 = times(e1, 1/norm(e1))
	e2 := vector(n, e1)
	var h Homography
	cx, cy := camera.Width/2, camera.Height/2
	for r, row := range [3][3]float64{e1, e2, n} {
		h.m[3*r], h.m[3*r+1] = row[0]/f, row[1]/f
		h.m[3*r+2] = row[2] - (row[0]*cx+row[1]*cy)/f
	}
	shown := h.Map(ends[0]).Distance(h.Map(ends[1]))
	if !(shown > 0) || math.IsInf(shown, 0) {
		return h, ErrTooNear
	}
	for i := range 6 {
		h.m[i] *= length / shown
	}
	return h.scaled(), h.check(ends)
}

// ScaleByRectangle makes a scale of a known rectangle. The photo's size may be left
// out; then no height above the rectangle's plane can be allowed for, unless the
// camera's distance is known.
func ScaleByRectangle(known KnownRectangle, camera Camera) (*Scale, error) {
	if err := sizes(known.Tolerance, known.Width, known.Height); err != nil {
		return nil, err
	}
	s := &Scale{camera: camera}
	s.draw = known.drawn
	return s, s.settle()
}

func (r KnownRectangle) drawn(rnd *rand.Rand, pick Picking) (Homography, error) {
	corners, w, h := r.Corners, float64(r.Width), float64(r.Height)
	edges := r.Edges
	if rnd != nil {
		pick.shaken(rnd, r.Corners[:], corners[:])
		for i, points := range r.Edges {
			edges[i] = make([]Point, len(points))
			pick.shaken(rnd, points, edges[i])
		}
		w += float64(r.Tolerance) * uniform(rnd)
		h += float64(r.Tolerance) * uniform(rnd)
	}
	if r.byEdges() {
		var err error
		if corners, err = CornersOf(edges); err != nil {
			return Homography{}, err
		}
	}
	return FitHomography(corners, [4]Point{{0, 0}, {w, 0}, {w, h}, {0, h}})
}

func sizes(tolerance gauge.Length, lengths ...gauge.Length) error {
	for _, l := range lengths {
		if !(l > 0) || math.IsInf(float64(l), 0) || !(tolerance >= 0 && tolerance < l) {
			return ErrNoLength
		}
	}
	return nil
}

// settle finds the likeliest view, and with it whether there is a scale at all.
func (s *Scale) settle() error {
	h, err := s.draw(nil, Picking{})
	if err != nil {
		return fmt.Errorf("no scale: %w", err)
	}
	s.now = s.camera.placed(h, nil)
	return nil
}

// Lens returns how far the lens was from the reference's plane, square to it, and
// false where nothing tells it. From the focal length it is good to about a tenth.
func (s *Scale) Lens() (gauge.Length, bool) { return gauge.Length(s.now.height), s.now.height > 0 }

// views draws ways in which the photo may have been taken. Draws that give no
// scale are left out.
func (s *Scale) views(rnd *rand.Rand, pick Picking, n int, use func(view)) int {
	used := 0
	for range n {
		h, err := s.draw(rnd, pick)
		if err != nil {
			continue
		}
		use(s.camera.placed(h, rnd))
		used++
	}
	return used
}
