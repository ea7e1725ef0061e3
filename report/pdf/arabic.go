package pdf

import (
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// arabicForms are the shapes of one Arabic letter. A letter with a final form
// joins the letter before it, one with an initial form also the one after it.
type arabicForms struct{ isolated, final, initial, medial rune }

// arabicShapes reads the shapes from Unicode's own data instead of a table: in
// the presentation blocks each letter's shapes stand in a row as isolated,
// final, initial, medial, and each decomposes to its letter.
var arabicShapes = sync.OnceValues(func() (map[rune]arabicForms, map[[2]rune]arabicForms) {
	letters, ligatures := map[rune]arabicForms{}, map[[2]rune]arabicForms{}
	for _, block := range [][2]rune{{0xFB50, 0xFBB1}, {0xFBD3, 0xFBE7}, {0xFBFC, 0xFBFF}, {0xFE80, 0xFEFC}} {
		for r := block[0]; r <= block[1]; r++ {
			plain := []rune(norm.NFKD.String(string(r)))
			composed := []rune(norm.NFC.String(string(plain)))
			if len(composed) == 1 {
				letters[composed[0]] = letters[composed[0]].with(r)
			} else if len(composed) == 2 && composed[0] == 'ل' {
				pair := [2]rune{composed[0], composed[1]}
				ligatures[pair] = ligatures[pair].with(r)
			}
		}
	}
	return letters, ligatures
})

func (f arabicForms) with(r rune) arabicForms {
	for _, slot := range []*rune{&f.isolated, &f.final, &f.initial, &f.medial} {
		if *slot == 0 {
			*slot = r
			break
		}
	}
	return f
}

const tatweel = 'ـ' // a line that stretches a word: joins on both sides

// joinArabic replaces Arabic letters by the shapes that join their neighbours,
// where a face has them, and drops the joiners. Unjoined letters would be as
// hard to read as mirror writing.
func (a *faces) joinArabic(in []rune, style Face) []rune {
	letters, ligatures := arabicShapes()
	joinsBefore := func(r rune) bool { return letters[r].final != 0 || r == tatweel || r == zeroWidthJoiner }
	joinsAfter := func(r rune) bool { return letters[r].initial != 0 || r == tatweel || r == zeroWidthJoiner }
	out := make([]rune, 0, len(in))
	previous := rune(0) // the last sign that is no vowel mark
	for i := 0; i < len(in); i++ {
		r := in[i]
		if unicode.Is(unicode.Mn, r) {
			out = append(out, r)
			continue
		}
		forms, isLetter := letters[r]
		next := nextBase(in, i)
		if i+1 < len(in) {
			if pair, ok := ligatures[[2]rune{r, in[i+1]}]; ok {
				forms, isLetter = pair, true
				i++
				next = 0 // lam-alef never joins what follows
			}
		}
		if r != zeroWidthJoiner && r != zeroWidthNonJoiner {
			shape := r
			if isLetter {
				shape = forms.pick(joinsAfter(previous), joinsBefore(next))
			}
			if shape == 0 || a.find(shape, style) == nil {
				shape = r
			}
			out = append(out, shape)
			if shape == r && in[i] != r {
				out = append(out, in[i]) // the ligature is in no face: keep both letters
			}
		}
		previous = in[i]
	}
	return out
}

// nextBase is the next sign after i that is no vowel mark, or 0.
func nextBase(in []rune, i int) rune {
	for _, r := range in[i+1:] {
		if !unicode.Is(unicode.Mn, r) {
			return r
		}
	}
	return 0
}

func (f arabicForms) pick(before, after bool) rune {
	switch {
	case before && after && f.medial != 0:
		return f.medial
	case before && f.final != 0:
		return f.final
	case after && f.initial != 0:
		return f.initial
	}
	return f.isolated
}
