package gauge

import (
	"math"
	"slices"
)

// Bearing rings of the Normal tolerance class (ISO 492) lie from zero downwards.
// Lower deviations in micrometres, without their minus, by size in mm.
var (
	ringBore    = []ringRow{{10, 8}, {18, 8}, {30, 10}, {50, 12}, {80, 15}, {120, 20}, {180, 25}, {250, 30}}
	ringOutside = []ringRow{{18, 8}, {30, 9}, {50, 11}, {80, 13}, {120, 15}, {150, 18}, {180, 25}, {250, 30}}
)

type ringRow struct {
	upTo  float64
	below int
}

func ringSizes(nominal Length, rows []ringRow) (Tolerance, error) {
	if err := positive("ring size", nominal); err != nil {
		return Tolerance{}, err
	}
	i := slices.IndexFunc(rows, func(r ringRow) bool { return float64(nominal) <= r.upTo })
	if i < 0 || nominal <= 3 {
		return Tolerance{}, bad("ring size", "%g mm is outside the table, which goes from over 3 to 250 mm", float64(nominal))
	}
	return Between(nominal-um(rows[i].below), nominal), nil
}

// RingBore and RingOutside return the sizes that the bore and the outside of a
// rolling bearing of the Normal class may have.
func RingBore(nominal Length) (Tolerance, error) { return ringSizes(nominal, ringBore) }

// RingOutside is told with [RingBore].
func RingOutside(nominal Length) (Tolerance, error) { return ringSizes(nominal, ringOutside) }

// SeatOnShaft returns the fit of a bearing's inner ring on a shaft of a class,
// SeatInBore that of its outer ring in a housing.
func SeatOnShaft(nominal Length, shaft Class) (Fit, error) {
	ring, err := RingBore(nominal)
	if err != nil {
		return Fit{}, err
	}
	if shaft.Hole {
		return Fit{}, bad("class", "%s is a hole; a ring sits on a shaft such as k6", shaft)
	}
	s, err := shaft.Sizes(nominal)
	return fitOf(ring, s), err
}

// SeatInBore is told with [SeatOnShaft].
func SeatInBore(nominal Length, hole Class) (Fit, error) {
	ring, err := RingOutside(nominal)
	if err != nil {
		return Fit{}, err
	}
	if !hole.Hole {
		return Fit{}, bad("class", "%s is a shaft; a ring sits in a bore such as H7", hole)
	}
	h, err := hole.Sizes(nominal)
	return fitOf(h, ring), err
}

// MeasuredSeat returns the fit of a measured shaft in a ring bore that was not
// measured and may lie anywhere in its tolerance; below zero is interference.
func MeasuredSeat(nominal Length, shaft Measured) (Measured, error) {
	ring, err := RingBore(nominal)
	if err != nil {
		return Measured{}, err
	}
	return Clearance(PlusMinus(ring.Middle(), (ring.Upper-ring.Lower)/2, "tolerance of the ring"), shaft)
}

// MeasuredHousing is the same for an outer ring in a measured bore.
func MeasuredHousing(nominal Length, bore Measured) (Measured, error) {
	ring, err := RingOutside(nominal)
	if err != nil {
		return Measured{}, err
	}
	return Clearance(bore, PlusMinus(ring.Middle(), (ring.Upper-ring.Lower)/2, "tolerance of the ring"))
}

// BearingType tells the two tables of internal clearance apart.
type BearingType string

// The types of bearings with a table.
const (
	DeepGroove        BearingType = "deep-groove ball bearing"
	CylindricalRoller BearingType = "cylindrical roller bearing"
)

// ClearanceGroups are the groups of radial internal clearance, the tightest
// first; CN is Normal.
var ClearanceGroups = []string{"C2", "CN", "C3", "C4", "C5"}

type clearanceRow struct {
	over, upTo float64
	groups     [5][2]int
}

// Radial internal clearance before mounting, in micrometres (ISO 5753-1). Of
// cylindrical rollers C2, Normal and C3 only.
var clearances = map[BearingType][]clearanceRow{
	DeepGroove: {
		{10, 18, [5][2]int{{0, 9}, {3, 18}, {11, 25}, {18, 33}, {25, 45}}},
		{18, 24, [5][2]int{{0, 10}, {5, 20}, {13, 28}, {20, 36}, {28, 48}}},
		{24, 30, [5][2]int{{1, 11}, {5, 20}, {13, 28}, {23, 41}, {30, 53}}},
		{30, 40, [5][2]int{{1, 11}, {6, 20}, {15, 33}, {28, 46}, {40, 64}}},
		{40, 50, [5][2]int{{1, 11}, {6, 23}, {18, 36}, {30, 51}, {45, 73}}},
		{50, 65, [5][2]int{{1, 15}, {8, 28}, {23, 43}, {38, 61}, {55, 90}}},
		{65, 80, [5][2]int{{1, 15}, {10, 30}, {25, 51}, {46, 71}, {65, 105}}},
		{80, 100, [5][2]int{{1, 18}, {12, 36}, {30, 58}, {53, 84}, {75, 120}}},
	},
	CylindricalRoller: {
		{24, 30, [5][2]int{{0, 25}, {20, 45}, {35, 60}}},
		{30, 40, [5][2]int{{5, 30}, {25, 50}, {45, 70}}},
		{40, 50, [5][2]int{{5, 35}, {30, 60}, {50, 80}}},
		{50, 65, [5][2]int{{10, 40}, {40, 70}, {60, 90}}},
		{65, 80, [5][2]int{{10, 45}, {40, 75}, {65, 100}}},
		{80, 100, [5][2]int{{15, 50}, {50, 85}, {75, 110}}},
	},
}

// InternalClearance returns the radial internal clearance that a bearing of a
// bore and a group has before it is mounted.
func InternalClearance(kind BearingType, bore Length, group string) (Tolerance, error) {
	row, err := clearanceOf(kind, bore)
	if err != nil {
		return Tolerance{}, err
	}
	if group == "N" || group == "" {
		group = "CN"
	}
	i := slices.Index(ClearanceGroups, group)
	if i < 0 || row.groups[i] == [2]int{} {
		return Tolerance{}, bad("clearance group", "%q is not in the table for a %s", shortened(group), kind)
	}
	return Between(um(row.groups[i][0]), um(row.groups[i][1])), nil
}

// GroupsOf returns the groups that a measured radial clearance satisfies; the
// groups overlap, so that it may be two.
func GroupsOf(kind BearingType, bore, clearance Length) ([]string, error) {
	row, err := clearanceOf(kind, bore)
	if err == nil {
		err = finite("clearance", clearance)
	}
	if err != nil {
		return nil, err
	}
	var names []string
	for i, g := range row.groups {
		at := math.Round(float64(clearance)*1e7) / 1e4
		if g != [2]int{} && at >= float64(g[0]) && at <= float64(g[1]) {
			names = append(names, ClearanceGroups[i])
		}
	}
	return names, nil
}

func clearanceOf(kind BearingType, bore Length) (clearanceRow, error) {
	rows, ok := clearances[kind]
	if !ok {
		return clearanceRow{}, bad("bearing type", "%q has no table here", shortened(string(kind)))
	}
	if err := positive("bearing bore", bore); err != nil {
		return clearanceRow{}, err
	}
	for _, r := range rows {
		if float64(bore) > r.over && float64(bore) <= r.upTo {
			return r, nil
		}
	}
	return clearanceRow{}, bad("bearing bore", "%g mm is outside the table, which goes from over %g to %g mm", float64(bore), rows[0].over, rows[len(rows)-1].upTo)
}
