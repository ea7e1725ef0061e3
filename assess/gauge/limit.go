package gauge

import (
	"errors"
	"fmt"
	"slices"
)

// Limit holds the lengths that a manual gives for one dimension. Zero is a
// length that it does not give; Discard must be given.
type Limit struct {
	// Grows is true for a bore, a gap or a play, which wear makes larger.
	Grows bool
	// Nominal is the size by design, New the worst that a new part may have.
	Nominal, New Length
	// Reuse is how far worn a part may be and still be used again without more
	// ado; Discard is where it is worn out. A part on the limit still conforms.
	Reuse, Discard Length
}

// limitStep is one of a limit's lengths, called by its field.
type limitStep struct {
	field string
	at    Length
}

// OrderError says that a length of a limit stands on the wrong side of another.
// Both are called as the fields of [Limit] are, in small letters.
type OrderError struct {
	Field, Beside string
	at, other     Length
	// Grows is that of the limit.
	Grows bool
}

func (e *OrderError) Error() string {
	return fmt.Sprintf("%g mm is on the wrong side of %s, %g mm: %s", float64(e.at), e.Beside, float64(e.other), e.Why())
}

// Why says which way the lengths must go.
func (e *OrderError) Why() string {
	if e.Grows {
		return "wear makes this larger (a bore, a gap, a play)"
	}
	return "wear makes this smaller (a shaft, a thickness)"
}

// Check refuses limits that are missing, no lengths, or not in the order in which
// the part wears: nominal, new, reuse, discard, rising for what grows and falling
// for what shrinks. Of two in the wrong order it names the one without which all
// the others stand right, the later if that may be either.
func (l Limit) Check() error {
	given := make([]limitStep, 0, 4)
	for _, s := range []limitStep{{"nominal", l.Nominal}, {"new", l.New}, {"reuse", l.Reuse}, {"discard", l.Discard}} {
		field := "limit " + s.field
		if s.at == 0 && s.field == "discard" {
			return &FieldError{Field: field, Err: errMissing}
		}
		if s.at == 0 {
			continue
		}
		if err := positive(field, s.at); err != nil {
			return err
		}
		given = append(given, s)
	}
	at := l.misplaced(given)
	if at == 0 {
		return nil
	}
	wrong, beside := given[at], given[at-1]
	without := func(i int) []limitStep { return slices.Delete(slices.Clone(given), i, i+1) }
	if l.misplaced(without(at)) != 0 && l.misplaced(without(at-1)) == 0 {
		wrong, beside = beside, wrong
	}
	return &FieldError{Field: "limit " + wrong.field,
		Err: &OrderError{Field: wrong.field, Beside: beside.field, at: wrong.at, other: beside.at, Grows: l.Grows}}
}

// misplaced returns which of the lengths is the first on the wrong side of the one
// before it; 0 for none.
func (l Limit) misplaced(given []limitStep) int {
	for i := 1; i < len(given); i++ {
		s, before := given[i], given[i-1]
		same := s.at == before.at && s.field != "discard"
		if !same && (s.at == before.at || (s.at > before.at) != l.Grows) {
			return i
		}
	}
	return 0
}

// Beyond returns the tolerance that ends at a length, on the side to which the
// dimension wears.
func (l Limit) Beyond(at Length) Tolerance {
	if l.Grows {
		return AtMost(at)
	}
	return AtLeast(at)
}

// Judgement is what a length comes to against a limit.
type Judgement struct {
	Discard Verdict
	// Reuse is set where the limit gives one.
	Reuse *Verdict
	// Wear is set where the limit gives a nominal.
	Wear *Wear
}

// Wear is the share of the allowance between nominal and discard that is worn
// away: 0 at nominal, 1 at the limit. Standard is its standard uncertainty.
type Wear struct{ Used, Standard float64 }

// Judge decides a length against the limit.
func (l Limit) Judge(m Measured, rule Rule) (Judgement, error) {
	var out Judgement
	err := l.Check()
	if err == nil {
		out.Discard, err = rule.Decide(l.Beyond(l.Discard), m)
	}
	if err != nil {
		return Judgement{}, err
	}
	if l.Reuse != 0 {
		v, err := rule.Decide(l.Beyond(l.Reuse), m)
		if err != nil {
			return Judgement{}, err
		}
		out.Reuse = &v
	}
	if w, err := l.WearUsed(m); err == nil {
		out.Wear = &w
	}
	return out, nil
}

// WearUsed returns which share of the allowance is worn away. Without a nominal,
// or for a length that is known on one side only, there is none.
func (l Limit) WearUsed(m Measured) (Wear, error) {
	if l.Nominal == 0 {
		return Wear{}, &FieldError{Field: "limit nominal", Err: errors.New("is missing, so how much is worn away can't be told")}
	}
	if m.Open != Both {
		return Wear{}, bad("reading", "is only known to lie on one side of a gauge, so how much is worn away can't be told")
	}
	if err := first(l.Check(), m.Check("reading")); err != nil {
		return Wear{}, err
	}
	allowance := l.Discard - l.Nominal
	u, _ := m.Standard()
	if allowance < 0 {
		return Wear{Used: float64((m.Value - l.Nominal) / allowance), Standard: float64(-u / allowance)}, nil
	}
	return Wear{Used: float64((m.Value - l.Nominal) / allowance), Standard: float64(u / allowance)}, nil
}

// Bar is the wear bar in shares of the allowance: nominal stands at 0 and discard
// at 1. Low and High are where the reading may lie at 95 %.
type Bar struct {
	Reading, Low, High float64
	// New and Reuse are set where the limit gives them.
	New, Reuse *float64
}

// Bar returns the places of the marks of the wear bar.
func (l Limit) Bar(m Measured) (Bar, error) {
	w, err := l.WearUsed(m)
	if err != nil {
		return Bar{}, err
	}
	half, _ := m.Expanded(0.95)
	allowance := float64(l.Discard - l.Nominal)
	reach := float64(half) / allowance
	if reach < 0 {
		reach = -reach
	}
	b := Bar{Reading: w.Used, Low: w.Used - reach, High: w.Used + reach}
	mark := func(at Length) *float64 {
		if at == 0 {
			return nil
		}
		share := float64(at-l.Nominal) / allowance
		return &share
	}
	b.New, b.Reuse = mark(l.New), mark(l.Reuse)
	return b, nil
}
