package assess

import (
	"slices"
	"strings"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// fit adds what the trial fits say of a part.
func (a *assessor) fit(w *work) {
	for i := range a.fits[w.ID] {
		f := &a.fits[w.ID][i]
		pair, out := a.outcomeOf(f)
		if out == nil {
			text := "No spec knows this kind of trial fit."
			if pair != nil {
				text = "The outcome of the trial fit is none that the spec knows."
			}
			w.Reasons = append(w.Reasons, Reason{Of: f.id, Source: noRule, Text: text, next: askAHand, work: ToAsk, from: fromFit})
			continue
		}
		side, surface := f.side(a, w, pair)
		r := a.fitSays(w, f, pair, out, side)
		w.say(surface, r)
		w.contradict(surface, pair, r.Verdicts)
	}
}

// outcomeOf returns the kind of trial fit and its outcome, nil where no spec knows it.
func (a *assessor) outcomeOf(f *fit) (*spec.Pair, *spec.Outcome) {
	pair, ok := a.specs.Pair(f.Pair)
	if !ok {
		return nil, nil
	}
	out, _ := pair.Outcome(f.Outcome)
	return pair, out
}

// end tells which end of the record's trial fit the part is.
func (f *fit) end(a *assessor, w *work) string {
	if f.A == (record.PartOf{Record: a.record.ID, Part: w.ID}) {
		return "a"
	}
	return "b"
}

// side tells which side of the spec's pair the part is, and by which surface; the
// surface is empty where the spec names none of its kind. The kind counts, and not
// at which end somebody entered the part.
func (f *fit) side(a *assessor, w *work, pair *spec.Pair) (side, surface string) {
	of := func(names []string) string {
		for _, name := range names {
			if surface, ok := strings.CutPrefix(name, w.Kind+"."); ok {
				return surface
			}
		}
		return ""
	}
	onA, onB := of(pair.A), of(pair.B)
	end := f.end(a, w)
	if onB == "" && onA != "" || end == "a" && onA != "" {
		return "a", onA
	}
	if onB != "" {
		return "b", onB
	}
	return end, ""
}

// fitSays judges the part by one trial fit. Slack against an unworn partner is
// wear of this part; an unworn part is not worn because its partner is; and an
// outcome that speaks of one side says nothing of the other.
func (a *assessor) fitSays(w *work, f *fit, pair *spec.Pair, out *spec.Outcome, side string) Reason {
	r := Reason{
		Of: f.id, Verdicts: all(out.Verdict), Remedy: out.Remedy, Source: pair.Source, next: out.Next, work: ToTry, from: fromFit,
		Text: "Trial fit, " + pair.Name + ": " + term.Plain(term.Role(out.ID)) + ". " + out.Reason,
	}
	if f.By != "" {
		r.How = "by hand (" + f.By + ")"
	}
	end := f.end(a, w)
	acquit := func(why string) {
		r.Verdicts, r.Remedy, r.next = all(term.Sound), "", ""
		r.Text += " " + why
	}
	switch {
	case out.Of != "" && out.Of != side:
		acquit("That speaks of its partner, not of this part.")
	case f.again:
		acquit("The two were tried again later, and that counts.")
	case f.Unworn == end && out.Verdict != term.Sound:
		acquit("This part is the unworn reference, so the wear is in its partner.")
	case f.Unworn != "":
		r.Text += " It was tried with an unworn reference part."
	case !out.Verdict.Serves() && a.provenWithUnworn(w, f):
		acquit("With an unworn partner it fitted well, so the wear is not in this part.")
	case out.NeedsUnworn:
		r.Text += " Two worn parts can feel snug together: an unworn reference part would tell more."
	default:
		r.wornPartner = !out.Verdict.Serves()
	}
	return r
}

// provenWithUnworn reports whether the part fitted an unworn partner in the same
// kind of trial fit.
func (a *assessor) provenWithUnworn(w *work, f *fit) bool {
	return slices.ContainsFunc(a.fits[w.ID], func(other fit) bool {
		if end := other.end(a, w); other.again || other.Pair != f.Pair || other.Unworn == "" || other.Unworn == end {
			return false
		}
		_, out := a.outcomeOf(&other)
		return out != nil && out.Verdict.Serves()
	})
}

// contradict tells where hand and eye disagree; neither is averaged away.
func (w *work) contradict(surface string, pair *spec.Pair, says ByDuty) {
	for i := range w.Surfaces {
		s := &w.Surfaces[i]
		if s.ID != surface {
			continue
		}
		unhurt := true
		damaged := false
		for _, r := range s.Reasons {
			if r.from != fromFinding {
				continue
			}
			unhurt = unhurt && r.Verdicts == all(term.Sound)
			hard := r.Verdicts.For(term.HardDuty)
			damaged = damaged || hard == term.Condemned || hard == term.Repairable
		}
		switch {
		case damaged && says == all(term.Sound):
			s.note("The trial fit (" + pair.Name + ") feels right and the findings speak against it. Both stand, and the harder counts.")
		case unhurt && says == all(term.Condemned):
			s.note("Nothing was found on it by eye or finger, and yet the trial fit (" + pair.Name + ") speaks against it. Measure it, or try it with an unworn part.")
		}
	}
}

// note puts a fact on a surface, once.
func (s *Surface) note(text string) {
	if !slices.Contains(s.Notes, text) {
		s.Notes = append(s.Notes, text)
	}
}

// fittedWell reports whether the surface was tried by hand in one of the kinds of
// trial fit, in any for nil, and serves by the outcome. Two worn parts can feel snug together, so
// an outcome that they can feign counts with an unworn partner only.
func (a *assessor) fittedWell(w *work, s *spec.Surface, pairs []string) bool {
	return slices.ContainsFunc(a.fits[w.ID], func(f fit) bool {
		if pairs != nil && !slices.Contains(pairs, f.Pair) || f.again {
			return false
		}
		pair, out := a.outcomeOf(&f)
		if out == nil || f.Unworn == f.end(a, w) {
			return false
		}
		side, surface := f.side(a, w, pair)
		return surface == s.ID && (out.Of == "" || out.Of == side) && out.Verdict.Serves() && (!out.NeedsUnworn || f.Unworn != "")
	})
}
