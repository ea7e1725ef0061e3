package gauge

// Decision is what a reading says of a limit.
type Decision uint8

// The decisions. The zero value is CannotDecide.
const (
	CannotDecide Decision = iota
	Conforms
	DoesNotConform
)

// Limit is a one-sided wear limit: Grows is true for a bore, a gap or a play,
// which must stay at or below At; otherwise the length must stay at or above.
type Limit struct {
	At    Length
	Grows bool
}

// Decide compares a reading with the limit. plusMinus is the half-width of the
// interval in which the true length may lie, in millimetres, at least the
// instrument's permissible error; a reading nearer to the limit than that is
// not decided (the guard band of ISO 14253-1, common practice for the width).
func (l Limit) Decide(reading, plusMinus Length) Decision {
	margin := reading - l.At
	if l.Grows {
		margin = -margin
	}
	switch {
	case margin >= plusMinus:
		return Conforms
	case margin < -plusMinus:
		return DoesNotConform
	}
	return CannotDecide
}

// WearUsed returns which share of the allowance between nominal and limit is
// worn away, 0 for a reading at nominal and 1 at the limit; ok is false where
// there is no allowance.
func (l Limit) WearUsed(nominal, reading Length) (share float64, ok bool) {
	allowance := l.At - nominal
	if allowance == 0 || (allowance > 0) != l.Grows {
		return 0, false
	}
	return float64((reading - nominal) / allowance), true
}
