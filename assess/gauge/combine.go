package gauge

import (
	"math"
	"strconv"
)

func formatFixed(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

// oneTurn is the travel of a micrometer's spindle in one turn. Within it the
// error of the screw is the same; beyond it that is not known.
const oneTurn Length = 0.5

// Term is one length in a sum, with the factor by which it counts.
type Term struct {
	Times float64
	Of    Measured
}

// Sum adds lengths with their uncertainties. What two of them share (the same
// micrometer) is correlated: its error falls out of the difference of two sizes
// within one turn of the spindle (0.5 mm) and adds up in their sum (GUM 5.2.2).
// Sizes further apart share only part of the error, which nobody knows: then the
// larger of the two results is taken.
func Sum(terms ...Term) (Measured, error) {
	var out Measured
	intervals := 0
	for _, t := range terms {
		if err := t.Of.Check("length"); err != nil {
			return Measured{}, err
		}
		out.Value += Length(t.Times) * t.Of.Value
		// What counts by a quarter is known in steps of a quarter.
		out.Resolution = max(out.Resolution, Length(min(1, math.Abs(t.Times)))*t.Of.Resolution)
		if t.Of.Half > 0 {
			intervals++
		}
		if t.Of.Open != Both {
			return Measured{}, bad("length", "is only known to lie on one side of %g mm; try the next gauge as well", float64(t.Of.Value))
		}
	}
	shared := map[string][]sharedLine{}
	var order []string
	for _, t := range terms {
		switch {
		case t.Of.Half > 0 && intervals == 1:
			out.Half = Length(math.Abs(t.Times)) * t.Of.Half
		case t.Of.Half > 0:
			out.Budget = append(out.Budget, Contribution{Name: "interval of the gauge", U: float64(t.Of.Half) / Rectangular, C: t.Times})
		}
		for _, c := range t.Of.Budget {
			c.C *= t.Times
			if c.Shared == "" {
				out.Budget = append(out.Budget, c)
				continue
			}
			if shared[c.Shared] == nil {
				order = append(order, c.Shared)
			}
			shared[c.Shared] = append(shared[c.Shared], sharedLine{Contribution: c, at: t.Of.Value})
		}
	}
	for _, key := range order {
		out.Budget = append(out.Budget, together(key, shared[key]))
	}
	return out, finite("sum", out.Value)
}

type sharedLine struct {
	Contribution
	at Length
}

// together makes one line of those that have one cause.
func together(key string, lines []sharedLine) Contribution {
	if len(lines) == 1 {
		return lines[0].Contribution
	}
	var sum, squares float64
	least, most := lines[0].at, lines[0].at
	dof := math.Inf(1)
	for _, l := range lines {
		sum += l.C * l.U
		squares += l.Size() * l.Size()
		least, most = min(least, l.at), max(most, l.at)
		if l.DoF > 0 {
			dof = min(dof, l.DoF)
		}
	}
	size := math.Abs(sum)
	if most-least > oneTurn {
		size = max(size, math.Sqrt(squares))
	}
	// No longer shared: the sign is spent, so a further sum must not cancel it.
	return Contribution{Name: lines[0].Name + " of " + key, U: size, C: 1, DoF: dof}
}

// Difference returns a minus b: the wear between an unworn reference part and a
// worn one, for example.
func Difference(a, b Measured) (Measured, error) {
	return Sum(Term{Times: 1, Of: a}, Term{Times: -1, Of: b})
}
