package record

import "fmt"

// Stacks tell what can be undone and done again at the end of a history.
type Stacks struct {
	undo, redo []Entry
}

// Add takes the next entry of the history into account.
func (s *Stacks) Add(e Entry) {
	switch e.Kind {
	case Undo:
		if last, ok := s.Undoable(); ok && last.Number == e.Of {
			s.undo = s.undo[:len(s.undo)-1]
			s.redo = append(s.redo, last)
		}
	case Redo:
		if last, ok := s.Redoable(); ok && last.Number == e.Of {
			s.redo = s.redo[:len(s.redo)-1]
			s.undo = append(s.undo, last)
		}
	default:
		if e.Number > 1 {
			s.undo = append(s.undo, e)
		}
		s.redo = nil
	}
}

// Undoable returns the entry that undo would take back.
func (s *Stacks) Undoable() (Entry, bool) { return top(s.undo) }

// Redoable returns the entry that redo would do again.
func (s *Stacks) Redoable() (Entry, bool) { return top(s.redo) }

func top(entries []Entry) (Entry, bool) {
	if len(entries) == 0 {
		return Entry{}, false
	}
	return entries[len(entries)-1], true
}

// Says names the unit in a few words: maker, model, serial.
func (u Unit) Says() string {
	name := u.Type
	if u.Model != "" {
		name = u.Model
	}
	if u.Maker != "" {
		name = u.Maker + " " + name
	}
	if u.Serial != "" {
		name = fmt.Sprintf("%s, serial %s", name, u.Serial)
	}
	return name
}
