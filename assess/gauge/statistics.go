package gauge

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The divisors that turn the half-width of a range into a standard uncertainty
// (GUM 4.3.7 to 4.3.9): every value in it equally likely, the middle likelier, or
// the ends likelier, as where a thermostat swings.
var (
	Rectangular = math.Sqrt(3)
	Triangular  = math.Sqrt(6)
	UShaped     = math.Sqrt2
)

// ResolutionUncertainty returns the standard uncertainty of a display that
// steps: the true value lies anywhere within half a step (GUM F.2.2.1).
func ResolutionUncertainty(step Length) float64 { return float64(step) / (2 * Rectangular) }

// ReliableTo returns the degrees of freedom of a standard uncertainty that is
// itself known only to a share of its size (GUM G.4.2): 0.25 gives 8. A share of
// zero or less is known exactly and gives infinity.
func ReliableTo(share float64) float64 {
	if share <= 0 {
		return math.Inf(1)
	}
	return 1 / (2 * share * share)
}

// Spread returns the mean and the experimental standard deviation of repeats
// (GUM 4.2.2), computed in two passes so that many equal leading digits lose
// nothing. One value has no spread and gives an error, none likewise.
func Spread(values []float64) (mean, s float64, err error) {
	if len(values) < 2 {
		return 0, 0, &FieldError{Field: "repeats", Err: errors.New("two values or more are needed to see a spread")}
	}
	mean, variance := stat.MeanVariance(values, nil)
	if math.IsNaN(variance) || math.IsInf(variance, 0) {
		return 0, 0, &FieldError{Field: "repeats", Err: errNotFinite}
	}
	return mean, math.Sqrt(max(0, variance)), nil
}

// Coverage returns the factor by which a standard uncertainty is multiplied for
// an interval that holds the value with probability p, both sides together
// (GUM G.3). Degrees of freedom are cut down to a whole number, as the GUM does
// (G.4.1); zero or infinity is the normal distribution.
func Coverage(p, dof float64) float64 {
	return quantile((1+p)/2, dof)
}

// quantile is of Student's t, one-sided.
func quantile(p, dof float64) float64 {
	if normal(dof) {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: max(1, math.Floor(dof))}.Quantile(p)
}

// probabilityBelow is the cumulative distribution of t at z.
func probabilityBelow(z, dof float64) float64 {
	if math.IsInf(z, 0) || normal(dof) {
		return distuv.UnitNormal.CDF(z)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: max(1, math.Floor(dof))}.CDF(z)
}

// normal says that so many degrees of freedom are as good as infinitely many:
// the factor at 95 % differs by less than 0.03 %.
func normal(dof float64) bool { return dof <= 0 || dof > 5000 }
