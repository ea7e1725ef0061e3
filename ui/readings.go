package ui

import (
	"fmt"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// readings tells in a few words what was measured on a surface, in the unit that
// the person wants to see.
func readings(r *record.Record, part record.ID, surface string, unit gauge.Unit) string {
	var says []string
	for _, m := range record.InOrder(r.Readings) {
		if m.Part == part && m.Surface == surface && m.Withdrawn == "" {
			says = append(says, valuesSay(m, unit))
		}
	}
	return strings.Join(says, "; ")
}

// instrumentSays tells with what a reading was taken, and how far that may be off.
func instrumentSays(m record.Reading, unit gauge.Unit) string {
	var says []string
	if m.Instrument.Name != "" {
		says = append(says, "with "+m.Instrument.Name)
	}
	if m.Instrument.Error != "" {
		says = append(says, "± "+lengthIn(m.Instrument.Error, gauge.Millimetre, unit))
	}
	if m.PartTemperature != "" {
		says = append(says, "at "+m.PartTemperature+" °C")
	}
	return strings.Join(says, ", ")
}

func dimensionName(known *spec.Surface, id string) string {
	if known != nil {
		for _, d := range known.Dimensions {
			if d.ID == id {
				return d.Name
			}
		}
	}
	return id
}

// valuesSay tells the values of a reading with their unit.
func valuesSay(m record.Reading, unit gauge.Unit) string {
	values := make([]string, len(m.Values))
	for i, v := range m.Values {
		values[i] = lengthIn(v.Text, gauge.Unit(m.Unit), unit)
		if i < len(m.Values)-1 {
			// The unit is said once, with the last of the values.
			values[i] = strings.TrimSuffix(strings.TrimSuffix(values[i], " "+string(unit)), " "+m.Unit)
		}
	}
	return strings.Join(values, ", ")
}

// lengthIn shows a length as it was typed where its unit is the one that is
// wanted, else converted, to a thousandth of a millimetre or a ten-thousandth of
// an inch. What is no length stands as it was typed.
func lengthIn(typed string, of, wanted gauge.Unit) string {
	length, err := gauge.ParseLength(typed, of)
	named := strings.ContainsAny(strings.ToLower(typed), "mit/\"″”")
	switch {
	case err != nil:
		return typed + " " + string(of)
	case wanted == gauge.Inch && (of == gauge.Millimetre || strings.Contains(typed, "mm")):
		return fmt.Sprintf("%.4f in", float64(length)/25.4)
	case wanted == gauge.Millimetre && (of != gauge.Millimetre || (named && !strings.Contains(typed, "mm"))):
		return fmt.Sprintf("%.3f mm", float64(length))
	}
	return gauge.WithUnit(typed, of)
}
