package inspection

import (
	"slices"
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/assess/working"
)

// WorkOut tells what a working comes to by the shop's rule; ok is false for one that
// this program does not know.
func (b *Bench) WorkOut(w record.Working) (r working.Result, ok bool) {
	return assess.WorkOut(w, b.Gauges().Rule())
}

// WorkingName says what a working is: "Rock of a shaft".
func WorkingName(id string) string { return assess.WorkingName(id) }

// KeepWorking returns the gesture that keeps what was worked out under an id: a new
// one, or in place of the one that is changed.
func (n *Inspection) KeepWorking(id record.ID, w record.Working) record.Gesture {
	if w.By == "" {
		w.By = n.bench.Who()
	}
	if w.At == (record.Stamp{}) {
		w.At = record.StampOf(n.bench.now())
	}
	of := strings.ToLower(n.PartName(w.Part))
	if w.Surface != "" {
		of = n.SurfaceName(w.Part, w.Surface) + " of " + of
	}
	says := strings.ToLower(WorkingName(w.What)) + ", " + of + ", worked out"
	if _, again := n.Record().Workings[id]; again {
		says += " anew"
	}
	if r, ok := n.bench.WorkOut(w); ok && len(r.Lines) > 0 {
		says += ": " + r.Lines[0]
	}
	return record.AddWorking(says, id, w)
}

// about are the roles of the surfaces that workings are about, the likeliest first.
var about = map[string][]term.Role{
	"fit": {term.Seat, term.Journal, term.Bush}, "seat": {term.Seat}, "warm-fit": {term.Seat},
	"bearing-clearance": {term.Raceway}, "needles": {term.Raceway, term.Journal},
	"rock": {term.Journal, term.Bush, term.Raceway, term.Seat}, "run-out": {term.Journal, term.Seat},
	"shims": {term.ThrustFace}, "ring-gap": {term.Cone},
	"span": {term.Flank}, "pins": {term.Flank}, "chord": {term.Flank}, "backlash": {term.Flank},
}

// SurfaceFor proposes of which surface of a part a working is: the chosen one where
// that may be, else the first that it may be of, else none, which is the part as a
// whole. Of workings that are about any surface it is the chosen one.
func (n *Inspection) SurfaceFor(what string, part record.ID, chosen string) string {
	roles, particular := about[what]
	kind, known := n.bench.Specs().Kind(n.Record().Parts[part].Kind)
	if !particular || !known {
		return chosen
	}
	if s, _, ok := kind.Surface(chosen); ok && slices.Contains(roles, s.Role) {
		return chosen
	}
	for _, role := range roles {
		for i := range kind.Surfaces {
			if kind.Surfaces[i].Role == role {
				return kind.Surfaces[i].ID
			}
		}
	}
	return ""
}
