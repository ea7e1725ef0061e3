package spec

import (
	"cmp"
	"maps"
	"slices"

	"fettlebook/assess/term"
)

func newSet() *Set {
	return &Set{
		damages: map[term.Damage]*Damage{}, causes: map[string]*Cause{}, kinds: map[string]*Kind{},
		units: map[string]*Unit{}, pairs: map[string]*Pair{}, ruleByID: map[string]*Rule{}, from: map[string]string{},
		profiles: map[string]*Profile{}, redrawn: map[string]bool{},
	}
}

// with returns the set with the files' tables added or put in place of those
// with their ids; the set itself is left as it is.
func (s *Set) with(files ...named) *Set {
	next := &Set{
		damages: maps.Clone(s.damages), causes: maps.Clone(s.causes), kinds: maps.Clone(s.kinds),
		units: maps.Clone(s.units), pairs: maps.Clone(s.pairs), ruleByID: maps.Clone(s.ruleByID), from: maps.Clone(s.from),
		profiles: maps.Clone(s.profiles), redrawn: maps.Clone(s.redrawn),
	}
	for i := range files {
		next.add(&files[i])
	}
	next.index()
	return next
}

// add puts a file's tables in, each in place of one with its id.
func (s *Set) add(f *named) {
	into := adding{set: s, file: f.name, seen: map[string]bool{}}
	for i := range f.Damage {
		put(into, s.damages, "damage", f.Damage[i].ID, &f.Damage[i])
	}
	for i := range f.Cause {
		put(into, s.causes, "cause", f.Cause[i].ID, &f.Cause[i])
	}
	for i := range f.Kind {
		if _, there := s.kinds[f.Kind[i].ID]; there {
			s.redrawn["kind "+f.Kind[i].ID] = true
		}
		put(into, s.kinds, "kind", f.Kind[i].ID, &f.Kind[i])
	}
	for i := range f.Unit {
		if _, there := s.units[f.Unit[i].ID]; there {
			s.redrawn["unit "+f.Unit[i].ID] = true
		}
		put(into, s.units, "unit", f.Unit[i].ID, &f.Unit[i])
	}
	for i := range f.Pair {
		put(into, s.pairs, "pair", f.Pair[i].ID, &f.Pair[i])
	}
	for i := range f.Profile {
		p := &f.Profile[i]
		if p.Unit == "" {
			delete(s.redrawn, "kind "+p.Kind)
		} else {
			delete(s.redrawn, "unit "+p.Unit)
		}
		put(into, s.profiles, "profile", profileKey(p.Kind, p.Unit, p.Place), p)
	}
	for i := range f.Rule {
		put(into, s.ruleByID, "rule", f.Rule[i].ID, &f.Rule[i])
	}
}

type adding struct {
	set  *Set
	file string
	seen map[string]bool
}

// put remembers a table that stands twice in one file: the first of the two
// would be lost without a word.
func put[K ~string, V any](into adding, tables map[K]*V, table string, id K, value *V) {
	key := table + " " + string(id)
	if into.seen[key] {
		into.set.twice = append(into.set.twice, [2]string{table, string(id)})
	}
	into.seen[key] = true
	tables[id] = value
	into.set.from[key] = into.file
}

// index puts the rows into the order of their ids, and those of each damage
// into the order in which they are asked: the narrowest first.
func (s *Set) index() {
	s.rules = inOrder(s.ruleByID)
	s.byDamage = make(map[term.Damage][]row, len(s.damages))
	for _, r := range s.rules {
		compiled := compile(r)
		for _, d := range r.Damage {
			s.byDamage[d] = append(s.byDamage[d], compiled)
		}
	}
	for _, rows := range s.byDamage {
		slices.SortStableFunc(rows, func(a, b row) int { return narrower(a.Rule, b.Rule) })
	}
}

// row is a rule with its closed words as sets of bits, so that most of the rows
// that do not speak are passed over by three comparisons.
type row struct {
	*Rule
	severities, zones, roles uint16
}

func compile(r *Rule) row {
	return row{
		Rule: r, severities: bits(term.Severities, r.Severity),
		zones: bits(term.Zones, r.Zone), roles: bits(term.Roles, r.Role),
	}
}

// bits returns the words as bits by their place in the vocabulary; no words
// means all of them.
func bits[T comparable](vocabulary, words []T) uint16 {
	if len(words) == 0 {
		return ^uint16(0)
	}
	var set uint16
	for _, w := range words {
		set |= bit(vocabulary, w)
	}
	return set
}

// bit is the word's bit, 0 for a word that the vocabulary does not hold, which
// only a row for all of them covers.
func bit[T comparable](vocabulary []T, word T) uint16 {
	if i := slices.Index(vocabulary, word); i >= 0 {
		return 1 << i
	}
	return 1 << 15
}

// Decide returns the row that decides a case, nil where no row speaks.
func (s *Set) Decide(c Case) *Rule { return decide(s.byDamage[c.Damage], c, 0) }

// decide asks the rows in turn, those above a rank left out where it is not 0.
func decide(rows []row, c Case, below int) *Rule {
	severity, zone, role := bit(term.Severities, c.Severity), bit(term.Zones, c.Zone), bit(term.Roles, c.Role)
	for i := range rows {
		r := &rows[i]
		if r.severities&severity == 0 || r.zones&zone == 0 || r.roles&role == 0 || (below > 0 && r.rank() >= below) {
			continue
		}
		if covers(r.Kind, c.Kind) && covers(r.Surface, c.Surface) && covers(r.Unit, c.Unit) && r.withinShare(c.Share) {
			return r.Rule
		}
	}
	return nil
}

func inOrder[K cmp.Ordered, V any](m map[K]*V) []*V {
	list := make([]*V, 0, len(m))
	for _, id := range slices.Sorted(maps.Keys(m)) {
		list = append(list, m[id])
	}
	return list
}
