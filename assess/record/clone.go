package record

import (
	"iter"
	"maps"
	"slices"
)

// collection is one of the record's maps by id. All are told here once, so that
// copying, writing, comparing and taking back treat them alike.
type collection struct {
	name string
	// ids yields the ids of the members.
	ids func(*Record) iter.Seq[ID]
	// clear empties the collection.
	clear func(*Record)
	// own puts a deep copy of one record's collection into another record.
	own func(from, to *Record)
	// write gives the canonical JSON of each member, taking it from the older
	// record's where a member is unchanged.
	write func(r, older *Record, was members) (members, error)
	// carry sets the named members to what they are in another record, and
	// deletes those that it lacks.
	carry func(from, to *Record, ids map[ID]bool)
}

var collections = []collection{
	collect("parts", func(r *Record) *map[ID]Part { return &r.Parts }, Part.own),
	collect("photos", func(r *Record) *map[ID]Photo { return &r.Photos }, Photo.own),
	collect("findings", func(r *Record) *map[ID]Finding { return &r.Findings }, nil),
	collect("outlines", func(r *Record) *map[ID]Outline { return &r.Outlines }, Outline.own),
	collect("readings", func(r *Record) *map[ID]Reading { return &r.Readings }, Reading.own),
	collect("trialFits", func(r *Record) *map[ID]TrialFit { return &r.TrialFits }, nil),
	collect("overrides", func(r *Record) *map[ID]Override { return &r.Overrides }, nil),
	collect("opinions", func(r *Record) *map[ID]Opinion { return &r.Opinions }, nil),
	collect("limits", func(r *Record) *map[ID]Limit { return &r.Limits }, nil),
	collect("workings", func(r *Record) *map[ID]Working { return &r.Workings }, Working.own),
	collect("installed", func(r *Record) *map[ID]Installed { return &r.Installed }, nil),
}

// collect tells one collection; own may be nil where a member shares nothing
// when it is assigned.
func collect[V any](name string, at func(*Record) *map[ID]V, own func(V) V) collection {
	return collection{
		name:  name,
		ids:   func(r *Record) iter.Seq[ID] { return maps.Keys(*at(r)) },
		clear: func(r *Record) { *at(r) = nil },
		own: func(from, to *Record) {
			all := maps.Clone(*at(from))
			if own != nil {
				for id, v := range all {
					all[id] = own(v)
				}
			}
			*at(to) = all
		},
		write: func(r, older *Record, was members) (members, error) {
			return write(*at(r), *at(older), was)
		},
		carry: func(from, to *Record, ids map[ID]bool) {
			for id := range ids {
				if v, ok := (*at(from))[id]; ok {
					put(at(to), id, v)
				} else {
					delete(*at(to), id)
				}
			}
		},
	}
}

// clone returns a copy that shares nothing with the record that can be changed.
func (r *Record) clone() *Record {
	c := *r
	c.People = slices.Clone(r.People)
	for _, one := range collections {
		one.own(r, &c)
	}
	return &c
}

func (p Part) own() Part {
	p.Surfaces = maps.Clone(p.Surfaces)
	return p
}

func (p Photo) own() Photo {
	p.Subjects = slices.Clone(p.Subjects)
	return p
}

func (o Outline) own() Outline {
	o.Points = slices.Clone(o.Points)
	return o
}

func (m Reading) own() Reading {
	m.Values = slices.Clone(m.Values)
	return m
}

func (w Working) own() Working {
	w.Entries = maps.Clone(w.Entries)
	return w
}
