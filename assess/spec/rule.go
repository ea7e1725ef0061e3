package spec

import (
	"cmp"
	"slices"

	"fettlebook/assess/term"
)

// Rule is one row of judgement: which findings it speaks of, and the verdict.
// An empty list of kinds, surfaces, roles or zones means all of them. The narrower of
// two rows wins: one for a kind beats one for a role, and among the rest the
// one that covers fewer cases.
type Rule struct {
	ID string `toml:"id"`
	// Unit narrows the row to unit types; such a row comes out of their manual.
	Unit     []string        `toml:"unit"`
	Kind     []string        `toml:"kind"`
	Surface  []string        `toml:"surface"`
	Role     []term.Role     `toml:"role"`
	Damage   []term.Damage   `toml:"damage"`
	Severity []term.Severity `toml:"severity"`
	Zone     []term.Zone     `toml:"zone"`
	// MaxShare bounds how much of the working face of the worst tooth may be
	// damaged, in percent, for this row to speak; 0 is no bound. Where the share
	// was not judged, only rows without a bound speak.
	MaxShare int `toml:"max_share"`

	// Verdict holds at every demand; or Light, Normal and Hard hold at the
	// demand that By names.
	Verdict *term.Verdict `toml:"verdict"`
	By      term.DemandOf `toml:"by"`
	Light   *term.Verdict `toml:"light"`
	Normal  *term.Verdict `toml:"normal"`
	Hard    *term.Verdict `toml:"hard"`

	// UntilTested, if given, says which damage must have been looked for by a
	// test, and not found, before the verdict holds; until then it is Untested.
	UntilTested *Untested `toml:"until_tested"`

	Remedy term.Remedy `toml:"remedy"`
	// Reason is a sentence said across the bench; {surface}, {gear} and {part}
	// stand for the case's own. IfLeft says what may happen if nothing is done.
	Reason string `toml:"reason"`
	IfLeft string `toml:"if_left"`
	// Next says what would decide an undecided one.
	Next string `toml:"next"`
	// Shock marks a seizure: every part that carried the torque of the unit is then
	// doubted until it is crack-tested.
	Shock bool `toml:"shock"`
	// AskMate says why the mate must be looked at, empty where it need not be.
	AskMate string `toml:"ask_mate"`
	Source  string `toml:"source"`
	// Reviewed names who reviewed the row; empty means not yet.
	Reviewed string `toml:"reviewed"`
	// Because says why a kind's row is stricter or milder than the role's.
	Because string `toml:"because"`
}

// Untested is what holds until a test has come out clean.
type Untested struct {
	For term.Damage   `toml:"for"`
	By  []term.Method `toml:"by"`
	// Fit names kinds of trial fit of the surface: an outcome that serves settles
	// it as well. Measured says that a reading within its limit does so too.
	Fit      []string `toml:"fit"`
	Measured bool     `toml:"measured"`

	Light  term.Verdict `toml:"light"`
	Normal term.Verdict `toml:"normal"`
	Hard   term.Verdict `toml:"hard"`
	Next   string       `toml:"next"`
}

// Case is what a rule is looked up for.
type Case struct {
	Unit string
	// Share is how much of the working face is damaged, in percent; below 0 where
	// it was not judged.
	Share    float64
	Kind     string
	Surface  string
	Role     term.Role
	Damage   term.Damage
	Severity term.Severity
	Zone     term.Zone
}

// Speaks reports whether the row covers the case.
func (r *Rule) Speaks(c Case) bool {
	return r.withinShare(c.Share) && covers(r.Unit, c.Unit) && covers(r.Damage, c.Damage) && covers(r.Severity, c.Severity) &&
		covers(r.Zone, c.Zone) && covers(r.Role, c.Role) && covers(r.Kind, c.Kind) && covers(r.Surface, c.Surface)
}

// withinShare reports whether the row speaks of so much of the working face.
func (r *Rule) withinShare(percent float64) bool {
	return r.MaxShare == 0 || percent >= 0 && percent <= float64(r.MaxShare)
}

func covers[T comparable](words []T, word T) bool {
	return len(words) == 0 || slices.Contains(words, word)
}

// At returns the verdict at a demand.
func (r *Rule) At(d term.Demand) term.Verdict {
	if r.Verdict != nil {
		return *r.Verdict
	}
	return [...]term.Verdict{*r.Light, *r.Normal, *r.Hard}[d.Rank()]
}

// At returns the verdict that holds at a demand before the test.
func (u *Untested) At(d term.Demand) term.Verdict {
	return [...]term.Verdict{u.Light, u.Normal, u.Hard}[d.Rank()]
}

// Before returns the verdict at a demand as long as what the row waits for was
// not done.
func (r *Rule) Before(d term.Demand) term.Verdict {
	if r.UntilTested == nil {
		return r.At(d)
	}
	return term.Worst(r.At(d), r.UntilTested.At(d))
}

// rank puts a unit type's row above a surface's, that above a kind's, and that
// above a role's.
func (r *Rule) rank() int {
	rank := 0
	if len(r.Kind) > 0 {
		rank += 1
	}
	if len(r.Surface) > 0 {
		rank += 2
	}
	if len(r.Unit) > 0 {
		rank += 4
	}
	return rank
}

// width counts the cases that the row covers.
func (r *Rule) width() int {
	width := len(r.Damage) * len(r.Severity) * some(len(r.Zone), len(term.Zones)) * some(len(r.Role), len(term.Roles))
	return width * some(len(r.Kind), 1) * some(len(r.Surface), 1)
}

func some(n, all int) int {
	if n == 0 {
		return all
	}
	return n
}

// bound is the largest share of which the row speaks, in percent.
func (r *Rule) bound() int { return some(r.MaxShare, 101) }

// narrower orders rows: the one that wins comes first.
func narrower(a, b *Rule) int {
	if a.rank() != b.rank() {
		return b.rank() - a.rank()
	}
	if a.MaxShare != b.MaxShare {
		return cmp.Compare(a.bound(), b.bound())
	}
	return a.width() - b.width()
}
