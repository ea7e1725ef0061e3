package spec

import (
	"slices"
	"strings"

	"fettlebook/assess/term"
)

// Set is all that is known: the specs in force. It is not changed after it was
// loaded, and is safe for use by many at once.
type Set struct {
	damages map[term.Damage]*Damage
	causes  map[string]*Cause
	kinds   map[string]*Kind
	units   map[string]*Unit
	pairs   map[string]*Pair
	// profiles holds the pictures of kinds. redrawn marks what another file put in
	// place of that for which a picture was drawn: "kind input-shaft".
	profiles map[string]*Profile
	redrawn  map[string]bool
	// ruleByID and rules hold the rows, rules in the order of their ids.
	ruleByID map[string]*Rule
	rules    []*Rule
	// byDamage holds the rows that speak of a damage, the narrowest first.
	byDamage map[term.Damage][]row
	// twice holds tables that stand twice in one file.
	twice [][2]string
	// from tells which file a table came from, by "kind input-shaft".
	from map[string]string
}

// Kind returns a part kind.
func (s *Set) Kind(id string) (*Kind, bool) { k, ok := s.kinds[id]; return k, ok }

// Unit returns a unit type.
func (s *Set) Unit(id string) (*Unit, bool) { u, ok := s.units[id]; return u, ok }

// Pair returns a kind of trial fit.
func (s *Set) Pair(id string) (*Pair, bool) { p, ok := s.pairs[id]; return p, ok }

// Damage returns what is known of a kind of damage.
func (s *Set) Damage(id term.Damage) (*Damage, bool) { d, ok := s.damages[id]; return d, ok }

// Causes returns all causes, in the order of their ids.
func (s *Set) Causes() []*Cause { return inOrder(s.causes) }

// Cause returns what damage may be consistent with.
func (s *Set) Cause(id string) (*Cause, bool) { c, ok := s.causes[id]; return c, ok }

// Rules returns all rows, in the order of their ids.
func (s *Set) Rules() []*Rule { return slices.Clone(s.rules) }

// Kinds returns all part kinds, in the order of their ids.
func (s *Set) Kinds() []*Kind { return inOrder(s.kinds) }

// Units returns all unit types, in the order of their ids.
func (s *Set) Units() []*Unit { return inOrder(s.units) }

// Pairs returns all kinds of trial fit, in the order of their ids.
func (s *Set) Pairs() []*Pair { return inOrder(s.pairs) }

// From names the file that a kind, unit, pair, damage or rule came from:
// From("kind", "input-shaft").
func (s *Set) From(table, id string) string { return s.from[table+" "+id] }

// Surface returns a surface of the kind and its number, from 1.
func (k *Kind) Surface(id string) (*Surface, int, bool) {
	for i := range k.Surfaces {
		if k.Surfaces[i].ID == id {
			return &k.Surfaces[i], i + 1, true
		}
	}
	return nil, 0, false
}

// Place returns a place of the unit and its rank in the row of parts.
func (u *Unit) Place(id string) (*Place, int, bool) {
	for i := range u.Places {
		if u.Places[i].ID == id {
			return &u.Places[i], i, true
		}
	}
	return nil, 0, false
}

// End is one end of a pair of mates.
type End struct{ Place, Surface string }

// MatesOf returns the surfaces that run on the given one in this unit.
func (u *Unit) MatesOf(place, surface string) []End {
	var ends []End
	for _, m := range u.Mates {
		switch place + "." + surface {
		case m.A:
			ends = append(ends, split(m.B))
		case m.B:
			ends = append(ends, split(m.A))
		}
	}
	return ends
}

func split(end string) End {
	place, surface, _ := strings.Cut(end, ".")
	return End{Place: place, Surface: surface}
}
