package spec

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Point is a place in a profile, in millimetres: X to the right, Y down.
type Point struct{ X, Y float64 }

// Use says how a path is drawn.
type Use string

// The uses of a path.
const (
	// Solid is a body: filled, with a thick outline.
	Solid Use = "solid"
	// Cut is a body that is cut open: filled, hatched, with a thick outline.
	Cut Use = "cut"
	// Hole is an opening in what was drawn before it.
	Hole Use = "hole"
	// Edge, ThinLine, CentreLine and HiddenLine are lines only.
	Edge       Use = "edge"
	ThinLine   Use = "thin"
	CentreLine Use = "centre"
	HiddenLine Use = "hidden"
)

// UnmarshalText reads the use of a path.
func (u *Use) UnmarshalText(text []byte) error {
	return oneOf(u, "use of a path", []Use{Solid, Cut, Hole, Edge, ThinLine, CentreLine, HiddenLine}, text)
}

// Area reports whether the path encloses something, so that it must close.
func (u Use) Area() bool { return u == Solid || u == Cut || u == Hole }

// Path is one line of a profile: by D or as a circle. A band that tells a
// verdict runs outside a body, inside a hole, and to the left of the way of a
// line.
type Path struct {
	// D is a line in the words of SVG's path data, with a short form for arcs:
	// "M x y" begins, "L x y", "H x" and "V y" go on straight, "A r x y" by the
	// shorter arc of radius r, clockwise as seen where r is above 0, and "Z" closes.
	D string `toml:"d"`
	// Circle is the middle's x and y, and the diameter.
	Circle  []float64 `toml:"circle"`
	As      Use       `toml:"as"`
	Surface string    `toml:"surface"`
	// Around draws it so many times round 0, 0; Copies so many times in a row,
	// each a Step of x and y further; Mirror once more, turned over at y = 0.
	Around int       `toml:"around"`
	Copies int       `toml:"copies"`
	Step   []float64 `toml:"step"`
	Mirror bool      `toml:"mirror"`
	// Hatch leans the hatching of a cut body to the left; without it, it leans to
	// the right. Two bodies that touch lean to different sides.
	Hatch Side `toml:"hatch"`
}

// Line is a path of straight pieces. A closed one does not repeat its first point.
type Line struct {
	Points []Point
	Closed bool
}

// sagitta is how far a chord may lie off its arc, in mm of the part.
const sagitta = 0.015

// Lines returns the path with its copies, arcs as chords.
func (p *Path) Lines() ([]Line, error) {
	one, err := p.line()
	if err != nil {
		return nil, err
	}
	lines := []Line{one}
	if p.Copies > 1 && len(p.Step) == 2 {
		for i := 1; i < p.Copies; i++ {
			dx, dy := p.Step[0]*float64(i), p.Step[1]*float64(i)
			lines = append(lines, one.mapped(func(q Point) Point { return Point{q.X + dx, q.Y + dy} }))
		}
	}
	row := lines
	for i := 1; i < p.Around; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(p.Around))
		for _, l := range row {
			lines = append(lines, l.mapped(func(q Point) Point { return Point{q.X*cos - q.Y*sin, q.X*sin + q.Y*cos} }))
		}
	}
	if p.Mirror {
		for _, l := range lines[:len(lines):len(lines)] {
			turned := l.mapped(func(q Point) Point { return Point{q.X, -q.Y} })
			// Its air stays on the left of its way.
			for i, j := 0, len(turned.Points)-1; i < j; i, j = i+1, j-1 {
				turned.Points[i], turned.Points[j] = turned.Points[j], turned.Points[i]
			}
			lines = append(lines, turned)
		}
	}
	return lines, nil
}

func (l Line) mapped(to func(Point) Point) Line {
	next := Line{Points: make([]Point, len(l.Points)), Closed: l.Closed}
	for i, q := range l.Points {
		next.Points[i] = to(q)
	}
	return next
}

func (p *Path) line() (Line, error) {
	if (p.D == "") == (len(p.Circle) == 0) {
		return Line{}, errors.New("needs either d or circle")
	}
	if p.D != "" {
		return parseLine(p.D)
	}
	if len(p.Circle) != 3 || p.Circle[2] <= 0 {
		return Line{}, errors.New("circle wants x, y and a diameter above 0")
	}
	x, y, r := p.Circle[0], p.Circle[1], p.Circle[2]/2
	l := Line{Closed: true}
	n := chords(r, 2*math.Pi)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		l.Points = append(l.Points, Point{x + r*cos, y + r*sin})
	}
	return l, nil
}

// chords returns into how many an arc is cut, an angle in radians.
func chords(r, angle float64) int {
	step := math.Pi / 6
	if r > sagitta {
		step = min(step, 2*math.Acos(1-sagitta/r))
	}
	return max(2, min(180, int(math.Ceil(math.Abs(angle)/step))))
}

// maxPieces is how many pieces a line may have.
const maxPieces = 400

func parseLine(d string) (Line, error) {
	r := lineReader{words: strings.Fields(strings.ReplaceAll(d, ",", " "))}
	if len(r.words) > 4*maxPieces {
		return Line{}, fmt.Errorf("d has more than %d words", 4*maxPieces)
	}
	if len(r.words) == 0 || r.words[0] != "M" {
		return Line{}, errors.New("d begins with M and a point")
	}
	for len(r.words) > 0 && r.err == nil {
		r.piece()
	}
	if r.err != nil {
		return Line{}, r.err
	}
	if n := len(r.line.Points); n > 1 && near(r.line.Points[0], r.line.Points[n-1]) {
		r.line.Points, r.line.Closed = r.line.Points[:n-1], true
	}
	if len(r.line.Points) < 2 {
		return Line{}, errors.New("d goes nowhere")
	}
	return r.line, nil
}

type lineReader struct {
	words []string
	line  Line
	err   error
}

func (r *lineReader) piece() {
	word := r.words[0]
	r.words = r.words[1:]
	if r.line.Closed {
		r.err = errors.New("d goes on after Z")
		return
	}
	if word == "M" {
		if len(r.line.Points) > 0 {
			r.err = errors.New("d begins anew; that is another path")
			return
		}
		r.line.Points = append(r.line.Points, Point{r.number(), r.number()})
		return
	}
	at := r.line.Points[len(r.line.Points)-1]
	switch word {
	case "L":
		r.to(Point{r.number(), r.number()})
	case "H":
		r.to(Point{r.number(), at.Y})
	case "V":
		r.to(Point{at.X, r.number()})
	case "A":
		radius := r.number()
		r.arc(at, radius, Point{r.number(), r.number()})
	case "Z":
		r.line.Closed = true
		if n := len(r.line.Points); n > 1 && near(r.line.Points[0], at) {
			r.line.Points = r.line.Points[:n-1]
		}
	default:
		r.err = fmt.Errorf("%q is not known in d; known are: M, L, H, V, A, Z", word)
	}
}

func (r *lineReader) to(p Point) {
	if at := r.line.Points[len(r.line.Points)-1]; !near(at, p) {
		r.line.Points = append(r.line.Points, p)
	}
}

// arc goes to b by the shorter arc, clockwise where the radius is above 0.
func (r *lineReader) arc(a Point, radius float64, b Point) {
	half := math.Hypot(b.X-a.X, b.Y-a.Y) / 2
	if r.err != nil || half < 1e-6 {
		return
	}
	size := math.Abs(radius)
	if size < half*(1-1e-6) {
		r.err = fmt.Errorf("an arc of radius %g can't reach over %g", size, 2*half)
		return
	}
	// The middle of the circle lies to the right of the way where it turns
	// clockwise on a page whose Y points down.
	rise := math.Sqrt(max(0, size*size-half*half))
	if radius < 0 {
		rise = -rise
	}
	ux, uy := (b.X-a.X)/(2*half), (b.Y-a.Y)/(2*half)
	c := Point{(a.X+b.X)/2 - uy*rise, (a.Y+b.Y)/2 + ux*rise}
	from := math.Atan2(a.Y-c.Y, a.X-c.X)
	turn := 2 * math.Asin(min(1, half/size))
	if radius < 0 {
		turn = -turn
	}
	n := chords(size, turn)
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(from + turn*float64(i)/float64(n))
		r.to(Point{c.X + size*cos, c.Y + size*sin})
	}
	r.to(b)
}

func (r *lineReader) number() float64 {
	if r.err != nil {
		return 0
	}
	if len(r.words) == 0 {
		r.err = errors.New("d ends where a number should follow")
		return 0
	}
	n, err := strconv.ParseFloat(r.words[0], 64)
	if err != nil || math.IsNaN(n) || math.Abs(n) > maxSize {
		r.err = fmt.Errorf("%q in d is no number of mm", r.words[0])
		return 0
	}
	r.words = r.words[1:]
	return n
}

func near(a, b Point) bool { return math.Abs(a.X-b.X) < 1e-6 && math.Abs(a.Y-b.Y) < 1e-6 }
