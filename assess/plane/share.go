package plane

import (
	"fmt"
	"math"

	"github.com/peterstace/simplefeatures/geom"
)

// Share is how much of a face is damaged.
type Share struct {
	// Damaged is the damaged area within the face, Face that of the face. Both are
	// the zero value where the photo has no scale.
	Damaged, Face AreaFigure
	// Percent is Damaged of Face, within ±PercentPlus with 95 % confidence.
	Percent, PercentPlus float64
}

// shareDraws are fewer than for one outline: each joins and cuts polygons.
const shareDraws = 200

// ShareOf returns how much of a face lies under damage that several outlines show,
// counted once where they overlap. All lie on one surface. Without a scale (nil)
// there is the percentage only, as the photo shows it: true where the face is seen
// square on and flat. Outlines that cross themselves are refused ([ErrCrosses]).
func (s *Scale) ShareOf(damage []Polygon, face Polygon, on Surface, pick Picking) (Share, error) {
	if err := face.Check(); err != nil {
		return Share{}, fmt.Errorf("the face's outline: %w", err)
	}
	for i, g := range damage {
		if err := g.Check(); err != nil {
			return Share{}, fmt.Errorf("outline %d of the damage: %w", i+1, err)
		}
	}
	outlines := append([]Polygon{face}, damage...)
	if s == nil {
		return shareWithoutScale(outlines, pick.usable())
	}
	if s.draw == nil {
		return Share{}, ErrNoScale
	}
	if err := on.check(s.now); err != nil {
		return Share{}, fmt.Errorf("the share of the face can't be measured: %w", err)
	}
	var values [3]drawn
	var away [3][]float64
	err := shareOnce(outlines, func(g, to Polygon) error { return on.laid(s.now, g, to) }, func(v [3]float64) {
		for i := range values {
			values[i].value = v[i]
		}
	})
	if err != nil {
		return Share{}, fmt.Errorf("the share of the face can't be measured: %w", err)
	}
	pick = pick.usable()
	rnd := newDraws()
	s.views(rnd, pick, shareDraws, func(v view) {
		surface := on.drawn(rnd, pick)
		lay := func(g, to Polygon) error {
			shaken := make(Polygon, len(g))
			pick.shakenOutline(rnd, g, shaken)
			return surface.laid(v, shaken, to)
		}
		// A draw that crosses itself has no area; the others tell.
		_ = shareOnce(outlines, lay, func(v [3]float64) {
			for i := range away {
				away[i] = append(away[i], math.Abs(v[i]-values[i].value))
			}
		})
	})
	for i := range values {
		if values[i].plus, err = percentileOfShares(away[i]); err != nil {
			return Share{}, err
		}
	}
	return Share{
		Damaged: AreaFigure{Area(values[0].value), Area(values[0].plus)},
		Face:    AreaFigure{Area(values[1].value), Area(values[1].plus)},
		Percent: values[2].value, PercentPlus: values[2].plus,
	}, nil
}

func shareWithoutScale(outlines []Polygon, pick Picking) (Share, error) {
	var share Share
	keep := func(g, to Polygon) error { copy(to, g); return nil }
	if err := shareOnce(outlines, keep, func(v [3]float64) { share.Percent = v[2] }); err != nil {
		return Share{}, err
	}
	rnd := newDraws()
	var away []float64
	for range shareDraws {
		shake := func(g, to Polygon) error { pick.shakenOutline(rnd, g, to); return nil }
		_ = shareOnce(outlines, shake, func(v [3]float64) { away = append(away, math.Abs(v[2]-share.Percent)) })
	}
	var err error
	share.PercentPlus, err = percentileOfShares(away)
	return share, err
}

// percentileOfShares is the 95th percentile; half of the draws may have crossed
// themselves, as narrow outlines do.
func percentileOfShares(away []float64) (float64, error) {
	if len(away) < shareDraws/2 {
		return 0, ErrUnsteady
	}
	for len(away) < draws*9/10 {
		away = append(away, away...)
	}
	return percentile95(away)
}

// shareOnce lays the face (first) and the damage, and hands on the damaged area,
// the face's, and the percentage.
func shareOnce(outlines []Polygon, lay func(g, to Polygon) error, use func([3]float64)) error {
	laid := make([]geom.Geometry, len(outlines))
	for i, g := range outlines {
		to := make(Polygon, len(g))
		if err := lay(g, to); err != nil {
			return err
		}
		one, err := to.geometry()
		if err != nil {
			return err
		}
		laid[i] = one
	}
	face := laid[0]
	all, err := geom.UnionMany(laid[1:])
	if err != nil {
		return fmt.Errorf("the outlines of the damage can't be joined: %w", err)
	}
	common, err := geom.Intersection(face, all)
	if err != nil {
		return fmt.Errorf("the overlap of damage and face can't be found: %w", err)
	}
	damaged, whole := common.Area(), face.Area()
	use([3]float64{damaged, whole, 100 * damaged / whole})
	return nil
}

// geometry is the outline as the library of geometry takes it. One that crosses
// itself is refused ([ErrCrosses]), since its area has no one meaning.
func (g Polygon) geometry() (geom.Geometry, error) {
	if err := g.Check(); err != nil {
		return geom.Geometry{}, err
	}
	xy := make([]float64, 0, 2*len(g)+2)
	for i := range len(g) + 1 {
		p := g[i%len(g)]
		xy = append(xy, p.X, p.Y)
	}
	polygon := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))})
	return polygon.AsGeometry(), nil
}
