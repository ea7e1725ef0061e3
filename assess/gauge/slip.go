package gauge

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// SlipKind is what may have gone wrong while a reading was written down.
type SlipKind string

// The kinds of slips.
const (
	DecimalShifted SlipKind = "decimal shifted"
	InchForMM      SlipKind = "inch for mm"
	MMForInch      SlipKind = "mm for inch"
	DigitsSwapped  SlipKind = "digits swapped"
)

// Slip is a doubt about an entry: what was perhaps meant. The entry stands until
// the person has answered.
type Slip struct {
	Kind  SlipKind
	Meant Length
	// Text asks the question in a sentence.
	Text string
}

// SlipIn looks for a slip in an entry that lies further from the expected size
// than near: its decimal point moved by one or two places, taken in the other
// unit, or two neighbouring digits swapped would bring it there. Expected is the
// nominal or what the same dimension measured before; near is how far a worn part
// may honestly be from it. Nil means that there is nothing to ask.
func SlipIn(e Entry, expected, near Length) *Slip {
	if first(positive("expected", expected), positive("near", near), finite("entry", e.Length)) != nil {
		return nil
	}
	fits := func(l Length) bool { return math.Abs(float64(l-expected)) <= float64(near) }
	if fits(e.Length) {
		return nil
	}
	ask := func(kind SlipKind, meant Length, how string) *Slip {
		return &Slip{Kind: kind, Meant: meant, Text: fmt.Sprintf("%s is far from the %s that is expected here: %s?", e.Text, expected.Text(e.Unit, e.Step), how)}
	}
	for _, factor := range [...]Length{10, 0.1, 100, 0.01} {
		if fits(e.Length * factor) {
			return ask(DecimalShifted, e.Length*factor, "was the decimal point meant elsewhere, "+meantText(e, e.Length*factor))
		}
	}
	if e.Unit == Millimetre && fits(e.Length*25.4) {
		return ask(InchForMM, e.Length*25.4, "was it in inches")
	}
	if e.Unit == Inch && fits(e.Length/25.4) {
		return ask(MMForInch, e.Length/25.4, "was it in millimetres")
	}
	digits := []byte(strings.Replace(numberOf(e.Text), ",", ".", 1))
	for i := range digits {
		j := i + 1
		if j < len(digits) && digits[j] == '.' {
			j++
		}
		if j >= len(digits) || digits[i] == '.' || digits[i] == digits[j] {
			continue
		}
		digits[i], digits[j] = digits[j], digits[i]
		meant, err := ParseLength(string(digits), e.Unit)
		text := string(digits)
		digits[i], digits[j] = digits[j], digits[i]
		if err == nil && fits(meant) {
			return ask(DigitsSwapped, meant, "were two digits swapped, "+text)
		}
	}
	return nil
}

func meantText(e Entry, meant Length) string {
	return strconv.FormatFloat(meant.In(e.Unit), 'g', 8, 64) + " " + string(e.Unit)
}

// numberOf is the number at the front of an entry; fractions have none.
func numberOf(text string) string {
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("+-0123456789.,", r) })
	if end < 0 {
		return text
	}
	if strings.ContainsRune(text, '/') {
		return ""
	}
	return text[:end]
}

// FinerThan reports whether an entry has more digits than the instrument shows,
// which it can't have been read from.
func FinerThan(e Entry, in Instrument) bool {
	return in.Resolution > 0 && e.Step > 0 && float64(e.Step) < float64(in.Resolution)*0.49 &&
		math.Abs(math.Remainder(float64(e.Length), float64(in.Resolution))) > float64(in.Resolution)*1e-6
}
