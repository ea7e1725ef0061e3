package gauge

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// CovarianceOfMeans returns the covariance matrix of the means of quantities that
// were read together, one column of values each (GUM 5.2.3).
func CovarianceOfMeans(columns ...[]float64) (*mat.SymDense, error) {
	if len(columns) == 0 || len(columns[0]) < 2 {
		return nil, &FieldError{Field: "values", Err: errors.New("two rows or more are needed to see how they vary")}
	}
	n := len(columns[0])
	data := mat.NewDense(n, len(columns), nil)
	for j, column := range columns {
		if len(column) != n {
			return nil, bad("values", "column %d has %d values and the first %d; enter one value of each quantity in every row", j+1, len(column), n)
		}
		if floats.HasNaN(column) {
			return nil, &FieldError{Field: "values", Err: errNotFinite}
		}
		data.SetCol(j, column)
	}
	var cov mat.SymDense
	stat.CovarianceMatrix(&cov, data, nil)
	cov.ScaleSym(1/float64(n), &cov)
	return &cov, nil
}

// Propagate returns the covariance matrix of results from that of their inputs:
// row i of the sensitivities says how result i changes with each input (GUM
// 5.2.2).
func Propagate(sensitivities [][]float64, inputs mat.Symmetric) (*mat.SymDense, error) {
	n := inputs.SymmetricDim()
	j := mat.NewDense(max(1, len(sensitivities)), n, nil)
	for i, row := range sensitivities {
		if len(row) != n {
			return nil, bad("sensitivities", "row %d has %d numbers for %d inputs", i+1, len(row), n)
		}
		j.SetRow(i, row)
	}
	var half, full mat.Dense
	half.Mul(j, inputs)
	full.Mul(&half, j.T())
	out := mat.NewSymDense(j.RawMatrix().Rows, nil)
	for a := range out.SymmetricDim() {
		for b := a; b < out.SymmetricDim(); b++ {
			out.SetSym(a, b, full.At(a, b))
		}
	}
	return out, nil
}

// Line is a straight line through the corrections on a calibration certificate,
// so that an instrument can be corrected between them (GUM H.3).
type Line struct {
	// At0 is the correction at the origin of the fit, Slope per unit from there.
	At0, Slope   float64
	UAt0, USlope float64
	// Correlation is that of the two, Scatter the deviation of a point from the
	// line with DoF degrees of freedom.
	Correlation, Scatter, DoF float64
	origin                    float64
}

// FitLine fits a line to corrections y at x, counted from an origin. Three points
// or more are needed, at two places or more.
func FitLine(x, y []float64, origin float64) (Line, error) {
	n := float64(len(x))
	if len(x) != len(y) || len(x) < 3 {
		return Line{}, &FieldError{Field: "corrections", Err: errors.New("three points or more are needed, each with its correction")}
	}
	if floats.HasNaN(x) || floats.HasNaN(y) {
		return Line{}, &FieldError{Field: "corrections", Err: errNotFinite}
	}
	from := make([]float64, len(x))
	var squares float64
	for i, v := range x {
		from[i] = v - origin
		squares += from[i] * from[i]
	}
	mean := stat.Mean(from, nil)
	var spread float64
	for _, v := range from {
		spread += (v - mean) * (v - mean)
	}
	if spread == 0 {
		return Line{}, &FieldError{Field: "corrections", Err: errors.New("all points are at one place; a line needs two")}
	}
	l := Line{origin: origin, DoF: n - 2}
	l.At0, l.Slope = stat.LinearRegression(from, y, nil, false)
	var residuals float64
	for i, v := range from {
		r := y[i] - l.At0 - l.Slope*v
		residuals += r * r
	}
	l.Scatter = math.Sqrt(residuals / l.DoF)
	l.UAt0 = l.Scatter * math.Sqrt(squares/(n*spread))
	l.USlope = l.Scatter / math.Sqrt(spread)
	l.Correlation = -mean * n / math.Sqrt(n*squares)
	return l, nil
}

// At returns the correction at x with its standard uncertainty.
func (l Line) At(x float64) (y, u float64) {
	d := x - l.origin
	variance := l.UAt0*l.UAt0 + d*d*l.USlope*l.USlope + 2*d*l.UAt0*l.USlope*l.Correlation
	return l.At0 + l.Slope*d, math.Sqrt(max(0, variance))
}
