package assess

import (
	"slices"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// sets closes a part once all are graded: what to do about it, and what goes
// together with it.
func (a *assessor) sets(w *work) {
	a.actions(w)
	if w.Verdict == term.Condemned {
		a.meshPassed(w)
	}
}

// actions collects what to do: the remedies of the reasons that decide.
func (a *assessor) actions(w *work) {
	if w.Verdict == term.Sound {
		return
	}
	add := func(r *Reason, surface string, of term.Verdict) {
		v := r.Verdicts[a.duty]
		if v.Worse(of) { // a person judged otherwise
			return
		}
		if r.Remedy == "" || v == term.Sound || w.Verdict.Worse(v) && v != term.Repairable && v != term.Usable {
			return
		}
		if v != term.Condemned && (w.Verdict == term.Condemned || r.Remedy.Replaces()) {
			return
		}
		if slices.ContainsFunc(w.Actions, func(x Action) bool { return x.Do == r.Remedy }) {
			return
		}
		act := Action{Do: r.Remedy, Why: r.Text}
		if r.Remedy.Replaces() {
			act.With = a.with(w, surface, r)
		}
		w.Actions = append(w.Actions, act)
	}
	for i := range w.Reasons {
		add(&w.Reasons[i], "", w.Verdict)
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		for j := range s.Reasons {
			add(&s.Reasons[j], s.ID, kinder(s.Verdict, w.Verdict))
		}
	}
	if w.Verdict == term.Condemned && len(w.Actions) == 0 {
		w.Actions = append(w.Actions, Action{Do: term.Replace, Why: w.Why, With: a.with(w, "", &Reason{})})
	}
}

// kinder returns the kinder of two verdicts.
func kinder(x, y term.Verdict) term.Verdict {
	if x.Worse(y) {
		return y
	}
	return x
}

// with names what is replaced together with this part: the kinds of its set; the
// mates of the surface that asks for it, for a trial fit and for a kind without a
// set; and the gears with which it meshes, unless they were passed.
func (a *assessor) with(w *work, surface string, r *Reason) []string {
	if w.kind == nil || w.Consumable {
		return nil
	}
	names := a.ofSet(w)
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	mates := r.Remedy == term.ReplaceWithMate && (r.from == fromFit || len(w.kind.With) == 0)
	for i := range w.kind.Surfaces {
		f := &w.kind.Surfaces[i]
		for _, end := range a.matesOf(w, f.ID) {
			place := a.placeOf(end.Place)
			if place == nil {
				continue
			}
			if name := lowerFirst(place.Name); mates && f.ID == surface {
				add(name)
			} else if f.Role == term.Flank {
				if teeth := a.unpassed(end); teeth != "" {
					add(name + ", unless its " + teeth + " are passed")
				}
			}
		}
	}
	return names
}

// ofSet names the places of this unit that hold the kinds of the part's set and
// run on it, or on another of the set; the kind itself where the unit has none.
func (a *assessor) ofSet(w *work) []string {
	var names []string
	var places []*spec.Place
	near := func(place *spec.Place, kind string) {
		if k, ok := a.specs.Kind(place.Kind); ok && a.unit != nil {
			for i := range k.Surfaces {
				for _, end := range a.mates[spec.End{Place: place.ID, Surface: k.Surfaces[i].ID}] {
					other := a.placeOf(end.Place)
					if other != nil && other.Kind == kind && !slices.Contains(places, other) {
						places = append(places, other)
						names = append(names, lowerFirst(other.Name))
					}
				}
			}
		}
	}
	for _, id := range w.kind.With {
		before := len(names)
		if w.place != nil {
			near(w.place, id)
		}
		for _, place := range slices.Clone(places) {
			if len(names) == before {
				near(place, id)
			}
		}
		if k, ok := a.specs.Kind(id); ok && len(names) == before {
			names = append(names, k.Name)
		}
	}
	return names
}

// unpassed names the surface of a meshing gear that nobody passed yet, empty where
// it was looked at, felt and serves.
func (a *assessor) unpassed(end spec.End) string {
	if len(a.at[end.Place]) == 0 {
		return "teeth"
	}
	for _, mate := range a.at[end.Place] {
		if s, ok := mate.Surface(end.Surface); !ok {
			return "teeth"
		} else if !s.Verdict.Serves() {
			return s.Name
		}
	}
	return ""
}

// meshPassed says of the gears that mesh with a condemned one and were passed that
// they may run on with a new one.
func (a *assessor) meshPassed(w *work) {
	if a.unit == nil || w.kind == nil {
		return
	}
	for i := range w.kind.Surfaces {
		f := &w.kind.Surfaces[i]
		if f.Role != term.Flank {
			continue
		}
		for _, end := range a.matesOf(w, f.ID) {
			for _, mate := range a.at[end.Place] {
				if s, ok := mate.Surface(end.Surface); ok && s.Verdict.Serves() && mate.Verdict != term.Condemned {
					s.note("What meshes here (" + lowerFirst(w.Name) + ") is to be replaced; these teeth were passed to run with a new one" + by(mate, s.ID) + ".")
				}
			}
		}
	}
}

func by(w *work, surface string) string {
	if who := w.entry.Surfaces[surface].By; who != "" {
		return " (" + who + ")"
	}
	return ""
}
