package gauge_test

import (
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}

// JCGM 100:2008 (GUM), annex H.1, the end gauge: inputs and results as published;
// unrounded figures recomputed. Everything here is in nanometres.
func TestGUMEndGauge(t *testing.T) {
	inf := math.Inf(1)
	const lS, alphaS, theta = 50.000623e6, 11.5e-6, -0.1
	difference := []gauge.Contribution{
		{Name: "mean of five", U: 13 / math.Sqrt(5), C: 1, DoF: 24},
		{Name: "comparator, random", U: 10 / gauge.Coverage(0.95, 5), C: 1, DoF: 5},
		{Name: "comparator, systematic", U: 20.0 / 3, C: 1, DoF: gauge.ReliableTo(0.25)},
	}
	near(t, "u of the mean", difference[0].Size(), 5.8138, 1e-4)
	near(t, "u random", difference[1].Size(), 3.8902, 1e-3)
	near(t, "u systematic", difference[2].Size(), 6.6667, 1e-4)
	u, dof := gauge.Combine(difference)
	near(t, "u of d", u, 9.6632, 1e-3)
	near(t, "dof of d", dof, 25.62, 0.02)

	alpha := 2e-6 / gauge.Rectangular
	near(t, "u of alpha", alpha, 1.1547e-6, 1e-10)
	swing := math.Hypot(0.2, 0.5/gauge.UShaped)
	near(t, "u of theta", swing, 0.40620, 1e-5)
	budget := append(difference,
		gauge.Contribution{Name: "standard", U: 75.0 / 3, C: 1, DoF: 18},
		gauge.Contribution{Name: "alpha", U: alpha, C: 0, DoF: inf},
		gauge.Contribution{Name: "theta", U: swing, C: 0},
		gauge.Contribution{Name: "difference of alphas", U: 1e-6 / gauge.Rectangular, C: -lS * theta, DoF: gauge.ReliableTo(0.1)},
		gauge.Contribution{Name: "difference of temperatures", U: 0.05 / gauge.Rectangular, C: -lS * alphaS, DoF: gauge.ReliableTo(0.5)},
	)
	near(t, "line of the alphas", budget[6].Size(), 2.8868, 1e-3)
	near(t, "line of the temperatures", budget[7].Size(), 16.599, 1e-3)
	u, dof = gauge.Combine(budget)
	near(t, "u²", u*u, 1002.24, 0.5)
	near(t, "u", u, 31.658, 0.01)
	near(t, "dof", dof, 16.741, 0.1)
	near(t, "t at 99 %", gauge.Coverage(0.99, dof), 2.92078, 5e-3)
	near(t, "U99", u*gauge.Coverage(0.99, dof), 92.47, 0.05)
	near(t, "U95", u*gauge.Coverage(0.95, dof), 67.11, 0.05)
	near(t, "length", lS+215, 50.000838e6, 1e-6)

	second := append(budget,
		gauge.Contribution{Name: "second order", U: 1e-6 / gauge.Rectangular * swing, C: lS},
		gauge.Contribution{Name: "second order", U: alpha * 0.05 / gauge.Rectangular, C: lS})
	near(t, "second order", second[8].Size(), 11.7, 0.05)
	near(t, "second order", second[9].Size(), 1.67, 0.01)
	u, _ = gauge.Combine(second)
	near(t, "u with second order", u, 33.81, 0.05)
}

// GUM G.4.2 with E.4.3: assert exactly.
func TestReliabilityGivesDegreesOfFreedom(t *testing.T) {
	for share, want := range map[float64]float64{0.25: 8, 0.10: 50, 0.50: 2} {
		near(t, "dof", gauge.ReliableTo(share), want, 1e-9)
	}
	if !math.IsInf(gauge.ReliableTo(0), 1) {
		t.Error("what is known exactly has no end of degrees of freedom")
	}
}

// GUM 4.3.7 to 4.3.9 and F.2.2.1.
func TestDivisors(t *testing.T) {
	near(t, "rectangular", gauge.Rectangular, math.Sqrt(3), 0)
	near(t, "triangular", gauge.Triangular, math.Sqrt(6), 0)
	near(t, "U-shaped", gauge.UShaped, math.Sqrt(2), 0)
	near(t, "a step", gauge.ResolutionUncertainty(1), 0.288675, 5e-7)
}

// GUM 4.4.3 (20 temperatures in °C, data from memory).
func TestGUMTwentyTemperatures(t *testing.T) {
	mean, s, err := gauge.Spread([]float64{96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", mean, 100.145, 1e-5)
	near(t, "s", s, 1.488844, 1e-5)
	near(t, "s of the mean", s/math.Sqrt(20), 0.332916, 1e-5)
	if _, _, err := gauge.Spread([]float64{1}); err == nil {
		t.Error("one value has a spread")
	}
	if _, _, err := gauge.Spread([]float64{1, math.NaN()}); err == nil {
		t.Error("NaN has a spread")
	}
}

// NIST Statistical Reference Datasets, univariate: NumAcc3 and NumAcc4 (certified
// values; generators from memory).
func TestManyEqualDigitsLoseNothing(t *testing.T) {
	for _, c := range []struct{ middle, tolerance float64 }{{1000000.2, 1e-9}, {10000000.2, 1e-7}} {
		values := []float64{c.middle}
		for range 500 {
			values = append(values, c.middle-0.1, c.middle+0.1)
		}
		mean, s, err := gauge.Spread(values)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mean", mean, c.middle, 1e-8)
		near(t, "s", s, 0.1, 0.1*c.tolerance)
		var sum, squares float64
		for _, v := range values {
			sum, squares = sum+v, squares+v*v
		}
		n := float64(len(values))
		if onePass := math.Sqrt((squares - sum*sum/n) / (n - 1)); math.Abs(onePass-0.1) < 0.1*c.tolerance {
			t.Errorf("one pass over %v finds %v: the set proves nothing", c.middle, onePass)
		}
	}
}

// JCGM 100:2008, table G.2 (layout from memory, every value recomputed).
func TestStudentsT(t *testing.T) {
	for dof, want := range map[float64][3]float64{
		1: {12.71, 13.97, 63.66}, 2: {4.30, 4.53, 9.92}, 3: {3.18, 3.31, 5.84}, 4: {2.78, 2.87, 4.60}, 5: {2.57, 2.65, 4.03},
		6: {2.45, 2.52, 3.71}, 8: {2.31, 2.37, 3.36}, 9: {2.26, 2.32, 3.25}, 10: {2.23, 2.28, 3.17}, 12: {2.18, 2.23, 3.05},
		16: {2.12, 2.17, 2.92}, 20: {2.09, 2.13, 2.85}, 25: {2.06, 2.11, 2.79}, 30: {2.04, 2.09, 2.75}, 50: {2.01, 2.05, 2.68},
		math.Inf(1): {1.960, 2.000, 2.576}, 0: {1.960, 2.000, 2.576},
	} {
		for i, p := range [3]float64{0.95, 0.9545, 0.99} {
			near(t, "t", gauge.Coverage(p, dof), want[i], 0.0051)
		}
	}
	for dof, want := range map[float64][2]float64{4: {2.7764, 4.6041}, 5: {2.5706, 4.0321}, 9: {2.2622, 3.2498}, 16: {2.1199, 2.9208}} {
		near(t, "t95", gauge.Coverage(0.95, dof), want[0], 5e-5)
		near(t, "t99", gauge.Coverage(0.99, dof), want[1], 5e-5)
	}
	// Two-sided 90 % is one-sided 95 %.
	for dof, want := range map[float64]float64{4: 2.1318, 9: 1.8331, 16: 1.7459} {
		near(t, "one-sided t95", gauge.Coverage(0.90, dof), want, 5e-5)
	}
	near(t, "cut down to a whole number", gauge.Coverage(0.99, 16.99), gauge.Coverage(0.99, 16), 0)
}

// GUM H.2: resistance, reactance and impedance from readings taken together.
func TestGUMCorrelatedInputs(t *testing.T) {
	v := []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	i := []float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}
	phi := []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
	inputs, err := gauge.CovarianceOfMeans(v, i, phi)
	if err != nil {
		t.Fatal(err)
	}
	r := func(a, b int) float64 { return inputs.At(a, b) / math.Sqrt(inputs.At(a, a)*inputs.At(b, b)) }
	near(t, "s(V)", math.Sqrt(inputs.At(0, 0)), 0.0032, 5e-5)
	near(t, "s(I)", math.Sqrt(inputs.At(1, 1)), 0.0095e-3, 5e-8)
	near(t, "s(φ)", math.Sqrt(inputs.At(2, 2)), 0.00075, 5e-6)
	near(t, "r(V,I)", r(0, 1), -0.36, 5e-3)
	near(t, "r(V,φ)", r(0, 2), 0.86, 5e-3)
	near(t, "r(I,φ)", r(1, 2), -0.65, 5e-3)
	mv, _, _ := gauge.Spread(v)
	mi, _, _ := gauge.Spread(i)
	mp, _, _ := gauge.Spread(phi)
	z := mv / mi
	near(t, "R", z*math.Cos(mp), 127.732, 1e-3)
	near(t, "X", z*math.Sin(mp), 219.847, 1e-3)
	near(t, "Z", z, 254.260, 1e-3)
	out, err := gauge.Propagate([][]float64{
		{math.Cos(mp) / mi, -z * math.Cos(mp) / mi, -z * math.Sin(mp)},
		{math.Sin(mp) / mi, -z * math.Sin(mp) / mi, z * math.Cos(mp)},
		{1 / mi, -z / mi, 0},
	}, inputs)
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range [3]float64{0.071, 0.29558, 0.236} {
		near(t, "u", math.Sqrt(out.At(k, k)), want, 1e-3)
	}
	r = func(a, b int) float64 { return out.At(a, b) / math.Sqrt(out.At(a, a)*out.At(b, b)) }
	near(t, "r(R,X)", r(0, 1), -0.588, 1e-3)
	near(t, "r(R,Z)", r(0, 2), -0.485, 1e-3)
	near(t, "r(X,Z)", r(1, 2), 0.99251, 1e-3)
	if _, err := gauge.CovarianceOfMeans(v, i[:4]); err == nil {
		t.Error("rows of different length were taken")
	}
}

// GUM H.3: the calibration of a thermometer by a straight line.
func TestGUMStraightLine(t *testing.T) {
	x := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	y := []float64{-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160}
	l, err := gauge.FitLine(x, y, 20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "intercept", l.At0, -0.1712, 1e-4)
	near(t, "u of it", l.UAt0, 0.0029, 1e-4)
	near(t, "slope", l.Slope, 0.00218, 1e-4)
	near(t, "u of it", l.USlope, 0.00067, 1e-4)
	near(t, "r", l.Correlation, -0.930, 1e-3)
	near(t, "s", l.Scatter, 0.0035, 1e-4)
	at, u := l.At(30)
	near(t, "correction at 30 °C", at, -0.1494, 1e-4)
	near(t, "u of it", u, 0.0041, 1e-4)
	if _, err := gauge.FitLine(x[:2], y[:2], 20); err == nil {
		t.Error("two points made a line with a scatter")
	}
	if _, err := gauge.FitLine([]float64{1, 1, 1}, []float64{1, 2, 3}, 0); err == nil {
		t.Error("one place made a line")
	}
}

// A size that counts by half lets its instrument err twice as much: it is asked of the
// instrument, not of what is worked out.
func TestTheLargestErrorIsTheInstruments(t *testing.T) {
	r, err := gauge.Reading{Values: []gauge.Value{{Length: 10}}, Instrument: gauge.Instrument{Kind: gauge.DialIndicator, Error: 0.02, Resolution: 0.01, Repeatability: 1e-9}, Temperatures: gauge.Temperatures{Soaked: true}}.Evaluate()
	if err != nil {
		t.Fatal(err)
	}
	half, err := gauge.Sum(gauge.Term{Times: 0.5, Of: r.Worst})
	if err != nil {
		t.Fatal(err)
	}
	const u = 0.004
	if whole, got := r.Worst.LargestError(u), half.LargestError(u/2); whole == 0 || math.Abs(float64(got/whole)-1) > 1e-9 {
		t.Errorf("the instrument may err by %v for the half and %v for the whole", got, whole)
	}
	if got := gauge.Exactly(1).LargestError(u); got != 0 {
		t.Errorf("of a size without an instrument it may err by %v", got)
	}
}
