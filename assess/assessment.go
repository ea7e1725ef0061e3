// Package assess comes to the verdicts: from what was seen on a core and what
// is known of its parts to the grade of each part, its remedy, what is still to
// be inspected and the outcome of the core, each with its reasons and sources.
//
// It is a pure function. It never reads the clock, knows no part's name and
// holds no rule of the trade: those are data in the specs. It works in two
// passes, each surface by its own findings first and then by what its mates ask
// for, and never chains through the unit.
package assess

import (
	"fmt"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// ByDuty holds a verdict for each of [term.Duties], in their order.
type ByDuty [3]term.Verdict

// For returns the verdict for one of the preset duties.
func (b ByDuty) For(d term.Duty) term.Verdict { return b[dutyIndex(d)] }

// worst takes the harder of the verdicts, duty by duty.
func (b ByDuty) worst(other ByDuty) ByDuty {
	for i := range b {
		b[i] = term.Worst(b[i], other[i])
	}
	return b
}

// MarshalJSON gives an object with the duties as its names.
func (b ByDuty) MarshalJSON() ([]byte, error) {
	return fmt.Appendf(nil, `{"yard":%q,"road":%q,"hard":%q}`, b[0], b[1], b[2]), nil
}

func all(v term.Verdict) ByDuty { return ByDuty{v, v, v} }

func dutyIndex(d term.Duty) int {
	for i, known := range term.Duties {
		if known == d {
			return i
		}
	}
	return len(term.Duties) - 1
}

// Reason is one thing that speaks for a verdict.
type Reason struct {
	Verdicts ByDuty `json:"verdicts"`
	// Text is a plain sentence; IfLeft says what may happen if nothing is done.
	Text   string `json:"text"`
	IfLeft string `json:"ifLeft,omitzero"`
	// Plain says to a customer what the damage is, empty where there is none.
	Plain  string      `json:"plain,omitzero"`
	Remedy term.Remedy `json:"remedy,omitzero"`
	// Source names where the judgement comes from; Rule the row that decided,
	// empty where none did. Reviewed names who reviewed the row.
	Source   string `json:"source"`
	Rule     string `json:"rule,omitzero"`
	Reviewed string `json:"reviewed,omitzero"`
	// Of is the finding, reading, working, trial fit or override that it speaks of, empty
	// where it speaks of what was not done.
	Of record.ID `json:"of,omitzero"`
	// Safety marks what belongs to the safety set.
	Safety bool `json:"safety,omitzero"`
	// Decides marks the one reason of its list that gives the verdict for the duty
	// that was asked for; the others are its runners-up.
	Decides bool `json:"decides,omitzero"`
	// How tells by what a finding was made and by whom: "by touch (Wren Aldous)".
	How string `json:"how,omitzero"`
	// Passed are other rows that spoke of the same finding, the next narrowest
	// first. They gave way and count for nothing.
	Passed []Passed `json:"passed,omitempty"`
	// Measurement holds the numbers behind a reading, nil where it is none.
	Measurement *Measurement `json:"-"`

	// askMate says why the mate must be looked at; next what would decide, and
	// work what that asks for.
	askMate, next string
	work          Work
	from          source
	// number is that of the finding, 0 for none; waits says that its row waits
	// for a test.
	number int
	waits  bool
	// wornPartner marks a trial fit that speaks against the part and was tried
	// with a partner that is worn itself.
	wornPartner bool
	// seized says that its row speaks of a seizure.
	seized bool
	// overrules marks a person's verdict that holds over the computed one.
	overrules bool
}

// source is what a reason comes from, where it must be told apart.
type source uint8

const (
	fromElsewhere source = iota
	fromFinding
	fromLook
	fromFit
	fromMate
	fromShock
	fromPerson
)

// Passed is a row that spoke of a finding and gave way to a narrower one.
type Passed struct {
	Rule     string `json:"rule"`
	Verdicts ByDuty `json:"verdicts"`
	Text     string `json:"text"`
	Source   string `json:"source"`
	// Since says why it gave way: "the other is for this kind of part".
	Since string `json:"since"`
}

// Surface is what is said of one surface.
type Surface struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Number int    `json:"number"`
	// Verdict is for the duty that was asked for.
	Verdict  term.Verdict `json:"verdict"`
	Verdicts ByDuty       `json:"verdicts"`
	// Reasons stand in the order of their weight for that duty, at least one. The
	// first decides.
	Reasons []Reason `json:"reasons,omitempty"`
	// Inspect says what must be done before it can be decided.
	Inspect []string `json:"inspect,omitempty"`
	// WhatIf says the smallest single change that would turn the verdict: a test, a
	// trial fit, cleaning, dressing, else a milder finding. It is empty where no
	// single one would.
	WhatIf string `json:"whatIf,omitzero"`
	// Notes are facts that change no verdict: what is known of the mate.
	Notes []string `json:"notes,omitempty"`
	// overruled says that a person's verdict holds here.
	overruled bool
	// steps are those of Inspect, with the work that they ask for; turn is what
	// WhatIf says.
	steps []Step
	turn  turn
}

// Part is what is said of one part.
type Part struct {
	ID    record.ID `json:"id"`
	Name  string    `json:"name"`
	Kind  string    `json:"kind"`
	Place string    `json:"place,omitzero"`
	// Order is the part's rank in the row in which the unit is laid out.
	Order int `json:"order,omitzero"`
	// Verdict is for the duty that was asked for. Computed is the same without
	// the override of a person.
	Verdict  term.Verdict `json:"verdict"`
	Verdicts ByDuty       `json:"verdicts"`
	Computed term.Verdict `json:"computed,omitzero"`
	// Grade is the headline: the verdict's word, or "yard duty only", "missing", …
	Grade string `json:"grade"`
	// Why is the sentence that explains the grade, with the surface that decides.
	Why      string    `json:"why,omitzero"`
	Surfaces []Surface `json:"surfaces,omitempty"`
	// Reasons are those of the part as a whole; those of its surfaces stand there.
	Reasons []Reason `json:"reasons,omitempty"`
	// Grounds point to what decides the part's verdict, which comes first, and to
	// its runners-up in the order of their weight: see [Part.Ground].
	Grounds []Ground `json:"grounds,omitempty"`
	// WhatIf says the smallest single change that would turn the part's verdict,
	// empty where no single one would.
	WhatIf  string   `json:"whatIf,omitzero"`
	Actions []Action `json:"actions,omitempty"`
	// Workings are what was worked out of several sizes, in the order in which it was
	// kept.
	Workings []Worked `json:"workings,omitempty"`
	// Inspect lists what is to be inspected, in the order that saves most work,
	// empty once the part is condemned.
	Inspect []Step `json:"inspect,omitempty"`
	// Consumable marks a part that is always replaced and is not counted.
	Consumable bool             `json:"consumable,omitzero"`
	Override   *record.Override `json:"override,omitzero"`
}

// Action is what to do about a part.
type Action struct {
	Do  term.Remedy `json:"do"`
	Why string      `json:"why,omitzero"`
	// With names parts that go together with it.
	With []string `json:"with,omitempty"`
}

// Outcome is what becomes of the core.
type Outcome string

// The outcomes of a core.
const (
	NotDecided      Outcome = "not decided yet"
	WorthRebuilding Outcome = "worth rebuilding"
	Donor           Outcome = "a donor"
	Scrap           Outcome = "scrap"
)

// Assessment is everything that is said of one core for one duty.
type Assessment struct {
	Duty term.Duty `json:"duty"`
	// Hold says why nothing may be cleaned or taken further, empty where it may.
	Hold string `json:"hold,omitzero"`
	// Parts stand in the order in which the unit is laid out.
	Parts   []Part  `json:"parts,omitempty"`
	Outcome Outcome `json:"outcome"`
	// Why tells the outcome's reasons in sentences.
	Why []string `json:"why,omitempty"`
	// Next are the parts that are still to be inspected, in the order that saves
	// most work: first what alone can end the rebuild, then what is worth most,
	// then what takes the fewest steps.
	Next []record.ID `json:"next,omitempty"`
	// Causes are what the findings are consistent with, unranked.
	Causes []Cause `json:"causes,omitempty"`
	// Unrecorded names places of the unit of which the record holds no part.
	Unrecorded []string `json:"unrecorded,omitempty"`
}

// Part returns what is said of one part.
func (a *Assessment) Part(id record.ID) (*Part, bool) {
	for i := range a.Parts {
		if a.Parts[i].ID == id {
			return &a.Parts[i], true
		}
	}
	return nil, false
}

// Surface returns what is said of one surface.
func (p *Part) Surface(id string) (*Surface, bool) {
	for i := range p.Surfaces {
		if p.Surfaces[i].ID == id {
			return &p.Surfaces[i], true
		}
	}
	return nil, false
}

// OfFinding returns the verdict, for the duty of the assessment, that a finding of
// the record leads to; undecided where there is no such finding.
func (a *Assessment) OfFinding(r *record.Record, id record.ID) term.Verdict {
	f, ok := r.Findings[id]
	if !ok {
		return term.Undecided
	}
	part, ok := a.Part(f.Part)
	if !ok {
		return term.Undecided
	}
	if s, ok := part.Surface(f.Surface); ok {
		for _, reason := range s.Reasons {
			if reason.Of == id {
				return reason.Verdicts.For(a.Duty)
			}
		}
	}
	return part.Verdict
}

// Count returns how many parts have a verdict, consumables left out.
func (a *Assessment) Count(v term.Verdict) int {
	n := 0
	for i := range a.Parts {
		if a.Parts[i].Verdict == v && !a.Parts[i].Consumable {
			n++
		}
	}
	return n
}
