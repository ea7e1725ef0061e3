package plane

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"fettlebook/assess/gauge"
)

// Area is an area in square millimetres.
type Area float64

// Figure is a length with its uncertainty: with 95 % confidence the true one lies
// within ±Plus of it.
type Figure struct{ Value, Plus gauge.Length }

// AreaFigure is an area with its uncertainty, as [Figure].
type AreaFigure struct{ Value, Plus Area }

// Figures are what an outline measures.
type Figures struct {
	Area      AreaFigure
	Perimeter Figure
	// Chord is the largest distance between two places of the outline. On a
	// cylinder it is taken along the surface.
	Chord Figure
	// Diameter is that of the circle with the same area.
	Diameter Figure
}

// seed makes the draws the same every time.
const seed = 20261

func newDraws() *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }

// Length returns the length of a line through two places of the photo or more,
// corner by corner, on a surface.
func (s *Scale) Length(line []Point, on Surface, pick Picking) (Figure, error) {
	if len(line) < 2 {
		return Figure{}, ErrTooFew
	}
	values, err := s.repeat(line, false, on, pick, func(at []Point) []float64 {
		return []float64{pathLength(at)}
	})
	if err != nil {
		return Figure{}, fmt.Errorf("this line can't be measured: %w", err)
	}
	return values[0].length(), nil
}

// ErrTooFew says that a line has no length.
var ErrTooFew = fmt.Errorf("a line needs two places")

func pathLength(at []Point) (sum float64) {
	for i := 1; i < len(at); i++ {
		sum += at[i].Distance(at[i-1])
	}
	return sum
}

// Outline returns the figures of an outline on a surface. One that crosses itself
// is refused ([ErrCrosses]), since its area has no one meaning.
func (s *Scale) Outline(g Polygon, on Surface, pick Picking) (Figures, error) {
	if err := g.Check(); err != nil {
		return Figures{}, err
	}
	hull := g.hull()
	values, err := s.repeat(g, true, on, pick, func(at []Point) []float64 {
		area := Polygon(at).Area()
		return []float64{area, Polygon(at).Perimeter(), chord(at, hull), 2 * math.Sqrt(area/math.Pi)}
	})
	if err != nil {
		return Figures{}, fmt.Errorf("this outline can't be measured: %w", err)
	}
	return Figures{
		Area:      AreaFigure{Area(values[0].value), Area(values[0].plus)},
		Perimeter: values[1].length(), Chord: values[2].length(), Diameter: values[3].length(),
	}, nil
}

// drawn is a value with the 95th percentile of how far the draws lie from it.
type drawn struct{ value, plus float64 }

func (d drawn) length() Figure { return Figure{gauge.Length(d.value), gauge.Length(d.plus)} }

// repeat measures once as picked, then again and again as it might have been. Each
// draw moves the places, the reference and the surface.
func (s *Scale) repeat(points []Point, closed bool, on Surface, pick Picking, measure func([]Point) []float64) ([]drawn, error) {
	if s == nil || s.draw == nil {
		return nil, ErrNoScale
	}
	for _, p := range points {
		if !p.finite() {
			return nil, ErrNotFinite
		}
	}
	if err := on.check(s.now); err != nil {
		return nil, err
	}
	at := make([]Point, len(points))
	if err := on.laid(s.now, points, at); err != nil {
		return nil, err
	}
	var results []drawn
	for _, v := range measure(at) {
		results = append(results, drawn{value: v})
	}
	pick = pick.usable()
	rnd := newDraws()
	shaken, away := make([]Point, len(points)), make([][]float64, len(results))
	s.views(rnd, pick, draws, func(v view) {
		if closed {
			pick.shakenOutline(rnd, points, shaken)
		} else {
			pick.shakenLine(rnd, points, shaken)
		}
		if on.drawn(rnd, pick).laid(v, shaken, at) != nil {
			return
		}
		for i, value := range measure(at) {
			away[i] = append(away[i], math.Abs(value-results[i].value))
		}
	})
	for i := range results {
		plus, err := percentile95(away[i])
		if err != nil {
			return nil, err
		}
		results[i].plus = plus
	}
	return results, nil
}

// Why a measurement has no figure.
var (
	ErrNoScale  = fmt.Errorf("the photo has no scale; give it a known length or a rectangle, or read shares in percent only")
	ErrUnsteady = fmt.Errorf("the measurement hangs on the last pixel of the reference; use a larger reference, or pick it more closely")
)

// percentile95 wants nine draws of ten to have given something: what fails more
// often has no interval that could be stated.
func percentile95(away []float64) (float64, error) {
	if len(away) < draws*9/10 {
		return 0, ErrUnsteady
	}
	slices.Sort(away)
	return away[int(math.Ceil(0.95*float64(len(away))))-1], nil
}

// shakenOutline moves corners, and the whole line outwards or inwards.
func (p Picking) shakenOutline(rnd *rand.Rand, g Polygon, to []Point) {
	moved := make([]Point, len(g))
	grown(g, p.Offset*rnd.NormFloat64(), moved)
	p.shakenLine(rnd, moved, to)
}

// chord is the largest distance between two of the corners that are named.
func chord(at []Point, named []int) (largest float64) {
	for i, a := range named {
		for _, b := range named[i+1:] {
			largest = max(largest, at[a].Distance(at[b]))
		}
	}
	return largest
}

// hull names the corners of the convex hull (Andrew's way): only they can end the
// largest chord. Few corners are all named, since a pick that moves may bring
// another one to the hull.
func (g Polygon) hull() []int {
	order := make([]int, len(g))
	for i := range order {
		order[i] = i
	}
	if len(g) <= 32 {
		return order
	}
	slices.SortFunc(order, func(i, j int) int {
		if g[i].X != g[j].X {
			if g[i].X < g[j].X {
				return -1
			}
			return 1
		}
		switch {
		case g[i].Y < g[j].Y:
			return -1
		case g[i].Y > g[j].Y:
			return 1
		}
		return 0
	})
	half := func() (chain []int) {
		for _, i := range order {
			for len(chain) >= 2 && cross(g[chain[len(chain)-1]].Minus(g[chain[len(chain)-2]]), g[i].Minus(g[chain[len(chain)-1]])) <= 0 {
				chain = chain[:len(chain)-1]
			}
			chain = append(chain, i)
		}
		return chain[:len(chain)-1]
	}
	lower := half()
	slices.Reverse(order)
	return append(lower, half()...)
}
