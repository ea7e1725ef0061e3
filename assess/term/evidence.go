package term

// Method is how a finding was made.
type Method string

// The ways of finding.
const (
	ByEye             Method = "eye"
	Touch             Method = "touch"
	Gauge             Method = "gauge"
	Penetrant         Method = "penetrant"
	MagneticParticles Method = "magnetic-particles"
	Hardness          Method = "hardness"
)

// Methods lists the ways of finding.
var Methods = []Method{ByEye, Touch, Gauge, Penetrant, MagneticParticles, Hardness}

// UnmarshalText reads a way of finding.
func (m *Method) UnmarshalText(text []byte) error { return read(m, "way of finding", Methods, text) }

// Says tells the method as it is said: "by eye", "with penetrant".
func (m Method) Says() string {
	switch m {
	case Penetrant, MagneticParticles:
		return "with " + Plain(m)
	case Hardness:
		return "by hardness test"
	case "":
		return ""
	}
	return "by " + Plain(m)
}

// Stage is when a photo was taken.
type Stage string

// The stages of the work.
const (
	AsFound   Stage = "as-found"
	Cleaned   Stage = "cleaned"
	Repaired  Stage = "repaired"
	Installed Stage = "installed"
)

// Stages lists the stages in the order of the work.
var Stages = []Stage{AsFound, Cleaned, Repaired, Installed}

// UnmarshalText reads a stage.
func (s *Stage) UnmarshalText(text []byte) error { return read(s, "stage", Stages, text) }

// View is what an adjuster looks for in a photo.
type View string

// The views that a warranty case wants.
const (
	IdentityPlate View = "identity-plate"
	ServiceMeter  View = "service-meter"
	InPlace       View = "in-place"
	WholePart     View = "whole-part"
	Detail        View = "detail"
	StampedNumber View = "stamped-number"
)

// Views lists the views, in the order in which they are taken.
var Views = []View{IdentityPlate, ServiceMeter, InPlace, WholePart, Detail, StampedNumber}

// UnmarshalText reads a view.
func (v *View) UnmarshalText(text []byte) error { return read(v, "view", Views, text) }

// PartState is what was in the tray when the unit was stripped.
type PartState string

// The states of a part at the strip.
const (
	InHand           PartState = "present"
	Missing          PartState = "missing"
	WrongPart        PartState = "wrong-part"
	ScrapAtFirstLook PartState = "scrap-at-first-look"
)

// PartStates lists the states of a part at the strip.
var PartStates = []PartState{InHand, Missing, WrongPart, ScrapAtFirstLook}

// UnmarshalText reads a part's state.
func (p *PartState) UnmarshalText(text []byte) error {
	return read(p, "state of a part", PartStates, text)
}

// Remedy is what to do about a part.
type Remedy string

// The remedies, the lightest first.
const (
	Use             Remedy = "use"
	Clean           Remedy = "clean"
	Dress           Remedy = "dress"
	ReBush          Remedy = "re-bush"
	Sleeve          Remedy = "sleeve"
	Insert          Remedy = "insert"
	Grind           Remedy = "grind"
	Straighten      Remedy = "straighten"
	Test            Remedy = "test"
	Replace         Remedy = "replace"
	ReplaceWithMate Remedy = "replace-with-mate"
	AlwaysReplace   Remedy = "always-replace"
)

// Remedies lists the remedies, the lightest first.
var Remedies = []Remedy{
	Use, Clean, Dress, ReBush, Sleeve, Insert, Grind, Straighten, Test, Replace, ReplaceWithMate, AlwaysReplace,
}

// UnmarshalText reads a remedy.
func (r *Remedy) UnmarshalText(text []byte) error { return read(r, "remedy", Remedies, text) }

// Replaces reports whether the remedy puts another part in this one's place.
func (r Remedy) Replaces() bool {
	return r == Replace || r == ReplaceWithMate || r == AlwaysReplace
}

// Standing tells the damage that came first from what it brought about.
type Standing string

// The standings of a finding. Most have none.
const (
	Primary       Standing = "primary"
	Consequential Standing = "consequential"
)

// Standings lists the standings of a finding.
var Standings = []Standing{Primary, Consequential}

// UnmarshalText reads a standing.
func (s *Standing) UnmarshalText(text []byte) error { return read(s, "standing", Standings, text) }
