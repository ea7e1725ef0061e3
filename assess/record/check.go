package record

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
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

var (
	hexHash  = regexp.MustCompile(`^[0-9a-f]{64}$`)
	zoneForm = regexp.MustCompile(`^[+-](0\d|1[0-4]):[0-5]\d$`)
)

// Limits of a photo's stored size, in pixels, so that a hundredth of a pixel
// fits any integer.
const maxSide = 1_000_000

// Check returns what is wrong in the record, nil for nothing.
func (r *Record) Check() Problems {
	c := checker{record: r}
	c.want(r.Format == Format, "/format", "is %d; this program reads format %d", r.Format, Format)
	c.want(r.ID != "", "/id", "is missing")
	c.want(r.Duty != "", "/duty", "is missing; known are yard, road, hard")
	for at, date := range map[string]string{"received": r.Dates.Received, "stripped": r.Dates.Stripped, "issued": r.Dates.Issued} {
		if date != "" {
			_, err := time.Parse(time.DateOnly, date)
			c.want(err == nil, "/dates/"+at, "%q is not a day such as 2026-05-12", date)
		}
	}
	c.parts()
	c.photos()
	c.findings()
	c.outlines()
	c.measured()
	slices.SortFunc(c.problems, func(a, b Problem) int { return strings.Compare(a.Pointer, b.Pointer) })
	return c.problems
}

type checker struct {
	record   *Record
	problems Problems
}

func (c *checker) want(ok bool, pointer, format string, args ...any) {
	if !ok {
		c.problems = append(c.problems, Problem{Pointer: pointer, Text: fmt.Sprintf(format, args...)})
	}
}

func (c *checker) part(id ID, pointer string) {
	_, ok := c.record.Parts[id]
	c.want(ok, pointer, "names the part %q, which is not in this record", id)
}

func (c *checker) parts() {
	for id, p := range c.record.Parts {
		at := "/parts/" + string(id)
		c.want(p.Kind != "", at+"/kind", "is missing")
		c.want(p.State != "", at+"/state", "is missing")
		c.want(p.Count >= 0, at+"/count", "is negative")
	}
	for id, o := range c.record.Overrides {
		at := "/overrides/" + string(id)
		c.part(o.Part, at+"/part")
		c.want(o.Reason != "" && o.By != "", at, "an override needs a reason and a name")
	}
}

func (c *checker) photos() {
	numbers := map[int]bool{}
	for id, p := range c.record.Photos {
		at := "/photos/" + string(id)
		c.number(numbers, p.Number, c.record.Numbers.Photo, at)
		c.want(hexHash.MatchString(p.File), at+"/file", "is not a SHA-256 in lower-case hex")
		c.want(p.Width > 0 && p.Width <= maxSide && p.Height > 0 && p.Height <= maxSide, at, "has no usable width and height")
		c.want(p.Orientation >= 1 && p.Orientation <= 8, at+"/orientation", "is %d; it is 1 to 8", p.Orientation)
		c.want(p.Turned%90 == 0 && p.Turned >= 0 && p.Turned < 360, at+"/turned", "is %d; it is 0, 90, 180 or 270", p.Turned)
		c.taken(p.Taken, at+"/taken")
		for i, s := range p.Subjects {
			c.part(s.Part, fmt.Sprintf("%s/subjects/%d/part", at, i))
		}
	}
}

func (c *checker) taken(t Taken, at string) {
	if t.Local != "" {
		_, err := time.Parse("2006-01-02T15:04:05", t.Local)
		c.want(err == nil, at+"/local", "%q is not a time such as 2026-05-12T09:10:00", t.Local)
	}
	c.want(t.Zone == "" || zoneForm.MatchString(t.Zone), at+"/zone", "%q is not an offset such as +01:00", t.Zone)
}

func (c *checker) findings() {
	numbers := map[int]bool{}
	for id, f := range c.record.Findings {
		at := "/findings/" + string(id)
		c.number(numbers, f.Number, c.record.Numbers.Finding, at)
		c.part(f.Part, at+"/part")
		c.want(f.Surface != "", at+"/surface", "is missing")
		c.want(f.Zone != "", at+"/zone", "is missing")
		c.want(f.Method != "", at+"/method", "is missing")
		if f.Damage == "" {
			c.want(false, at+"/damage", "is missing")
			continue
		}
		on := f.Damage.Scale().Severities()
		c.want(slices.Contains(on, f.Severity), at+"/severity", "is %q; for %s it is one of %v", f.Severity, f.Damage, on)
	}
}

func (c *checker) outlines() {
	numbers := map[int]bool{}
	for id, o := range c.record.Outlines {
		at := "/outlines/" + string(id)
		c.number(numbers, o.Number, c.record.Numbers.Outline, at)
		photo, ok := c.record.Photos[o.Photo]
		c.want(ok, at+"/photo", "names the photo %q, which is not in this record", o.Photo)
		if o.Finding != "" {
			_, ok := c.record.Findings[o.Finding]
			c.want(ok, at+"/finding", "names the finding %q, which is not in this record", o.Finding)
		}
		switch o.Shape {
		case Polygon:
			c.want(len(o.Points) >= 3, at+"/points", "a polygon needs three corners, here are %d", len(o.Points))
		case Oval:
			c.want(len(o.Points) == 2, at+"/points", "an oval is two opposite corners of its box, here are %d", len(o.Points))
		default:
			c.want(false, at+"/shape", "%q is not a shape; known are polygon, oval", o.Shape)
		}
		for i, p := range o.Points {
			inside := p[0] >= 0 && p[1] >= 0 && p[0] <= photo.Width*100 && p[1] <= photo.Height*100
			c.want(!ok || inside, fmt.Sprintf("%s/points/%d", at, i), "lies outside the photo")
		}
	}
}

func (c *checker) measured() {
	for id, m := range c.record.Readings {
		at := "/readings/" + string(id)
		c.part(m.Part, at+"/part")
		c.want(m.Dimension != "", at+"/dimension", "is missing")
		c.want(len(m.Values) > 0, at+"/values", "a reading needs a value")
		if m.At != (Stamp{}) {
			_, err := m.At.Time()
			c.want(err == nil, at+"/at", "%v", err)
		}
	}
	for id, f := range c.record.TrialFits {
		at := "/trialFits/" + string(id)
		c.want(f.Pair != "" && f.Outcome != "", at, "a trial fit needs its pair and its outcome")
		c.want(f.A != f.B, at, "a trial fit joins two parts, here it is one with itself")
		for name, end := range map[string]PartOf{"/a": f.A, "/b": f.B} {
			if end.Record == c.record.ID {
				c.part(end.Part, at+name+"/part")
			}
		}
		c.want(f.A.Record == c.record.ID || f.B.Record == c.record.ID, at, "neither part is of this record")
	}
}

func (c *checker) number(seen map[int]bool, number, last int, at string) {
	c.want(number >= 1 && number <= last, at+"/number", "is %d; numbers given so far run from 1 to %d", number, last)
	c.want(!seen[number], at+"/number", "%d is taken", number)
	seen[number] = true
}
