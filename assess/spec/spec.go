// Package spec holds what is known about part kinds and unit types: surfaces,
// mates, what to look and feel for, rules, trial fits, limits, with their
// sources. It is read from TOML, checked, and never changed afterwards.
//
// The rules of the trade are data here; no code knows a part's name. A file
// may hold any of the tables damage, kind, unit, pair, rule and profile. The program's
// own files come first, then the user's: a table with the id of one that is
// there already takes its place.
package spec

import "fettlebook/assess/term"

// File is the content of one TOML file.
type File struct {
	Damage []Damage `toml:"damage"`
	Cause  []Cause  `toml:"cause"`
	Kind   []Kind   `toml:"kind"`
	Unit   []Unit   `toml:"unit"`
	Pair   []Pair   `toml:"pair"`
	Rule   []Rule   `toml:"rule"`
	// Profile holds the pictures of part kinds.
	Profile []Profile `toml:"profile"`
}

// Damage is what the trade says of one kind of damage.
type Damage struct {
	ID term.Damage `toml:"id"`
	// Noun is what it is called inside a sentence, "hammering" for hammered; empty
	// where the id's own words will do.
	Noun string `toml:"noun"`
	// Also are other words by which people look for it.
	Also []string `toml:"also"`
	// Plain tells a customer what it is, in one line.
	Plain string `toml:"plain"`
	// Tell says how to know it from its look-alikes, which Like names.
	Tell string        `toml:"tell"`
	Like []term.Damage `toml:"like"`
	// Where says where it occurs; Steps what each of its severities means for it,
	// the mildest first.
	Where string   `toml:"where"`
	Steps []string `toml:"steps"`
	// Consistent lists what it is consistent with: overload, contamination, …
	Consistent []string `toml:"consistent"`
	// Colour marks what can only be told on a clean surface.
	Colour bool `toml:"colour"`
	// SettledBy lists the ways of finding by which a suspicion of it is settled
	// when nothing is found; empty for a crack test or a hardness test.
	SettledBy []term.Method `toml:"settled_by"`
	// Shock marks damage after which every part that carried the torque of the
	// unit is doubted until it is crack-tested.
	Shock  bool   `toml:"shock"`
	Source string `toml:"source"`
}

// Says is the damage's name inside a sentence.
func (d *Damage) Says() string {
	if d.Noun != "" {
		return d.Noun
	}
	return term.Plain(d.ID)
}

// Cause is something that damage may be consistent with: overload, water, ….
// The program names what speaks for and against; it never ranks causes.
type Cause struct {
	ID    string `toml:"id"`
	Name  string `toml:"name"`
	Plain string `toml:"plain"`
	// Against lists damage that speaks against this cause where it is found.
	Against []term.Damage `toml:"against"`
	// Apart says what would tell it from the others.
	Apart  string `toml:"apart"`
	Source string `toml:"source"`
}

// Kind is a part kind.
type Kind struct {
	ID   string `toml:"id"`
	Name string `toml:"name"`
	// About says what the part does, for someone who has never seen one.
	About string `toml:"about"`
	// Torque marks a part that carries the torque of the unit.
	Torque bool `toml:"torque"`
	// Consumable marks a part that is always replaced; it is not judged.
	Consumable bool `toml:"consumable"`
	// With lists kinds that are replaced together with this one.
	With     []string  `toml:"with"`
	Surfaces []Surface `toml:"surface"`
	Source   string    `toml:"source"`
}

// Surface is a functional surface of a part kind. Its number on screen and in
// print is its place in the kind, from 1.
type Surface struct {
	ID   string    `toml:"id"`
	Name string    `toml:"name"`
	Role term.Role `toml:"role"`
	// Group and Gear say which gears it serves where the part's place in the
	// unit does not say it.
	Group term.GearGroup `toml:"group"`
	Gear  string         `toml:"gear"`
	// Zones lists the zones that it has.
	Zones []term.Zone `toml:"zones"`
	// Look and Feel say what to look and to feel for. Empty means that it is not
	// called for.
	Look string `toml:"look"`
	Feel string `toml:"feel"`
	// Hidden names the substitute test of a surface that can't be seen; it takes
	// the place of Feel, and its best verdict is usable.
	Hidden string `toml:"hidden"`
	// Mates are the surfaces that this one may run on or mesh with, as kind.surface.
	Mates []string `toml:"mates"`
	// Damages are the kinds of damage that occur here, the commonest first.
	Damages []term.Damage `toml:"damages"`
	// Dimensions are what is measured on it.
	Dimensions []Dimension `toml:"dimension"`
}

// Dimension is something that is measured on a surface.
type Dimension struct {
	ID   string `toml:"id"`
	Name string `toml:"name"`
	// Grows is true for a bore, a gap or a play: wear makes it larger.
	Grows bool `toml:"grows"`
	// Round marks what is taken at three places or more round the part, since it may
	// sit tilted: a blocking ring's gap.
	Round bool `toml:"round"`
	// AskMate says why the mate must be looked at where this is worn past its
	// limit, empty where it need not be.
	AskMate string `toml:"ask_mate"`
}

// Unit is a unit type: which parts stand where, and what runs on what.
type Unit struct {
	ID       string    `toml:"id"`
	Name     string    `toml:"name"`
	Maker    string    `toml:"maker"`
	Model    string    `toml:"model"`
	Variants []Variant `toml:"variant"`
	Places   []Place   `toml:"place"`
	Mates    []Mate    `toml:"mate"`
	Limits   []Limit   `toml:"limit"`
	// RebuildUpTo is the share of the unit, in percent of all places' shares,
	// that may be condemned in a core that is worth rebuilding. DonorFrom is the
	// share that must serve in a core that is worth keeping as a donor.
	RebuildUpTo int    `toml:"rebuild_up_to"`
	DonorFrom   int    `toml:"donor_from"`
	Source      string `toml:"source"`
}

// Variant is one variant of a unit type.
type Variant struct {
	ID   string `toml:"id"`
	Name string `toml:"name"`
}

// Place is where a part stands in a unit.
type Place struct {
	ID   string `toml:"id"`
	Kind string `toml:"kind"`
	Name string `toml:"name"`
	// Gear and Group say which gear the part serves: "third", upper.
	Gear  string         `toml:"gear"`
	Group term.GearGroup `toml:"group"`
	// Inside names the place of the parent of a replaceable element.
	Inside string `toml:"inside"`
	// Count is how many loose items belong there; 0 means one piece.
	Count int `toml:"count"`
	// Share is the part's weight in the worth of the unit.
	Share int `toml:"share"`
	// Heart marks a part without which the core is at best a donor.
	Heart bool `toml:"heart"`
	// Differs marks a part that is not the same in all variants.
	Differs bool `toml:"differs"`
}

// Mate is a pair of surfaces that run on each other, each as place.surface.
type Mate struct {
	A string `toml:"a"`
	B string `toml:"b"`
}

// Pair is a kind of trial fit: which surfaces are put together by hand, and
// what may come of it.
type Pair struct {
	ID   string `toml:"id"`
	Name string `toml:"name"`
	// A and B list the surfaces, as kind.surface.
	A        []string  `toml:"a"`
	B        []string  `toml:"b"`
	How      string    `toml:"how"`
	Outcomes []Outcome `toml:"outcome"`
	Source   string    `toml:"source"`
}

// Outcome is one possible outcome of a trial fit.
type Outcome struct {
	ID string `toml:"id"`
	// Of names the side, "a" or "b", of which the verdict speaks. Empty means
	// both; where one is named, the other keeps its own verdict.
	Of      string       `toml:"of"`
	Verdict term.Verdict `toml:"verdict"`
	Remedy  term.Remedy  `toml:"remedy"`
	Reason  string       `toml:"reason"`
	// NeedsUnworn marks an outcome that two worn parts can feign, so that an
	// unworn reference part is asked for.
	NeedsUnworn bool `toml:"needs_unworn"`
	// Next says what to do about an undecided outcome.
	Next string `toml:"next"`
}
