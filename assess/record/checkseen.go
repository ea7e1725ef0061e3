package record

import (
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/term"
)

// shapes are the shapes of outlines.
var shapes = []Shape{Polygon, Oval, Line, Spot, Edges}

func (c *checker) parts() {
	c.in = "parts"
	for id, p := range c.record.Parts {
		c.of = id
		c.need(p.Kind != "", "/kind")
		needWord(c, p.State, term.PartStates, "/state")
		if p.Count < 0 || int64(p.Count) > maxExact {
			c.count(int64(p.Count), 0, c.at("/count"))
		}
		if _, ok := p.Surfaces[""]; ok {
			c.add(c.at("/surfaces/"), "a surface needs a name")
		}
	}
}

func (c *checker) photos() {
	c.in = "photos"
	numbers := make(map[int]ID, len(c.record.Photos))
	for id, p := range c.record.Photos {
		c.of = id
		if !hexHash(p.File) {
			c.add(c.at("/file"), "is not a SHA-256 in lower-case hex")
		}
		c.need(p.Name != "", "/name")
		if p.Size < 1 || p.Size > maxExact {
			c.count(p.Size, 1, c.at("/size"))
		}
		c.side(p.Width, "/width")
		c.side(p.Height, "/height")
		if p.Orientation < 1 || p.Orientation > 8 {
			c.add(c.at("/orientation"), "is %d; it is 1 to 8", p.Orientation)
		}
		if p.Turned%90 != 0 || p.Turned < 0 || p.Turned >= 360 {
			c.add(c.at("/turned"), "is %d; it is 0, 90, 180 or 270", p.Turned)
		}
		c.taken(p.Taken)
		mayWord(c, p.Stage, term.Stages, "/stage")
		mayWord(c, p.Shows, term.Views, "/shows")
		if p.Focal35 < 0 || p.Focal35 > maxFocal {
			c.add(c.at("/focal35"), "is %d; it is a focal length in millimetres, 1 to %d", p.Focal35, maxFocal)
		}
		for i, s := range p.Subjects {
			if _, ok := c.record.Parts[s.Part]; !ok {
				c.part(s.Part, fmt.Sprintf("/subjects/%d/part", i))
			}
		}
		c.number(numbers, p.Number, c.record.Numbers.Photo)
	}
}

func (c *checker) side(pixels int, place string) {
	if pixels < 1 || pixels > maxSide {
		c.add(c.at(place), "is %d; it is 1 to %d pixels", pixels, maxSide)
	}
}

func (c *checker) taken(t Taken) {
	if t.Local != "" {
		// The length, since Parse takes fractions and hours of one digit as well.
		if _, err := time.Parse(takenForm, t.Local); err != nil || len(t.Local) != len(takenForm) {
			c.add(c.at("/taken/local"), "%q is not a time such as 2026-05-12T09:10:00", t.Local)
		}
	}
	if t.Zone != "" && !zoneForm.MatchString(t.Zone) {
		c.add(c.at("/taken/zone"), "%q is not an offset such as +01:00", t.Zone)
	}
}

func (c *checker) findings() {
	c.in = "findings"
	numbers := make(map[int]ID, len(c.record.Findings))
	for id, f := range c.record.Findings {
		c.of = id
		c.part(f.Part, "/part")
		c.need(f.Surface != "", "/surface")
		needWord(c, f.Damage, term.Damages, "/damage")
		needWord(c, f.Zone, term.Zones, "/zone")
		needWord(c, f.Method, term.Methods, "/method")
		mayWord(c, f.Flank, term.FlankSides, "/flank")
		mayWord(c, f.Standing, term.Standings, "/standing")
		if f.Share != "" && !shareForm.MatchString(f.Share) {
			c.add(c.at("/share"), "%q is not a share in percent such as 12 or 2.5", f.Share)
		}
		if f.Damage != "" {
			needWord(c, f.Severity, f.Damage.Scale().Severities(), "/severity")
		} else {
			needWord(c, f.Severity, term.Severities, "/severity")
		}
		c.number(numbers, f.Number, c.record.Numbers.Finding)
	}
}

func (c *checker) outlines() {
	c.in = "outlines"
	numbers := make(map[int]ID, len(c.record.Outlines))
	for id, o := range c.record.Outlines {
		c.of = id
		photo, ok := c.record.Photos[o.Photo]
		if !ok {
			c.add(c.at("/photo"), "names the photo %q, which is not in this record", o.Photo)
			photo.Width, photo.Height = maxSide, maxSide
		}
		if _, ok := c.record.Findings[o.Finding]; !ok && o.Finding != "" {
			c.add(c.at("/finding"), "names the finding %q, which is not in this record", o.Finding)
		}
		needWord(c, o.Shape, shapes, "/shape")
		switch n := len(o.Points); {
		case o.Shape == Polygon && n < 3:
			c.add(c.at("/points"), "a polygon needs three corners, here are %d", n)
		case o.Shape == Oval && n != 2:
			c.add(c.at("/points"), "an oval is two opposite corners of its box, here are %d", n)
		case o.Shape == Line && n < 2:
			c.add(c.at("/points"), "a line needs two places, here are %d", n)
		case o.Shape == Spot && n != 1:
			c.add(c.at("/points"), "a spot is one place, here are %d", n)
		case o.Shape == Edges && n != 8:
			c.add(c.at("/points"), "four edges are two places each, here are %d", n)
		}
		for i, p := range o.Points {
			c.inside(p, photo, fmt.Sprintf("/points/%d", i))
		}
		c.reference(o, photo)
		c.repeat(o)
		c.number(numbers, o.Number, c.record.Numbers.Outline)
	}
}

// maxFocal bounds a focal length in millimetres of a 35 mm camera.
const maxFocal = 10_000

func (c *checker) inside(p Point, photo Photo, place string) {
	if p[0] < 0 || p[1] < 0 || p[0] > photo.Width*100 || p[1] > photo.Height*100 {
		c.add(c.at(place), "lies outside the photo")
	}
}

// reference checks what an outline is the shape of besides a finding.
func (c *checker) reference(o Outline, photo Photo) {
	if o.Face != (Face{}) {
		c.part(o.Face.Part, "/face/part")
		c.need(o.Face.Surface != "", "/face/surface")
		needWord(c, o.Face.Zone, term.Zones, "/face/zone")
	}
	if o.Shape == Edges && (o.Finding != "" || o.Face != (Face{})) {
		c.add(c.at("/shape"), "edges are those of something of known size; damage and zones are outlined")
	}
	if k := o.Known; k != (Known{}) {
		corners := o.Shape == Polygon && len(o.Points) == 4 || o.Shape == Edges
		switch {
		case o.Shape == Line && k.Length != "" && k.Width == "" && k.Height == "":
		case corners && k.Length == "" && k.Width != "" && k.Height != "" && k.Tilt == "":
		default:
			c.add(c.at("/known"), "a line has a known length, and four corners or edges a known width and height, which show the tilt themselves; nothing else is a scale")
		}
		if k.Tilt != "" && !tiltForm.MatchString(k.Tilt) {
			c.add(c.at("/known/tilt"), "%q is not a tilt in degrees from 1 to 45, such as 10", k.Tilt)
		}
	}
	for i, p := range o.Lies.Axis {
		c.inside(p, photo, fmt.Sprintf("/lies/axis/%d", i))
	}
}

// repeat checks that an outline which repeats another shows nothing of its own.
func (c *checker) repeat(o Outline) {
	if o.Repeats == "" {
		return
	}
	first, ok := c.record.Outlines[o.Repeats]
	switch {
	case !ok:
		c.add(c.at("/repeats"), "names the outline %q, which is not in this record", o.Repeats)
	case first.Repeats != "":
		c.add(c.at("/repeats"), "names an outline that is a repeat itself")
	case first.Photo != o.Photo:
		c.add(c.at("/repeats"), "names an outline on another photo")
	case !first.Shape.encloses() || !o.Shape.encloses():
		c.add(c.at("/repeats"), "only a polygon or an oval repeats another")
	case o.Finding != "" || o.Face != (Face{}) || o.Known != (Known{}) || o.Lies != (Lies{}):
		c.add(c.at("/repeats"), "a repeat shows what the first outline shows, and nothing of its own")
	}
}

// limits checks what was typed in out of a manual.
func (c *checker) limits() {
	c.in = "limits"
	for id, l := range c.record.Limits {
		c.of = id
		c.part(l.Part, "/part")
		c.need(l.Surface != "", "/surface")
		c.need(l.Dimension != "", "/dimension")
		c.need(l.Discard != "", "/discard")
		c.need(l.Manual != "", "/manual")
		c.need(l.By != "", "/by")
		if _, ok := c.record.Photos[l.Photo]; !ok && l.Photo != "" {
			c.add(c.at("/photo"), "names the photo %q, which is not in this record", l.Photo)
		}
	}
}

func (c *checker) readings() {
	c.in = "readings"
	for id, m := range c.record.Readings {
		c.of = id
		c.part(m.Part, "/part")
		c.need(m.Surface != "", "/surface")
		c.need(m.Dimension != "", "/dimension")
		c.need(m.Unit != "", "/unit")
		if len(m.Values) == 0 {
			c.add(c.at("/values"), "a reading needs a value")
		}
		for i, v := range m.Values {
			if v.Text == "" {
				c.need(false, fmt.Sprintf("/values/%d/text", i))
			}
		}
		c.moment(m.At)
	}
}

func (c *checker) moment(at Stamp) {
	if at != (Stamp{}) {
		if _, err := at.Time(); err != nil {
			c.add(c.at("/at"), "%v", err)
		}
	}
}

// How long the name of a working or of an entry, and what is typed, may be, in
// characters.
const (
	maxName  = 100
	maxTyped = 1000
)

// workings checks what was worked out. Which workings there are, and what they ask,
// is not this room's: a newer program's stay as they are.
func (c *checker) workings() {
	c.in = "workings"
	for id, w := range c.record.Workings {
		c.of = id
		c.part(w.Part, "/part")
		c.need(w.What != "", "/what")
		c.need(w.Unit != "", "/unit")
		c.short(w.What, maxName, "/what")
		if len(w.Entries) == 0 {
			c.add(c.at("/entries"), "a working needs an entry")
		}
		for name, typed := range w.Entries {
			if name == "" || utf8.RuneCountInString(name) > maxName {
				c.add(c.at("/entries"+string(jsontext.Pointer("").AppendToken(name))), "an entry's name has 1 to %d characters", maxName)
			}
			c.short(typed, maxTyped, "/entries"+string(jsontext.Pointer("").AppendToken(name)))
		}
		c.moment(w.At)
	}
}

func (c *checker) short(text string, most int, place string) {
	if utf8.RuneCountInString(text) > most {
		c.add(c.at(place), "is longer than %d characters", most)
	}
}

func (c *checker) trialFits() {
	c.in = "trialFits"
	for id, f := range c.record.TrialFits {
		c.of = id
		c.need(f.Pair != "", "/pair")
		c.need(f.Outcome != "", "/outcome")
		mayWord(c, f.Unworn, []string{"a", "b"}, "/unworn")
		for _, end := range [...]struct {
			name string
			PartOf
		}{{"a", f.A}, {"b", f.B}} {
			if shelf := f.Unworn == end.name && end.PartOf == (PartOf{}); !shelf {
				c.partOf(end.PartOf, "/"+end.name)
			}
		}
		if f.A == f.B {
			c.add(c.at(""), "a trial fit joins two parts, here it is one with itself")
		}
		if f.A.Record != c.record.ID && f.B.Record != c.record.ID {
			c.add(c.at(""), "neither part is of this record")
		}
	}
}

// partOf asks that a part is named fully, and is there if it is one of ours.
func (c *checker) partOf(p PartOf, place string) {
	c.id(p.Record, c.at(place+"/record"))
	if p.Record == c.record.ID && p.Part != "" {
		c.part(p.Part, place+"/part")
		return
	}
	c.id(p.Part, c.at(place+"/part"))
}

func (c *checker) overrides() {
	c.in = "overrides"
	for id, o := range c.record.Overrides {
		c.of = id
		c.part(o.Part, "/part")
		c.need(o.Reason != "", "/reason")
		c.need(o.By != "", "/by")
		var known term.Verdict
		if known.UnmarshalText([]byte(o.Verdict.String())) != nil {
			c.add(c.at("/verdict"), "%q is not a verdict", o.Verdict)
		}
	}
}

func (c *checker) opinions() {
	c.in = "opinions"
	for id, o := range c.record.Opinions {
		c.of = id
		c.need(o.Cause != "", "/cause")
		c.need(o.By != "", "/by")
	}
}

func (c *checker) installed() {
	c.in = "installed"
	for id, in := range c.record.Installed {
		c.of = id
		c.need(in.Place != "", "/place")
		if in.From != (PartOf{}) {
			c.partOf(in.From, "/from")
		}
	}
}
