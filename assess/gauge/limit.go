package gauge

import "errors"

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

// Check refuses limits that are missing, no lengths, or not in the order in which
// the part wears: nominal, new, reuse, discard, rising for what grows and falling
// for what shrinks.
func (l Limit) Check() error {
	type step struct {
		field string
		at    Length
	}
	steps := []step{{"nominal", l.Nominal}, {"new", l.New}, {"reuse", l.Reuse}, {"discard", l.Discard}}
	var before step
	for _, s := range steps {
		field := "limit " + s.field
		if s.at == 0 && s.field != "discard" {
			continue
		}
		if s.at == 0 {
			return &FieldError{Field: field, Err: errMissing}
		}
		if err := positive(field, s.at); err != nil {
			return err
		}
		if before.at != 0 {
			same := s.at == before.at && s.field != "discard"
			if !same && (s.at == before.at || (s.at > before.at) != l.Grows) {
				return bad(field, "%g mm is on the wrong side of %s, %g mm: wear makes %s", float64(s.at), before.field, float64(before.at), l.direction())
			}
		}
		before = s
	}
	return nil
}

func (l Limit) direction() string {
	if l.Grows {
		return "this larger (a bore, a gap, a play)"
	}
	return "this smaller (a shaft, a thickness)"
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
