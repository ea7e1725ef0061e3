package working

import (
	"fmt"
	"math"
	"strings"

	"fettlebook/assess/gauge"
)

// size words a length with its uncertainty, if it has one.
func (in *answers) size(m gauge.Measured) string {
	switch {
	case m.Open == gauge.Above:
		return "at least " + in.says(m.Value)
	case m.Open == gauge.Below:
		return "less than " + in.says(m.Value)
	case m.Half > 0:
		return "between " + in.says(m.Value-m.Half) + " and " + in.says(m.Value+m.Half)
	}
	if u, _ := m.Standard(); u == 0 {
		return in.says(m.Value)
	}
	return m.Text(in.Unit)
}

func (in *answers) says(l gauge.Length) string { return l.Text(in.Unit, gauge.Micrometre) }

// again words a length that was typed: a shim of 2.30 mm is none of 2.300 mm.
func (in *answers) again(l gauge.Length) string { return l.WholeText(in.Unit, 10*gauge.Micrometre) }

// clearanceSays words a diametral clearance, below zero an interference.
func (in *answers) clearanceSays(m gauge.Measured) string {
	if m.Value < 0 {
		m.Value = -m.Value
		return in.size(m) + " interference, on the diameter"
	}
	return in.size(m) + " diametral clearance"
}

func (in *answers) fitSays(f gauge.Fit) string {
	word := func(l gauge.Length) string {
		if l < 0 {
			return in.says(-l) + " interference"
		}
		return in.says(l) + " clearance"
	}
	return fmt.Sprintf("%s fit: from %s to %s, on the diameter", f.Says(), word(f.Least), word(f.Most))
}

func decisionSays(v gauge.Verdict, of string) string {
	switch v.Decision {
	case gauge.Conforms:
		return "decided: " + of + " is within"
	case gauge.DoesNotConform:
		return "decided: " + of + " is outside"
	}
	return "cannot be decided with this instrument"
}

// bandSays words where something must lie; text words one of its ends.
func bandSays(low, high float64, text func(float64) string) string {
	switch {
	case math.IsInf(low, -1):
		return "at most " + text(high)
	case math.IsInf(high, 1):
		return "at least " + text(low)
	}
	return "from " + text(low) + " to " + text(high)
}

func (in *answers) bandSays(t gauge.Tolerance) string {
	return bandSays(float64(t.Lower), float64(t.Upper), func(l float64) string { return in.again(gauge.Length(l)) })
}

// standing words how something stands to its band.
func standing(v gauge.Verdict, of, band string) string {
	switch v.Decision {
	case gauge.Conforms:
		return of + " lies in its band, " + band
	case gauge.DoesNotConform:
		return of + " lies outside its band, " + band
	}
	return "whether " + of + " lies in its band, " + band + ", cannot be decided with this instrument"
}

// choicesSay word which sizes of a shelf will do, the best first.
func (in *answers) choicesSay(choices []gauge.Choice, what, of string) []string {
	if len(choices) == 0 && in.ready() {
		return []string{"none of the sizes brings the " + of + " into its band"}
	}
	var says []string
	for _, c := range choices {
		one := in.choiceSays(c, what) + ", " + decisionSays(c.Verdict, "it")
		if c.Gap != nil {
			one += ", gap round the journal " + in.size(*c.Gap)
		}
		if c.Note != "" {
			one += "; " + c.Note
		}
		says = append(says, one)
	}
	return says
}

func (in *answers) choiceSays(c gauge.Choice, what string) string {
	return fmt.Sprintf("%s %s: %s to be expected", what, in.again(c.Size), in.size(c.Expected))
}

// toSet words what is to be done at assembly so that the thing comes into its band:
// the best of the choices, if there is one. Band is worded, what is "a shim of".
func (in *answers) toSet(choices []gauge.Choice, offered bool, what, of, band string) string {
	switch {
	case len(choices) > 0 && choices[0].Note == "":
		says := "fit " + in.choiceSays(choices[0], what) + " (" + of + " " + band + ")"
		if choices[0].Verdict.Decision != gauge.Conforms {
			says += "; measure the " + of + " once more when it is fitted, since this instrument can't decide it"
		}
		return says
	case offered:
		return "none of the sizes to be had brings the " + of + " into its band, " + band + ": get another size"
	}
	return "bring the " + of + " into its band, " + band
}

func and(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// shortened bounds what is quoted of an entry.
func shortened(text string) string {
	if runes := []rune(text); len(runes) > 40 {
		return string(runes[:40]) + "…"
	}
	return text
}
