package assess

import (
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// doubtTorqueCarriers doubts every part that carried the torque of a unit in
// which metal broke off or something seized, until it is crack-tested.
func (a *assessor) doubtTorqueCarriers() {
	cause, what := a.shock()
	if cause == nil {
		return
	}
	for i := range a.works {
		w := &a.works[i]
		if w.kind == nil || !w.kind.Torque || w.Consumable || len(w.Surfaces) == 0 || crackTested(w) {
			continue
		}
		w.Reasons = append(w.Reasons, Reason{
			Verdicts: ByDuty{term.Sound, term.Undecided, term.Undecided},
			Text:     what + " in this unit (" + lowerFirst(cause.Name) + "); what carried its torque may have cracked with it.",
			Remedy:   term.Test, Source: commonPractice, from: fromShock,
			next: a.whenReleased("Crack-test it with penetrant or magnetic particles."), work: ToTest,
		})
	}
}

// shock returns a part with damage after which the whole unit is doubted, and what
// happened; nil for none. Metal that broke off comes before what seized.
func (a *assessor) shock() (*work, string) {
	var seized *work
	for i := range a.works {
		w := &a.works[i]
		for _, list := range w.findings {
			for j := range list {
				known, ok := a.specs.Damage(list[j].Damage)
				if ok && known.Shock && list[j].Severity == term.Present {
					return w, "Metal broke off"
				}
			}
		}
		for j := range w.Surfaces {
			if seized == nil && slices.ContainsFunc(w.Surfaces[j].Reasons, func(r Reason) bool { return r.seized }) {
				seized = w
			}
		}
	}
	return seized, "Something seized"
}

func crackTested(w *work) bool {
	for _, list := range w.findings {
		if tested(list, term.Crack, []term.Method{term.Penetrant, term.MagneticParticles}) {
			return true
		}
	}
	return false
}

// matesOf returns what runs on a surface of the part in this unit.
func (a *assessor) matesOf(w *work, surface string) []spec.End {
	return a.mates[spec.End{Place: w.Place, Surface: surface}]
}

// askMates is the second pass: what this part's findings ask of the surfaces
// that run on them. It looks at findings only, never at what was asked for, so
// that doubt does not spread through the unit.
func (a *assessor) askMates(w *work) {
	if a.unit == nil || w.Place == "" {
		return
	}
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		why := a.asks(w, s)
		if why == "" {
			continue
		}
		for _, end := range a.matesOf(w, s.ID) {
			for _, mate := range a.at[end.Place] {
				if m, ok := mate.Surface(end.Surface); ok {
					a.askMate(w, s, mate, m, why)
				}
			}
		}
	}
}

// asks returns why the surface's mate must be looked at: what the weightiest of
// its findings and readings that ask for it says. It is empty if none does.
func (a *assessor) asks(w *work, s *Surface) string {
	var asks *Reason
	why := ""
	for i := range s.Reasons {
		r := &s.Reasons[i]
		text := r.askMate
		if r.Verdicts[a.duty] == term.Condemned && text == "" {
			text = a.wornAsks(w, r.Of)
		}
		if text != "" && (asks == nil || heavier(r, asks, a.duty) < 0) {
			asks, why = r, text
		}
	}
	return why
}

// wornAsks returns what a dimension asks of the mate that is worn past its limit,
// empty for what is no reading.
func (a *assessor) wornAsks(w *work, id record.ID) string {
	m, ok := a.record.Readings[id]
	if !ok || w.kind == nil {
		return ""
	}
	f, _, ok := w.kind.Surface(m.Surface)
	if !ok {
		return ""
	}
	for _, d := range f.Dimensions {
		if d.ID == m.Dimension {
			return d.AskMate
		}
	}
	return ""
}

// askMate says on both surfaces what the damage of one asks of the other: to be
// inspected, or both facts where it was looked at. Where both are damaged, each
// says so once.
func (a *assessor) askMate(w *work, s *Surface, mate *work, m *Surface, why string) {
	here, there := lowerFirst(w.Name)+", "+s.Name, lowerFirst(mate.Name)+", "+m.Name
	looked, damaged := thorough(mate.entry.Surfaces[m.ID]), m.hurt()
	switch {
	case looked && damaged:
		s.note("Its mate (" + there + ") was looked at and felt, and has findings of its own: " + why + ".")
		if a.asks(mate, m) == "" {
			m.note("Its mate (" + here + ") is damaged as well: " + why + ".")
		}
	case looked:
		s.note("Its mate (" + there + ") was looked at and felt, and nothing was found on it.")
		m.note("Its mate (" + here + ") is damaged: " + why + ". This side was looked at and felt, and nothing was found.")
	default:
		m.Reasons = append(m.Reasons, Reason{
			Text: "Its mate (" + here + ") is damaged: " + why + ".", Source: commonPractice, from: fromMate,
			next: a.whenReleased("Clean it, look at it and feel it: " + why + "."), work: ToLook,
		})
		s.note("Its mate (" + there + ") is still to be looked at and felt.")
	}
}

// hurt reports whether anything was found on a surface that counts.
func (s *Surface) hurt() bool {
	return slices.ContainsFunc(s.Reasons, func(r Reason) bool { return r.from == fromFinding && r.Verdicts != all(term.Sound) })
}
