package assess

import (
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// evidence is what was done and found on one surface: all that its own verdict
// comes from. What would turn a verdict is found by judging a changed copy.
type evidence struct {
	looked   record.Looked
	findings []found
	// fitted and measured assume that a trial fit, or a reading, has settled what
	// waits for one.
	fitted, measured bool
}

func evidenceOf(w *work, f *spec.Surface) evidence {
	return evidence{looked: w.entry.Surfaces[f.ID], findings: w.findings[f.ID]}
}

// ruling is what is held of one finding, before it is put into words.
type ruling struct {
	verdicts ByDuty
	by       ruledBy
	// row decided, nil where none did. waits says that it waits for a test.
	row   *spec.Rule
	waits bool
	// safety says that the finding belongs to the safety set; asFound that a
	// condemnation by appearance alone was taken back until the surface is clean.
	safety, asFound bool
}

type ruledBy uint8

const (
	// What a row of the specs says.
	_ ruledBy = iota
	// colourAsFound: colour on a surface that is not clean says nothing.
	colourAsFound
	// cleared: a suspicion that a test has settled.
	cleared
	// bySafety: no row speaks, and what belongs to the safety set is condemned.
	bySafety
	// unruled: no row speaks.
	unruled
)

// rule judges one finding in the light of the surface's other evidence.
func (a *assessor) rule(w *work, f *spec.Surface, e *evidence, one *found) ruling {
	known, _ := a.specs.Damage(one.Damage)
	dirty := !e.looked.Clean && f.Hidden == ""
	if dirty && known != nil && known.Colour {
		return ruling{by: colourAsFound}
	}
	if one.Severity == term.Suspected && (tested(e.findings, one.Damage, settledBy(known)) || one.Damage == term.Looseness && a.fittedWell(w, f, nil)) {
		return ruling{by: cleared, verdicts: all(term.Sound)}
	}
	r := ruling{
		row:    a.specs.Decide(a.caseOf(w, f, one)),
		safety: term.Safety(one.Damage, one.Severity, one.Zone) && !hardEnough(e.findings, one.Damage),
	}
	switch {
	case r.row != nil:
		r.waits = r.row.UntilTested != nil && !a.settled(w, f, e, r.row.UntilTested)
		r.verdicts = byDuty(r.row, groupOf(w, f), r.waits)
	case r.safety:
		r.by, r.verdicts = bySafety, all(term.Condemned)
	default:
		r.by = unruled
	}
	for i, v := range r.verdicts {
		if r.safety && v.Serves() {
			r.verdicts[i] = term.Condemned
		}
		if r.verdicts[i] == term.Condemned && dirty && onlySeen(one) {
			r.asFound, r.verdicts[i] = true, term.Undecided
		}
	}
	return r
}

// onlySeen reports whether a finding was made by eye alone, and is none that dirt
// can't feign.
func onlySeen(one *found) bool {
	return one.Method == term.ByEye && one.Damage != term.MissingMetal && one.Damage != term.MissingElement
}

func (a *assessor) caseOf(w *work, f *spec.Surface, one *found) spec.Case {
	return spec.Case{
		Unit: a.record.Unit.Type, Share: share(one.Share), Kind: w.Kind, Surface: f.ID, Role: f.Role,
		Damage: one.Damage, Severity: one.Severity, Zone: one.Zone,
	}
}

// byDuty returns what a row says for each duty of a surface that serves a group
// of gears; before says that what it waits for was not done.
func byDuty(row *spec.Rule, group term.GearGroup, before bool) ByDuty {
	var v ByDuty
	for i, duty := range term.Duties {
		demand := duty.Demand(row.By, group)
		v[i] = row.At(demand)
		if before {
			v[i] = term.Worst(v[i], row.UntilTested.At(demand))
		}
	}
	return v
}

// settled reports whether what a row waits for has been done: a test that came
// out clean, a trial fit that serves, or a reading within its limit.
func (a *assessor) settled(w *work, f *spec.Surface, e *evidence, u *spec.Untested) bool {
	return tested(e.findings, u.For, u.By) ||
		len(u.Fit) > 0 && (e.fitted || a.fittedWell(w, f, u.Fit)) ||
		u.Measured && (e.measured || a.measuredWell(w, f))
}

// hardEnough reports whether a tinted or doubted surface was proven not to be
// softened by a hardness test.
func hardEnough(findings []found, damage term.Damage) bool {
	return damage == term.HeatTint && tested(findings, term.Softness, []term.Method{term.Hardness})
}

// laboratory are the ways of finding that settle a suspicion where nothing else
// is said of the damage: never the eye alone.
var laboratory = []term.Method{term.Penetrant, term.MagneticParticles, term.Hardness}

func settledBy(known *spec.Damage) []term.Method {
	if known == nil || len(known.SettledBy) == 0 {
		return laboratory
	}
	return known.SettledBy
}

// tested reports whether a damage was looked for on a surface in one of the ways
// and not found.
func tested(findings []found, damage term.Damage, by []term.Method) bool {
	return slices.ContainsFunc(findings, func(f found) bool {
		return f.Damage == damage && f.Severity == term.NotFound && slices.Contains(by, f.Method)
	})
}

// lookState is how far a surface has been looked at.
type lookState uint8

const (
	untried lookState = iota // hidden, and its substitute test not done
	byTest                   // hidden, judged by its substitute test
	unseen
	unclean
	feltOnly
	seenOnly // and a finger is called for
	inspected
)

func lookOf(f *spec.Surface, looked record.Looked) lookState {
	switch {
	case f.Hidden != "" && !looked.Touch:
		return untried
	case f.Hidden != "":
		return byTest
	case !looked.Eye && !looked.Touch:
		return unseen
	case !looked.Clean:
		return unclean
	case !looked.Eye:
		return feltOnly
	case f.Feel != "" && !looked.Touch:
		return seenOnly
	}
	return inspected
}

// verdict is what the inspection itself is worth where nothing was found.
func (l lookState) verdict() term.Verdict {
	switch l {
	case byTest:
		return term.Usable
	case inspected:
		return term.Sound
	}
	return term.Undecided
}

func thorough(l record.Looked) bool { return l.Eye && l.Touch && l.Clean }
