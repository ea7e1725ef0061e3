package record

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fettlebook/assess/term"
)

// Problem is one thing in a record that is well-formed and wrong.
type Problem struct {
	// Pointer is the place as a JSON pointer.
	Pointer string
	Text    string
}

// Problems are all problems of a record, as one error.
type Problems []Problem

func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, one := range p {
		lines[i] = fmt.Sprintf("at %s: %s", one.Pointer, one.Text)
	}
	return strings.Join(lines, "\n")
}

const (
	// maxSide is the largest side of a photo in pixels, so that a hundredth of a
	// pixel fits any integer.
	maxSide = 1_000_000
	// maxExact is the largest whole number that every reader of JSON takes exactly
	// (RFC 7493, section 2.2); the canonical form would round larger ones.
	maxExact = 1<<53 - 1
)

// Check returns what is wrong in the record, nil for nothing, in the order of
// the pointers. A record without problems is one that [Read] takes back as it
// was written.
func (r *Record) Check() Problems {
	c := checker{record: r}
	c.want(r.Format == Format, "/format", "is %d; this program reads format %d", r.Format, Format)
	c.id(r.ID, "/id")
	c.want(r.Unit.Type != "", "/unit/type", "is missing")
	if r.Duty == "" {
		c.add("/duty", "is missing; known are yard, road, hard")
	} else {
		word(&c, r.Duty, term.Duties, "/duty")
	}
	c.day(r.Dates.Received, "/dates/received")
	c.day(r.Dates.Stripped, "/dates/stripped")
	c.day(r.Dates.Issued, "/dates/issued")
	for i, p := range r.People {
		if p.Name == "" {
			c.add(fmt.Sprintf("/people/%d/name", i), "is missing")
		}
	}
	c.count(int64(r.Numbers.Finding), 0, "/numbers/finding")
	c.count(int64(r.Numbers.Photo), 0, "/numbers/photo")
	c.count(int64(r.Numbers.Outline), 0, "/numbers/outline")
	c.ids()
	c.parts()
	c.overrides()
	c.opinions()
	c.limits()
	c.photos()
	c.findings()
	c.outlines()
	c.readings()
	c.workings()
	c.trialFits()
	c.installed()
	return c.sorted()
}

// checker collects problems. A record is checked at each gesture, so pointers
// and texts are made only for what is wrong.
type checker struct {
	record   *Record
	problems Problems
	// in and of are the collection and the id of the member being checked.
	in string
	of ID
}

func (c *checker) sorted() Problems {
	slices.SortStableFunc(c.problems, func(a, b Problem) int { return strings.Compare(a.Pointer, b.Pointer) })
	return c.problems
}

func (c *checker) add(pointer, format string, args ...any) {
	c.problems = append(c.problems, Problem{Pointer: pointer, Text: fmt.Sprintf(format, args...)})
}

func (c *checker) want(ok bool, pointer, format string, args ...any) {
	if !ok {
		c.add(pointer, format, args...)
	}
}

// at is the pointer to a place in the member being checked.
func (c *checker) at(place string) string { return "/" + c.in + "/" + string(c.of) + place }

// need asks that something stands at a place of the member.
func (c *checker) need(ok bool, place string) {
	if !ok {
		c.add(c.at(place), "is missing")
	}
}

// word asks that a word stands in its vocabulary.
func word[T ~string](c *checker, w T, known []T, pointer string) {
	if !slices.Contains(known, w) {
		c.add(pointer, "%q is not known here; known are: %s", string(w), list(known))
	}
}

// needWord and mayWord ask the same of the member; only a word that may be
// missing may be empty.
func needWord[T ~string](c *checker, w T, known []T, place string) {
	if w == "" {
		c.need(false, place)
		return
	}
	mayWord(c, w, known, place)
}

func mayWord[T ~string](c *checker, w T, known []T, place string) {
	if w != "" && !slices.Contains(known, w) {
		word(c, w, known, c.at(place))
	}
}

func list[T ~string](words []T) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = string(w)
	}
	return strings.Join(texts, ", ")
}

func (c *checker) id(id ID, pointer string) {
	if id == "" {
		c.add(pointer, "is missing")
	} else if _, err := ParseID(string(id)); err != nil {
		c.add(pointer, "%v", err)
	}
}

func (c *checker) day(day, pointer string) {
	if day != "" {
		_, err := time.Parse(time.DateOnly, day)
		c.want(err == nil, pointer, "%q is not a day such as 2026-05-12", day)
	}
}

func (c *checker) count(n, least int64, pointer string) {
	c.want(n >= least && n <= maxExact, pointer, "is %d; it is a whole number from %d to %d", n, least, int64(maxExact))
}

// part asks that a part is in this record.
func (c *checker) part(id ID, place string) {
	if _, ok := c.record.Parts[id]; !ok {
		c.add(c.at(place), "names the part %q, which is not in this record", id)
	}
}

// ids asks that every id is one, and is used once.
func (c *checker) ids() {
	r := c.record
	used := make(map[ID]string, 1+len(r.Parts)+len(r.Photos)+len(r.Findings)+len(r.Outlines)+len(r.Readings)+
		len(r.TrialFits)+len(r.Overrides)+len(r.Opinions)+len(r.Limits)+len(r.Workings)+len(r.Installed))
	used[r.ID] = "the record"
	for _, one := range collections {
		for id := range one.ids(r) {
			c.in, c.of = one.name, id
			if !isID(string(id)) {
				c.id(id, c.at(""))
			} else if by := used[id]; by != "" {
				c.add(c.at(""), "this id is used for %s already", by)
			}
			used[id] = one.name
		}
	}
}

// number asks that a number was given, and to one member only.
func (c *checker) number(seen map[int]ID, number, last int) {
	if number < 1 || number > last {
		c.add(c.at("/number"), "is %d; numbers given so far run from 1 to %d", number, last)
	}
	first, taken := seen[number]
	if !taken {
		seen[number] = c.of
		return
	}
	// The earlier of the two has it, whichever was met first.
	seen[number] = min(first, c.of)
	c.of = max(first, c.of)
	c.add(c.at("/number"), "%d is taken", number)
}
