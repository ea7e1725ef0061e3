package gauge_test

import (
	"math"
	"testing"

	"fettlebook/assess/gauge"
)

// ISO 286-2:2010 in its national twin GB/T 1800.2-2020, from a public extract; p6
// by the Δ rule of ISO 286-1 and js6 by its definition. Upper and lower deviation
// in micrometres, for the ranges up to 18, 30, 50, 80, 120 and 180 mm.
var deviations = map[string][6][2]float64{
	"H6":  {{11, 0}, {13, 0}, {16, 0}, {19, 0}, {22, 0}, {25, 0}},
	"H7":  {{18, 0}, {21, 0}, {25, 0}, {30, 0}, {35, 0}, {40, 0}},
	"H8":  {{27, 0}, {33, 0}, {39, 0}, {46, 0}, {54, 0}, {63, 0}},
	"G6":  {{17, 6}, {20, 7}, {25, 9}, {29, 10}, {34, 12}, {39, 14}},
	"G7":  {{24, 6}, {28, 7}, {34, 9}, {40, 10}, {47, 12}, {54, 14}},
	"J7":  {{10, -8}, {12, -9}, {14, -11}, {18, -12}, {22, -13}, {26, -14}},
	"K7":  {{6, -12}, {6, -15}, {7, -18}, {9, -21}, {10, -25}, {12, -28}},
	"M7":  {{0, -18}, {0, -21}, {0, -25}, {0, -30}, {0, -35}, {0, -40}},
	"N7":  {{-5, -23}, {-7, -28}, {-8, -33}, {-9, -39}, {-10, -45}, {-12, -52}},
	"P7":  {{-11, -29}, {-14, -35}, {-17, -42}, {-21, -51}, {-24, -59}, {-28, -68}},
	"f7":  {{-16, -34}, {-20, -41}, {-25, -50}, {-30, -60}, {-36, -71}, {-43, -83}},
	"g6":  {{-6, -17}, {-7, -20}, {-9, -25}, {-10, -29}, {-12, -34}, {-14, -39}},
	"h5":  {{0, -8}, {0, -9}, {0, -11}, {0, -13}, {0, -15}, {0, -18}},
	"h6":  {{0, -11}, {0, -13}, {0, -16}, {0, -19}, {0, -22}, {0, -25}},
	"j5":  {{5, -3}, {5, -4}, {6, -5}, {6, -7}, {6, -9}, {7, -11}},
	"j6":  {{8, -3}, {9, -4}, {11, -5}, {12, -7}, {13, -9}, {14, -11}},
	"js6": {{5.5, -5.5}, {6.5, -6.5}, {8, -8}, {9.5, -9.5}, {11, -11}, {12.5, -12.5}},
	"k5":  {{9, 1}, {11, 2}, {13, 2}, {15, 2}, {18, 3}, {21, 3}},
	"k6":  {{12, 1}, {15, 2}, {18, 2}, {21, 2}, {25, 3}, {28, 3}},
	"m5":  {{15, 7}, {17, 8}, {20, 9}, {24, 11}, {28, 13}, {33, 15}},
	"m6":  {{18, 7}, {21, 8}, {25, 9}, {30, 11}, {35, 13}, {40, 15}},
	"n6":  {{23, 12}, {28, 15}, {33, 17}, {39, 20}, {45, 23}, {52, 27}},
	"p6":  {{29, 18}, {35, 22}, {42, 26}, {51, 32}, {59, 37}, {68, 43}},
}

// The nominal sizes in the ranges of the table. A range ends with its last size
// included.
var sizesOf = [6][]gauge.Length{{18, 10.5}, {25, 30, 18.01}, {40, 50, 30.01}, {62, 80, 50.01}, {100, 120, 80.01}, {150, 180, 120.01}}

func TestISO286Deviations(t *testing.T) {
	for name, row := range deviations {
		class, err := gauge.ParseClass(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, sizes := range sizesOf {
			for _, nominal := range sizes {
				lower, upper, err := class.Deviations(nominal)
				if err != nil {
					t.Errorf("%s at %v mm: %v", name, nominal, err)
					continue
				}
				if got, want := um(upper), row[i][0]; math.Abs(got-want) > 1e-6 {
					t.Errorf("%s at %v mm ends at %v µm, want %v", name, nominal, got, want)
				}
				if got, want := um(lower), row[i][1]; math.Abs(got-want) > 1e-6 {
					t.Errorf("%s at %v mm begins at %v µm, want %v", name, nominal, got, want)
				}
				width, err := gauge.Grade(nominal, class.Grade)
				if err != nil || math.Abs(um(upper-lower)-um(width)) > 1e-6 {
					t.Errorf("%s at %v mm is %v µm wide, its grade %v (%v)", name, nominal, um(upper-lower), um(width), err)
				}
			}
		}
	}
}

func um(l gauge.Length) float64 { return float64(l) * 1000 }

// ISO 286-1:2010, table 1, from the same source. IT5 to IT9 by range.
var grades = []struct {
	upTo gauge.Length
	um   [5]float64
}{
	{6, [5]float64{5, 8, 12, 18, 30}}, {10, [5]float64{6, 9, 15, 22, 36}}, {18, [5]float64{8, 11, 18, 27, 43}},
	{30, [5]float64{9, 13, 21, 33, 52}}, {50, [5]float64{11, 16, 25, 39, 62}}, {80, [5]float64{13, 19, 30, 46, 74}},
	{120, [5]float64{15, 22, 35, 54, 87}}, {180, [5]float64{18, 25, 40, 63, 100}},
}

func TestISO286Grades(t *testing.T) {
	for _, row := range grades {
		for i, want := range row.um {
			got, err := gauge.Grade(row.upTo, 5+i)
			if err != nil || math.Abs(um(got)-want) > 1e-9 {
				t.Errorf("IT%d up to %v mm is %v µm (%v), want %v", 5+i, row.upTo, um(got), err, want)
			}
		}
	}
}

// The standard's own formula, i = 0.45 ∛D + 0.001 D, and its rounding disagree with
// the standard's table in four cells. The table holds.
func TestTheTableHoldsWhereTheFormulaDisagrees(t *testing.T) {
	for _, c := range []struct {
		nominal     gauge.Length
		low, high   float64
		grade       int
		times, want float64
	}{{6, 3, 6, 6, 10, 8}, {6, 3, 6, 9, 40, 30}, {10, 6, 10, 7, 16, 15}, {18, 10, 18, 7, 16, 18}} {
		d := math.Sqrt(c.low * c.high)
		formula := math.Round(c.times * (0.45*math.Cbrt(d) + 0.001*d))
		got, err := gauge.Grade(c.nominal, c.grade)
		if err != nil || math.Abs(um(got)-c.want) > 1e-9 {
			t.Errorf("IT%d at %v mm is %v (%v), want %v", c.grade, c.nominal, um(got), err, c.want)
		}
		if formula == c.want {
			t.Errorf("IT%d at %v mm: the formula agrees after all, so this checks nothing", c.grade, c.nominal)
		}
	}
}

// Worked from the table above: clearance at the most and at the least in
// micrometres, below zero interference.
func TestISO286Fits(t *testing.T) {
	for _, c := range []struct {
		nominal     gauge.Length
		hole, shaft string
		most, least float64
		sort        string
	}{
		{25, "H7", "g6", 41, 7, "clearance"}, {40, "H7", "h6", 41, 0, "clearance"}, {40, "H7", "k6", 23, -18, "transition"},
		{40, "H7", "n6", 8, -33, "transition"}, {40, "H7", "p6", -1, -42, "interference"}, {50, "H8", "f7", 89, 25, "clearance"},
	} {
		f, err := gauge.FitOf(c.nominal, class(t, c.hole), class(t, c.shaft))
		if err != nil || math.Abs(um(f.Most)-c.most) > 1e-6 || math.Abs(um(f.Least)-c.least) > 1e-6 || f.Says() != c.sort {
			t.Errorf("%v %s/%s is %v … %v µm, %s (%v), want %v … %v, %s", c.nominal, c.hole, c.shaft, um(f.Most), um(f.Least), f.Says(), err, c.most, c.least, c.sort)
		}
	}
}

func class(t *testing.T, text string) gauge.Class {
	t.Helper()
	c, err := gauge.ParseClass(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// ISO 492, Normal class: bore from bearing makers' pages, outside from memory.
func TestSeatsOfBearingRings(t *testing.T) {
	for _, c := range []struct {
		nominal     gauge.Length
		class       string
		most, least float64
	}{
		{30, "k6", -2, -25}, {30, "j6", 4, -19}, {40, "m6", -9, -37}, {62, "H7", 43, 0}, {62, "N7", 4, -39}, {62, "P7", -8, -51},
	} {
		of := class(t, c.class)
		seat := gauge.SeatOnShaft
		if of.Hole {
			seat = gauge.SeatInBore
		}
		f, err := seat(c.nominal, of)
		if err != nil || math.Abs(um(f.Most)-c.most) > 1e-6 || math.Abs(um(f.Least)-c.least) > 1e-6 {
			t.Errorf("a ring of %v mm on %s: %v … %v µm (%v), want %v … %v", c.nominal, c.class, um(f.Most), um(f.Least), err, c.most, c.least)
		}
	}
}

// A class is what the maker allowed himself: a part outside it is asked about.
func TestAClassNeverCondemns(t *testing.T) {
	worn := gauge.PlusMinus(39.9, 0.001, "micrometer")
	asked, err := class(t, "k6").Compare(40, worn, gauge.By95)
	if err != nil || !asked.Ask {
		t.Errorf("a shaft a tenth under k6: %+v (%v), want it asked about", asked, err)
	}
	if asked, err = class(t, "k6").Compare(40, gauge.PlusMinus(40.01, 0.001, "micrometer"), gauge.By95); err != nil || asked.Ask {
		t.Errorf("a shaft within k6: %+v (%v)", asked, err)
	}
	for _, bad := range []string{"", "k", "Kk6", "q6", "k4", "k12", "6k", "H77777777"} {
		if c, err := gauge.ParseClass(bad); err == nil {
			t.Errorf("%q was read as %v", bad, c)
		}
	}
	for _, size := range []gauge.Length{0, -1, 3, 250.1, gauge.Length(math.NaN()), 1e308} {
		if _, err := class(t, "k6").Sizes(size); err == nil {
			t.Errorf("k6 at %v mm was answered", size)
		}
	}
}
