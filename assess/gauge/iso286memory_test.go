package gauge_test

import (
	"testing"

	"fettlebook/assess/gauge"
)

// ISO 286-1 and -2:2010, from memory: IT10 and IT11, the range up to 250 mm, and
// letters that no source at hand gives. Lower and upper deviation in micrometres.
func TestISO286FromMemory(t *testing.T) {
	for _, c := range []struct {
		nominal      gauge.Length
		class        string
		lower, upper float64
	}{
		{5, "h11", -75, 0}, {40, "h11", -160, 0}, {100, "h10", -140, 0}, {150, "h11", -250, 0},
		{200, "H7", 0, 46}, {250, "H8", 0, 72}, {200, "h6", -29, 0}, {200, "h9", -115, 0}, {250, "h11", -290, 0},
		{200, "g6", -44, -15}, {200, "f7", -96, -50}, {200, "k6", 4, 33}, {200, "m6", 17, 46}, {200, "n6", 31, 60}, {200, "p6", 50, 79},
		{20, "d9", -117, -65}, {40, "d10", -180, -80}, {25, "e8", -73, -40}, {60, "e7", -90, -60}, {8, "f8", -35, -13}, {5, "g6", -12, -4},
		{40, "r6", 34, 50}, {60, "r6", 41, 60}, {70, "r6", 43, 62}, {110, "r6", 54, 76}, {210, "r6", 80, 109},
		{40, "s6", 43, 59}, {60, "s6", 53, 72}, {70, "s6", 59, 78}, {130, "s6", 92, 117}, {240, "s6", 140, 169},
		{40, "J6", -6, 10}, {40, "J8", -15, 24}, {40, "K6", -13, 3}, {40, "K8", -27, 12}, {40, "M6", -20, -4}, {40, "M8", -34, 5},
		{40, "N6", -28, -12}, {40, "N9", -62, 0}, {5, "N9", -30, 0}, {40, "P6", -37, -21}, {40, "P8", -65, -26}, {40, "P9", -88, -26}, {40, "R7", -50, -25},
		{40, "F8", 25, 64}, {40, "E9", 50, 112}, {40, "D10", 80, 180}, {40, "JS7", -12.5, 12.5}, {40, "k8", 0, 39}, {18, "j7", -6, 12},
		{200, "K7", -33, 13}, {200, "N7", -60, -14}, {200, "P7", -79, -33}, {5, "K6", -6, 2}, {5, "K7", -9, 3}, {8, "K7", -10, 5},
	} {
		lower, upper, err := class(t, c.class).Deviations(c.nominal)
		if err != nil {
			t.Errorf("%v %s: %v", c.nominal, c.class, err)
			continue
		}
		near(t, c.class+" lower", um(lower), c.lower, 1e-6)
		near(t, c.class+" upper", um(upper), c.upper, 1e-6)
	}
	for _, none := range []string{"j8", "J5", "J9", "K9", "K5", "N5"} {
		_, _, err := class(t, none).Deviations(40)
		named(t, none, err)
	}
}
