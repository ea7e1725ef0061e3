package assess

import (
	"fmt"
	"math"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
)

// Says tells the extent in a sentence, lengths in a unit.
func (x Extent) Says(unit gauge.Unit) string {
	if x.Err != nil {
		return upperFirst(x.Err.Error()) + "."
	}
	var says []string
	if x.HasScale {
		says = append(says, areaSays(float64(x.Figures.Area.Value), float64(x.Figures.Area.Plus), unit),
			LengthSays(x.Figures.Chord, unit)+" across at most")
	}
	if x.HasShare {
		share := fmt.Sprintf("%.1f %% ± %.1f %% of the face", x.Share.Percent, x.Share.PercentPlus)
		if !x.HasScale {
			share += " as the photo shows it, without a scale"
		}
		says = append(says, share)
	}
	text := strings.Join(says, ", ")
	if x.HasScale {
		text += " (scale: " + x.Scale + ")"
	}
	return text + "."
}

// LengthSays tells a length from a photo with its uncertainty, both to the last
// place that the uncertainty leaves.
func LengthSays(f plane.Figure, unit gauge.Unit) string {
	v, u := f.Value.In(unit), f.Plus.In(unit)
	places := placesOf(u)
	return fmt.Sprintf("%.*f %s ± %.*f %s", places, v, unit, places, u, unit)
}

func areaSays(value, plus float64, unit gauge.Unit) string {
	name := "mm²"
	if unit == gauge.Inch {
		value, plus, name = value/(25.4*25.4), plus/(25.4*25.4), "in²"
	}
	places := placesOf(plus)
	return fmt.Sprintf("%.*f %s ± %.*f %s", places, value, name, places, plus, name)
}

// placesOf is how many places behind the point an uncertainty leaves.
func placesOf(plus float64) int {
	if !(plus > 0) {
		return 2
	}
	return min(max(0, int(math.Ceil(-math.Log10(plus)))), 5)
}
