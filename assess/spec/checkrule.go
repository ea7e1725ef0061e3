package spec

import (
	"fmt"
	"slices"

	"fettlebook/assess/gauge"
	"fettlebook/assess/term"
)

func (c *checker) rule(r *Rule) {
	c.at("rule", r.ID)
	c.want(r.ID != "" && r.Reason != "" && r.Source != "", "needs id, reason and source")
	c.want(len(r.Damage) > 0 && len(r.Severity) > 0, "needs damage and severity")
	c.want(len(r.Surface) == 0 || len(r.Kind) > 0, "surface needs kind")
	for _, id := range r.Kind {
		k, ok := c.set.kinds[id]
		c.want(ok, "there is no kind %q", id)
		for _, surface := range r.Surface {
			if ok {
				_, _, has := k.Surface(surface)
				c.want(has, "kind %q has no surface %q", id, surface)
			}
		}
	}
	c.want(r.MaxShare >= 0 && r.MaxShare <= 100, "max_share is a percentage")
	for _, id := range r.Unit {
		_, ok := c.set.units[id]
		c.want(ok, "there is no unit %q", id)
	}
	c.want(len(r.Unit) == 0 || r.Because != "", "a row for a unit type needs because: why it differs")
	for _, d := range r.Damage {
		_, ok := c.set.damages[d]
		c.want(ok, "there is no damage table for %q", d)
		for _, s := range r.Severity {
			c.want(slices.Contains(d.Scale().Severities(), s), "%s is not told as %q", d, s)
		}
	}
	each := r.Light != nil && r.Normal != nil && r.Hard != nil && r.By != ""
	none := r.Light == nil && r.Normal == nil && r.Hard == nil
	if !c.onlyOneForm(r, each, none) {
		return
	}
	c.verdicts(r)
}

func (c *checker) onlyOneForm(r *Rule, each, none bool) bool {
	ok := (r.Verdict != nil && none) || (r.Verdict == nil && each)
	c.want(ok, "needs either verdict, or light, normal, hard and by")
	return ok
}

// verdicts checks that a harder demand is never judged more kindly, and that
// nothing loosens the safety set.
func (c *checker) verdicts(r *Rule) {
	for i, d := range term.Demands {
		v := r.At(d)
		c.want(v != term.Undecided || r.Next != "", "is undecided and needs next: what would decide it")
		c.want(v != term.Repairable || r.Remedy != "", "is repairable and needs a remedy")
		c.want(v != term.Condemned || r.Remedy != "", "condemns and needs a remedy")
		if i > 0 {
			c.want(!r.At(term.Demands[i-1]).Worse(v), "a harder demand is judged more kindly: %s at %s", v, d)
		}
		for _, damage := range r.Damage {
			for _, s := range r.Severity {
				for _, z := range zonesOf(r) {
					c.want(!term.Safety(damage, s, z) || !v.Serves(),
						"%s, %s, belongs to the safety set and can't be %s", damage, s, v)
				}
			}
		}
	}
	if u := r.UntilTested; u != nil {
		c.want(u.For != "" && len(u.By) > 0 && u.Next != "", "until_tested needs for, by and next")
		alike := u.Light == u.Normal && u.Normal == u.Hard
		c.want(r.By != "" || alike, "until_tested differs by demand and needs by at the rule: the demand that it looks at")
	}
}

func zonesOf(r *Rule) []term.Zone {
	if len(r.Zone) == 0 {
		return term.Zones
	}
	return r.Zone
}

// contradictions refuses two rows of equal width that speak of the same case
// and disagree.
func (c *checker) contradictions() {
	for i, a := range c.set.rules {
		for _, b := range c.set.rules[i+1:] {
			if narrower(a, b) == 0 && overlap(a, b) && disagree(a, b) {
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

// orders refuses rules by which a worse severity is judged more kindly on some
// surface. Undecided is left out: it waits for a test and is neither.
func (c *checker) orders() {
	for _, k := range c.set.Kinds() {
		for _, f := range k.Surfaces {
			for _, d := range term.Damages {
				for _, z := range f.Zones {
					c.order(Case{Kind: k.ID, Surface: f.ID, Role: f.Role, Damage: d, Zone: z})
				}
			}
		}
	}
}

func (c *checker) order(at Case) {
	var milder *Rule
	for _, s := range at.Damage.Scale().Severities() {
		at.Severity = s
		r := c.set.Decide(at)
		if r == nil {
			continue
		}
		if milder != nil {
			for _, demand := range term.Demands {
				was, is := milder.At(demand), r.At(demand)
				if was != term.Undecided && is != term.Undecided && was.Worse(is) {
					c.at("rule", r.ID)
					c.want(false, "judges %s, %s, on %s of %s more kindly (%s) than the rule %q judges a milder one (%s)",
						at.Damage, s, at.Surface, at.Kind, is, milder.ID, was)
				}
			}
		}
		milder = r
	}
}

// lengths checks that a limit's lengths can be read and stand in the order in
// which the part wears.
func (c *checker) lengths(l Limit, grows bool) {
	at := fmt.Sprintf("limit of %s.%s", l.Place, l.Surface)
	var last gauge.Length
	for i, text := range []string{l.Nominal, l.Reuse, l.Discard} {
		if text == "" {
			continue
		}
		length, err := gauge.ParseLength(text, gauge.Millimetre)
		if err != nil {
			c.want(false, "%s: %v", at, err)
			return
		}
		if i > 0 && last != 0 {
			c.want((length > last) == grows, "%s: %q is on the wrong side of the length before it", at, text)
		}
		last = length
	}
}
