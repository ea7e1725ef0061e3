package assess

import (
	"fmt"
	"math"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/plane"
)

// Says tells the extent in a sentence, lengths in a unit.
func (x Extent) Says(unit gauge.Unit) string { return x.sentence(x.says(unit, false)) }

// SaysAll is [Extent.Says] with the perimeter and the equivalent diameter as well.
func (x Extent) SaysAll(unit gauge.Unit) string { return x.sentence(x.says(unit, true)) }

func (x Extent) says(unit gauge.Unit, all bool) (says []string) {
	switch {
	case x.HasScale && x.IsLine:
		return []string{lengthSays(x.Length, unit) + " long"}
	case x.HasScale:
		says = append(says, areaSays(x.Figures.Area, unit), lengthSays(x.Figures.Chord, unit)+" across at most")
		if all {
			says = append(says, lengthSays(x.Figures.Perimeter, unit)+" round", "as large as a disc of "+lengthSays(x.Figures.Diameter, unit))
		}
	}
	if !x.HasShare {
		return says
	}
	share := fmt.Sprintf("%.1f %% ± %.1f %% of the %s", x.Share.Percent, x.Share.PercentPlus, x.Face)
	if x.HasScale {
		share += fmt.Sprintf(": %s of %s", areaSays(x.Share.Damaged, unit), areaSays(x.Share.Face, unit))
	} else {
		share += " as the photo shows it; in percent only, since the photo has no scale"
	}
	return append(says, share)
}

// sentence puts behind the figures what they rest on.
func (x Extent) sentence(says []string) string {
	if x.Err != nil {
		return upperFirst(x.Err.Error()) + "."
	}
	notes := x.Notes
	if x.HasScale {
		notes = append([]string{"scale: " + x.Scale}, notes...)
	}
	text := strings.Join(says, ", ")
	if len(notes) > 0 {
		text += " (" + strings.Join(notes, "; ") + ")"
	}
	return text + "."
}

// lengthSays tells a length from a photo with its uncertainty, both to the last
// place that the uncertainty leaves.
func lengthSays(f plane.Figure, unit gauge.Unit) string {
	v, u := f.Value.In(unit), f.Plus.In(unit)
	places := placesOf(u)
	return fmt.Sprintf("%.*f %s ± %.*f %s", places, v, unit, places, u, unit)
}

func areaSays(a plane.AreaFigure, unit gauge.Unit) string {
	value, plus, name := float64(a.Value), float64(a.Plus), "mm²"
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
