package ui

import (
	"fmt"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
)

// readings tells what was measured on a surface, in the unit that the person
// wants to see. What is no length stands as it was typed.
func readings(r *record.Record, part record.ID, surface string, unit gauge.Unit) string {
	var says []string
	for _, m := range record.InOrder(r.Readings) {
		if m.Part != part || m.Surface != surface {
			continue
		}
		values := make([]string, len(m.Values))
		for i, v := range m.Values {
			values[i] = lengthIn(v.Text, gauge.Unit(m.Unit), unit)
		}
		says = append(says, strings.Join(values, ", "))
	}
	return strings.Join(says, "; ")
}

// lengthIn shows a length as it was typed where its unit is the one that is
// wanted, else converted to a thousandth of a millimetre or to a ten-thousandth
// of an inch.
func lengthIn(typed string, of, wanted gauge.Unit) string {
	length, err := gauge.ParseLength(typed, of)
	if err != nil {
		return typed + " " + string(of)
	}
	switch {
	case wanted == gauge.Inch && of == gauge.Millimetre:
		return fmt.Sprintf("%.4f in", float64(length)/25.4)
	case wanted == gauge.Millimetre && of != gauge.Millimetre:
		return fmt.Sprintf("%.3f mm", float64(length))
	}
	if strings.ContainsAny(typed, "mit\"") {
		return typed
	}
	return typed + " " + string(of)
}
