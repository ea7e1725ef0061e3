package spec_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Each book is of rows for the wear of one thrust face, in the order of their
// narrowness. says are words of the refusal, none where the book is in order.
func TestWorseDamageIsNeverJudgedMoreKindly(t *testing.T) {
	const usable, goes, open = `verdict = "usable"`, `verdict = "condemned"`, "verdict = \"undecided\"\nnext = \"x\""
	until := func(method, verdict string) string {
		return fmt.Sprintf("until_tested = { for = \"looseness\", by = [%q], light = %q, normal = %q, hard = %q, next = \"x\" }", method, verdict, verdict, verdict)
	}
	by := func(demand, light, normal, hard string) string {
		return fmt.Sprintf("by = %q\nlight = %q\nnormal = %q\nhard = %q", demand, light, normal, hard)
	}
	for name, c := range map[string]struct {
		rows [][]string
		says []string
	}{
		"a step over an undecided one": {[][]string{{"seen", goes}, {"felt", open}, {"deep", usable}}, []string{`"r2"`, `"r0"`}},
		// Along neither severity nor share alone do the two condemn and pass each
		// other: (seen, felt) at 5 percent and (felt, deep) beyond are undecided.
		"over severity and share at once": {[][]string{
			{"seen", goes, "max_share = 5"}, {"felt", open, "max_share = 5"}, {"deep", open, "max_share = 5"},
			{"seen", open}, {"felt", usable}, {"deep", goes},
		}, []string{`"r4"`, `"r0"`}},
		"before a test": {[][]string{{"seen", usable, until("touch", "condemned")}, {"felt", usable}, {"deep", goes}}, []string{`"r1"`, `"r0"`}},
		"before the test of the milder one, after that of the worse": {
			[][]string{{"seen", usable, until("touch", "condemned")}, {"felt", usable, until("gauge", "condemned")}, {"deep", goes}}, []string{`"r1"`, `"r0"`}},
		"one test settles both": {
			[][]string{{"seen", usable, until("touch", "condemned")}, {"felt", usable, until("touch", "condemned")}, {"deep", goes}}, nil},
		"before a test at another share": {[][]string{
			{"deep", usable, "max_share = 5", until("touch", "condemned")}, {"deep", usable}, {"seen", usable}, {"felt", usable},
		}, []string{`"r1"`, `"r0"`, "a smaller share"}},
		"by two kinds of demand": {
			[][]string{{"seen", by("load", "usable", "usable", "condemned")}, {"felt", by("shifting", "usable", "condemned", "condemned")}, {"deep", goes}}, []string{`"r1"`, `"r0"`}},
		"by one kind of demand": {
			[][]string{{"seen", by("load", "usable", "usable", "condemned")}, {"felt", by("load", "usable", "condemned", "condemned")}, {"deep", goes}}, nil},
	} {
		text := small
		for i, lines := range c.rows {
			text += fmt.Sprintf("[[rule]]\nid = \"r%d\"\nrole = [\"thrust-face\"]\ndamage = [\"wear\"]\nseverity = [%q]\n%s\nremedy = \"replace\"\nreason = \"x\"\nsource = \"x\"\n",
				i, lines[0], strings.Join(lines[1:], "\n"))
		}
		_, problems, _ := spec.Load(fstest.MapFS{"own.toml": {Data: []byte(text)}}, nil)
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

// A kind's row that differs from the role's at a small share alone differs.
func TestARowThatDiffersAtAShareOnlySaysWhy(t *testing.T) {
	for _, c := range []struct {
		share  int
		differ bool
	}{{5, true}, {50, false}} {
		text := small + fmt.Sprintf(`
[[rule]]
id = "role-little"
role = ["thrust-face"]
damage = ["wear"]
severity = ["deep"]
max_share = %d
verdict = "usable"
reason = "x"
source = "x"
[[rule]]
id = "role"
role = ["thrust-face"]
damage = ["wear"]
severity = ["deep"]
verdict = "condemned"
remedy = "replace"
reason = "x"
source = "x"
[[rule]]
id = "kind"
kind = ["washer"]
damage = ["wear"]
severity = ["deep"]
max_share = 20
verdict = "%s"
remedy = "replace"
reason = "x"
source = "x"
`, c.share, map[bool]string{true: "condemned", false: "usable"}[c.differ])
		_, problems, _ := spec.Load(fstest.MapFS{"own.toml": {Data: []byte(text)}}, nil)
		if told := strings.Contains(fmt.Sprint(problems), "needs because"); told != c.differ {
			t.Errorf("at %d percent: %v", c.share, problems)
		}
	}
}

// page is a row of a random rule book; the rows stand in the order of their ids.
type page struct {
	max        int
	severities []string
	by         string
	after      verdicts
	// untested is what holds before the test, test which one it waits for: "" for
	// none.
	untested verdicts
	test     string
}

func anyPage(t *rapid.T) page {
	from := rapid.IntRange(0, 2).Draw(t, "from")
	p := page{
		max:        rapid.SampledFrom([]int{0, 0, 0, 5, 40}).Draw(t, "max"),
		severities: byTouch[from:rapid.IntRange(from+1, 3).Draw(t, "to")],
		after: rapid.SampledFrom([]verdicts{
			same(usable), same(usable), same(condemned), same(undecided), {usable, condemned, condemned}, {usable, usable, condemned}, {sound, usable, condemned},
		}).Draw(t, "after"),
		test: rapid.SampledFrom([]string{"", "", "touch", "gauge"}).Draw(t, "test"),
	}
	if p.after[0] != p.after[2] || p.test != "" {
		p.by = rapid.SampledFrom([]string{"load", "load", "shifting"}).Draw(t, "by")
	}
	untested := rapid.SampledFrom([]verdicts{same(undecided), same(condemned), {undecided, undecided, condemned}, {usable, usable, condemned}}).Draw(t, "untested")
	for i := range untested {
		p.untested[i] = term.Worst(untested[i], p.after[i])
	}
	return p
}

func (p page) text(i int) string {
	text := fmt.Sprintf("[[rule]]\nid = \"r%d\"\nrole = [\"thrust-face\"]\ndamage = [\"wear\"]\nseverity = [\"%s\"]\nmax_share = %d\n"+
		"remedy = \"replace\"\nreason = \"x\"\nnext = \"x\"\nsource = \"x\"\n", i, strings.Join(p.severities, `", "`), p.max)
	if p.by == "" {
		return text + fmt.Sprintf("verdict = %q\n", p.after[0].String())
	}
	text += fmt.Sprintf("by = %q\nlight = %q\nnormal = %q\nhard = %q\n", p.by, p.after[0].String(), p.after[1].String(), p.after[2].String())
	if p.test != "" {
		text += fmt.Sprintf("until_tested = { for = \"looseness\", by = [%q], light = %q, normal = %q, hard = %q, next = \"x\" }\n",
			p.test, p.untested[0].String(), p.untested[1].String(), p.untested[2].String())
	}
	return text
}

// speaks returns the page that decides, worked out without the code under test.
func speaks(book []page, severity string, share float64) (page, bool) {
	best, found := page{max: 1000}, false
	for _, p := range book {
		if !slices.Contains(p.severities, severity) || p.max > 0 && (share < 0 || share > float64(p.max)) {
			continue
		}
		if p.max == 0 {
			p.max = 999
		}
		if p.max < best.max || p.max == best.max && len(p.severities) < len(best.severities) {
			best, found = p, true
		}
	}
	return best, found
}

// is returns what a page says in a world: which demands are met, which tests done.
func (p page) is(load, shifting int, done []string) term.Verdict {
	demand := load
	if p.by == "shifting" {
		demand = shifting
	}
	if p.test != "" && !slices.Contains(done, p.test) {
		return p.untested[demand]
	}
	return p.after[demand]
}

// unkind looks at every pair of cases in every world.
func unkind(book []page) bool {
	shares := []float64{-1, 0, 2.5, 5, 5.5, 20, 40, 40.5, 100, 101}
	for si := range byTouch {
		for sj := si; sj < len(byTouch); sj++ {
			for _, a := range shares {
				for _, b := range shares {
					if a != b && (a < 0 || b < a) {
						continue
					}
					milder, ok := speaks(book, byTouch[si], a)
					worse, too := speaks(book, byTouch[sj], b)
					if ok && too && unkindRows(milder, worse) {
						return true
					}
				}
			}
		}
	}
	return false
}

func unkindRows(milder, worse page) bool {
	for world := range 36 {
		load, shifting := world%3, world/3%3
		done := [][]string{nil, {"touch"}, {"gauge"}, {"touch", "gauge"}}[world/9]
		m, w := milder.is(load, shifting, done), worse.is(load, shifting, done)
		if m != undecided && w != undecided && m.Worse(w) {
			return true
		}
	}
	return false
}

// The check compares rows; it must find what looking at every case in every world
// finds, and no more.
func TestTheOrderIsProvedInEveryWorld(t *testing.T) {
	refused, taken := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		book := rapid.SliceOfN(rapid.Custom(anyPage), 1, 6).Draw(t, "book")
		text := small
		for i, p := range book {
			text += p.text(i)
		}
		_, problems, _ := spec.Load(fstest.MapFS{"own.toml": {Data: []byte(text)}}, nil)
		told := false
		for _, p := range problems {
			told = told || strings.Contains(p.Text, "more kindly")
			if !strings.Contains(p.Text, "more kindly") && !strings.Contains(p.Text, "disagrees") {
				t.Fatalf("the book is no book: %v", problems)
			}
		}
		if wrong := unkind(book); told != wrong {
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

// Over the program's own specs, in each state of what a row waits for: a harder
// demand, of load as of shifting, is never judged more kindly.
func TestAHarderDemandOfEitherKindIsNeverJudgedMoreKindly(t *testing.T) {
	met := map[term.DemandOf]int{}
	every(own(t), func(at spec.Case, r *spec.Rule) {
		if r == nil {
			return
		}
		before, after := judged(r)
		met[r.By]++
		for i := range 2 {
			if before[i].Worse(before[i+1]) || after[i].Worse(after[i+1]) {
				t.Errorf("%s, by %s: %v before a test, %v after", r.ID, r.By, before, after)
			}
		}
	})
	if met[term.Load] < 100 || met[term.Shifting] < 100 {
		t.Errorf("of rows by load and by shifting only %v cases were met", met)
	}
}
