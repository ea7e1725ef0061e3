package plane

import (
	"errors"
	"fmt"
	"math"
)

// Why points give no homography.
var (
	ErrCollinear = errors.New("three of the four corners lie in one line; pick the corners of the rectangle again")
	ErrOrder     = errors.New("the corners are not in order round the rectangle; pick them one after the other along its edge")
)

// Homography maps one plane to another as a camera does: straight lines stay
// straight. The zero value maps nothing.
type Homography struct{ m [9]float64 }

// FitHomography finds the homography that takes each of four places to the one with
// the same index. Three of them in one line are refused ([ErrCollinear]), corners
// out of order too ([ErrOrder]).
func FitHomography(from, to [4]Point) (Homography, error) {
	for i := range from {
		if !from[i].finite() || !to[i].finite() {
			return Homography{}, ErrNotFinite
		}
	}
	if !spread(from) || !spread(to) {
		return Homography{}, ErrCollinear
	}
	fromUnit, a := unitScaled(from)
	toUnit, b := unitScaled(to)
	h, err := fourPoints(fromUnit, toUnit)
	if err != nil {
		return Homography{}, err
	}
	back, err := b.Inverse()
	if err != nil {
		return Homography{}, ErrCollinear
	}
	h = back.after(h).after(a).scaled()
	return h, h.check(from[:])
}

// check refuses a map whose horizon runs through the points.
func (h Homography) check(from []Point) error {
	sign := 0.0
	for _, p := range from {
		w := h.m[6]*p.X + h.m[7]*p.Y + h.m[8]
		if math.IsNaN(w) || w == 0 || sign*w < 0 {
			return ErrOrder
		}
		sign = w
	}
	return nil
}

// Map returns where p comes to lie. On the horizon and for the zero value that
// is no finite place.
func (h Homography) Map(p Point) Point {
	w := h.m[6]*p.X + h.m[7]*p.Y + h.m[8]
	return Point{(h.m[0]*p.X + h.m[1]*p.Y + h.m[2]) / w, (h.m[3]*p.X + h.m[4]*p.Y + h.m[5]) / w}
}

// Inverse returns the homography that goes back.
func (h Homography) Inverse() (Homography, error) {
	m := h.m
	inv := Homography{[9]float64{
		m[4]*m[8] - m[5]*m[7], m[2]*m[7] - m[1]*m[8], m[1]*m[5] - m[2]*m[4],
		m[5]*m[6] - m[3]*m[8], m[0]*m[8] - m[2]*m[6], m[2]*m[3] - m[0]*m[5],
		m[3]*m[7] - m[4]*m[6], m[1]*m[6] - m[0]*m[7], m[0]*m[4] - m[1]*m[3],
	}}
	det := m[0]*inv.m[0] + m[1]*inv.m[3] + m[2]*inv.m[6]
	if det == 0 || math.IsNaN(det) || math.IsInf(det, 0) {
		return Homography{}, fmt.Errorf("the plane is seen from its edge: %w", ErrCollinear)
	}
	return inv.scaled(), nil
}

// after is g first, h after it.
func (h Homography) after(g Homography) (to Homography) {
	for r := range 3 {
		for c := range 3 {
			for k := range 3 {
				to.m[3*r+c] += h.m[3*r+k] * g.m[3*k+c]
			}
		}
	}
	return to
}

func (h Homography) scaled() Homography {
	f := h.m[8]
	if math.Abs(f) < 1e-300 {
		return h
	}
	for i := range h.m {
		h.m[i] /= f
	}
	return h
}

// spread tells whether no three of four points lie in one line.
func spread(points [4]Point) bool {
	low, high := Polygon(points[:]).Bounds()
	least := 1e-6 * low.Distance(high)
	for skip := range points {
		a, b, c := points[(skip+1)%4], points[(skip+2)%4], points[(skip+3)%4]
		longest := max(a.Distance(b), b.Distance(c), c.Distance(a))
		if longest == 0 || math.Abs(cross(b.Minus(a), c.Minus(a)))/longest <= least {
			return false
		}
	}
	return true
}

// unitScaled moves points about the origin and makes their mean distance from it
// √2, so that the equations lose no digits.
func unitScaled(points [4]Point) (scaled [4]Point, by Homography) {
	var centre Point
	for _, p := range points {
		centre = centre.Plus(p.Times(0.25))
	}
	mean := 0.0
	for _, p := range points {
		mean += p.Distance(centre) / 4
	}
	f := math.Sqrt2 / mean
	for i, p := range points {
		scaled[i] = p.Minus(centre).Times(f)
	}
	return scaled, Homography{[9]float64{f, 0, -f * centre.X, 0, f, -f * centre.Y, 0, 0, 1}}
}

// fourPoints solves
//
//	u·(g·x + h·y + 1) = a·x + b·y + c,   v·(g·x + h·y + 1) = d·x + e·y + f
func fourPoints(from, to [4]Point) (Homography, error) {
	var a [8][9]float64
	for i := range from {
		x, y, u, v := from[i].X, from[i].Y, to[i].X, to[i].Y
		a[2*i] = [9]float64{x, y, 1, 0, 0, 0, -u * x, -u * y, u}
		a[2*i+1] = [9]float64{0, 0, 0, x, y, 1, -v * x, -v * y, v}
	}
	// Elimination in place: this is done a thousand times for one outline.
	for c := range 8 {
		pivot := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[pivot][c]) {
				pivot = r
			}
		}
		a[c], a[pivot] = a[pivot], a[c]
		if math.Abs(a[c][c]) < 1e-12 {
			return Homography{}, ErrOrder // the horizon runs through the middle
		}
		for r := range 8 {
			if r == c {
				continue
			}
			f := a[r][c] / a[c][c]
			for k := c; k < 9; k++ {
				a[r][k] -= f * a[c][k]
			}
		}
	}
	h := Homography{[9]float64{8: 1}}
	for c := range 8 {
		h.m[c] = a[c][8] / a[c][c]
	}
	return h, nil
}
