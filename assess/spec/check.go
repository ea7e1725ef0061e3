package spec

import (
	"fmt"
	"slices"

	"fettlebook/assess/term"
)

// check returns what is wrong in the meaning of the set.
func (s *Set) check() []Problem {
	c := checker{set: s}
	for _, d := range inOrder(s.damages) {
		c.at("damage", string(d.ID))
		c.want(d.ID != "" && d.Plain != "" && d.Source != "", "needs id, plain and source")
		for _, id := range d.Consistent {
			_, ok := s.causes[id]
			c.want(ok || len(s.causes) == 0, "consistent: there is no cause %q", id)
		}
	}
	for _, cause := range s.Causes() {
		c.at("cause", cause.ID)
		c.want(cause.ID != "" && cause.Name != "" && cause.Plain != "" && cause.Apart != "" && cause.Source != "", "needs id, name, plain, apart and source")
	}
	for _, k := range s.Kinds() {
		c.kind(k)
	}
	for _, u := range s.Units() {
		c.unit(u)
	}
	for _, p := range s.Pairs() {
		c.pair(p)
	}
	for _, r := range s.rules {
		c.rule(r)
	}
	if len(c.problems) == 0 {
		c.contradictions()
		c.orders()
	}
	return c.problems
}

type checker struct {
	set       *Set
	table, id string
	problems  []Problem
}

func (c *checker) at(table, id string) { c.table, c.id = table, id }

func (c *checker) want(ok bool, format string, args ...any) {
	if ok {
		return
	}
	c.problems = append(c.problems, Problem{
		File:  c.set.From(c.table, c.id),
		Where: fmt.Sprintf("%s %q", c.table, c.id),
		Text:  fmt.Sprintf(format, args...),
	})
}

func (c *checker) kind(k *Kind) {
	c.at("kind", k.ID)
	c.want(k.ID != "" && k.Name != "" && k.Source != "", "needs id, name and source")
	c.want(k.Consumable || len(k.Surfaces) > 0, "needs a surface, or consumable = true")
	for _, other := range k.With {
		_, ok := c.set.kinds[other]
		c.want(ok, "with: there is no kind %q", other)
	}
	seen := map[string]bool{}
	for i, f := range k.Surfaces {
		at := fmt.Sprintf("surface %q", f.ID)
		c.want(f.ID != "" && f.Name != "" && f.Role != "", "surface %d needs id, name and role", i+1)
		c.want(!seen[f.ID], "%s stands there twice", at)
		seen[f.ID] = true
		c.want(len(f.Zones) > 0, "%s: needs zones", at)
		c.want(f.Look != "" || f.Hidden != "", "%s: needs what to look for, or the substitute test of a hidden one", at)
		c.want(f.Hidden == "" || f.Feel == "", "%s: hidden takes the place of feel", at)
		for _, m := range f.Mates {
			c.want(c.hasSurface(m), "%s: mates: there is no surface %q", at, m)
		}
	}
}

// hasSurface reports whether kind.surface names a surface that is there.
func (c *checker) hasSurface(name string) bool {
	end := split(name)
	k, ok := c.set.kinds[end.Place]
	if !ok {
		return false
	}
	_, _, ok = k.Surface(end.Surface)
	return ok
}

func (c *checker) unit(u *Unit) {
	c.at("unit", u.ID)
	c.want(u.ID != "" && u.Name != "" && u.Source != "", "needs id, name and source")
	c.want(u.RebuildUpTo > 0 && u.DonorFrom > 0, "needs rebuild_up_to and donor_from, in percent")
	seen := map[string]bool{}
	for _, p := range u.Places {
		at := fmt.Sprintf("place %q", p.ID)
		_, ok := c.set.kinds[p.Kind]
		c.want(ok, "%s: there is no kind %q", at, p.Kind)
		c.want(p.ID != "" && p.Name != "", "%s: needs id and name", at)
		c.want(!seen[p.ID], "%s stands there twice", at)
		seen[p.ID] = true
	}
	for _, p := range u.Places {
		c.want(p.Inside == "" || seen[p.Inside], "place %q: inside: there is no place %q", p.ID, p.Inside)
	}
	for _, m := range u.Mates {
		a, b := c.ofPlace(u, m.A), c.ofPlace(u, m.B)
		c.want(a != "" && b != "", "mate %s with %s: one of them is not there", m.A, m.B)
		if a != "" && b != "" {
			c.want(c.mayMate(a, b), "mate %s with %s: no surface of these kinds names the other under mates", m.A, m.B)
		}
	}
	for _, l := range u.Limits {
		end := l.Place + "." + l.Surface
		name := c.ofPlace(u, end)
		c.want(name != "", "limit: there is no surface %q", end)
		c.want(l.Discard != "" && l.Source != "", "limit of %s: needs discard and source", end)
		if name != "" {
			f := c.surface(name)
			i := slices.IndexFunc(f.Dimensions, func(d Dimension) bool { return d.ID == l.Dimension })
			c.want(i >= 0, "limit of %s: there is no dimension %q", end, l.Dimension)
			c.lengths(l, i >= 0 && f.Dimensions[i].Grows)
		}
	}
}

// ofPlace turns place.surface into kind.surface, empty if there is none.
func (c *checker) ofPlace(u *Unit, name string) string {
	end := split(name)
	place, _, ok := u.Place(end.Place)
	if !ok || !c.hasSurface(place.Kind+"."+end.Surface) {
		return ""
	}
	return place.Kind + "." + end.Surface
}

func (c *checker) surface(name string) *Surface {
	end := split(name)
	f, _, _ := c.set.kinds[end.Place].Surface(end.Surface)
	return f
}

func (c *checker) mayMate(a, b string) bool {
	return slices.Contains(c.surface(a).Mates, b) || slices.Contains(c.surface(b).Mates, a)
}

func (c *checker) pair(p *Pair) {
	c.at("pair", p.ID)
	c.want(p.ID != "" && p.Name != "" && p.Source != "" && p.How != "", "needs id, name, how and source")
	c.want(len(p.Outcomes) > 1, "needs outcomes")
	for _, name := range append(slices.Clone(p.A), p.B...) {
		c.want(c.hasSurface(name), "there is no surface %q", name)
	}
	for _, o := range p.Outcomes {
		c.want(o.ID != "" && o.Reason != "", "outcome %q needs id and reason", o.ID)
		c.want(o.Verdict != term.Undecided || o.Next != "", "outcome %q is undecided and needs next", o.ID)
	}
}
