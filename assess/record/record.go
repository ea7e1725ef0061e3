// Package record holds what was seen on one core at one teardown, and what was
// installed afterwards: plain data, its strict JSON, and the changes that can
// be made to it.
//
// A [Record] is a value that nobody edits in place. A [Gesture] (one finished
// field, one released mouse button, one choice) turns a record into the next
// one and leaves an [Entry] in its history, with the JSON Patch that does it
// and the one that takes it back. Entries are chained by hash.
//
// Everything that must be found again carries an [ID]; what a person sees
// (finding 3, photo 12) is a number that is given once per record and never
// used again. Collections are objects keyed by id, so that a patch names what
// it changes and two things can't have one id.
package record

import (
	"fmt"

	"fettlebook/assess/term"
)

// Format is the version of the record's JSON that this program writes.
const Format = 1

// Record is everything that was seen on one core at one teardown.
type Record struct {
	Format    int       `json:"format"`
	ID        ID        `json:"id"`
	Unit      Unit      `json:"unit"`
	Owner     Owner     `json:"owner,omitzero"`
	Complaint string    `json:"complaint,omitzero"`
	Duty      term.Duty `json:"duty"`
	Dates     Dates     `json:"dates,omitzero"`
	// Hold says why nothing may be cleaned or taken further, such as "adjuster to
	// view"; empty where the work may go on.
	Hold   string   `json:"hold,omitzero"`
	People []Person `json:"people,omitempty"`
	// Numbers are the last numbers given to findings, photos and outlines.
	Numbers Numbers `json:"numbers,omitzero"`

	Parts     map[ID]Part      `json:"parts,omitempty"`
	Photos    map[ID]Photo     `json:"photos,omitempty"`
	Findings  map[ID]Finding   `json:"findings,omitempty"`
	Outlines  map[ID]Outline   `json:"outlines,omitempty"`
	Readings  map[ID]Reading   `json:"readings,omitempty"`
	TrialFits map[ID]TrialFit  `json:"trialFits,omitempty"`
	Overrides map[ID]Override  `json:"overrides,omitempty"`
	Opinions  map[ID]Opinion   `json:"opinions,omitempty"`
	Limits    map[ID]Limit     `json:"limits,omitempty"`
	Workings  map[ID]Working   `json:"workings,omitempty"`
	Installed map[ID]Installed `json:"installed,omitempty"`
}

// Unit says what the core is and what it has done.
type Unit struct {
	// Type names the unit's spec; a record may name one that is not in force.
	Type    string `json:"type"`
	Maker   string `json:"maker,omitzero"`
	Model   string `json:"model,omitzero"`
	Serial  string `json:"serial,omitzero"`
	Variant string `json:"variant,omitzero"`
	// Service is the hours or the distance as they were told, with their unit.
	Service string `json:"service,omitzero"`
	// Oil says what came out of the unit and what was in it.
	Oil string `json:"oil,omitzero"`
}

// Says names the unit in a few words: maker, model, serial.
func (u Unit) Says() string {
	name := u.Type
	if u.Model != "" {
		name = u.Model
	}
	if u.Maker != "" {
		name = u.Maker + " " + name
	}
	if u.Serial != "" {
		name = fmt.Sprintf("%s, serial %s", name, u.Serial)
	}
	return name
}

// Owner is who the core belongs to.
type Owner struct {
	Name    string `json:"name,omitzero"`
	Contact string `json:"contact,omitzero"`
	// Claim is the number of the warranty claim, if there is one.
	Claim string `json:"claim,omitzero"`
}

// Dates are the days in the core's life at the shop, as YYYY-MM-DD in the
// shop's own calendar.
type Dates struct {
	Received string `json:"received,omitzero"`
	Stripped string `json:"stripped,omitzero"`
	Issued   string `json:"issued,omitzero"`
}

// Person is someone whose name stands in the record, with the part they had.
type Person struct {
	Name string `json:"name"`
	Does string `json:"does,omitzero"`
}

// Numbers are the last numbers given, 0 for none yet.
type Numbers struct {
	Finding int `json:"finding,omitzero"`
	Photo   int `json:"photo,omitzero"`
	Outline int `json:"outline,omitzero"`
}

// Part is one piece of the unit. Loose items of one kind (needle rollers) are
// one part with a count.
type Part struct {
	Kind string `json:"kind"`
	// Place is the part's place in the unit's spec: "gear-3".
	Place string `json:"place,omitzero"`
	// Tag is what is written on the tray or the part.
	Tag     string         `json:"tag,omitzero"`
	Variant string         `json:"variant,omitzero"`
	State   term.PartState `json:"state"`
	// Count is how many loose items there are; 0 where it was not counted.
	Count int    `json:"count,omitzero"`
	Note  string `json:"note,omitzero"`
	// Surfaces tells by the surface's name what was done to judge it.
	Surfaces map[string]Looked `json:"surfaces,omitempty"`
}

// Looked says how a surface was inspected, and by whom.
type Looked struct {
	Eye   bool `json:"looked,omitzero"`
	Touch bool `json:"felt,omitzero"`
	// Clean is whether the surface was clean when it was looked at.
	Clean bool   `json:"clean,omitzero"`
	By    string `json:"by,omitzero"`
}

// Finding is one damage on one surface.
type Finding struct {
	Number   int            `json:"number"`
	Part     ID             `json:"part"`
	Surface  string         `json:"surface"`
	Damage   term.Damage    `json:"damage"`
	Severity term.Severity  `json:"severity"`
	Zone     term.Zone      `json:"zone"`
	Method   term.Method    `json:"method"`
	Tooth    string         `json:"tooth,omitzero"`
	Flank    term.FlankSide `json:"flank,omitzero"`
	// Share is how much of the working face of the worst tooth is damaged, in
	// percent as it was typed; empty where it was not judged.
	Share string `json:"share,omitzero"`
	// Standing tells the damage that came first from what it brought about.
	Standing term.Standing `json:"standing,omitzero"`
	Note     string        `json:"note,omitzero"`
	By       string        `json:"by,omitzero"`
	// Withdrawn says why a mistaken finding no longer counts; it stays in print.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Photo is the entry of one photo file in this record. One file may stand in
// several records.
type Photo struct {
	Number int `json:"number"`
	// File is the SHA-256 of the original's bytes, in lower-case hex.
	File string `json:"file"`
	Name string `json:"name"`
	Size int64  `json:"size"`
	// Width and Height are in pixels of the file as stored.
	Width  int `json:"width"`
	Height int `json:"height"`
	// Orientation is the file's own (EXIF 1 to 8); Turned is what the user added,
	// in degrees clockwise: 0, 90, 180 or 270.
	Orientation int    `json:"orientation"`
	Turned      int    `json:"turned,omitzero"`
	Taken       Taken  `json:"taken,omitzero"`
	Camera      string `json:"camera,omitzero"`
	// Focal35 is the focal length of a 35 mm camera with the same view, in whole
	// millimetres as the camera recorded it; 0 where it recorded none.
	Focal35 int `json:"focal35,omitzero"`
	// Shows is what an adjuster looks for in it, empty for nothing in particular.
	Shows    term.View  `json:"shows,omitzero"`
	Stage    term.Stage `json:"stage,omitzero"`
	Subjects []Subject  `json:"subjects,omitempty"`
	// LeftOut names who left the photo out of the report; empty where it stands in it.
	LeftOut string `json:"leftOut,omitzero"`
	Note    string `json:"note,omitzero"`
}

// Taken is when the camera says that a photo was taken: its own clock, and the
// zone if the camera recorded one.
type Taken struct {
	// Local is the camera's clock as YYYY-MM-DDThh:mm:ss.
	Local string `json:"local,omitzero"`
	// Zone is the offset as +hh:mm, empty where the camera recorded none.
	Zone string `json:"zone,omitzero"`
}

// Subject is one thing that a photo shows: a part, or one surface of it.
type Subject struct {
	Part    ID     `json:"part"`
	Surface string `json:"surface,omitzero"`
}

// Shape is how an outline was drawn.
type Shape string

// The shapes of outlines. A polygon has three corners or more; an oval is given
// by two opposite corners of the box around it, in the stored pixels' axes; a line
// has two places or more; a spot is one place. Edges are those of a rectangle whose
// corners may be rounded: two places along each of the four, in order round it.
const (
	Polygon Shape = "polygon"
	Oval    Shape = "oval"
	Line    Shape = "line"
	Spot    Shape = "spot"
	Edges   Shape = "edges"
)

// encloses tells whether it is drawn round something.
func (s Shape) encloses() bool { return s == Polygon || s == Oval }

// Outline is a shape on a photo: of a finding, of a zone of a surface, or of
// something whose size is known.
type Outline struct {
	Number  int `json:"number"`
	Photo   ID  `json:"photo"`
	Finding ID  `json:"finding,omitzero"`
	// Face names the zone of a surface of which it is the shape.
	Face Face `json:"face,omitzero"`
	// Known tells the true size of what it shows; it is then the photo's scale.
	Known Known `json:"known,omitzero"`
	// Lies tells how what it shows lies to the plane of the scale.
	Lies Lies `json:"lies,omitzero"`
	// Repeats is the outline that was drawn here once more by the same person, to see
	// how well they pick. A repeat shows no finding: damage is counted once.
	Repeats ID `json:"repeats,omitzero"`
	// By is who drew it.
	By    string `json:"by,omitzero"`
	Shape Shape  `json:"shape"`
	// Points are pairs of whole hundredths of a pixel of the file as stored,
	// before any rotation; (0,0) is the outer corner of the first pixel.
	Points []Point `json:"points"`
}

// Face is a zone of a surface of a part.
type Face struct {
	Part    ID        `json:"part"`
	Surface string    `json:"surface"`
	Zone    term.Zone `json:"zone"`
}

// Known is the true size of something on a photo. A line has a length; a polygon
// of four corners a width, from its first corner to its second, and a height; edges
// have a width, along the first of them, and a height. Lengths are as typed.
type Known struct {
	// What it is: "steel rule", "gauge block".
	What      string `json:"what,omitzero"`
	Length    string `json:"length,omitzero"`
	Width     string `json:"width,omitzero"`
	Height    string `json:"height,omitzero"`
	Tolerance string `json:"tolerance,omitzero"`
	// Distance is that of the lens from the plane of the scale, if it was measured.
	Distance string `json:"distance,omitzero"`
	// Tilt is the most that the camera may have looked askew at a known length, in
	// degrees as typed; empty for what is usual. Four edges or corners show it
	// themselves.
	Tilt string `json:"tilt,omitzero"`
}

// Lies tells how a surface lies to the plane of the scale: how high above it, to
// within Bound; or on a cylinder, of which the diameter is known and two places on
// the axis are given. Lengths are as typed.
type Lies struct {
	Height    string `json:"height,omitzero"`
	Bound     string `json:"bound,omitzero"`
	Diameter  string `json:"diameter,omitzero"`
	Tolerance string `json:"tolerance,omitzero"`
	// Axis are two places on it; both zero where it is none.
	Axis [2]Point `json:"axis,omitzero"`
}

// Point is x and y in hundredths of a pixel of the file as stored.
type Point [2]int

// Reading is the values measured for one dimension.
type Reading struct {
	Part      ID     `json:"part"`
	Surface   string `json:"surface"`
	Dimension string `json:"dimension"`
	// Values are kept as they were typed.
	Values     []Value    `json:"values"`
	Unit       string     `json:"unit"`
	Instrument Instrument `json:"instrument,omitzero"`
	// ZeroBefore and ZeroAfter are what the instrument showed on its zero or setting
	// standard, less what it should have shown: lengths as typed, empty where nobody
	// looked.
	ZeroBefore string `json:"zeroBefore,omitzero"`
	ZeroAfter  string `json:"zeroAfter,omitzero"`
	// Soaked says that part and instrument had lain together long enough to be
	// equally warm. Temperatures are in °C as typed, empty where nobody measured.
	Soaked                bool   `json:"soaked,omitzero"`
	PartTemperature       string `json:"partTemperature,omitzero"`
	InstrumentTemperature string `json:"instrumentTemperature,omitzero"`
	// Material is the part's: steel where it is empty.
	Material string `json:"material,omitzero"`
	Note     string `json:"note,omitzero"`
	By       string `json:"by,omitzero"`
	At       Stamp  `json:"at,omitzero"`
	// Withdrawn says who withdrew a mistaken reading and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Value is one value of a reading, as typed, and where it was taken.
type Value struct {
	Text string `json:"text"`
	// Position is the place along the part, Angle the one around it in degrees as
	// typed.
	Position string `json:"position,omitzero"`
	Angle    string `json:"angle,omitzero"`
	// Stops marks the size of a feeler or plug gauge that did not go in; one without
	// the mark went in.
	Stops bool `json:"stops,omitzero"`
}

// Instrument is what a reading was taken with, by value, so that the record
// still tells it when the shop has sold the instrument.
type Instrument struct {
	// Kind is the sort of instrument: micrometer, caliper, bore-gauge, …
	Kind   string `json:"kind,omitzero"`
	Name   string `json:"name,omitzero"`
	Serial string `json:"serial,omitzero"`
	// Lengths are as typed: the smallest step, the maximum permissible error, the
	// standard deviation of one reading again and again at one place, and the
	// standard uncertainty of carrying a size over by feel.
	Resolution    string `json:"resolution,omitzero"`
	Error         string `json:"error,omitzero"`
	Repeatability string `json:"repeatability,omitzero"`
	Transfer      string `json:"transfer,omitzero"`
	// Calibrated and Due are days.
	Calibrated  string `json:"calibrated,omitzero"`
	Due         string `json:"due,omitzero"`
	Certificate string `json:"certificate,omitzero"`
	// Standard is what it is set to, such as a setting ring.
	Standard string `json:"standard,omitzero"`
}

// Limit is a wear limit that a person typed in out of the unit's manual. Lengths
// are as typed, with their unit; only Discard must be there.
type Limit struct {
	Part      ID     `json:"part"`
	Surface   string `json:"surface"`
	Dimension string `json:"dimension"`
	Nominal   string `json:"nominal,omitzero"`
	New       string `json:"new,omitzero"`
	Reuse     string `json:"reuse,omitzero"`
	Discard   string `json:"discard"`
	Manual    string `json:"manual"`
	Edition   string `json:"edition,omitzero"`
	Page      string `json:"page,omitzero"`
	// Photo is that of the page, if there is one.
	Photo ID     `json:"photo,omitzero"`
	By    string `json:"by"`
	// Checked are the initials of a second person who compared it with the page.
	Checked string `json:"checked,omitzero"`
	// Withdrawn says who withdrew it and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Working is something that was worked out of several sizes: the clearance behind the
// rock of a shaft, the shim that a float wants. What it comes to is worked out anew
// from the entries and kept nowhere.
type Working struct {
	Part ID `json:"part"`
	// Surface is empty where it speaks of the part as a whole.
	Surface string `json:"surface,omitzero"`
	// What is the id of the working: rock, shims, …; a newer program may know more.
	What string `json:"what"`
	// Entries are kept as they were typed, by the ids of what was asked. A length that
	// names no unit is in Unit.
	Entries map[string]string `json:"entries"`
	Unit    string            `json:"unit"`
	// Instrument took the sizes; empty for sizes that were not measured. Inner took
	// those inside bores; empty for the same instrument.
	Instrument Instrument `json:"instrument,omitzero"`
	Inner      Instrument `json:"inner,omitzero"`
	// Manual and Page give the limit or the band that stands among the entries.
	Manual string `json:"manual,omitzero"`
	Page   string `json:"page,omitzero"`
	Note   string `json:"note,omitzero"`
	By     string `json:"by,omitzero"`
	At     Stamp  `json:"at,omitzero"`
	// Withdrawn says who withdrew it and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// PartOf names a part by its record, since trial fits and builds join parts of
// several cores.
type PartOf struct {
	Record ID `json:"record"`
	Part   ID `json:"part"`
}

// TrialFit is two parts put together by hand.
type TrialFit struct {
	// Pair is the kind of pair in the spec, and Outcome one of its outcomes.
	Pair string `json:"pair"`
	// A and B are the two parts. The unworn end may be left out: a reference part
	// from the shelf stands in no record.
	A       PartOf `json:"a,omitzero"`
	B       PartOf `json:"b,omitzero"`
	Outcome string `json:"outcome"`
	// Unworn names the end, a or b, that was an unworn reference part.
	Unworn string `json:"unworn,omitzero"`
	Note   string `json:"note,omitzero"`
	By     string `json:"by,omitzero"`
	// Withdrawn says who withdrew a mistaken trial fit and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Override is a person's own verdict over the computed one.
type Override struct {
	Part    ID           `json:"part"`
	Surface string       `json:"surface,omitzero"`
	Verdict term.Verdict `json:"verdict"`
	Reason  string       `json:"reason"`
	By      string       `json:"by"`
	// Withdrawn says who withdrew the override and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Opinion is what a person holds the findings to be consistent with, for the
// adjuster. The program names what speaks for and against; only a person signs.
type Opinion struct {
	// Cause is the spec's word: overload, water, …
	Cause string `json:"cause"`
	Text  string `json:"text,omitzero"`
	By    string `json:"by"`
	// Withdrawn says who withdrew it and why.
	Withdrawn string `json:"withdrawn,omitzero"`
}

// Installed says what was put into a place of the finished unit.
type Installed struct {
	Place string `json:"place"`
	// From names the part, of this core or another, that went in; empty for a new one.
	From PartOf `json:"from,omitzero"`
	What string `json:"what,omitzero"`
	Note string `json:"note,omitzero"`
}
