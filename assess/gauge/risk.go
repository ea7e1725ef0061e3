package gauge

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// Risks are the shares of all parts that a way of accepting them gets wrong
// (JCGM 106:2012, clause 9).
type Risks struct {
	// NotConforming is the share of parts outside the tolerance before anything is
	// measured.
	NotConforming float64
	// Consumer is the share of parts that are outside the tolerance and accepted,
	// Producer the share of those inside it that are refused.
	Consumer, Producer float64
}

// GlobalRisks returns the risks where parts come normally distributed about a
// mean with a standard deviation, are measured with a standard uncertainty u and
// are accepted where the reading lies in an interval.
func GlobalRisks(mean, deviation Length, tolerance, accept Tolerance, u Length) (Risks, error) {
	if err := first(finite("mean of the parts", mean), positive("deviation of the parts", deviation), positive("uncertainty", u),
		tolerance.Check("tolerance"), accept.Check("acceptance interval")); err != nil {
		return Risks{}, err
	}
	parts := distuv.Normal{Mu: float64(mean), Sigma: float64(deviation)}
	accepted := func(x float64) float64 {
		return distuv.UnitNormal.CDF((float64(accept.Upper)-x)/float64(u)) - distuv.UnitNormal.CDF((float64(accept.Lower)-x)/float64(u))
	}
	// Beyond eight deviations there is nothing left to count.
	far := 8 * float64(deviation)
	low, high := float64(mean)-far, float64(mean)+far
	lower, upper := max(low, float64(tolerance.Lower)), min(high, float64(tolerance.Upper))
	integral := func(from, to float64, f func(float64) float64) float64 {
		if from >= to {
			return 0
		}
		// In slices, so that a narrow bend of the integrand is met.
		const slices = 16
		var sum float64
		width := (to - from) / slices
		for i := range slices {
			a := from + float64(i)*width
			sum += quad.Fixed(f, a, a+width, 20, quad.Legendre{}, 0)
		}
		return sum
	}
	wrongly := func(x float64) float64 { return parts.Prob(x) * accepted(x) }
	refused := func(x float64) float64 { return parts.Prob(x) * (1 - accepted(x)) }
	return Risks{
		NotConforming: 1 - parts.CDF(float64(tolerance.Upper)) + parts.CDF(float64(tolerance.Lower)),
		Consumer:      math.Max(0, integral(low, lower, wrongly)+integral(upper, high, wrongly)),
		Producer:      math.Max(0, integral(lower, upper, refused)),
	}, nil
}
