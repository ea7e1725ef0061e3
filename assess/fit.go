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
			w.Reasons = append(w.Reasons, Reason{Of: f.id, Source: noRule,
				Text: "No spec knows this kind of trial fit.", next: askAHand})
			continue
		}
		out, ok := pair.Outcome(f.Outcome)
		if !ok {
			w.Reasons = append(w.Reasons, Reason{Of: f.id, Source: noRule,
				Text: "The outcome of the trial fit is none that the spec knows.", next: askAHand})
			continue
		}
		surface := fitted(w, pair)
		w.say(surface, a.fitSays(w, f, pair, out))
		w.contradict(surface, pair, out)
	}
}

// fitSays judges the part by one trial fit. Slack against an unworn partner is
// wear of this part; an unworn part is not worn because its partner is.
func (a *assessor) fitSays(w *work, f fit, pair *spec.Pair, out *spec.Outcome) Reason {
	r := Reason{
		Of: f.id, Verdicts: all(out.Verdict), Remedy: out.Remedy, Source: pair.Source, next: out.Next,
		Text: "Trial fit, " + pair.Name + ": " + term.Plain(term.Role(out.ID)) + ". " + out.Reason,
	}
	here := "a"
	if f.B.Part == w.ID && f.B.Record == a.record.ID {
		here = "b"
	}
	switch {
	case out.Of != "" && out.Of != here:
		r.Verdicts, r.Remedy, r.next = all(term.Sound), "", ""
		r.Text += " It speaks of its partner."
	case f.Unworn == here && out.Verdict != term.Sound:
		r.Verdicts, r.Remedy, r.next = all(term.Sound), "", ""
		r.Text += " This part is the unworn reference, so the wear is in its partner."
	case f.Unworn != "":
		r.Text += " Tried with an unworn reference part."
	case out.NeedsUnworn:
		r.Text += " Two worn parts can feel alike: an unworn reference part would tell more."
	}
	return r
}

// contradict tells where hand and eye disagree; neither is averaged away.
func (w *work) contradict(surface string, pair *spec.Pair, out *spec.Outcome) {
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if s.ID != surface {
			continue
		}
		damaged := slices.ContainsFunc(s.Reasons, func(r Reason) bool {
			return r.Rule != "" && (r.Verdicts.For(term.HardDuty) == term.Condemned || r.Verdicts.For(term.HardDuty) == term.Repairable)
		})
		unhurt := !slices.ContainsFunc(s.Reasons, func(r Reason) bool { return r.Rule != "" })
		switch {
		case damaged && out.Verdict == term.Sound:
			s.Notes = append(s.Notes, "The trial fit ("+pair.Name+") feels right and the findings speak against it. Both stand; the harder counts.")
		case unhurt && out.Verdict == term.Condemned:
			s.Notes = append(s.Notes, "Nothing was found on it by eye or finger, and yet the trial fit ("+pair.Name+") speaks against it. Measure it, or try it with an unworn part.")
		}
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

// fittedWell reports whether the part was tried by hand in one of the kinds of
// trial fit, and serves by the outcome.
func (a *assessor) fittedWell(w *work, pairs []string) bool {
	return slices.ContainsFunc(a.fits[w.ID], func(f fit) bool {
		pair, ok := a.specs.Pair(f.Pair)
		if !ok || !slices.Contains(pairs, f.Pair) {
			return false
		}
		out, ok := pair.Outcome(f.Outcome)
		return ok && out.Verdict.Serves()
	})
}
