package pdf

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Non-joiner and joiner: they have no glyph but steer how Arabic letters join.
const (
	zeroWidthNonJoiner = '\u200C'
	zeroWidthJoiner    = '\u200D'
)

// clean turns any string into runes that a face can draw, and line feeds.
//
//   - Bytes that are no UTF-8 become U+FFFD, the replacement character.
//   - Letters with loose accents are composed (NFC), as no face is asked to
//     place an accent.
//   - What is invisible by its nature (joiners, direction marks, soft hyphens,
//     variation selectors) is left out; a tab becomes spaces, every kind of line
//     end a line feed.
//   - What remains that no face has becomes its number in ‹U+1F527› form: it
//     tells that something was written there, and which sign it was can be
//     looked up. A box would hide that two differ.
func (a *faces) clean(s string, style Face) []rune {
	s = norm.NFC.String(strings.ToValidUTF8(s, "\uFFFD"))
	out := make([]rune, 0, len(s))
	arabic := false
	previous := rune(0)
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~' && a.find(r, style) != nil:
			out = append(out, r) // nearly all text: no tables to be asked
		case r == '\n' && previous == '\r':
			// the second half of one line end
		case r == '\n' || r == '\r' || r == '\v' || r == '\f' || r == '\u0085' || r == '\u2028' || r == '\u2029':
			out = append(out, '\n')
		case r == '\t':
			out = append(out, ' ', ' ', ' ', ' ')
		case r == zeroWidthNonJoiner || r == zeroWidthJoiner:
			out = append(out, r)
			arabic = true
		case invisible(r):
		case unicode.IsControl(r) || a.find(r, style) == nil:
			out = a.appendMark(out, r, style)
		default:
			arabic = arabic || unicode.Is(unicode.Arabic, r)
			out = append(out, r)
		}
		previous = r
	}
	if arabic {
		out = a.joinArabic(out, style)
	}
	return out
}

// invisible tells whether r is meant to leave no trace on paper.
func invisible(r rune) bool {
	if unicode.Is(unicode.Variation_Selector, r) {
		return true
	}
	if r > 0xFFFF {
		return false // language tags can hide text: show that they are there
	}
	if r >= 0x0600 && r <= 0x0605 || r == 0x06DD {
		return false // Arabic signs that enclose numbers are format characters but visible
	}
	return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r)
}

func (a *faces) appendMark(out []rune, r rune, style Face) []rune {
	for _, c := range fmt.Sprintf("‹U+%04X›", r) {
		if a.find(c, style) == nil {
			c = '?' // a face without ‹ would be a strange choice, but must not fail
		}
		if a.find(c, style) != nil {
			out = append(out, c)
		}
	}
	return out
}

// oneLine is clean for text that is set as a single line.
func (a *faces) oneLine(s string, style Face) []rune {
	runes := a.clean(s, style)
	for i, r := range runes {
		if r == '\n' {
			runes[i] = ' '
		}
	}
	return runes
}
