package gauge

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// GapPoint is the gap between a blocking ring and its gear at one point of the
// ring, by feeler or otherwise.
type GapPoint struct {
	Gap Measured
	// Angle is where round the ring, in degrees.
	Angle float64
}

// RingGap is the gap round a blocking ring that is pressed home on its cone.
type RingGap struct {
	// Least is the gap at the point that decides, At its angle.
	Least Measured
	At    float64
	// Mean is the gap in the middle of the ring, Tilt how much more of it one side
	// has than the other, and High where it is widest, in degrees.
	Mean, Tilt Length
	High       float64
	// Tilted says that the points differ by more than their uncertainty explains:
	// press the ring home evenly and measure again, or look for a bent ring.
	Tilted  bool
	Verdict Verdict
}

// leastPoints are needed round a ring: two can't tell tilt from gap.
const leastPoints = 3

// SpacedEvenly gives points round a ring in equal steps from 0 degrees.
func SpacedEvenly(gaps ...Measured) []GapPoint {
	points := make([]GapPoint, len(gaps))
	for i, g := range gaps {
		points[i] = GapPoint{Gap: g, Angle: 360 * float64(i) / float64(len(gaps))}
	}
	return points
}

// SynchroGap holds the gap at three points or more against its minimum; the
// narrowest decides.
func SynchroGap(points []GapPoint, minimum Length, rule Rule) (RingGap, error) {
	if len(points) < leastPoints {
		return RingGap{}, bad("gap", "was measured at %d points; three or more round the ring are needed", len(points))
	}
	if err := positive("limit of the gap", minimum); err != nil {
		return RingGap{}, err
	}
	for i, p := range points {
		field := fmt.Sprintf("gap at point %d", i+1)
		if err := first(p.Gap.Check(field), notNegative(field, p.Gap.Value), within("angle of point "+itoa(i+1), p.Angle, -360, 360)); err != nil {
			return RingGap{}, err
		}
		for _, other := range points[:i] {
			if turn := math.Abs(math.Remainder(p.Angle-other.Angle, 360)); turn < 1 {
				return RingGap{}, bad("angle of point "+itoa(i+1), "%g° was measured already; take another place on the ring", p.Angle)
			}
		}
	}
	var out RingGap
	out.Least, out.At = points[0].Gap, points[0].Angle
	most := points[0].Gap
	for _, p := range points[1:] {
		if lowEnd(p.Gap) < lowEnd(out.Least) {
			out.Least, out.At = p.Gap, p.Angle
		}
		if lowEnd(p.Gap) > lowEnd(most) {
			most = p.Gap
		}
	}
	var err error
	if out.Verdict, err = rule.Decide(AtLeast(minimum), out.Least); err != nil {
		return RingGap{}, err
	}
	out.tilt(points)
	out.Tilted = differ(out.Least, most)
	return out, nil
}

// lowEnd orders points that are intervals by what they are at the least.
func lowEnd(m Measured) Length {
	if m.Open == Below {
		return 0
	}
	return m.Value - m.Half
}

// differ reports whether two gaps are proven to differ: their intervals at 95 %
// stand apart.
func differ(small, large Measured) bool {
	su, _ := small.gauss()
	lu, _ := large.gauss()
	if small.Open == Above || large.Open == Below {
		return false
	}
	apart := large.Value - large.Half - (small.Value + small.Half)
	return float64(apart) > 1.96*math.Hypot(su, lu)
}

// tilt lays a plane through the points: gap = mean + c·cos + s·sin. Where they do
// not span one, the tilt stays zero.
func (out *RingGap) tilt(points []GapPoint) {
	a := mat.NewDense(len(points), 3, nil)
	b := mat.NewVecDense(len(points), nil)
	for i, p := range points {
		a.SetRow(i, []float64{1, math.Cos(p.Angle * degree), math.Sin(p.Angle * degree)})
		b.SetVec(i, float64(p.Gap.Value))
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		var sum Length
		for _, p := range points {
			sum += p.Gap.Value
		}
		out.Mean = sum / Length(len(points))
		return
	}
	out.Mean = Length(x.AtVec(0))
	out.Tilt = Length(2 * math.Hypot(x.AtVec(1), x.AtVec(2)))
	if high := math.Atan2(x.AtVec(2), x.AtVec(1)) / degree; out.Tilt > 1e-9 {
		out.High = math.Mod(high+360, 360)
	}
}

func itoa(n int) string { return fmt.Sprint(n) }
