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

func disagree(a, b *Rule) bool {
	return slices.ContainsFunc(term.Demands, func(d term.Demand) bool { return a.At(d) != b.At(d) })
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

// differs returns a role's row that judges one of the row's cases otherwise.
func (c *checker) differs(r *Rule) *Rule {
	for _, at := range c.set.casesOf(r) {
		if other := decide(c.set.byDamage[at.Damage], at, 1); other != nil && disagree(r, other) {
			return other
		}
	}
	return nil
}

// casesOf returns the cases that a kind's row covers.
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
							cases = append(cases, Case{Kind: id, Surface: f.ID, Role: f.Role, Damage: d, Severity: severity, Zone: z, Share: -1})
						}
					}
				}
			}
		}
	}
	return cases
}

// orders refuses rules by which a worse severity, or a larger share of the
// working face, is judged more kindly on some surface. Undecided is left out:
// it waits for a test and is neither.
func (c *checker) orders() {
	units := []string{""}
	for _, r := range c.set.rules {
		units = append(units, r.Unit...)
	}
	slices.Sort(units)
	o := orderer{checker: c, told: map[[2]*Rule]bool{}}
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
	// told holds the pairs of rows of which it was said already.
	told map[[2]*Rule]bool
	rows []row
}

// surface checks all cases of one damage on one surface.
func (o *orderer) surface(f *Surface, at Case) {
	o.rows = o.rows[:0]
	shares := []float64{-1}
	role := bit(term.Roles, at.Role)
	for i := range o.set.byDamage[at.Damage] {
		r := &o.set.byDamage[at.Damage][i]
		if r.roles&role == 0 || !covers(r.Kind, at.Kind) || !covers(r.Surface, at.Surface) || !covers(r.Unit, at.Unit) {
			continue
		}
		o.rows = append(o.rows, *r)
		if r.MaxShare > 0 {
			shares = append(shares, float64(r.MaxShare))
		}
	}
	if len(shares) > 1 {
		slices.Sort(shares)
		shares = append(shares, 101)
	}
	if len(o.rows) == 0 {
		return
	}
	severities := at.Damage.Scale().Severities()
	for _, at.Zone = range f.Zones {
		for _, at.Share = range shares {
			var l ladder
			for _, at.Severity = range severities {
				l.climb(o, at, "a milder one")
			}
		}
		if len(shares) == 1 {
			continue
		}
		for _, at.Severity = range severities {
			var l ladder
			for _, at.Share = range shares[1:] {
				l.climb(o, at, "a smaller share")
			}
		}
	}
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

// ladder holds, for each demand, the hardest verdict so far that decides, and
// the row that gave it.
type ladder struct {
	worst [3]term.Verdict
	by    [3]*Rule
}

func (l *ladder) climb(o *orderer, at Case, than string) {
	r := o.decides(&at)
	if r == nil {
		return
	}
	for i, demand := range term.Demands {
		is := r.At(demand)
		if is == term.Undecided {
			continue
		}
		if by := l.by[i]; by != nil && l.worst[i].Worse(is) && !o.told[[2]*Rule{r, by}] {
			o.told[[2]*Rule{r, by}] = true
			o.at("rule", r.ID)
			o.want(false, "judges %s, %s, on %s of %s more kindly (%s) than the rule %q judges %s (%s)",
				at.Damage, at.Severity, at.Surface, at.Kind, is, by.ID, than, l.worst[i])
		}
		if l.by[i] == nil || is.Worse(l.worst[i]) {
			l.worst[i], l.by[i] = is, r
		}
	}
}
