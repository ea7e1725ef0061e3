package term

// Severity tells how bad a finding is, on the scale that fits its damage.
type Severity string

// The severities of the two scales, the mildest first on each.
const (
	Seen Severity = "seen" // seen, not felt
	Felt Severity = "felt" // a fingernail catches
	Deep Severity = "deep" // a finger feels the step; metal is displaced or lost

	NotFound  Severity = "not-found" // looked for by a named method and not found
	Suspected Severity = "suspected"
	Present   Severity = "present"
)

// Severities lists the severities of both scales.
var Severities = []Severity{Seen, Felt, Deep, NotFound, Suspected, Present}

// UnmarshalText reads a severity.
func (s *Severity) UnmarshalText(text []byte) error { return read(s, "severity", Severities, text) }

// Scale is one of the two ways in which a severity is told.
type Scale uint8

// The scales. ByTouch runs seen, felt, deep; ByPresence runs not found,
// suspected, present.
const (
	ByTouch Scale = iota
	ByPresence
)

// Severities returns the words of the scale, the mildest first.
func (s Scale) Severities() []Severity {
	if s == ByPresence {
		return Severities[3:]
	}
	return Severities[:3]
}

// Rank returns 1 to 3, the place of the severity on its own scale, and 0 for
// a word that is on none.
func (s Severity) Rank() int {
	switch s {
	case Seen, NotFound:
		return 1
	case Felt, Suspected:
		return 2
	case Deep, Present:
		return 3
	}
	return 0
}

// Scale returns the scale on which the severity stands.
func (s Severity) Scale() Scale {
	switch s {
	case NotFound, Suspected, Present:
		return ByPresence
	}
	return ByTouch
}

// Says tells the severity as a clause: "a fingernail catches".
func (s Severity) Says() string {
	switch s {
	case Seen:
		return "seen, not felt"
	case Felt:
		return "a fingernail catches"
	case Deep:
		return "a finger feels the step"
	case NotFound:
		return "looked for and not found"
	}
	return string(s)
}
