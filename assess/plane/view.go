package plane

import (
	"errors"
	"math"
	"math/rand/v2"

	"fettlebook/assess/gauge"
)

// Camera is what is known of the camera that took a photo. The zero value is
// none of it.
type Camera struct {
	// Width and Height are the photo's size in pixels, as it is shown. The lens is
	// taken to look at its middle.
	Width, Height float64
	// Focal is the focal length in pixels; 0 where it is not known. Cameras record
	// it as the focal length f35 of a 35 mm camera with the same view: then it is
	// f35/43.27 of the photo's diagonal, see [FocalFrom35].
	Focal float64
	// Distance is the lens's distance from the reference's plane, square to it; 0
	// where nobody measured it. It may be off by ±DistanceTolerance, or by a tenth
	// where that is 0.
	Distance, DistanceTolerance gauge.Length
}

// FocalFrom35 returns the focal length in pixels of a photo whose camera recorded
// the focal length of a 35 mm camera with the same view, in millimetres.
func FocalFrom35(f35, width, height float64) float64 {
	const diagonal = 43.2666 // of 36 × 24 mm
	return f35 / diagonal * math.Hypot(width, height)
}

// How far a recorded focal length may be off (crops, close focus), and what it is
// of the photo's diagonal where none is recorded: 22 to 70 mm of a 35 mm camera.
const (
	focalTolerance = 0.05
	widestFocal    = 22 / 43.2666
	longestFocal   = 70 / 43.2666
)

// ErrNoCamera says that a height can't be allowed for.
var ErrNoCamera = errors.New("a height above the reference's plane needs the camera's distance, or the photo's size and focal length")

// view is one way in which the photo may have been taken: places on the photo to
// millimetres on the reference's plane, and where the lens was over that plane.
type view struct {
	toPlane Homography
	foot    Point   // of the lens on the plane, mm
	height  float64 // of the lens above the plane, mm; 0 where not known
}

// focal draws a focal length; without rnd it is the likeliest.
func (c Camera) focal(rnd *rand.Rand) float64 {
	diagonal := math.Hypot(c.Width, c.Height)
	switch {
	case c.Focal > 0 && rnd == nil:
		return c.Focal
	case c.Focal > 0:
		return c.Focal * (1 + focalTolerance*uniform(rnd))
	case rnd == nil:
		return diagonal * math.Sqrt(widestFocal*longestFocal)
	}
	return diagonal * widestFocal * math.Pow(longestFocal/widestFocal, rnd.Float64())
}

// distance draws the lens's height where somebody measured it.
func (c Camera) distance(rnd *rand.Rand) (float64, bool) {
	d := float64(c.Distance)
	if !(d > 0) {
		return 0, false
	}
	if rnd == nil {
		return d, true
	}
	tolerance := float64(c.DistanceTolerance)
	if !(tolerance > 0) {
		tolerance = d / 10
	}
	return max(d+tolerance*uniform(rnd), d/100), true
}

// uniform draws from −1 to 1.
func uniform(rnd *rand.Rand) float64 { return 2*rnd.Float64() - 1 }

// placed finds the lens from the homography of the plane and the focal length.
//
// With K = diag(f, f, 1), the columns of K⁻¹·H are r₁, r₂ and t up to one factor:
// the plane's axes and its origin as the camera sees them.
func (c Camera) placed(toPlane Homography, rnd *rand.Rand) (v view) {
	v.toPlane = toPlane
	if measured, ok := c.distance(rnd); ok {
		defer func() { v.height = measured }()
	}
	f := c.focal(rnd)
	h, err := toPlane.Inverse()
	if err != nil || !(f > 0) {
		return v
	}
	cx, cy := c.Width/2, c.Height/2
	var col [3][3]float64
	for k := range 3 {
		col[k] = [3]float64{(h.m[k] - cx*h.m[6+k]) / f, (h.m[3+k] - cy*h.m[6+k]) / f, h.m[6+k]}
	}
	scale := 2 / (norm(col[0]) + norm(col[1]))
	if col[2][2] < 0 {
		scale = -scale
	}
	r1, t := times(col[0], 1/norm(col[0])), times(col[2], scale)
	if scale < 0 {
		r1 = times(r1, -1)
	}
	r2 := times(col[1], scale)
	r2 = minus(r2, times(r1, dot(r1, r2)))
	r2 = times(r2, 1/norm(r2))
	r3 := vector(r1, r2)
	v.foot = Point{-dot(r1, t), -dot(r2, t)}
	v.height = math.Abs(dot(r3, t))
	return v
}

// raised returns the factor by which lengths on a surface at height h above the
// plane differ from what the plane's scale makes of them, and whether the lens's
// height is known. From wherever the lens looks, that factor is the same for every
// place and direction: 1 − h/H.
func (v view) raised(h float64) (float64, bool) {
	if h == 0 {
		return 1, true
	}
	if !(v.height > 0) || h >= v.height {
		return 1, false
	}
	return 1 - h/v.height, true
}

func norm(a [3]float64) float64 { return math.Sqrt(dot(a, a)) }

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func times(a [3]float64, f float64) [3]float64 { return [3]float64{a[0] * f, a[1] * f, a[2] * f} }

func minus(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func vector(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
