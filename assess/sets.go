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
	add := func(r *Reason, of term.Verdict) {
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
			act.With = a.with(w, r.Remedy == term.ReplaceWithMate)
		}
		w.Actions = append(w.Actions, act)
	}
	for i := range w.Reasons {
		add(&w.Reasons[i], w.Verdict)
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		for j := range s.Reasons {
			add(&s.Reasons[j], kinder(s.Verdict, w.Verdict))
		}
	}
	if w.Verdict == term.Condemned && len(w.Actions) == 0 {
		w.Actions = append(w.Actions, Action{Do: term.Replace, Why: w.Why, With: a.with(w, false)})
	}
}

// kinder returns the kinder of two verdicts.
func kinder(x, y term.Verdict) term.Verdict {
	if x.Worse(y) {
		return y
	}
	return x
}

// with names what is replaced together with this part: the kinds of its set;
// where the row asks for it, the mates of the surfaces that decide; and the gears
// with which it meshes, unless they were passed.
func (a *assessor) with(w *work, mates bool) []string {
	if w.kind == nil || w.Consumable {
		return nil
	}
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, id := range w.kind.With {
		for _, name := range a.ofSet(w, id) {
			add(name)
		}
	}
	if a.unit == nil {
		return names
	}
	for i := range w.kind.Surfaces {
		f := &w.kind.Surfaces[i]
		s, judged := w.Surface(f.ID)
		decides := mates && judged && s.Verdict == w.Verdict
		for _, end := range a.matesOf(w, f.ID) {
			place, _, ok := a.unit.Place(end.Place)
			if !ok || !decides && f.Role != term.Flank {
				continue
			}
			if name := lowerFirst(place.Name); decides {
				add(name)
			} else if surface := a.unpassed(end); surface != "" {
				add(name + ", unless its " + surface + " are passed")
			}
		}
	}
	return names
}

// ofSet names the places of this unit that hold the kind of a set and run on this
// part; the kind itself where the unit has none.
func (a *assessor) ofSet(w *work, kind string) []string {
	k, ok := a.specs.Kind(kind)
	if !ok {
		return nil
	}
	var names []string
	if a.unit != nil {
		for i := range w.kind.Surfaces {
			for _, end := range a.matesOf(w, w.kind.Surfaces[i].ID) {
				if place, _, ok := a.unit.Place(end.Place); ok && place.Kind == kind && !slices.Contains(names, lowerFirst(place.Name)) {
					names = append(names, lowerFirst(place.Name))
				}
			}
		}
	}
	if len(names) == 0 {
		return []string{k.Name}
	}
	return names
}

// unpassed names the surface of a meshing gear that nobody passed yet, empty where
// it was looked at, felt and serves, or where the record holds no such part.
func (a *assessor) unpassed(end spec.End) string {
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
					s.note("The gear that meshes here (" + lowerFirst(w.Name) + ") is to be replaced; these teeth were passed to run with a new one" + by(mate, s.ID) + ".")
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
