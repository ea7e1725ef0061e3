// Package term holds the words of the trade as types: verdict, damage,
// severity, zone, role, stage, method, duty, remedy and the rest.
//
// Every vocabulary is closed. Its text form (JSON, TOML, the command line) is
// the constant's own, lower-case with hyphens; reading any other text is an
// error that lists the words that are known. The zero value of each type is
// the empty word, which no file may hold, except for [Verdict], whose zero
// value is [Undecided].
package term

import (
	"fmt"
	"slices"
	"strings"
)

// Plain returns the word as it is said and printed: "rust-pits" as "rust pits".
func Plain[T ~string](word T) string {
	return strings.ReplaceAll(string(word), "-", " ")
}

// read finds text in a vocabulary; what names the vocabulary in the error.
func read[T ~string](into *T, what string, words []T, text []byte) error {
	if word := T(text); slices.Contains(words, word) {
		*into = word
		return nil
	}
	known := make([]string, len(words))
	for i, w := range words {
		known[i] = string(w)
	}
	return fmt.Errorf("%q is not a %s; known are: %s", text, what, strings.Join(known, ", "))
}
