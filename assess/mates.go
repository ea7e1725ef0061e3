package assess

import (
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// doubtTorqueCarriers doubts every part that carried the torque of a unit in
// which a tooth broke or metal is missing, until it is crack-tested.
func (a *assessor) doubtTorqueCarriers() {
	cause := a.shock()
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
			Text: "Metal broke off in this unit (" + lowerFirst(cause.Name) +
				"); what carried its torque may have cracked with it.",
			Remedy: term.Test, Source: commonPractice,
			next: "Crack-test it with penetrant or magnetic particles.",
		})
	}
}

// shock returns a part with damage after which the whole unit is doubted.
func (a *assessor) shock() *work {
	for i := range a.works {
		for _, list := range a.works[i].findings {
			for _, f := range list {
				known, ok := a.specs.Damage(f.Damage)
				if ok && known.Shock && f.Severity == term.Present {
					return &a.works[i]
				}
			}
		}
	}
	return nil
}

func crackTested(w *work) bool {
	for _, list := range w.findings {
		if tested(list, term.Crack, []term.Method{term.Penetrant, term.MagneticParticles}) {
			return true
		}
	}
	return false
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
		why := asks(s)
		if why == "" {
			continue
		}
		for _, end := range a.unit.MatesOf(w.Place, s.ID) {
			for _, mate := range a.at[end.Place] {
				a.askMate(w, s, mate, end, why)
			}
		}
	}
}

// asks returns why the surface's mate must be looked at, empty if it need not.
func asks(s *Surface) string {
	for i := range s.Reasons {
		if s.Reasons[i].askMate != "" {
			return s.Reasons[i].askMate
		}
	}
	return ""
}

func (a *assessor) askMate(w *work, s *Surface, mate *work, end spec.End, why string) {
	for i := range mate.Surfaces {
		m := &mate.Surfaces[i]
		if m.ID != end.Surface {
			continue
		}
		here := lowerFirst(w.Name) + ", " + s.Name
		there := lowerFirst(mate.Name) + ", " + m.Name
		looked := mate.entry.Surfaces[m.ID]
		if thorough(looked) {
			m.Notes = append(m.Notes, "Its mate ("+here+") is damaged: "+why+". Looked at and felt here"+clean(mate, m.ID))
			s.Notes = append(s.Notes, "Its mate ("+there+") was looked at and felt"+clean(mate, m.ID))
			return
		}
		m.Reasons = append(m.Reasons, Reason{
			Text: "Its mate (" + here + ") is damaged: " + why + ".", Source: commonPractice,
			next: "Clean it, look at it and feel it: " + why + ".",
		})
		s.Notes = append(s.Notes, "Its mate ("+there+") is still to be looked at and felt.")
		return
	}
}

func thorough(l record.Looked) bool { return l.Eye && l.Touch && l.Clean }

func clean(mate *work, surface string) string {
	if len(mate.findings[surface]) == 0 {
		return ": nothing found."
	}
	return "; it has findings of its own."
}
