package spec

import (
	"slices"

	"fettlebook/assess/term"
)

func (c *checker) rule(r *Rule) {
	c.at("rule", r.ID)
	c.want(r.ID != "" && r.Reason != "" && r.Source != "", "needs id, reason and source")
	c.want(len(r.Damage) > 0 && len(r.Severity) > 0, "needs damage and severity")
	c.want(len(r.Surface) == 0 || len(r.Kind) > 0, "surface needs kind")
	c.want(r.MaxShare >= 0 && r.MaxShare <= 100, "max_share is a percentage")
	c.want(len(r.Unit) == 0 || r.Because != "", "a row for a unit type needs because: why it differs")
	for _, id := range r.Unit {
		_, ok := c.set.units[id]
		c.want(ok, "there is no unit %q", id)
	}
	for _, id := range r.Kind {
		c.ruleKind(r, id)
	}
	for _, d := range r.Damage {
		_, ok := c.set.damages[d]
		c.want(ok, "there is no damage table for %q", d)
		for _, s := range r.Severity {
			c.want(slices.Contains(d.Scale().Severities(), s), "%s is not told as %q", d, s)
		}
	}
	each := r.Light != nil && r.Normal != nil && r.Hard != nil && r.By != ""
	none := r.Light == nil && r.Normal == nil && r.Hard == nil
	if ok := (r.Verdict != nil && none) || (r.Verdict == nil && each); !ok {
		c.want(false, "needs either verdict, or light, normal, hard and by")
		return
	}
	c.verdicts(r)
	c.safety(r)
	c.untested(r)
}

func (c *checker) ruleKind(r *Rule, id string) {
	k, ok := c.set.kinds[id]
	c.want(ok, "there is no kind %q", id)
	if !ok {
		return
	}
	for _, surface := range r.Surface {
		_, _, has := k.Surface(surface)
		c.want(has, "kind %q has no surface %q", id, surface)
	}
}

// verdicts checks that a row says what is to be done, and that a harder demand
// is never judged more kindly.
func (c *checker) verdicts(r *Rule) {
	for i, d := range term.Demands {
		v := r.At(d)
		c.want(v != term.Undecided || r.Next != "", "is undecided and needs next: what would decide it")
		c.want(v != term.Repairable || r.Remedy != "", "is repairable and needs a remedy")
		c.want(v != term.Condemned || r.Remedy != "", "condemns and needs a remedy")
		if i > 0 {
			c.want(!r.At(term.Demands[i-1]).Worse(v), "a harder demand is judged more kindly: %s at %s", v, d)
		}
	}
}

// safety checks that nothing loosens the safety set. A heat tint leaves it once
// a hardness test has found no softness, so a row that waits for that test may
// serve afterwards.
func (c *checker) safety(r *Rule) {
	for _, d := range term.Demands {
		for _, damage := range r.Damage {
			v := r.At(d)
			if damage == term.HeatTint && r.waitsForHardness() {
				v = r.Before(d)
			}
			for _, s := range r.Severity {
				for _, z := range zonesOf(r) {
					c.want(!term.Safety(damage, s, z) || !v.Serves(),
						"%s, %s, belongs to the safety set and can't be %s", damage, s, v)
				}
			}
		}
	}
}

// waitsForHardness reports whether a hardness test, and nothing else, settles what
// the row waits for.
func (r *Rule) waitsForHardness() bool {
	u := r.UntilTested
	return u != nil && u.For == term.Softness && len(u.By) == 1 && u.By[0] == term.Hardness && len(u.Fit) == 0 && !u.Measured
}

func zonesOf(r *Rule) []term.Zone {
	if len(r.Zone) == 0 {
		return term.Zones
	}
	return r.Zone
}

// untested checks what holds before a test: never kinder than what holds after.
func (c *checker) untested(r *Rule) {
	u := r.UntilTested
	if u == nil {
		return
	}
	c.want(u.For != "" && len(u.By) > 0 && u.Next != "", "until_tested needs for, by and next")
	c.want(u.For == "" || u.For.Scale() == term.ByPresence, "until_tested: %s can't be looked for and not found", u.For)
	for _, id := range u.Fit {
		_, ok := c.set.pairs[id]
		c.want(ok, "until_tested: there is no pair %q", id)
	}
	alike := u.Light == u.Normal && u.Normal == u.Hard
	c.want(r.By != "" || alike, "until_tested differs by demand and needs by at the rule: the demand that it looks at")
	for i, d := range term.Demands {
		c.want(!r.At(d).Worse(u.At(d)), "until_tested is kinder before the test than after it: %s at %s", u.At(d), d)
		if i > 0 {
			c.want(!u.At(term.Demands[i-1]).Worse(u.At(d)), "until_tested judges a harder demand more kindly: %s at %s", u.At(d), d)
		}
	}
}
