package spec

import (
	"slices"

	"fettlebook/assess/term"
)

func (c *checker) unit(u *Unit) {
	c.at("unit", u.ID)
	c.want(u.ID != "" && u.Name != "" && u.Source != "", "needs id, name and source")
	c.want(percent(u.RebuildUpTo) && percent(u.DonorFrom), "needs rebuild_up_to and donor_from, in percent")
	for i, v := range u.Variants {
		c.want(v.ID != "" && v.Name != "", "variant %d needs id and name", i+1)
		first := slices.IndexFunc(u.Variants, func(other Variant) bool { return other.ID == v.ID })
		c.want(first == i, "variant %q stands there twice", v.ID)
	}
	for i := range u.Places {
		c.place(u, i)
	}
	for _, m := range u.Mates {
		a, b := c.ofPlace(u, m.A), c.ofPlace(u, m.B)
		c.want(a != "" && b != "", "mate %s with %s: one of them is not there", m.A, m.B)
		if a != "" && b != "" {
			c.want(c.mayMate(a, b), "mate %s with %s: no surface of these kinds names the other under mates", m.A, m.B)
		}
	}
	for _, l := range u.Limits {
		c.limit(u, l)
	}
}

func percent(n int) bool { return n > 0 && n <= 100 }

func (c *checker) place(u *Unit, i int) {
	p := &u.Places[i]
	_, ok := c.set.kinds[p.Kind]
	c.want(ok, "place %q: there is no kind %q", p.ID, p.Kind)
	c.want(p.ID != "" && p.Name != "", "place %d needs id and name", i+1)
	_, first, _ := u.Place(p.ID)
	c.want(first == i, "place %q stands there twice", p.ID)
	c.want(p.Count >= 0 && p.Share >= 0, "place %q: count and share are not below 0", p.ID)
	if p.Inside != "" {
		parent, _, ok := u.Place(p.Inside)
		c.want(ok, "place %q: inside: there is no place %q", p.ID, p.Inside)
		// One step only, so that no element can stand inside itself by a detour.
		c.want(!ok || parent.Inside == "", "place %q: inside: %q stands inside another place itself", p.ID, p.Inside)
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

func (c *checker) mayMate(a, b string) bool {
	return slices.Contains(c.surface(a).Mates, b) || slices.Contains(c.surface(b).Mates, a)
}

func (c *checker) limit(u *Unit, l Limit) {
	end := l.Place + "." + l.Surface
	c.want(l.Discard != "" && l.Source != "", "limit of %s: needs discard and source", end)
	known := slices.ContainsFunc(u.Variants, func(v Variant) bool { return v.ID == l.Variant })
	c.want(l.Variant == "" || known, "limit of %s: there is no variant %q", end, l.Variant)
	name := c.ofPlace(u, end)
	c.want(name != "", "limit: there is no surface %q", end)
	if name == "" {
		return
	}
	f := c.surface(name)
	i := slices.IndexFunc(f.Dimensions, func(d Dimension) bool { return d.ID == l.Dimension })
	c.want(i >= 0, "limit of %s: there is no dimension %q", end, l.Dimension)
	if i >= 0 {
		_, err := l.Lengths(f.Dimensions[i].Grows)
		c.want(err == nil, "limit of %s: %v", end, err)
	}
}

func (c *checker) pair(p *Pair) {
	c.at("pair", p.ID)
	c.want(p.ID != "" && p.Name != "" && p.Source != "" && p.How != "", "needs id, name, how and source")
	c.want(len(p.A) > 0 && len(p.B) > 0, "needs the surfaces a and b that are put together")
	c.want(len(p.Outcomes) > 1, "needs outcomes")
	c.side(p.A)
	c.side(p.B)
	for i, o := range p.Outcomes {
		c.want(o.ID != "" && o.Reason != "", "outcome %d needs id and reason", i+1)
		first := slices.IndexFunc(p.Outcomes, func(other Outcome) bool { return other.ID == o.ID })
		c.want(first == i, "outcome %q stands there twice", o.ID)
		c.want(slices.Contains([]string{"", "a", "b"}, o.Of), "outcome %q: of is a or b", o.ID)
		c.want(o.Verdict != term.Undecided || o.Next != "", "outcome %q is undecided and needs next", o.ID)
		c.want(o.Verdict != term.Repairable && o.Verdict != term.Condemned || o.Remedy != "", "outcome %q needs a remedy", o.ID)
	}
}

// side checks one side of a pair. A trial fit names two parts, so it can tell a
// part's surface by its kind only.
func (c *checker) side(surfaces []string) {
	var kinds []string
	for _, name := range surfaces {
		c.want(c.hasSurface(name), "there is no surface %q", name)
		kinds = append(kinds, split(name).Place)
	}
	c.want(!twice(kinds), "a kind stands on one side with two surfaces; make two pairs of it")
}
