package term

// Damage is the kind of a finding, in the terms of ISO 10825-1 (gears) and
// ISO 15243 (rolling bearings) plus the trade's own.
type Damage string

// The kinds of damage. Colour is four different things (deposit, water stain,
// heat tint, micropitting), a pit is a rust pit or a fatigue pit, and
// brinelling is true or false: the finder must choose.
const (
	Deposit        Damage = "deposit"
	WaterStain     Damage = "water-stain"
	HeatTint       Damage = "heat-tint"
	SurfaceRust    Damage = "surface-rust"
	RustPits       Damage = "rust-pits"
	FatiguePits    Damage = "fatigue-pits"
	Micropitting   Damage = "micropitting"
	Spalling       Damage = "spalling"
	Brinelling     Damage = "brinelling"
	FalseBrinell   Damage = "false-brinelling"
	Fretting       Damage = "fretting"
	Dents          Damage = "dents"
	Scoring        Damage = "scoring"
	Scuffing       Damage = "scuffing"
	Galling        Damage = "galling"
	Polishing      Damage = "polishing"
	Wear           Damage = "wear"
	ElectricPits   Damage = "electric-pits"
	RolledEdge     Damage = "rolled-edge"
	Burr           Damage = "burr"
	RoundedTeeth   Damage = "rounded-teeth"
	ChippedEdge    Damage = "chipped-edge"
	Hammered       Damage = "hammered"
	WipedCrests    Damage = "wiped-crests"
	KnifeEdges     Damage = "knife-edges"
	Creep          Damage = "creep"
	Notchy         Damage = "notchy"
	Crack          Damage = "crack"
	MissingMetal   Damage = "missing-metal"
	MissingElement Damage = "missing-element"
	StrippedThread Damage = "stripped-thread"
	Bend           Damage = "bend"
	Softness       Damage = "softness"
	Looseness      Damage = "looseness"
	LostBackTaper  Damage = "lost-back-taper"
	JumpsOut       Damage = "jumps-out"
)

// Damages lists every kind of damage, alike beside alike.
var Damages = []Damage{
	Deposit, WaterStain, HeatTint, SurfaceRust, RustPits, FatiguePits, Micropitting, Spalling,
	Brinelling, FalseBrinell, Fretting, Dents, Scoring, Scuffing, Galling, Polishing, Wear,
	ElectricPits, RolledEdge, Burr, RoundedTeeth, ChippedEdge, Hammered, WipedCrests, KnifeEdges,
	Creep, Notchy, Crack, MissingMetal, MissingElement, StrippedThread, Bend, Softness,
	Looseness, LostBackTaper, JumpsOut,
}

// UnmarshalText reads a kind of damage.
func (d *Damage) UnmarshalText(text []byte) error { return read(d, "kind of damage", Damages, text) }

// Scale returns the scale on which this damage's severity is told.
func (d Damage) Scale() Scale {
	switch d {
	case HeatTint, Crack, MissingMetal, MissingElement, StrippedThread, Bend, Softness,
		Looseness, LostBackTaper, JumpsOut, Notchy, Creep:
		return ByPresence
	}
	return ByTouch
}

// Safety reports whether a finding belongs to the safety set, which no rule,
// specification or person may judge sound or usable at any duty: a confirmed
// crack, a missing tooth, a softened working surface, loose retention, jumping
// out of gear.
func Safety(d Damage, s Severity, z Zone) bool {
	if s != Present {
		return false
	}
	switch d {
	case Crack, MissingMetal, Looseness, JumpsOut, LostBackTaper:
		return true
	case HeatTint, Softness:
		return z != Elsewhere
	}
	return false
}
