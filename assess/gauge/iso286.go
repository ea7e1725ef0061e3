package gauge

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Class is a tolerance class of ISO 286, such as H7 (a hole) or k6 (a shaft).
type Class struct {
	// Letter is lower-case; Hole tells whether it stands for a hole.
	Letter string
	Hole   bool
	// Grade is the number of the IT grade, 5 to 11.
	Grade int
}

var (
	classForm = regexp.MustCompile(`^([A-Za-z]{1,2})(\d{1,2})$`)
	letters   = []string{"d", "e", "f", "g", "h", "j", "js", "k", "m", "n", "p", "r", "s"}
)

// ParseClass reads a class as it is written: capitals are holes. Known are the
// letters d to h, j, js, k, m, n, p, r and s with the grades 5 to 11.
func ParseClass(text string) (Class, error) {
	text = strings.TrimSpace(text)
	m := classForm.FindStringSubmatch(text)
	if m == nil {
		return Class{}, bad("class", "%q is not a tolerance class; write H7 for a hole, k6 for a shaft", shortened(text))
	}
	lower, upper := strings.ToLower(m[1]), strings.ToUpper(m[1])
	if m[1] != lower && m[1] != upper {
		return Class{}, bad("class", "%q mixes capitals and small letters: capitals are holes, small letters shafts", text)
	}
	grade, _ := strconv.Atoi(m[2])
	if !slices.Contains(letters, lower) {
		return Class{}, bad("class", "the letter of %q is not known here; known are %s", text, strings.Join(letters, ", "))
	}
	if grade < finestGrade || grade > coarsestGrade {
		return Class{}, bad("class", "the grade of %q is not known here; known are %d to %d", text, finestGrade, coarsestGrade)
	}
	return Class{Letter: lower, Hole: m[1] == upper, Grade: grade}, nil
}

// String gives the class as it is written: H7, k6.
func (c Class) String() string {
	if c.Hole {
		return strings.ToUpper(c.Letter) + strconv.Itoa(c.Grade)
	}
	return c.Letter + strconv.Itoa(c.Grade)
}

// sizeRange returns the row of the tables for a nominal size over 3 up to 250 mm.
func sizeRange(nominal Length, ends []float64) (int, error) {
	if err := positive("nominal size", nominal); err != nil {
		return 0, err
	}
	i := slices.IndexFunc(ends, func(end float64) bool { return float64(nominal) <= end })
	if i < 0 || nominal <= 3 {
		return 0, bad("nominal size", "%g mm is outside the tables, which go from over 3 to 250 mm", float64(nominal))
	}
	return i, nil
}

// Grade returns the tolerance of an IT grade, 5 to 11, at a nominal size.
func Grade(nominal Length, grade int) (Length, error) {
	i, err := sizeRange(nominal, upTo[:])
	if err == nil {
		err = wholeWithin("grade", grade, finestGrade, coarsestGrade)
	}
	if err != nil {
		return 0, err
	}
	return um(grades[grade-finestGrade][i]), nil
}

// um turns whole micrometres into the float nearest to them in millimetres.
func um(n int) Length { return Length(float64(n) / 1000) }

// Deviations returns the lower and the upper deviation of the class from a
// nominal size.
func (c Class) Deviations(nominal Length) (lower, upper Length, err error) {
	i, err := sizeRange(nominal, upTo[:])
	if err == nil {
		err = wholeWithin("grade", c.Grade, finestGrade, coarsestGrade)
	}
	if err != nil {
		return 0, 0, err
	}
	it := grades[c.Grade-finestGrade][i]
	if c.Letter == "js" {
		return Length(-float64(it) / 2000), Length(float64(it) / 2000), nil
	}
	if c.Hole {
		return c.hole(nominal, i, it)
	}
	return c.shaft(nominal, i, it)
}

func (c Class) shaft(nominal Length, i, it int) (lower, upper Length, err error) {
	if es, ok := above[c.Letter]; ok {
		return um(-es[i] - it), um(-es[i]), nil
	}
	ei, err := c.under(nominal, i)
	return um(ei), um(ei + it), err
}

// under is the lower deviation of a shaft in micrometres.
func (c Class) under(nominal Length, i int) (int, error) {
	switch row, fine := under[c.Letter], fineUnder[c.Letter]; {
	case c.Letter == "j":
		ei, ok := jShaft[c.Grade]
		if !ok {
			return 0, bad("class", "j goes with the grades 5 to 7, not %d", c.Grade)
		}
		return -ei[i], nil
	case c.Letter == "k" && c.Grade > 7:
		return 0, nil
	case row != [9]int{}:
		return row[i], nil
	case fine != [15]int{}:
		at, err := sizeRange(nominal, fineUpTo[:])
		return fine[at], err
	}
	return 0, bad("class", "the letter %q is not known here", c.Letter)
}

// hole mirrors the shaft of the same letter at the nominal size. For K, M, N up to
// grade 8 and P, R, S up to grade 7 the standard adds the difference to the next
// finer grade, so that such a hole fits a shaft one grade finer alike.
func (c Class) hole(nominal Length, i, it int) (lower, upper Length, err error) {
	if es, ok := above[c.Letter]; ok {
		return um(es[i]), um(es[i] + it), nil
	}
	if c.Letter == "j" {
		es, ok := jHole[c.Grade]
		if !ok {
			return 0, 0, bad("class", "J goes with the grades 6 to 8, not %d", c.Grade)
		}
		return um(es[i] - it), um(es[i]), nil
	}
	ei, err := Class{Letter: c.Letter, Grade: min(c.Grade, 7)}.under(nominal, i)
	if err != nil {
		return 0, 0, err
	}
	es := -ei
	last := 8
	if strings.Contains("prs", c.Letter) {
		last = 7
	}
	switch {
	case c.Grade == finestGrade:
		return 0, 0, bad("class", "%s is finer than the tables of holes here, which begin with grade 6", c)
	case c.Grade <= last:
		es += it - grades[c.Grade-finestGrade-1][i]
	case c.Letter == "n":
		es = 0
	case c.Letter == "k":
		return 0, 0, bad("class", "K goes with the grades 6 to 8, not %d", c.Grade)
	}
	return um(es - it), um(es), nil
}

// Sizes returns the least and the largest size of the class.
func (c Class) Sizes(nominal Length) (Tolerance, error) {
	lower, upper, err := c.Deviations(nominal)
	return Between(nominal+lower, nominal+upper), err
}

// Asked is what a class says of a measured part. A class is what the maker
// allowed himself when the part was new: a part outside it raises a question and
// is never condemned by it.
type Asked struct {
	// Ask says that the part lies outside the class, or that this can't be told.
	Ask     bool
	Verdict Verdict
	Text    string
}

// Compare holds a measured size against the class.
func (c Class) Compare(nominal Length, m Measured, rule Rule) (Asked, error) {
	t, err := c.Sizes(nominal)
	if err != nil {
		return Asked{}, err
	}
	v, err := rule.Decide(t, m)
	if err != nil {
		return Asked{}, err
	}
	size := fmt.Sprintf("%g %s (%s to %s mm)", float64(nominal), c, t.Lower.number(Millimetre, Micrometre), t.Upper.number(Millimetre, Micrometre))
	switch v.Decision {
	case Conforms:
		return Asked{Verdict: v, Text: "within " + size}, nil
	case DoesNotConform:
		return Asked{Ask: true, Verdict: v, Text: "outside " + size + ": worn, repaired, or made to another size? The class does not condemn it."}, nil
	}
	return Asked{Ask: true, Verdict: v, Text: "whether it is within " + size + " can't be told with this instrument"}, nil
}
