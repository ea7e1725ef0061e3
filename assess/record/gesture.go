package record

import (
	"fmt"
	"maps"

	"fettlebook/assess/term"
)

// put sets one member of a collection, which may not exist yet.
func put[V any](collection *map[ID]V, id ID, v V) {
	if *collection == nil {
		*collection = map[ID]V{}
	}
	(*collection)[id] = v
}

// add sets a new member: what stands under an id is never put out of its place.
func add[V any](collection *map[ID]V, id ID, what string, v V) error {
	if _, ok := (*collection)[id]; ok {
		return fmt.Errorf("there is a %s with the id %s already", what, id)
	}
	put(collection, id, v)
	return nil
}

// change edits one member of a collection in place.
func change[V any](collection map[ID]V, id ID, what string, edit func(*V)) error {
	v, ok := collection[id]
	if !ok {
		return fmt.Errorf("there is no such %s in this record any more", what)
	}
	edit(&v)
	collection[id] = v
	return nil
}

// Together makes one gesture of several.
func Together(says string, gestures ...Gesture) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		for _, g := range gestures {
			if err := g.Apply(r); err != nil {
				return err
			}
		}
		return nil
	}}
}

// Set changes fields of the record that stand alone (unit, owner, complaint,
// duty, dates, people).
func Set(says string, edit func(*Record)) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { edit(r); return nil }}
}

// AddParts adds parts under ids that the caller made with [NewID].
func AddParts(says string, parts map[ID]Part) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		for id, p := range parts {
			if err := add(&r.Parts, id, "part", p); err != nil {
				return err
			}
		}
		return nil
	}}
}

// ChangePart edits one part.
func ChangePart(says string, id ID, edit func(*Part)) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		return change(r.Parts, id, "part", edit)
	}}
}

// Look notes how surfaces of a part were inspected.
func Look(says string, id ID, looked map[string]Looked) Gesture {
	return ChangePart(says, id, func(p *Part) {
		if p.Surfaces == nil {
			p.Surfaces = map[string]Looked{}
		}
		maps.Copy(p.Surfaces, looked)
	})
}

// AddFinding adds a finding and gives it the next number.
func AddFinding(says string, id ID, f Finding) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		r.Numbers.Finding++
		f.Number = r.Numbers.Finding
		return add(&r.Findings, id, "finding", f)
	}}
}

// ChangeFinding edits one finding; its number stays.
func ChangeFinding(says string, id ID, edit func(*Finding)) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		return change(r.Findings, id, "finding", func(f *Finding) {
			number := f.Number
			edit(f)
			f.Number = number
		})
	}}
}

// Withdraw strikes a mistaken finding through: it stays, with who and why, and
// no longer counts.
func Withdraw(id ID, number int, who, why string) Gesture {
	says := fmt.Sprintf("finding %d withdrawn by %s: %s", number, who, why)
	return ChangeFinding(says, id, func(f *Finding) { f.Withdrawn = who + ": " + why })
}

// AddPhotos adds photo entries in the order given and numbers them on.
func AddPhotos(says string, ids []ID, photos []Photo) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		if len(ids) != len(photos) {
			return fmt.Errorf("there are %d ids for %d photos", len(ids), len(photos))
		}
		for i, p := range photos {
			r.Numbers.Photo++
			p.Number = r.Numbers.Photo
			if err := add(&r.Photos, ids[i], "photo", p); err != nil {
				return err
			}
		}
		return nil
	}}
}

// ChangePhoto edits one photo entry: stage, subjects, rotation, note. Its number
// stays.
func ChangePhoto(says string, id ID, edit func(*Photo)) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		return change(r.Photos, id, "photo", func(p *Photo) {
			number := p.Number
			edit(p)
			p.Number = number
		})
	}}
}

// RemovePhoto takes a photo entry and its outlines out of the record. The
// original stays in the archive.
func RemovePhoto(id ID, number int) Gesture {
	return Gesture{Says: fmt.Sprintf("photo %d taken out of the record", number), Apply: func(r *Record) error {
		delete(r.Photos, id)
		maps.DeleteFunc(r.Outlines, func(_ ID, o Outline) bool { return o.Photo == id })
		for of, l := range r.Limits {
			if l.Photo == id {
				l.Photo = ""
				r.Limits[of] = l
			}
		}
		return nil
	}}
}

// AddOutline adds an outline and gives it the next number.
func AddOutline(says string, id ID, o Outline) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		r.Numbers.Outline++
		o.Number = r.Numbers.Outline
		return add(&r.Outlines, id, "outline", o)
	}}
}

// ChangeOutline edits one outline: its corners, or the finding that it shows.
// Its number stays.
func ChangeOutline(says string, id ID, edit func(*Outline)) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error {
		return change(r.Outlines, id, "outline", func(o *Outline) {
			number := o.Number
			edit(o)
			o.Number = number
		})
	}}
}

// RemoveOutline removes an outline, and those that repeat it.
func RemoveOutline(id ID, number int) Gesture {
	return Gesture{Says: fmt.Sprintf("outline %d removed", number), Apply: func(r *Record) error {
		maps.DeleteFunc(r.Outlines, func(of ID, o Outline) bool { return of == id || o.Repeats == id })
		return nil
	}}
}

// AddReading adds a reading, or puts it in the place of the one with this id.
func AddReading(says string, id ID, m Reading) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Readings, id, m); return nil }}
}

// AddWorking keeps what was worked out, or puts it in the place of the one with this
// id.
func AddWorking(says string, id ID, w Working) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Workings, id, w.own()); return nil }}
}

// AddTrialFit adds a trial fit, or puts it in the place of the one with this id.
func AddTrialFit(says string, id ID, f TrialFit) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.TrialFits, id, f); return nil }}
}

// SetOverride puts a person's verdict over the computed one.
func SetOverride(says string, id ID, o Override) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Overrides, id, o); return nil }}
}

// AddInstalled notes what was put into a place of the finished unit, instead of
// what was noted under this id.
func AddInstalled(says string, id ID, in Installed) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Installed, id, in); return nil }}
}

// New returns an empty record of a unit for a duty.
func New(unit Unit, duty term.Duty) *Record {
	return &Record{Format: Format, ID: NewID(), Unit: unit, Duty: duty}
}

// AddOpinion adds what a person holds the findings to be consistent with.
func AddOpinion(says string, id ID, o Opinion) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Opinions, id, o); return nil }}
}

// AddLimit adds a wear limit, or puts it in the place of the one with this id.
func AddLimit(says string, id ID, l Limit) Gesture {
	return Gesture{Says: says, Apply: func(r *Record) error { put(&r.Limits, id, l); return nil }}
}

// WithdrawEntry strikes a mistaken reading, working, trial fit, override, limit or
// opinion through: it stays, with who and why, and no longer counts.
func WithdrawEntry(says string, id ID, who, why string) Gesture {
	text := who + ": " + why
	return Gesture{Says: says, Apply: func(r *Record) error {
		if _, ok := r.Readings[id]; ok {
			return change(r.Readings, id, "reading", func(m *Reading) { m.Withdrawn = text })
		}
		if _, ok := r.Workings[id]; ok {
			return change(r.Workings, id, "working", func(w *Working) { w.Withdrawn = text })
		}
		if _, ok := r.TrialFits[id]; ok {
			return change(r.TrialFits, id, "trial fit", func(f *TrialFit) { f.Withdrawn = text })
		}
		if _, ok := r.Overrides[id]; ok {
			return change(r.Overrides, id, "override", func(o *Override) { o.Withdrawn = text })
		}
		if _, ok := r.Limits[id]; ok {
			return change(r.Limits, id, "limit", func(l *Limit) { l.Withdrawn = text })
		}
		return change(r.Opinions, id, "entry", func(o *Opinion) { o.Withdrawn = text })
	}}
}
