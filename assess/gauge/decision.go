package gauge

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Decision is what a reading says of a limit.
type Decision uint8

// The decisions. The zero value is CannotDecide.
const (
	CannotDecide Decision = iota
	Conforms
	DoesNotConform
)

var decisions = [...]string{"cannot be decided", "conforms", "does not conform"}

// String gives the decision in words.
func (d Decision) String() string {
	if int(d) < len(decisions) {
		return decisions[d]
	}
	return decisions[CannotDecide]
}

// Rule is by which rule a reading is decided against a limit.
type Rule uint8

// The rules. By95 takes 95 % probability on the side that is proven, a guard
// band of 1.65 u at a one-sided limit; ByU keeps the expanded uncertainty
// U at k = 2 away from the limit.
const (
	By95 Rule = iota
	ByU
)

// Name is what stands in print.
func (r Rule) Name() string {
	if r == ByU {
		return "ISO 14253-1 in its editions of 1998 and 2013 (guard band U, k = 2)"
	}
	return "ISO 14253-1:2017 with JCGM 106:2012 (95 %, guard band 1.65 u)"
}

// proven is the probability that By95 asks for.
const proven = 0.95

// twoSigma is the two-sided probability of k = 2.
var twoSigma = 2*distuv.UnitNormal.CDF(2) - 1

// Tolerance is where a length must lie, both ends included. An open end is an
// infinity.
type Tolerance struct{ Lower, Upper Length }

// AtLeast is a tolerance with a lower limit alone.
func AtLeast(l Length) Tolerance { return Tolerance{Lower: l, Upper: Length(math.Inf(1))} }

// AtMost is a tolerance with an upper limit alone.
func AtMost(l Length) Tolerance { return Tolerance{Lower: Length(math.Inf(-1)), Upper: l} }

// Between is a tolerance with two limits.
func Between(a, b Length) Tolerance { return Tolerance{Lower: a, Upper: b} }

// Middle is the middle of a tolerance with two limits.
func (t Tolerance) Middle() Length { return (t.Lower + t.Upper) / 2 }

func (t Tolerance) hasLower() bool { return !math.IsInf(float64(t.Lower), -1) }
func (t Tolerance) hasUpper() bool { return !math.IsInf(float64(t.Upper), 1) }

// Holds reports whether a length lies in the tolerance, with no regard to any
// uncertainty.
func (t Tolerance) Holds(l Length) bool { return l >= t.Lower && l <= t.Upper }

// Check refuses a tolerance that nothing can lie in. Field names it.
func (t Tolerance) Check(field string) error {
	if !t.hasLower() && !t.hasUpper() {
		return &FieldError{Field: field, Err: errors.New("has no limit; enter one")}
	}
	if t.hasLower() {
		if err := finite(field+" lower limit", t.Lower); err != nil {
			return err
		}
	}
	if t.hasUpper() {
		if err := finite(field+" upper limit", t.Upper); err != nil {
			return err
		}
	}
	if t.Lower >= t.Upper {
		return bad(field, "the lower limit %g mm is not below the upper %g mm; swap them", float64(t.Lower), float64(t.Upper))
	}
	return nil
}

// Verdict is the decision of a length against a tolerance.
type Verdict struct {
	Decision Decision
	Rule     Rule
	// Least and Most bound the probability that the length lies in the tolerance;
	// they differ only where the length is known on one side.
	Least, Most float64
	// Standard is the combined standard uncertainty, Guard what the reading must
	// keep away from a single limit to be decided.
	Standard, Guard Length
	// LargestU is the largest standard uncertainty by which this very value would
	// be decided, to the side on which it lies; zero where it lies on a limit, or
	// where the length is known on one side only.
	LargestU Length
}

// Decide decides a length against a tolerance. A length or tolerance that is
// none gives an error that names it.
func (r Rule) Decide(t Tolerance, m Measured) (Verdict, error) {
	if err := first(t.Check("limit"), m.Check("reading")); err != nil {
		return Verdict{}, err
	}
	u, dof := m.gauss()
	v := Verdict{Rule: r}
	v.Standard, _ = m.Standard()
	k := r.factor(dof)
	v.Guard = Length(k*u) + m.Half
	v.Least, v.Most = m.probability(t, u, dof)
	if m.Open == Both {
		v.LargestU = r.largest(t, m)
	}
	if r == ByU {
		v.Decision = m.byGuard(t, Length(k*u))
		return v, nil
	}
	switch {
	case v.Least >= proven:
		v.Decision = Conforms
	case m.beyond(t, u, dof) >= proven:
		v.Decision = DoesNotConform
	}
	return v, nil
}

// beyond is the probability with which the length lies beyond one of the limits,
// the same one throughout: an instrument so coarse that the length lies hardly
// ever between two limits has proven nothing of the part.
func (m Measured) beyond(t Tolerance, u, dof float64) float64 {
	_, overLower := m.probability(AtLeast(t.Lower), u, dof)
	_, underUpper := m.probability(AtMost(t.Upper), u, dof)
	return 1 - min(overLower, underUpper)
}

// factor is the guard band at a single limit in standard uncertainties.
func (r Rule) factor(dof float64) float64 {
	switch {
	case r == ByU && normal(dof):
		return 2
	case r == ByU:
		return Coverage(twoSigma, dof)
	case normal(dof):
		return z95
	}
	return quantile(proven, dof)
}

var z95 = distuv.UnitNormal.Quantile(proven)

// probability bounds the probability that the length lies in the tolerance.
func (m Measured) probability(t Tolerance, u, dof float64) (least, most float64) {
	below := func(limit Length) float64 {
		switch {
		case math.IsInf(float64(limit), 1):
			return 1
		case math.IsInf(float64(limit), -1):
			return 0
		case m.Half > 0:
			return belowInterval(float64(limit-m.Value), float64(m.Half), u)
		case u == 0 && limit == m.Value:
			return 0.5
		}
		return probabilityBelow(float64(limit-m.Value)/u, dof)
	}
	switch m.Open {
	case Above: // the length is at least the value
		if !t.hasUpper() {
			least = 1 - below(t.Lower)
		}
		return least, below(t.Upper)
	case Below:
		if !t.hasLower() {
			least = below(t.Upper)
		}
		return least, 1 - below(t.Lower)
	}
	p := below(t.Upper) - below(t.Lower)
	return p, p
}

// belowInterval is the probability that an even distribution of half-width h,
// blurred by a normal one of standard deviation u, lies below x (both from its
// middle).
func belowInterval(x, h, u float64) float64 {
	if u == 0 {
		return min(1, max(0, (x+h)/(2*h)))
	}
	integral := func(z float64) float64 {
		return z*distuv.UnitNormal.CDF(z) + distuv.UnitNormal.Prob(z)
	}
	p := (integral((x+h)/u) - integral((x-h)/u)) * u / (2 * h)
	return min(1, max(0, p))
}

// byGuard decides by a plain guard band.
func (m Measured) byGuard(t Tolerance, guard Length) Decision {
	low, high := m.Value-m.Half-guard, m.Value+m.Half+guard
	switch m.Open {
	case Above:
		high = Length(math.Inf(1))
	case Below:
		low = Length(math.Inf(-1))
	}
	switch {
	case low >= t.Lower && high <= t.Upper:
		return Conforms
	case high < t.Lower || low > t.Upper:
		return DoesNotConform
	}
	return CannotDecide
}

// largest finds the largest standard uncertainty that would decide the value. By
// 95 % inside two limits both tails count, so it is searched for.
func (r Rule) largest(t Tolerance, m Measured) Length {
	nearest := min(math.Abs(float64(m.Value-t.Lower)), math.Abs(float64(t.Upper-m.Value)))
	k := r.factor(math.Inf(1))
	if r == ByU || !t.hasLower() || !t.hasUpper() || !t.Holds(m.Value) {
		return Length(nearest / k)
	}
	low, high := 0.0, nearest/k
	enough := func(u float64) bool {
		p := distuv.UnitNormal.CDF(float64(t.Upper-m.Value)/u) - distuv.UnitNormal.CDF(float64(t.Lower-m.Value)/u)
		return p >= proven
	}
	if nearest == 0 || enough(high) {
		return Length(high)
	}
	for range 50 {
		middle := (low + high) / 2
		if enough(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return Length(low)
}
