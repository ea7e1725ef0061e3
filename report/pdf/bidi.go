package pdf

import (
	"slices"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// rightToLeft tells whether a paragraph holds letters that run to the left, and
// whether the first letter does, which makes the whole paragraph run so.
func rightToLeft(paragraph []rune) (any, first bool) {
	decided := false
	for _, r := range paragraph {
		if r < 0x0590 {
			decided = decided || unicode.IsLetter(r)
			continue
		}
		properties, _ := bidi.LookupRune(r)
		switch properties.Class() {
		case bidi.R, bidi.AL:
			if !decided {
				first, decided = true, true
			}
			any = true
		case bidi.AN:
			any = true
		case bidi.L:
			decided = true
		}
	}
	return any, first
}

// span is a stretch of one line with its embedding level: even runs to the
// right, odd to the left.
type span struct {
	runes []rune
	level int
}

// visual puts one line into the order in which it is seen, from left to right.
// The line must hold no line feeds. base is the direction of the paragraph, not
// of the line: a line that begins with a Latin word in a Hebrew note still
// begins at the right.
func visual(line []rune, base bool) []rune {
	mark := '\u200E'
	if base {
		mark = '\u200F'
	}
	// x/text takes a paragraph's direction only from its first strong letter,
	// so one is put before it.
	var p bidi.Paragraph
	if _, err := p.SetString(string(mark) + string(line)); err != nil {
		return line
	}
	order, err := p.Order()
	if err != nil {
		return line
	}
	// Its runs come in logical order, and tell only odd from even levels. With
	// no embeddings (clean drops their controls) these are the levels there are:
	// 0 or 1 for the base, 1 for what runs left, 2 for numbers and Latin inside
	// that.
	var spans []span
	for i := range order.NumRuns() {
		run := order.Run(i)
		runes := []rune(run.String())
		switch {
		case run.Direction() == bidi.RightToLeft:
			spans = append(spans, span{runes, 1})
		case base:
			spans = append(spans, span{runes, 2})
		default:
			n := 0
			if len(spans) > 0 {
				n = leadingNumber(runes)
			}
			spans = append(spans, span{runes[:n], 2}, span{runes[n:], 0})
		}
	}
	out := make([]rune, 0, len(line))
	for _, s := range reorder(spans) {
		if s.level%2 == 1 {
			out = append(out, mirrored(s.runes)...)
		} else {
			out = append(out, s.runes...)
		}
	}
	return slices.DeleteFunc(out, func(r rune) bool { return r == mark })
}

// leadingNumber is how many runes at the start of a run that follows
// right-to-left text belong to a number in that text. Such a number stands on
// the left of what came before it, though it reads to the right.
func leadingNumber(run []rune) int {
	n := 0
	for i, r := range run {
		properties, _ := bidi.LookupRune(r)
		switch properties.Class() {
		case bidi.EN, bidi.AN:
			n = i + 1
		case bidi.ES, bidi.CS, bidi.ET, bidi.NSM:
		default:
			return n
		}
	}
	return n
}

// reorder applies rule L2 of the bidirectional algorithm for levels up to two:
// stretches of one level or more are reversed as a whole. Stretches of level
// two are single spans and keep their order inside.
func reorder(spans []span) []span {
	out := slices.Clone(spans)
	for i := 0; i < len(out); {
		j := i
		for j < len(out) && (out[j].level > 0 || len(out[j].runes) == 0) {
			j++
		}
		slices.Reverse(out[i:j])
		i = j + 1
	}
	return out
}

// mirrored reverses runes, keeps vowel marks behind the letter that they sit
// on, and turns brackets round.
func mirrored(runes []rune) []rune {
	out := make([]rune, 0, len(runes))
	for end := len(runes); end > 0; {
		start := end - 1
		for start > 0 && unicode.Is(unicode.Mn, runes[start]) {
			start--
		}
		for _, r := range runes[start:end] {
			out = append(out, mirror(r))
		}
		end = start
	}
	return out
}

func mirror(r rune) rune {
	switch r {
	case '‹':
		return '›'
	case '›':
		return '‹'
	case '«':
		return '»'
	case '»':
		return '«'
	case '<':
		return '>'
	case '>':
		return '<'
	}
	return []rune(bidi.ReverseString(string(r)))[0]
}
