package spec

import (
	"fmt"
	"slices"
)

// check returns what is wrong in the meaning of the set, tables in the order of
// their ids.
func (s *Set) check() []Problem {
	c := checker{set: s}
	for _, twice := range s.twice {
		c.at(twice[0], twice[1])
		c.want(false, "stands twice in one file")
	}
	for _, d := range inOrder(s.damages) {
		c.damage(d)
	}
	for _, cause := range s.Causes() {
		c.cause(cause)
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
	for _, p := range s.Profiles() {
		c.profile(p)
	}
	for _, r := range s.rules {
		c.rule(r)
	}
	// How rows stand to each other can only be told of rows that are sound.
	if len(c.problems) == 0 {
		c.contradictions()
		c.reasonsToDiffer()
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

func (c *checker) damage(d *Damage) {
	c.at("damage", string(d.ID))
	c.want(d.ID != "" && d.Plain != "" && d.Source != "", "needs id, plain and source")
	c.want(len(d.Steps) == 0 || len(d.Steps) == len(d.ID.Scale().Severities()), "steps: one for each severity, the mildest first")
	for _, id := range d.Like {
		_, ok := c.set.damages[id]
		c.want(ok && id != d.ID, "like: there is no other damage %q", id)
	}
	for _, id := range d.Consistent {
		_, ok := c.set.causes[id]
		c.want(ok || len(c.set.causes) == 0, "consistent: there is no cause %q", id)
	}
}

func (c *checker) cause(cause *Cause) {
	c.at("cause", cause.ID)
	c.want(cause.ID != "" && cause.Name != "" && cause.Plain != "" && cause.Apart != "" && cause.Source != "",
		"needs id, name, plain, apart and source")
}

func (c *checker) kind(k *Kind) {
	c.at("kind", k.ID)
	c.want(k.ID != "" && k.Name != "" && k.Source != "", "needs id, name and source")
	c.want(k.Consumable || len(k.Surfaces) > 0, "needs a surface, or consumable = true")
	for _, other := range k.With {
		_, ok := c.set.kinds[other]
		c.want(ok, "with: there is no kind %q", other)
		c.want(other != k.ID, "with: a kind need not name itself")
	}
	for i := range k.Surfaces {
		f := &k.Surfaces[i]
		c.want(f.ID != "" && f.Name != "" && f.Role != "", "surface %d needs id, name and role", i+1)
		_, first, _ := k.Surface(f.ID)
		c.want(first == i+1, "surface %q stands there twice", f.ID)
		c.kindSurface(f)
	}
}

func (c *checker) kindSurface(f *Surface) {
	c.want(len(f.Zones) > 0, "surface %q: needs zones", f.ID)
	c.want(!twice(f.Zones), "surface %q: a zone stands there twice", f.ID)
	c.want(f.Look != "" || f.Hidden != "", "surface %q: needs what to look for, or the substitute test of a hidden one", f.ID)
	c.want(f.Hidden == "" || f.Feel == "", "surface %q: hidden takes the place of feel", f.ID)
	for _, m := range f.Mates {
		c.want(c.hasSurface(m), "surface %q: mates: there is no surface %q", f.ID, m)
	}
	c.want(!twice(f.Damages), "surface %q: a damage stands there twice", f.ID)
	for _, d := range f.Damages {
		_, ok := c.set.damages[d]
		c.want(ok, "surface %q: there is no damage table for %q", f.ID, d)
	}
	for i, d := range f.Dimensions {
		c.want(d.ID != "" && d.Name != "", "surface %q: dimension %d needs id and name", f.ID, i+1)
		first := slices.IndexFunc(f.Dimensions, func(other Dimension) bool { return other.ID == d.ID })
		c.want(first == i, "surface %q: dimension %q stands there twice", f.ID, d.ID)
	}
}

func twice[T comparable](words []T) bool {
	for i, w := range words {
		if slices.Contains(words[:i], w) {
			return true
		}
	}
	return false
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

func (c *checker) surface(name string) *Surface {
	end := split(name)
	f, _, _ := c.set.kinds[end.Place].Surface(end.Surface)
	return f
}
