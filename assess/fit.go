package assess

import (
	"slices"
	"strings"

	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// fit adds what the trial fits say of a part.
func (a *assessor) fit(w *work) {
	for _, f := range a.fits[w.ID] {
		pair, ok := a.specs.Pair(f.Pair)
		if !ok {
			w.Reasons = append(w.Reasons, Reason{Of: f.id, Source: "no rule",
				Text: "No spec knows this kind of trial fit.", next: "Ask an experienced hand."})
			continue
		}
		out, ok := pair.Outcome(f.Outcome)
		if !ok {
			w.Reasons = append(w.Reasons, Reason{Of: f.id, Source: "no rule",
				Text: "The outcome of the trial fit is none that the spec knows.", next: "Ask an experienced hand."})
			continue
		}
		w.say(fitted(w, pair), Reason{
			Of: f.id, Verdicts: all(out.Verdict), Remedy: out.Remedy, Source: pair.Source, next: out.Next,
			Text: "Trial fit, " + pair.Name + ": " + term.Plain(out.ID) + ". " + out.Reason,
		})
	}
}

// fitted returns the surface by which a part takes part in a kind of trial fit.
func fitted(w *work, pair *spec.Pair) string {
	for _, name := range slices.Concat(pair.A, pair.B) {
		if surface, ok := strings.CutPrefix(name, w.Kind+"."); ok {
			return surface
		}
	}
	return ""
}
