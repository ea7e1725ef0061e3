package spec

import (
	"slices"

	"fettlebook/assess/term"
)

// contradictions refuses two rows of equal width that speak of the same case
// and disagree.
func (c *checker) contradictions() {
	for i, a := range c.set.rules {
		for _, b := range c.set.rules[i+1:] {
			if meet(a.Damage, b.Damage) && narrower(a, b) == 0 && overlap(a, b) && disagree(a, b) {
				c.at("rule", b.ID)
				c.want(false, "covers as many cases as the rule %q, speaks of the same one and disagrees", a.ID)
			}
		}
	}
}

func overlap(a, b *Rule) bool {
	return meet(a.Unit, b.Unit) && meet(a.Kind, b.Kind) && meet(a.Surface, b.Surface) && meet(a.Role, b.Role) &&
		meet(a.Damage, b.Damage) && meet(a.Severity, b.Severity) && meet(a.Zone, b.Zone)
}

func meet[T comparable](a, b []T) bool {
	return len(a) == 0 || len(b) == 0 || slices.ContainsFunc(a, func(x T) bool { return slices.Contains(b, x) })
}

// disagree reports whether two rows give other verdicts at any demand, before or
// after what they wait for.
func disagree(a, b *Rule) bool {
	if a.By != b.By && (a.varies() || b.varies()) {
		return true
	}
	return slices.ContainsFunc(term.Demands, func(d term.Demand) bool {
		return a.At(d) != b.At(d) || a.Before(d) != b.Before(d)
	})
}

// varies reports whether the verdict is another one at another demand.
func (r *Rule) varies() bool {
	for _, d := range term.Demands[1:] {
		if r.At(d) != r.At(term.Demands[0]) || r.Before(d) != r.Before(term.Demands[0]) {
			return true
		}
	}
	return false
}

// reasonsToDiffer wants a kind's row to say why, where it is stricter or milder
// than what holds for the role.
func (c *checker) reasonsToDiffer() {
	for _, r := range c.set.rules {
		if r.rank() == 0 || r.Because != "" {
			continue
		}
		if other := c.differs(r); other != nil {
			c.at("rule", r.ID)
			c.want(false, "judges otherwise than the rule %q of the role and needs because: why it differs", other.ID)
		}
	}
}

// differs returns a role's row that judges one of the row's cases otherwise, at
// any share of the working face of which the row speaks.
func (c *checker) differs(r *Rule) *Rule {
	for _, at := range c.set.casesOf(r) {
		rows := c.set.byDamage[at.Damage]
		for _, at.Share = range sharesOf(rows) {
			if !r.withinShare(at.Share) {
				continue
			}
			if other := decide(rows, at, 1); other != nil && disagree(r, other) {
				return other
			}
		}
	}
	return nil
}

// sharesOf returns the shares at which the rows may change their mind: not
// judged, each bound, and more than any.
func sharesOf(rows []row) []float64 {
	shares := []float64{-1}
	for i := range rows {
		if rows[i].MaxShare > 0 {
			shares = append(shares, float64(rows[i].MaxShare))
		}
	}
	if len(shares) > 1 {
		shares = append(shares, 101)
	}
	slices.Sort(shares)
	return slices.Compact(shares)
}

// casesOf returns the cases that a kind's row covers, their share left open.
func (s *Set) casesOf(r *Rule) []Case {
	var cases []Case
	for _, id := range r.Kind {
		for _, f := range s.kinds[id].Surfaces {
			if !covers(r.Surface, f.ID) || !covers(r.Role, f.Role) {
				continue
			}
			for _, d := range r.Damage {
				for _, severity := range r.Severity {
					for _, z := range zonesOf(r) {
						if slices.Contains(f.Zones, z) {
							cases = append(cases, Case{Kind: id, Surface: f.ID, Role: f.Role, Damage: d, Severity: severity, Zone: z})
						}
					}
				}
			}
		}
	}
	return cases
}

// orders refuses rules by which damage that is worse in severity, in its share of
// the working face or in both is judged more kindly on some surface.
func (c *checker) orders() {
	units := []string{""}
	for _, r := range c.set.rules {
		units = append(units, r.Unit...)
	}
	slices.Sort(units)
	o := orderer{checker: c, told: map[[2]*Rule]bool{}, verdict: map[[2]*Rule]bool{}}
	for _, u := range slices.Compact(units) {
		for _, k := range c.set.Kinds() {
			for i := range k.Surfaces {
				for _, d := range term.Damages {
					f := &k.Surfaces[i]
					o.surface(f, Case{Unit: u, Kind: k.ID, Surface: f.ID, Role: f.Role, Damage: d})
				}
			}
		}
	}
}

type orderer struct {
	*checker
	// told holds the pairs of rows of which it was said already, verdict those that
	// were compared.
	told, verdict map[[2]*Rule]bool
	rows          []row
}

// surface checks all cases of one damage on one surface: each against every one
// that is no worse in severity and in share. All pairs, not steps along either,
// since an undecided case between two would hide that they stand the wrong way
// round. A share that was not judged may be any; it is compared with itself, and
// as the largest.
func (o *orderer) surface(f *Surface, at Case) {
	o.rows = o.rows[:0]
	role := bit(term.Roles, at.Role)
	for i := range o.set.byDamage[at.Damage] {
		r := &o.set.byDamage[at.Damage][i]
		if r.roles&role != 0 && covers(r.Kind, at.Kind) && covers(r.Surface, at.Surface) && covers(r.Unit, at.Unit) {
			o.rows = append(o.rows, *r)
		}
	}
	if len(o.rows) == 0 {
		return
	}
	shares := sharesOf(o.rows)
	severities := at.Damage.Scale().Severities()
	grid := make([]*Rule, len(severities)*len(shares))
	for _, at.Zone = range f.Zones {
		for i, severity := range severities {
			for j, share := range shares {
				at.Severity, at.Share = severity, share
				grid[i*len(shares)+j] = o.decides(&at)
			}
		}
		for i, severity := range severities {
			for j := range shares {
				at.Severity = severity
				o.below(at, grid, shares, i, j)
			}
		}
	}
}

// below compares one case of the grid with all that are no worse.
func (o *orderer) below(at Case, grid []*Rule, shares []float64, severity, share int) {
	worse := grid[severity*len(shares)+share]
	if worse == nil {
		return
	}
	for i := range severity + 1 {
		for j := range shares {
			// The first share is the one that was not judged.
			if judged := j > 0 && share > 0; !(judged && j <= share) && j != share {
				continue
			}
			milder := grid[i*len(shares)+j]
			if milder == nil || milder == worse {
				continue
			}
			if !o.kinder(milder, worse) || o.told[[2]*Rule{worse, milder}] {
				continue
			}
			o.told[[2]*Rule{worse, milder}] = true
			than := "a milder one"
			if i == severity {
				than = "a smaller share"
			}
			o.at("rule", worse.ID)
			o.want(false, "judges %s, %s, on %s of %s more kindly than the rule %q judges %s",
				at.Damage, at.Severity, at.Surface, at.Kind, milder.ID, than)
		}
	}
}

// kinder reports whether the row of the worse case can be kinder than that of the
// milder one, remembering the answer.
func (o *orderer) kinder(milder, worse *Rule) bool {
	pair := [2]*Rule{milder, worse}
	kinder, known := o.verdict[pair]
	if !known {
		kinder = canBeKinder(milder, worse)
		o.verdict[pair] = kinder
	}
	return kinder
}

// canBeKinder compares two rows in every state of what they wait for and at every
// demand. Undecided is left out: it waits for a test and is neither kind nor hard.
func canBeKinder(milder, worse *Rule) bool {
	for _, m := range states(milder) {
		for _, w := range states(worse) {
			// A clean test of the one may be a clean test of the other as well.
			if m.done != w.done && (m.done && m.settles(worse) || w.done && w.settles(milder)) {
				continue
			}
			for i, d := range term.Demands {
				for j, e := range term.Demands {
					if i != j && milder.By == worse.By { // one surface meets one demand of a kind
						continue
					}
					a, b := m.at(d), w.at(e)
					if a != term.Undecided && b != term.Undecided && a.Worse(b) {
						return true
					}
				}
			}
		}
	}
	return false
}

// state is a row before or after what it waits for was done.
type state struct {
	*Rule
	done bool
}

func states(r *Rule) []state {
	if r.UntilTested == nil {
		return []state{{r, true}}
	}
	return []state{{r, false}, {r, true}}
}

func (s state) at(d term.Demand) term.Verdict {
	if s.done {
		return s.At(d)
	}
	return s.Before(d)
}

// settles reports whether all that may have settled this row settles the other one
// too.
func (s state) settles(other *Rule) bool {
	u, v := s.UntilTested, other.UntilTested
	if u == nil || v == nil {
		return u == nil && v == nil
	}
	within := func(m term.Method) bool { return !slices.Contains(v.By, m) }
	beyond := func(id string) bool { return !slices.Contains(v.Fit, id) }
	return u.For == v.For && !slices.ContainsFunc(u.By, within) && !slices.ContainsFunc(u.Fit, beyond) && (!u.Measured || v.Measured)
}

// decides returns the first of the rows, which are the surface's own, that
// speaks of the severity, zone and share.
func (o *orderer) decides(at *Case) *Rule {
	severity, zone := bit(term.Severities, at.Severity), bit(term.Zones, at.Zone)
	for i := range o.rows {
		if r := &o.rows[i]; r.severities&severity != 0 && r.zones&zone != 0 && r.withinShare(at.Share) {
			return r.Rule
		}
	}
	return nil
}
