package inspection

import (
	"strings"

	"fettlebook/assess"
	"fettlebook/assess/record"
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
