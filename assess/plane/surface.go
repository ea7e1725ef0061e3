package plane

import (
	"errors"
	"math"
	"math/rand/v2"

	"fettlebook/assess/gauge"
)

// Surface is where the measured thing lies: a flat face parallel to the
// reference's plane, or a cylinder. The zero value is the plane itself.
type Surface struct {
	// Height is that of the face above the reference's plane, towards the camera,
	// true within ±Bound. For a cylinder it is that of its axis: minus half the
	// diameter where the reference lies on top of it.
	Height, Bound gauge.Length
	// Diameter is that of a cylinder, true within ±DiameterTolerance; 0 for a flat
	// face.
	Diameter, DiameterTolerance gauge.Length
	// AxisA and AxisB are two places on the photo in the middle between the
	// cylinder's two silhouettes. The axis is taken to lie parallel to the
	// reference's plane.
	AxisA, AxisB Point
}

// Why a surface can't be measured on.
var (
	ErrNoAxis    = errors.New("a cylinder needs two places on its axis, apart from one another")
	ErrOff       = errors.New("the outline leaves the cylinder as it is seen; keep it inside the silhouettes")
	ErrTooHigh   = errors.New("the surface would be as high as the camera; check the height")
	errBadHeight = errors.New("the surface's height, its bound, or its diameter is no length")
)

// cylinder tells whether the surface is one.
func (s Surface) cylinder() bool { return s.Diameter != 0 }

// flatPlane tells whether the surface surely is the reference's plane.
func (s Surface) flatPlane() bool { return !s.cylinder() && s.Height == 0 && s.Bound == 0 }

func (s Surface) check(v view) error {
	for _, l := range []gauge.Length{s.Height, s.Bound, s.Diameter, s.DiameterTolerance} {
		if math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) {
			return errBadHeight
		}
	}
	switch {
	case s.Bound < 0 || s.Diameter < 0 || s.DiameterTolerance < 0:
		return errBadHeight
	case s.cylinder() && !(s.AxisA.Distance(s.AxisB) >= 1):
		return ErrNoAxis
	case s.flatPlane():
		return nil
	case !(v.height > 0):
		return ErrNoCamera
	case float64(s.Height+s.Bound+s.Diameter/2) >= v.height:
		return ErrTooHigh
	}
	return nil
}

// drawn draws what the surface may be within its bounds.
func (s Surface) drawn(rnd *rand.Rand, pick Picking) Surface {
	if rnd == nil {
		return s
	}
	s.Height += s.Bound * gauge.Length(uniform(rnd))
	if s.cylinder() {
		s.Diameter += s.DiameterTolerance * gauge.Length(uniform(rnd))
		axis := []Point{s.AxisA, s.AxisB}
		pick.shaken(rnd, []Point{s.AxisA, s.AxisB}, axis)
		s.AxisA, s.AxisB = axis[0], axis[1]
	}
	return s
}

// laid maps places on the photo to millimetres on the surface; a cylinder is
// unrolled, x along its axis.
func (s Surface) laid(v view, points, to []Point) error {
	if s.cylinder() {
		return s.unrolled(v, points, to)
	}
	f, ok := v.raised(float64(s.Height))
	if !ok {
		return ErrNoCamera
	}
	for i, p := range points {
		to[i] = v.toPlane.Map(p).Times(f)
		if !to[i].finite() {
			return ErrNotFinite
		}
	}
	return nil
}

// unrolled follows the ray from the lens through each place of the plane to the
// near side of the cylinder.
//
// Across the axis, with the lens at (0, H) and the axis at (a, z), the ray through
// the plane's place q is (q·k, H·(1 − k)); it meets the circle where
//
//	(q·k − a)² + (H·(1 − k) − z)² = r²
//
// and the smaller k is nearer to the lens.
func (s Surface) unrolled(v view, points, to []Point) error {
	lens, z, r := v.height, float64(s.Height), float64(s.Diameter)/2
	drop := 1 - z/lens // to the height of the axis
	atAxis := func(p Point) Point { return v.toPlane.Map(p).Minus(v.foot).Times(drop) }
	a, b := atAxis(s.AxisA), atAxis(s.AxisB)
	length := a.Distance(b)
	if !(length > 0) || !(r > 0) || !(drop > 0) {
		return ErrNoAxis
	}
	along := b.Minus(a).Times(1 / length)
	across := Point{-along.Y, along.X}
	away := across.X*a.X + across.Y*a.Y
	for i, p := range points {
		q := v.toPlane.Map(p).Minus(v.foot)
		x, y := q.X*along.X+q.Y*along.Y, q.X*across.X+q.Y*across.Y
		up := lens - z
		qa, qb, qc := y*y+lens*lens, y*away+lens*up, away*away+up*up-r*r
		under := qb*qb - qa*qc
		if !(under > 0) {
			return ErrOff
		}
		k := (qb - math.Sqrt(under)) / qa
		angle := math.Atan2(y*k-away, lens*(1-k)-z)
		to[i] = Point{x * k, r * angle}
	}
	return nil
}
