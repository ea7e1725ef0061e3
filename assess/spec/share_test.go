package spec_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"

	"pgregory.net/rapid"
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

// bounded is a row of a random rule book; the rows stand in the order of their ids.
type bounded struct {
	max        int
	severities []string
	verdict    term.Verdict
}

var byTouch = []string{"seen", "felt", "deep"}

// at returns what decides one severity at a share, worked out without the code
// under test: the least bound, then the fewest severities, then the first.
func at(book []bounded, severity string, share float64) (term.Verdict, bool) {
	best, found := bounded{max: 1000}, false
	for _, r := range book {
		if !slices.Contains(r.severities, severity) || r.max > 0 && (share < 0 || share > float64(r.max)) {
			continue
		}
		if r.max == 0 {
			r.max = 999
		}
		if r.max < best.max || r.max == best.max && len(r.severities) < len(best.severities) {
			best, found = r, true
		}
	}
	return best.verdict, found && best.verdict != term.Undecided
}

// falls reports whether a step to a worse case is ever judged more kindly.
func falls(cases int, verdict func(int) (term.Verdict, bool)) bool {
	hardest, any := term.Sound, false
	for i := range cases {
		v, ok := verdict(i)
		if !ok {
			continue
		}
		if any && hardest.Worse(v) {
			return true
		}
		if !any || v.Worse(hardest) {
			hardest, any = v, true
		}
	}
	return false
}

// The check looks at a few shares only; it must find what looking at every half
// percent finds, and no more.
func TestTheOrderOfSharesIsProvedWhole(t *testing.T) {
	refused, taken := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		book := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bounded {
			from := rapid.IntRange(0, 2).Draw(t, "from")
			return bounded{
				max:        rapid.SampledFrom([]int{0, 0, 1, 5, 6, 40, 99, 100}).Draw(t, "max"),
				severities: byTouch[from:rapid.IntRange(from+1, 3).Draw(t, "to")],
				verdict:    rapid.SampledFrom([]term.Verdict{usable, usable, condemned, undecided}).Draw(t, "verdict"),
			}
		}), 1, 5).Draw(t, "book")
		text := small
		for i, r := range book {
			text += fmt.Sprintf("[[rule]]\nid = \"r%d\"\nrole = [\"thrust-face\"]\ndamage = [\"wear\"]\nseverity = [\"%s\"]\nmax_share = %d\nverdict = %q\n"+
				"remedy = \"replace\"\nreason = \"x\"\nnext = \"x\"\nsource = \"x\"\n", i, strings.Join(r.severities, `", "`), r.max, r.verdict.String())
		}
		wrong := false
		// 101 stands for more than any bound, which is also what was not judged.
		for half := -2; half <= 202; half++ {
			wrong = wrong || falls(3, func(i int) (term.Verdict, bool) { return at(book, byTouch[i], float64(half)/2) })
		}
		for _, s := range byTouch {
			wrong = wrong || falls(203, func(half int) (term.Verdict, bool) { return at(book, s, float64(half)/2) })
		}
		_, problems, err := spec.Load(fstest.MapFS{"own.toml": {Data: []byte(text)}}, nil)
		told := false
		for _, p := range problems {
			told = told || strings.Contains(p.Text, "more kindly")
			if !strings.Contains(p.Text, "more kindly") && !strings.Contains(p.Text, "disagrees") {
				t.Fatalf("the book is no book: %v %v", err, problems)
			}
		}
		if told != wrong {
			t.Fatalf("more kindly: told %v, is %v: %v\n%s", told, wrong, problems, text)
		}
		if told {
			refused++
		} else {
			taken++
		}
	})
	if refused == 0 || taken == 0 {
		t.Errorf("%d books were refused and %d taken", refused, taken)
	}
}

// How much damage is little is in no source that is known, so no row of the
// program's own may tell by the share until one is.
func TestNoOwnRowTellsByAShareWithoutASource(t *testing.T) {
	for _, r := range own(t).Rules() {
		if r.MaxShare > 0 && r.Source == "common practice" {
			t.Errorf("%s is bounded at %d percent and names no source for the figure", r.ID, r.MaxShare)
		}
	}
}
