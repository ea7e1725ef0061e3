package exchange

import (
	"path/filepath"
	"slices"
	"strings"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// frame is how a photo lies before another program's eyes: its size in pixels and
// the way from the stored pixels to there.
type frame struct {
	width, height float64
	turn          turn
	// stored size, in pixels
	w, h float64
}

// turn is the linear part of the way: x = a·x + b·y, y = c·x + d·y.
type turn struct{ a, b, c, d float64 }

// turns are those of the orientations 1 to 8 of EXIF.
var turns = [...]turn{
	{1, 0, 0, 1}, {-1, 0, 0, 1}, {-1, 0, 0, -1}, {1, 0, 0, -1},
	{0, 1, 1, 0}, {0, -1, 1, 0}, {0, -1, -1, 0}, {0, 1, -1, 0},
}

func orientation(n int) turn {
	if n < 1 || n > len(turns) {
		n = 1
	}
	return turns[n-1]
}

// then is t first, u after it.
func (t turn) then(u turn) turn {
	return turn{u.a*t.a + u.b*t.c, u.a*t.b + u.b*t.d, u.c*t.a + u.d*t.c, u.c*t.b + u.d*t.d}
}

// stored is the photo as its file holds it.
func stored(p record.Photo) frame { return framed(p, orientation(1)) }

// opened is the photo as programs show it that heed the file's own turn.
func opened(p record.Photo) frame { return framed(p, orientation(p.Orientation)) }

// shown is the photo as this program shows it.
func shown(p record.Photo) frame {
	t := orientation(p.Orientation)
	for range (p.Turned/90%4 + 4) % 4 {
		t = t.then(orientation(6))
	}
	return framed(p, t)
}

func framed(p record.Photo, t turn) frame {
	f := frame{turn: t, w: float64(p.Width), h: float64(p.Height)}
	f.width, f.height = f.w, f.h
	if t.a == 0 {
		f.width, f.height = f.h, f.w
	}
	return f
}

// at maps a place in hundredths of a stored pixel to pixels of the frame.
func (f frame) at(p plane.Point) plane.Point {
	x, y := p.X/100, p.Y/100
	to := plane.Point{X: f.turn.a*x + f.turn.b*y, Y: f.turn.c*x + f.turn.d*y}
	if f.turn.a+f.turn.b < 0 {
		to.X += f.width
	}
	if f.turn.c+f.turn.d < 0 {
		to.Y += f.height
	}
	return to
}

// points returns an outline's places in the frame; an oval as a polygon that stays
// within a quarter of a pixel, edges as the corners in which they meet.
func (f frame) points(o record.Outline) []plane.Point {
	var at []plane.Point
	for _, p := range o.Points {
		at = append(at, plane.Point{X: float64(p[0]), Y: float64(p[1])})
	}
	if o.Shape == record.Oval && len(at) == 2 {
		at = plane.Oval(at[0], at[1], 25)
	}
	if o.Shape == record.Edges {
		at = plane.Rectangle(at)
	}
	for i, p := range at {
		at[i] = f.at(p)
	}
	return at
}

// closed tells whether an outline encloses an area.
func closed(o record.Outline) bool {
	return o.Shape == record.Polygon || o.Shape == record.Oval || o.Shape == record.Edges
}

// isHEIC tells a photo that every program turns while it decodes.
func isHEIC(p record.Photo) bool {
	return slices.Contains([]string{".heic", ".heif", ".hif"}, strings.ToLower(filepath.Ext(p.Name)))
}
