// Package conformance is what any engine of an archive must pass. An engine's
// own tests call [Run] with a function that opens an empty archive for writing.
package conformance

import (
	"testing"

	"fettlebook/assess/archive"
)

// Opener opens a new, empty archive for writing and sees to it that it is
// closed when the test ends.
type Opener func(t *testing.T) archive.Archive

// Run runs the whole suite, each part on an archive of its own.
func Run(t *testing.T, open Opener) {
	for _, part := range []struct {
		name string
		test func(*testing.T, archive.Archive)
	}{
		{"a record that is not there", notThere},
		{"every revision is given back byte for byte", everyRevision},
		{"a stale base is told the newest revision", stale},
		{"one of many at once wins each revision", atOnce},
		{"a change that breaks the chain is refused", brokenChain},
		{"a change that is refused leaves nothing", refusedLeavesNothing},
		{"the register is newest first and comes in pages", pages},
		{"words find by their beginnings", words},
		{"a changed record moves and is found by its new words only", moves},
		{"watch tells each changed record", watch},
		{"a slow reader holds up nobody", slowReader},
		{"originals are given back byte for byte", originals},
		{"a reader that fails leaves nothing", failingReader},
		{"views", views},
		{"settings", settings},
		{"a context that has ended stops everything", ended},
		{"random histories rebuild to the same bytes", histories},
		{"a sound archive has no damage", sound},
		{"a closed archive says so", closed},
	} {
		t.Run(part.name, func(t *testing.T) { part.test(t, open(t)) })
	}
}
