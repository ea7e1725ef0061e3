package term

import "fmt"

// Verdict is what the evidence says of a surface, or of a whole part, for one
// duty. Compare verdicts with [Verdict.Worse] and [Worst], never by value.
type Verdict uint8

// The verdicts. The zero value is Undecided: what nobody looked at is not sound.
const (
	Undecided Verdict = iota
	Sound
	Usable
	Repairable
	Condemned
)

// Verdicts lists all verdicts from the kindest to the hardest.
var Verdicts = []Verdict{Sound, Usable, Repairable, Undecided, Condemned}

var verdictWords = [...]string{"undecided", "sound", "usable", "repairable", "condemned"}

// hardness orders the verdicts: condemned beats undecided, undecided beats
// the rest.
var hardness = [...]int{Sound: 0, Usable: 1, Repairable: 2, Undecided: 3, Condemned: 4}

// String gives the word that is shown and stored.
func (v Verdict) String() string {
	if int(v) < len(verdictWords) {
		return verdictWords[v]
	}
	return fmt.Sprintf("verdict(%d)", uint8(v))
}

// Worse reports whether v is a harder verdict than other.
func (v Verdict) Worse(other Verdict) bool { return v.hardness() > other.hardness() }

// hardness is that of no verdict, for a value that is none: nothing beats it.
func (v Verdict) hardness() int {
	if int(v) < len(hardness) {
		return hardness[v]
	}
	return len(hardness)
}

// Serves reports whether a part with this verdict can go into a gearbox as it is.
func (v Verdict) Serves() bool { return v == Sound || v == Usable }

// Worst returns the hardest of the verdicts, Sound for none.
func Worst(verdicts ...Verdict) Verdict {
	worst := Sound
	for _, v := range verdicts {
		if v.Worse(worst) {
			worst = v
		}
	}
	return worst
}

// MarshalText gives the verdict's word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads a verdict's word.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, word := range verdictWords {
		if word == string(text) {
			*v = Verdict(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a verdict; known are: sound, usable, repairable, condemned, undecided", text)
}
