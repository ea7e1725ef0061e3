package gauge

// The tables of ISO 286-1 and -2 for sizes over 3 up to 250 mm, in micrometres.
// They are the standard's cells: the formula behind them gives other numbers in
// some, and is not used.

// upTo are the upper ends of the ranges of sizes, in mm; a size on the end falls
// in the range below it.
var upTo = [...]float64{6, 10, 18, 30, 50, 80, 120, 180, 250}

// grades are the tolerance grades IT5 to IT11 by range.
var grades = [...][9]int{
	{5, 6, 8, 9, 11, 13, 15, 18, 20},            // IT5
	{8, 9, 11, 13, 16, 19, 22, 25, 29},          // IT6
	{12, 15, 18, 21, 25, 30, 35, 40, 46},        // IT7
	{18, 22, 27, 33, 39, 46, 54, 63, 72},        // IT8
	{30, 36, 43, 52, 62, 74, 87, 100, 115},      // IT9
	{48, 58, 70, 84, 100, 120, 140, 160, 185},   // IT10
	{75, 90, 110, 130, 160, 190, 220, 250, 290}, // IT11
}

const (
	finestGrade   = 5
	coarsestGrade = 11
)

// above are the upper deviations es of shafts that lie wholly at or under the
// nominal size, without their minus.
var above = map[string][9]int{
	"d": {30, 40, 50, 65, 80, 100, 120, 145, 170},
	"e": {20, 25, 32, 40, 50, 60, 72, 85, 100},
	"f": {10, 13, 16, 20, 25, 30, 36, 43, 50},
	"g": {4, 5, 6, 7, 9, 10, 12, 14, 15},
	"h": {},
}

// under are the lower deviations ei of shafts over the nominal size. That of k
// holds for IT5 to IT7; coarser grades have 0.
var under = map[string][9]int{
	"k": {1, 1, 1, 2, 2, 2, 3, 3, 4},
	"m": {4, 6, 7, 8, 9, 11, 13, 15, 17},
	"n": {8, 10, 12, 15, 17, 20, 23, 27, 31},
	"p": {12, 15, 18, 22, 26, 32, 37, 43, 50},
}

// fineUpTo are the ranges of r and s, which are narrower from 50 mm on.
var fineUpTo = [...]float64{6, 10, 18, 30, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250}

var fineUnder = map[string][15]int{
	"r": {15, 19, 23, 28, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84},
	"s": {19, 23, 28, 35, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140},
}

// The letters j and J have a row for each grade: ei of the shaft (without its
// minus) and ES of the hole.
var (
	jShaft = map[int][9]int{
		5: {2, 2, 3, 4, 5, 7, 9, 11, 13},
		6: {2, 2, 3, 4, 5, 7, 9, 11, 13},
		7: {4, 5, 6, 8, 10, 12, 15, 18, 21},
	}
	jHole = map[int][9]int{
		6: {5, 5, 6, 8, 10, 13, 16, 18, 22},
		7: {6, 8, 10, 12, 14, 18, 22, 26, 30},
		8: {10, 12, 15, 20, 24, 28, 34, 41, 47},
	}
)
