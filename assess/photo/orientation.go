package photo

import "fmt"

// Orientation says how a stored picture is turned or mirrored to see it
// upright, in the numbers of EXIF: 1 to 8.
type Orientation int

// The orientations, each named by what makes the stored picture upright.
// Turns are clockwise.
const (
	Normal     Orientation = 1
	FlipH      Orientation = 2 // mirror left and right
	Turn180    Orientation = 3
	FlipV      Orientation = 4 // mirror top and bottom
	Transpose  Orientation = 5 // mirror on the diagonal from the top left
	Turn90     Orientation = 6
	Transverse Orientation = 7 // mirror on the diagonal from the top right
	Turn270    Orientation = 8
)

// Valid tells whether o is one of the eight. Every other value acts as
// Normal.
func (o Orientation) Valid() bool { return o >= Normal && o <= Turn270 }

// matrix is the linear part of o: upright x = a·x + b·y, y = c·x + d·y, from
// the middle of the picture.
type matrix struct{ a, b, c, d int }

var matrices = [...]matrix{
	{1, 0, 0, 1}, // for whatever is not valid
	Normal:       {1, 0, 0, 1},
	FlipH:        {-1, 0, 0, 1},
	Turn180:      {-1, 0, 0, -1},
	FlipV:        {1, 0, 0, -1},
	Transpose:    {0, 1, 1, 0},
	Turn90:       {0, -1, 1, 0},
	Transverse:   {0, -1, -1, 0},
	Turn270:      {0, 1, -1, 0},
}

func (o Orientation) matrix() matrix {
	if !o.Valid() {
		o = Normal
	}
	return matrices[o]
}

func (m matrix) orientation() Orientation {
	for o := Normal; o <= Turn270; o++ {
		if matrices[o] == m {
			return o
		}
	}
	return Normal // cannot be: the eight are closed under combination
}

// then is m first, n after it.
func (m matrix) then(n matrix) matrix {
	return matrix{n.a*m.a + n.b*m.c, n.a*m.b + n.b*m.d, n.c*m.a + n.d*m.c, n.c*m.b + n.d*m.d}
}

// Inverse returns the orientation that undoes o.
func (o Orientation) Inverse() Orientation {
	m := o.matrix()
	return matrix{m.a, m.c, m.b, m.d}.orientation() // a turn's transpose is its inverse
}

// Turned returns o followed by a further turn of the upright picture, as a
// user asks for it: a number of degrees clockwise that is a multiple of 90,
// also negative. Any other number is an error.
func (o Orientation) Turned(degrees int) (Orientation, error) {
	turn, ok := map[int]Orientation{0: Normal, 90: Turn90, 180: Turn180, 270: Turn270}[(degrees%360+360)%360]
	if !ok {
		return o, fmt.Errorf("rotation of %d degrees: a photo turns by 0, 90, 180 or 270 degrees; choose one of them", degrees)
	}
	return o.matrix().then(turn.matrix()).orientation(), nil
}

// Size returns the size of the upright picture, in the unit of the stored
// width and height.
func (o Orientation) Size(width, height int) (w, h int) {
	if o.matrix().a == 0 {
		return height, width
	}
	return width, height
}

// Upright maps a point of the stored picture to the upright one. x and y are
// whole hundredths of a pixel from the outer corner of the first pixel, width
// and height the size of the stored picture in pixels. It is exact, and also
// holds for points outside the picture.
func (o Orientation) Upright(x, y, width, height int) (ux, uy int) {
	m := o.matrix()
	ux, uy = m.a*x+m.b*y, m.c*x+m.d*y
	w, h := o.Size(100*width, 100*height)
	if m.a+m.b < 0 { // it counts from the far side
		ux += w
	}
	if m.c+m.d < 0 {
		uy += h
	}
	return ux, uy
}

// Stored maps a point of the upright picture back to the stored one: the
// inverse of [Orientation.Upright], with the same stored size and units.
func (o Orientation) Stored(ux, uy, width, height int) (x, y int) {
	w, h := o.Size(width, height)
	return o.Inverse().Upright(ux, uy, w, h)
}
