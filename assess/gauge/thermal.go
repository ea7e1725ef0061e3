package gauge

import (
	"fmt"
	"math"
	"strings"
)

// ReferenceTemperature is that at which sizes hold, in °C (ISO 1).
const ReferenceTemperature = 20.0

// Coefficients of expansion per kelvin. Steel is the value of the GUM's example
// H.1; the others are the usual ones of handbooks.
const (
	Steel     = 11.5e-6
	Aluminium = 23e-6
	CastIron  = 10.5e-6
	Bronze    = 17.5e-6
	Brass     = 19e-6
)

// expansions are the materials that are known by their names, in the order in which
// they are offered.
var expansions = []struct {
	name string
	by   float64
}{{"steel", Steel}, {"cast iron", CastIron}, {"aluminium", Aluminium}, {"bronze", Bronze}, {"brass", Brass}}

// ExpansionOf returns the coefficient per kelvin of a material by its name; an
// empty one is steel.
func ExpansionOf(material string) (float64, error) {
	name := strings.ToLower(strings.TrimSpace(material))
	names := make([]string, len(expansions))
	for i, e := range expansions {
		if name == e.name || name == "" && i == 0 {
			return e.by, nil
		}
		names[i] = e.name
	}
	return 0, fmt.Errorf("the material %q is not known; known are %s", shortened(material), strings.Join(names, ", "))
}

// Temperatures is what is known of part and instrument when a reading was taken.
// Whether both had soaked together in one room is asked first: of steel on steel
// nothing else then matters.
type Temperatures struct {
	// Soaked says that both had been lying together long enough to be equally warm.
	Soaked bool
	// Known says that Part and Instrument hold temperatures, in °C. Where both
	// soaked together one of them stands for both.
	Known            bool
	Part, Instrument float64
	// PartOnly says that nobody measured the instrument: it is taken as equally warm
	// as the part, and not trusted to be.
	PartOnly bool
	// Uncertain is the half-width within which a measured temperature is trusted,
	// in kelvin; zero means 1 K.
	Uncertain float64
	// PartExpansion is the part's coefficient per kelvin; zero means steel.
	PartExpansion float64
}

// What is taken where nobody measured: common practice, no source. In kelvin;
// the coefficient itself is trusted to 1e-6 per kelvin (as GUM H.1 has it for the
// difference of two steels).
const (
	roomWithin       = 10.0 // a workshop lies within 20 °C ± 10 K
	unsoakedWithin   = 5.0  // part and instrument differ by no more than this
	soakedWithin     = 0.5
	thermometer      = 1.0
	expansionWithin  = 1e-6
	coldest, hottest = -40.0, 200.0
)

// AtReference returns the length at 20 °C of a part that was measured at other
// temperatures. Both expand: L20 = L (1 + ai·ti) / (1 + ap·tp), with ti and tp
// counted from 20 °C. Steel on steel at one temperature needs no correction.
// Temperatures are in °C, coefficients per kelvin.
func AtReference(l Length, partC, partExpansion, instrumentC, instrumentExpansion float64) (Length, error) {
	if err := first(positive("length", l), checkTemperature("temperature of the part", partC), checkTemperature("temperature of the instrument", instrumentC),
		within("expansion of the part", partExpansion, 0, 1e-3), within("expansion of the instrument", instrumentExpansion, 0, 1e-3)); err != nil {
		return 0, err
	}
	ti, tp := instrumentC-ReferenceTemperature, partC-ReferenceTemperature
	return l * Length((1+instrumentExpansion*ti)/(1+partExpansion*tp)), nil
}

func checkTemperature(field string, c float64) error { return within(field, c, coldest, hottest) }

// ByTemperature returns the length at 20 °C and the lines that temperature adds
// to its budget. An expansion of zero means steel.
func (t Temperatures) ByTemperature(l Length, instrumentExpansion float64) (Length, []Contribution, error) {
	ap, ai := orSteel(t.PartExpansion), orSteel(instrumentExpansion)
	mm := float64(l)
	// How far the room may be from 20 °C, and part and instrument from each other.
	room, apart := roomWithin, unsoakedWithin
	at := l
	if t.Soaked {
		apart = soakedWithin
	}
	if t.Known {
		unsure := t.Uncertain
		if unsure == 0 {
			unsure = thermometer
		}
		if err := within("uncertainty of the temperature", unsure, 0, roomWithin); err != nil {
			return 0, nil, err
		}
		part, instrument := t.Part, t.Instrument
		switch {
		case t.Soaked || t.PartOnly:
			instrument = part
		default:
			apart = unsure * math.Sqrt2
		}
		var err error
		if at, err = AtReference(l, part, ap, instrument, ai); err != nil {
			return 0, nil, err
		}
		room = unsure
		lines := expansionLines(mm, ap-ai, room, apart, ap)
		// The coefficients matter by how far the room was from 20 °C.
		return at, append(lines, Contribution{Name: LineExpansion, U: expansionWithin / Rectangular, C: mm * (part - ReferenceTemperature)}), nil
	}
	lines := expansionLines(mm, ap-ai, room, apart, ap)
	return at, append(lines, Contribution{Name: LineExpansion, U: expansionWithin / Rectangular, C: mm * roomWithin / Rectangular}), nil
}

func expansionLines(mm, difference, room, apart, ap float64) []Contribution {
	return []Contribution{
		{Name: LineTemperature, U: room / Rectangular, C: mm * difference},
		{Name: LineApart, U: apart / Rectangular, C: mm * ap},
	}
}

func orSteel(expansion float64) float64 {
	if expansion == 0 {
		return Steel
	}
	return expansion
}
