package spec_test

import (
	"fmt"
	"strings"
	"testing"
)

// A small damage that condemns while a large one passes is a slip of the pen,
// and must be told of both rows before it judges a part.
func TestAKinderRowForALargerShareIsRefused(t *testing.T) {
	const deep, felt, seen = `severity = ["deep"]`, `severity = ["felt"]`, `severity = ["seen"]`
	const goes, stays = `verdict = "condemned"`, `verdict = "usable"`
	const barely = "by = \"load\"\nlight = \"usable\"\nnormal = \"usable\"\nhard = \"condemned\""
	upTo := func(percent int) string { return fmt.Sprintf("max_share = %d", percent) }
	named := func(id string, lines ...string) string {
		lines = append([]string{`kind = ["constant-mesh-gear"]`, `surface = ["flanks"]`, `damage = ["scoring"]`}, lines...)
		return strings.Replace(row(lines...), `"users"`, fmt.Sprintf("%q", id), 1)
	}
	// The role's own rows judge scoring usable where seen, and condemn where it
	// is felt at hard, or deep at normal and hard demand.
	for name, c := range map[string]struct {
		text string
		// says are words of the refusal, none where the rows are in order.
		says []string
	}{
		"a bound over no bound": {
			named("little", deep, goes, upTo(5)) + named("much", deep, stays),
			[]string{`"much"`, `"little"`, "a smaller share"}},
		"a bound over a wider bound": {
			named("little", deep, goes, upTo(5)) + named("much", deep, stays, upTo(20)) + named("all", deep, goes),
			[]string{`"much"`, `"little"`, "a smaller share"}},
		"bounds one percent apart": {
			named("little", deep, goes, upTo(5)) + named("much", deep, stays, upTo(6)) + named("all", deep, goes),
			[]string{`"much"`, `"little"`, "a smaller share"}},
		"a condemned middle": {
			named("little", deep, stays, upTo(5)) + named("middle", deep, goes, upTo(20)) + named("all", deep, stays),
			[]string{`"all"`, `"middle"`, "a smaller share"}},
		"the role's row beyond the bound": {
			named("little", seen, goes, upTo(5)) + named("felt", felt, goes) + named("deep", deep, goes),
			[]string{`"flank-scoring-seen"`, `"little"`, "a smaller share"}},
		"at one demand": {
			named("little", felt, barely, upTo(5)) + named("much", felt, stays),
			[]string{`"much"`, `"little"`, "a smaller share"}},
		"in one zone": {
			named("little", deep, goes, upTo(5)) + named("much", deep, goes) + named("much elsewhere", deep, stays, `zone = ["elsewhere"]`),
			[]string{`"much elsewhere"`, `"little"`, "a smaller share"}},
		"with an undecided one between": {
			named("little", deep, goes, upTo(5)) + named("middle", deep, `verdict = "undecided"`, `next = "x"`, upTo(20)) + named("all", deep, stays),
			[]string{`"all"`, `"little"`, "a smaller share"}},
		"all that was judged over what was not": {
			named("judged", deep, goes, upTo(100)) + named("not judged", deep, stays),
			[]string{`"not judged"`, `"judged"`, "a smaller share"}},
		"a worse severity at a small share": {
			named("seen", seen, goes) + named("felt", felt, goes) + named("deep", deep, goes) + named("little", felt, stays, upTo(5)),
			[]string{`"little"`, `"seen"`, "a milder one"}},

		"a little deep kinder than any felt": {
			named("little", deep, `verdict = "sound"`, upTo(5)) + named("much", deep, stays, upTo(20)) + named("all", deep, goes), []string{`"little"`, "a milder one"}},
		"the larger the worse": {
			named("little", deep, stays, upTo(5)) + named("little felt", felt, stays, upTo(5)) + named("much", deep, stays, upTo(20)) +
				named("much felt", felt, stays, upTo(20)) + named("all", deep, goes), nil},
		// The surface's row is asked before the role's, though its bound is larger.
		"bounds of a surface and of its role, in two zones": {
			named("surface", deep, barely, upTo(20), `zone = ["working-face"]`) +
				strings.Replace(row(`role = ["flank"]`, `damage = ["scoring"]`, deep, barely, upTo(5), `zone = ["elsewhere"]`), `"users"`, `"role"`, 1), nil},
		"one verdict at every share": {
			named("little", deep, goes, upTo(5)) + named("all", deep, goes), nil},
	} {
		_, problems := withUsers(t, map[string]string{"users.toml": c.text})
		if (len(problems) == 0) != (len(c.says) == 0) {
			t.Errorf("%s: %v", name, problems)
		}
		for _, word := range c.says {
			if !strings.Contains(fmt.Sprint(problems), word) {
				t.Errorf("%s: %v does not say %s", name, problems, word)
			}
		}
	}
}

// small is the least spec with a surface that rows can speak of.
const small = `
[[damage]]
id = "wear"
plain = "It is worn."
source = "x"

[[kind]]
id = "washer"
name = "washer"
source = "x"
  [[kind.surface]]
  id = "face"
  name = "face"
  role = "thrust-face"
  zones = ["working-face"]
  look = "Look at it."
  damages = ["wear"]
`

var byTouch = []string{"seen", "felt", "deep"}

// How much damage is little is in no source that is known, so no row of the
// program's own may tell by the share until one is.
func TestNoOwnRowTellsByAShareWithoutASource(t *testing.T) {
	for _, r := range own(t).Rules() {
		if r.MaxShare > 0 && r.Source == "common practice" {
			t.Errorf("%s is bounded at %d percent and names no source for the figure", r.ID, r.MaxShare)
		}
	}
}
