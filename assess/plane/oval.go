package plane

import "math"

// The fewest and the most corners that an oval is drawn with.
const fewestOval, mostOval = 16, 720

// Oval returns the ellipse in the box between two opposite corners as a polygon
// whose edges stay within tolerance of the curve (at least 16 and at most 720
// corners, a multiple of four, so that the four ends of the axes are among them).
// It starts at the right and runs clockwise as seen on the photo.
func Oval(a, b Point, tolerance float64) Polygon { return AppendOval(nil, a, b, tolerance) }

// AppendOval is [Oval] into a slice that is used again.
func AppendOval(to []Point, a, b Point, tolerance float64) []Point {
	rx, ry := math.Abs(b.X-a.X)/2, math.Abs(b.Y-a.Y)/2
	centre := a.Plus(b).Times(0.5)
	n := ovalCorners(max(rx, ry), tolerance)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		to = append(to, Point{centre.X + rx*cos, centre.Y + ry*sin})
	}
	return to
}

// ovalCorners has the sagitta r·(1 − cos(π/n)) of each edge within tolerance.
func ovalCorners(r, tolerance float64) int {
	if !(tolerance > 0) || !(r > tolerance) {
		return fewestOval
	}
	n := math.Ceil(math.Pi / math.Acos(1-tolerance/r))
	return min(max((int(min(n, mostOval))+3)/4*4, fewestOval), mostOval)
}
