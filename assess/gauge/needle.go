package gauge

import (
	"fmt"
	"math"
)

// NeedleClearance returns the diametral clearance of needle rollers between a
// bore and a journal: bore minus two rollers minus journal, all diameters. The
// two rollers are taken as of one size, so their error counts twice.
func NeedleClearance(bore, journal, roller Measured) (Measured, error) {
	if err := first(positive("bore", bore.Value), positive("journal", journal.Value), positive("roller", roller.Value)); err != nil {
		return Measured{}, err
	}
	if journal.Value+2*roller.Value > bore.Value+1 {
		return Measured{}, bad("roller", "%s on a journal of %s does not go into a bore of %s; check which is which",
			roller.Value.Text(Millimetre, Micrometre), journal.Value.Text(Millimetre, Micrometre), bore.Value.Text(Millimetre, Micrometre))
	}
	return Sum(Term{Times: 1, Of: bore}, Term{Times: -2, Of: roller}, Term{Times: -1, Of: journal})
}

// CircumferentialGap returns the gap that is left when a full set of so many
// rollers lies round a journal side by side: what is left of the circle through
// their middles, along the circle. It is below zero where the last roller does
// not go in.
func CircumferentialGap(journal, roller Measured, rollers int) (Measured, error) {
	if err := first(positive("journal", journal.Value), positive("roller", roller.Value), wholeWithin("number of rollers", rollers, 3, 500)); err != nil {
		return Measured{}, err
	}
	gap := func(d, r float64) float64 {
		pitch := d + r
		return pitch/2*2*math.Pi - pitch*float64(rollers)*math.Asin(r/pitch)
	}
	d, r := float64(journal.Value), float64(roller.Value)
	// Central differences: the gap is smooth, and a nanometre does for a step.
	const h = 1e-6
	byJournal := (gap(d+h, r) - gap(d-h, r)) / (2 * h)
	byRoller := (gap(d, r+h) - gap(d, r-h)) / (2 * h)
	out, err := Sum(Term{Times: byJournal, Of: journal}, Term{Times: byRoller, Of: roller})
	out.Value = Length(gap(d, r))
	return out, err
}

// FullSet returns how many rollers at most lie side by side round a journal.
func FullSet(journal, roller Length) (int, error) {
	if err := first(positive("journal", journal), positive("roller", roller)); err != nil {
		return 0, err
	}
	n := math.Floor(math.Pi/math.Asin(float64(roller/(journal+roller))) + 1e-9)
	return int(n), wholeWithin("number of rollers", int(n), 3, 500)
}

// Needles is what a choice of rollers is made from. A set is sorted by size, so
// that a list of them is a list of oversizes.
type Needles struct {
	Bore, Journal Measured
	// Rollers are the diameters on the shelf; RollerTolerance is half the width
	// within which a set holds its size.
	Rollers         []Length
	RollerTolerance Length
	// Count is how many lie in the set; zero where the gap is not asked for.
	Count int
	// Clearance is the diametral band to be reached.
	Clearance Tolerance
}

// Choice is one size from a shelf with what is to be expected of it.
type Choice struct {
	Size Length
	// Expected is the clearance or float with this size.
	Expected Measured
	Verdict  Verdict
	// Gap is the circumferential gap of a set of rollers, where it was asked for.
	Gap *Measured
	// Note says why the size will not do although the clearance would.
	Note string
}

// Choose returns the sizes of the shelf that bring the clearance into its band,
// the one nearest to the middle of the band first; none where no size does. A
// band that is open on one side puts the one nearest to its limit first.
func (n Needles) Choose(rule Rule) ([]Choice, error) {
	if err := n.Clearance.Check("clearance band"); err != nil {
		return nil, err
	}
	if len(n.Rollers) == 0 {
		return nil, &FieldError{Field: "rollers", Err: errMissing}
	}
	var out []Choice
	for i, size := range n.Rollers {
		field := fmt.Sprintf("roller %d", i+1)
		if err := first(positive(field, size), notNegative("tolerance of the rollers", n.RollerTolerance)); err != nil {
			return nil, err
		}
		roller := PlusMinus(size, n.RollerTolerance, "tolerance of the rollers")
		clearance, err := NeedleClearance(n.Bore, n.Journal, roller)
		if err != nil {
			return nil, err
		}
		if !n.Clearance.Holds(clearance.Value) {
			continue
		}
		c := Choice{Size: size, Expected: clearance}
		if c.Verdict, err = rule.Decide(n.Clearance, clearance); err != nil {
			return nil, err
		}
		if n.Count > 0 {
			gap, err := CircumferentialGap(n.Journal, roller, n.Count)
			if err != nil {
				return nil, err
			}
			c.Gap = &gap
			if gap.Value <= 0 {
				c.Note = fmt.Sprintf("%d of these do not go round the journal", n.Count)
			}
		}
		out = append(out, c)
	}
	nearest(out, n.Clearance)
	return out, nil
}
