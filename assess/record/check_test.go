package record_test

import (
	"slices"
	"strings"
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// edit changes the oldest member of a collection, and returns the pointer to a
// place in it.
func edit[V any](t *testing.T, at string, in map[record.ID]V, change func(*V)) string {
	t.Helper()
	id := first(t, in)
	v := in[id]
	change(&v)
	in[id] = v
	collection, place, deeper := strings.Cut(at, "/")
	if deeper {
		place = "/" + place
	}
	return "/" + collection + "/" + string(id) + place
}

// Each rule broken once, in a record with everything in it, and the place that
// must be named.
func TestCheckNamesWhatIsWrong(t *testing.T) {
	const unknown, noID = record.ID("0197f3a0-1c2b-7def-8123-456789abcdef"), record.ID("0197F3A0-1C2B-7DEF-8123-456789ABCDEF")
	part := func(at string, f func(*record.Part)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Parts, f) }
	}
	photo := func(at string, f func(*record.Photo)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Photos, f) }
	}
	finding := func(at string, f func(*record.Finding)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Findings, f) }
	}
	outline := func(at string, f func(*record.Outline)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Outlines, f) }
	}
	reading := func(at string, f func(*record.Reading)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Readings, f) }
	}
	fit := func(at string, f func(*record.TrialFit)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.TrialFits, f) }
	}
	override := func(at string, f func(*record.Override)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Overrides, f) }
	}
	installed := func(at string, f func(*record.Installed)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Installed, f) }
	}
	limit := func(at string, f func(*record.Limit)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Limits, f) }
	}
	working := func(at string, f func(*record.Working)) func(*record.Record) string {
		return func(r *record.Record) string { return edit(t, at, r.Workings, f) }
	}
	for name, breaks := range map[string]func(*record.Record) string{
		"another format":   func(r *record.Record) string { r.Format = 7; return "/format" },
		"no id":            func(r *record.Record) string { r.ID = ""; return "/id" },
		"id of upper case": func(r *record.Record) string { r.ID = noID; return "/id" },
		"no unit":          func(r *record.Record) string { r.Unit.Type = ""; return "/unit/type" },
		"no duty":          func(r *record.Record) string { r.Duty = ""; return "/duty" },
		"unknown duty":     func(r *record.Record) string { r.Duty = "race"; return "/duty" },
		"no day":           func(r *record.Record) string { r.Dates.Received = "12.5.2026"; return "/dates/received" },
		"no such day":      func(r *record.Record) string { r.Dates.Stripped = "2026-02-29"; return "/dates/stripped" },
		"day with a time":  func(r *record.Record) string { r.Dates.Issued = "2026-05-12T00:00:00Z"; return "/dates/issued" },
		"person unnamed":   func(r *record.Record) string { r.People[1].Name = ""; return "/people/1/name" },
		"number negative":  func(r *record.Record) string { r.Numbers.Photo = -1; return "/numbers/photo" },
		"id used twice": func(r *record.Record) string {
			id := first(t, r.Parts)
			r.Installed[id] = record.Installed{Place: "ring-3"}
			return "/installed/" + string(id)
		},
		"record's id used again": func(r *record.Record) string {
			r.Parts[r.ID] = r.Parts[first(t, r.Parts)]
			return "/parts/" + string(r.ID)
		},
		"key that is no id": func(r *record.Record) string {
			r.Parts["shaft"] = r.Parts[first(t, r.Parts)]
			return "/parts/shaft"
		},

		"part without kind":      part("parts/kind", func(p *record.Part) { p.Kind = "" }),
		"part without state":     part("parts/state", func(p *record.Part) { p.State = "" }),
		"part in unknown state":  part("parts/state", func(p *record.Part) { p.State = "lost" }),
		"negative count":         part("parts/count", func(p *record.Part) { p.Count = -1 }),
		"surface without a name": part("parts/surfaces/", func(p *record.Part) { p.Surfaces = map[string]record.Looked{"": {}} }),

		"photo without number":    photo("photos/number", func(p *record.Photo) { p.Number = 0 }),
		"photo number not given":  photo("photos/number", func(p *record.Photo) { p.Number = 99 }),
		"hash too short":          photo("photos/file", func(p *record.Photo) { p.File = p.File[1:] }),
		"hash in upper case":      photo("photos/file", func(p *record.Photo) { p.File = "F" + p.File[1:] }),
		"photo without name":      photo("photos/name", func(p *record.Photo) { p.Name = "" }),
		"photo without bytes":     photo("photos/size", func(p *record.Photo) { p.Size = 0 }),
		"size beyond exact":       photo("photos/size", func(p *record.Photo) { p.Size = 1 << 53 }),
		"photo without width":     photo("photos/width", func(p *record.Photo) { p.Width = 0 }),
		"photo too high":          photo("photos/height", func(p *record.Photo) { p.Height = 1_000_001 }),
		"orientation":             photo("photos/orientation", func(p *record.Photo) { p.Orientation = 0 }),
		"turned by 45":            photo("photos/turned", func(p *record.Photo) { p.Turned = 45 }),
		"turned right round":      photo("photos/turned", func(p *record.Photo) { p.Turned = 360 }),
		"time with a zone in it":  photo("photos/taken/local", func(p *record.Photo) { p.Taken.Local = "2026-05-12T09:10:00Z" }),
		"time with a fraction":    photo("photos/taken/local", func(p *record.Photo) { p.Taken.Local = "2026-05-12T09:10:00.5" }),
		"time with a short hour":  photo("photos/taken/local", func(p *record.Photo) { p.Taken.Local = "2026-05-12T9:10:00" }),
		"zone by name":            photo("photos/taken/zone", func(p *record.Photo) { p.Taken.Zone = "CET" }),
		"unknown stage":           photo("photos/stage", func(p *record.Photo) { p.Stage = "painted" }),
		"photo of a part unknown": photo("photos/subjects/1/part", func(p *record.Photo) { p.Subjects[1].Part = unknown }),

		"finding without number":  finding("findings/number", func(f *record.Finding) { f.Number = 0 }),
		"finding on unknown part": finding("findings/part", func(f *record.Finding) { f.Part = unknown }),
		"finding on no surface":   finding("findings/surface", func(f *record.Finding) { f.Surface = "" }),
		"finding of no damage":    finding("findings/damage", func(f *record.Finding) { f.Damage = "" }),
		"unknown damage":          finding("findings/damage", func(f *record.Finding) { f.Damage = "rot" }),
		"no severity":             finding("findings/severity", func(f *record.Finding) { f.Severity = "" }),
		"severity of other scale": finding("findings/severity", func(f *record.Finding) { f.Severity = term.Present }),
		"no zone":                 finding("findings/zone", func(f *record.Finding) { f.Zone = "" }),
		"unknown zone":            finding("findings/zone", func(f *record.Finding) { f.Zone = "inside" }),
		"no method":               finding("findings/method", func(f *record.Finding) { f.Method = "" }),
		"unknown method":          finding("findings/method", func(f *record.Finding) { f.Method = "smell" }),
		"unknown flank":           finding("findings/flank", func(f *record.Finding) { f.Flank = "left" }),

		"unknown standing":    finding("findings/standing", func(f *record.Finding) { f.Standing = "guilty" }),
		"share of too much":   finding("findings/share", func(f *record.Finding) { f.Share = "101" }),
		"share with its sign": finding("findings/share", func(f *record.Finding) { f.Share = "12 %" }),

		"outline on no photo":        outline("outlines/photo", func(o *record.Outline) { o.Photo = unknown }),
		"outline of unknown finding": outline("outlines/finding", func(o *record.Outline) { o.Finding = unknown }),
		"no shape":                   outline("outlines/shape", func(o *record.Outline) { o.Shape = "" }),
		"unknown shape":              outline("outlines/shape", func(o *record.Outline) { o.Shape = "star" }),
		"polygon of two corners":     outline("outlines/points", func(o *record.Outline) { o.Points = o.Points[:2] }),
		"oval of three":              outline("outlines/points", func(o *record.Outline) { o.Shape, o.Points = record.Oval, o.Points[:3] }),
		"line of one place":          outline("outlines/points", func(o *record.Outline) { o.Shape, o.Points = record.Line, o.Points[:1] }),
		"spot of two places":         outline("outlines/points", func(o *record.Outline) { o.Shape, o.Points = record.Spot, o.Points[:2] }),
		"scale of unknown size":      outline("outlines/known", func(o *record.Outline) { o.Known = record.Known{What: "rule"} }),
		"tilted too far": outline("outlines/known/tilt", func(o *record.Outline) {
			o.Shape, o.Points, o.Finding = record.Line, o.Points[:2], ""
			o.Known = record.Known{Length: "50 mm", Tilt: "46"}
		}),
		"tilted by nothing": outline("outlines/known/tilt", func(o *record.Outline) {
			o.Shape, o.Points, o.Finding = record.Line, o.Points[:2], ""
			o.Known = record.Known{Length: "50 mm", Tilt: "0"}
		}),
		"a rectangle with a tilt":  outline("outlines/known", func(o *record.Outline) { o.Known = record.Known{Width: "50 mm", Height: "50 mm", Tilt: "10"} }),
		"edges of four places":     outline("outlines/points", func(o *record.Outline) { o.Shape, o.Finding = record.Edges, "" }),
		"edges of a finding":       outline("outlines/shape", func(o *record.Outline) { o.Shape, o.Points = record.Edges, append(o.Points, o.Points...) }),
		"repeat of nothing":        outline("outlines/repeats", func(o *record.Outline) { o.Repeats, o.Finding = unknown, "" }),
		"repeat of itself":         outline("outlines/repeats", func(o *record.Outline) { o.Repeats, o.Finding = first(t, full(t).Outlines), "" }),
		"face of no zone":          outline("outlines/face/zone", func(o *record.Outline) { o.Face = record.Face{Part: first(t, full(t).Parts), Surface: "nose"} }),
		"face of unknown part":     outline("outlines/face/part", func(o *record.Outline) { o.Face = record.Face{Part: unknown, Surface: "nose", Zone: term.WorkingFace} }),
		"axis off the photo":       outline("outlines/lies/axis/1", func(o *record.Outline) { o.Lies.Axis = [2]record.Point{{1, 1}, {-1, 2}} }),
		"limit of unknown part":    limit("limits/part", func(l *record.Limit) { l.Part = unknown }),
		"limit without end":        limit("limits/discard", func(l *record.Limit) { l.Discard = "" }),
		"limit of no manual":       limit("limits/manual", func(l *record.Limit) { l.Manual = "" }),
		"limit by nobody":          limit("limits/by", func(l *record.Limit) { l.By = "" }),
		"limit on no photo":        limit("limits/photo", func(l *record.Limit) { l.Photo = unknown }),
		"corner left of the photo": outline("outlines/points/1", func(o *record.Outline) { o.Points[1][0] = -1 }),
		"corner below the photo":   outline("outlines/points/2", func(o *record.Outline) { o.Points[2][1] = 300_001 }),

		"reading of unknown part":  reading("readings/part", func(m *record.Reading) { m.Part = unknown }),
		"reading of no surface":    reading("readings/surface", func(m *record.Reading) { m.Surface = "" }),
		"reading of no dimension":  reading("readings/dimension", func(m *record.Reading) { m.Dimension = "" }),
		"reading without unit":     reading("readings/unit", func(m *record.Reading) { m.Unit = "" }),
		"reading without value":    reading("readings/values", func(m *record.Reading) { m.Values = nil }),
		"empty value":              reading("readings/values/1/text", func(m *record.Reading) { m.Values[1].Text = "" }),
		"reading at no moment":     reading("readings/at", func(m *record.Reading) { m.At.UTC = "2026-05-12T07:10:00+02:00" }),
		"reading without a zone":   reading("readings/at", func(m *record.Reading) { m.At.Zone = "" }),
		"reading to a microsecond": reading("readings/at", func(m *record.Reading) { m.At.UTC = "2026-05-12T07:10:00.000001Z" }),

		"working of unknown part": working("workings/part", func(w *record.Working) { w.Part = unknown }),
		"working of nothing":      working("workings/what", func(w *record.Working) { w.What = "" }),
		"working of a long name":  working("workings/what", func(w *record.Working) { w.What = strings.Repeat("é", 101) }),
		"working without unit":    working("workings/unit", func(w *record.Working) { w.Unit = "" }),
		"working without entry":   working("workings/entries", func(w *record.Working) { w.Entries = nil }),
		"entry of a long name":    working("workings/entries/~1"+strings.Repeat("a", 100), func(w *record.Working) { w.Entries["/"+strings.Repeat("a", 100)] = "1" }),
		"entry of a long text":    working("workings/entries/at", func(w *record.Working) { w.Entries["at"] = strings.Repeat("é", 1001) }),
		"working at no moment":    working("workings/at", func(w *record.Working) { w.At.UTC = "2026-05-12" }),

		"fit of no pair":         fit("trialFits/pair", func(f *record.TrialFit) { f.Pair = "" }),
		"fit without outcome":    fit("trialFits/outcome", func(f *record.TrialFit) { f.Outcome = "" }),
		"fit of unknown part":    fit("trialFits/a/part", func(f *record.TrialFit) { f.A.Part = unknown }),
		"fit with no record":     fit("trialFits/b/record", func(f *record.TrialFit) { f.B.Record = "" }),
		"fit with no part there": fit("trialFits/b/part", func(f *record.TrialFit) { f.B.Part = noID }),
		"fit with itself":        fit("trialFits", func(f *record.TrialFit) { f.B = f.A }),
		"fit of others' parts":   fit("trialFits", func(f *record.TrialFit) { f.A.Record = unknown }),

		"fit with nothing":  fit("trialFits/b/record", func(f *record.TrialFit) { f.B, f.Unworn = record.PartOf{}, "a" }),
		"unworn third part": fit("trialFits/unworn", func(f *record.TrialFit) { f.Unworn = "c" }),

		"opinion on no cause": func(r *record.Record) string {
			return edit(t, "opinions/cause", r.Opinions, func(o *record.Opinion) { o.Cause = "" })
		},
		"opinion of nobody": func(r *record.Record) string {
			return edit(t, "opinions/by", r.Opinions, func(o *record.Opinion) { o.By = "" })
		},

		"override of unknown part": override("overrides/part", func(o *record.Override) { o.Part = unknown }),
		"override without reason":  override("overrides/reason", func(o *record.Override) { o.Reason = "" }),
		"override by nobody":       override("overrides/by", func(o *record.Override) { o.By = "" }),
		"override of no verdict":   override("overrides/verdict", func(o *record.Override) { o.Verdict = 9 }),

		"installed nowhere":      installed("installed/place", func(in *record.Installed) { in.Place = "" }),
		"installed unknown part": installed("installed/from/part", func(in *record.Installed) { in.From.Part = unknown }),
		"installed half named":   installed("installed/from/part", func(in *record.Installed) { in.From.Part = "" }),
	} {
		t.Run(name, func(t *testing.T) {
			r := full(t)
			want := breaks(r)
			problems := r.Check()
			at := slices.IndexFunc(problems, func(p record.Problem) bool { return p.Pointer == want })
			if at < 0 {
				t.Fatalf("want a problem at %s, got %v", want, problems)
			}
			if problems[at].Text == "" || !slices.IsSortedFunc(problems, func(a, b record.Problem) int { return strings.Compare(a.Pointer, b.Pointer) }) {
				t.Errorf("a problem without a text, or out of order: %v", problems)
			}
		})
	}
	if problems := full(t).Check(); problems != nil {
		t.Errorf("the sound record has problems: %v", problems)
	}
}

// Which of two members has a number must not depend on the order of a map.
func TestTheLaterOfTwoMembersIsToldThatItsNumberIsTaken(t *testing.T) {
	for range 20 {
		r := full(t)
		var ids []record.ID
		for id := range record.InOrder(r.Photos) {
			ids = append(ids, id)
		}
		p := r.Photos[ids[0]]
		p.Number = r.Photos[ids[2]].Number
		r.Photos[ids[0]] = p
		want := record.Problems{{Pointer: "/photos/" + string(ids[2]) + "/number", Text: "3 is taken"}}
		if got := r.Check(); !slices.Equal(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	}
}

func TestARecordOfANewerFormatIsSaidToBeOne(t *testing.T) {
	_, err := record.Read([]byte(`{"format":2,"id":"0197f3a0-1c2b-7def-8123-456789abcdef","smell":"burnt"}`))
	if places := placesOf(t, err); !slices.Equal(places, []string{"/format"}) {
		t.Errorf("refused with %v, want it said that the format is newer", err)
	}
}
