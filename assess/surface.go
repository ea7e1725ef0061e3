package assess

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Sources and steps that stand where no row does.
const (
	commonPractice = "common practice"
	noRule         = "no rule"
	askAHand       = "Ask an experienced hand."
)

func itoa(n int) string { return strconv.Itoa(n) }

// surface judges one surface by what was done to it and by its own findings.
func (a *assessor) surface(w *work, f *spec.Surface, number int) Surface {
	s := Surface{ID: f.ID, Name: f.Name, Number: number}
	looked := w.entry.Surfaces[f.ID]
	s.Reasons = make([]Reason, 0, len(w.findings[f.ID])+1)
	for _, one := range w.findings[f.ID] {
		s.Reasons = append(s.Reasons, a.finding(w, f, looked, one))
	}
	s.Reasons = append(s.Reasons, a.lookedAt(f, looked, len(s.Reasons) > 0, &s.Inspect))
	return s
}

// lookedAt says what the inspection itself is worth: a surface at which nobody
// looked is never sound, and one that calls for a finger is not sound by eye.
func (a *assessor) lookedAt(f *spec.Surface, looked record.Looked, found bool, inspect *[]string) Reason {
	r := Reason{Source: commonPractice}
	switch {
	case f.Hidden != "" && !looked.Touch:
		r.Text = "It can't be seen, and its substitute test has not been done."
		*inspect = append(*inspect, f.Hidden)
	case f.Hidden != "":
		r.Verdicts, r.Text = all(term.Usable), "It can't be seen; by its substitute test it will do, and no better can be said of it."
	case !looked.Eye && !looked.Touch:
		r.Text = "Nobody has looked at it yet."
		*inspect = append(*inspect, f.Look)
		if f.Feel != "" {
			*inspect = append(*inspect, f.Feel)
		}
	case !looked.Clean && a.record.Hold != "":
		r.Text = "It was not clean when it was looked at, and the record is on hold."
		*inspect = append(*inspect, "Leave it as it is ("+a.record.Hold+"); when it is released, clean it and look again.")
	case !looked.Clean:
		r.Text = "It was not clean when it was looked at."
		*inspect = append(*inspect, "Clean it, then look again: "+lowerFirst(f.Look))
	case !looked.Eye:
		r.Text = "It was felt and not looked at."
		*inspect = append(*inspect, f.Look)
	case f.Feel != "" && !looked.Touch:
		r.Text = "It was only looked at; this surface calls for a finger."
		*inspect = append(*inspect, f.Feel)
	default:
		r.Verdicts, r.Text = all(term.Sound), "Looked at clean"
		if looked.Touch {
			r.Text += " and felt"
		}
		if found {
			r.Text += ": nothing else found."
		} else {
			r.Text += ": nothing found."
		}
		if looked.By != "" {
			r.Text = strings.TrimSuffix(r.Text, ".") + ", by " + looked.By + "."
		}
	}
	return r
}

// finding judges one finding by the row that speaks of it.
func (a *assessor) finding(w *work, f *spec.Surface, looked record.Looked, one found) Reason {
	known, _ := a.specs.Damage(one.Damage)
	if known != nil && known.Colour && !looked.Clean && f.Hidden == "" {
		return Reason{Of: one.id, Source: commonPractice,
			Text: upperFirst(term.Plain(one.Damage)) + " as found says nothing: the surface must be clean before its colour is judged.",
			next: "Clean it with solvent, then look again."}
	}
	if one.Severity == term.Suspected && tested(w.findings[f.ID], one.Damage, nil) {
		return Reason{Of: one.id, Verdicts: all(term.Sound), Source: commonPractice,
			Text: "The suspected " + term.Plain(one.Damage) + " was tested for and not found."}
	}
	row := a.specs.Decide(spec.Case{
		Unit: a.record.Unit.Type, Share: share(one.Share), Kind: w.Kind, Surface: f.ID, Role: f.Role, Damage: one.Damage, Severity: one.Severity, Zone: one.Zone,
	})
	if row == nil {
		return Reason{Of: one.id, Source: noRule, next: askAHand,
			Text: "No rule speaks of " + term.Plain(one.Damage) + " (" + one.Severity.Says() + ") here."}
	}
	r := a.byRow(w, f, one, row)
	if !looked.Clean && f.Hidden == "" && one.Method == term.ByEye && one.Damage.Scale() == term.ByTouch {
		r.asFound()
	}
	return r
}

// share reads a share in percent as it was typed, -1 where it was not judged.
func share(text string) float64 {
	if text == "" {
		return -1
	}
	percent, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil {
		return -1
	}
	return percent
}

// asFound takes back a condemnation by appearance alone: what was only seen,
// and not on a clean surface, waits for cleaning.
func (r *Reason) asFound() {
	for i, v := range r.Verdicts {
		if v == term.Condemned {
			r.Verdicts[i] = term.Undecided
			r.next = "Clean it, then look again and feel it."
		}
	}
	if r.next != "" {
		r.Text += " It was only seen, and before cleaning: appearance as found condemns nothing."
	}
}

func (a *assessor) byRow(w *work, f *spec.Surface, one found, row *spec.Rule) Reason {
	r := Reason{
		Of: one.id, Rule: row.ID, Source: row.Source, Reviewed: row.Reviewed, Remedy: row.Remedy,
		Text: a.fill(row.Reason, w, f), IfLeft: a.fill(row.IfLeft, w, f), askMate: row.AskMate, next: row.Next,
		Safety: term.Safety(one.Damage, one.Severity, one.Zone) && !hardEnough(w.findings[f.ID], one.Damage),
	}
	if known, ok := a.specs.Damage(one.Damage); ok {
		r.Plain = known.Plain
	}
	group := groupOf(w, f)
	waits := row.UntilTested != nil && !a.settled(w, f, row.UntilTested)
	for i, duty := range term.Duties {
		demand := duty.Demand(row.By, group)
		r.Verdicts[i] = row.At(demand)
		if waits {
			r.Verdicts[i] = term.Worst(r.Verdicts[i], row.UntilTested.At(demand))
		}
		if r.Safety && r.Verdicts[i].Serves() {
			r.Verdicts[i] = term.Condemned
		}
	}
	if waits {
		r.next = row.UntilTested.Next
		r.Remedy = cmpOr(r.Remedy, term.Test)
	}
	return r
}

// settled reports whether what a row waits for has been done: a test that came
// out clean, a trial fit that serves, or a reading within its limit.
func (a *assessor) settled(w *work, f *spec.Surface, u *spec.Untested) bool {
	return tested(w.findings[f.ID], u.For, u.By) || a.fittedWell(w, u.Fit) || u.Measured && a.measuredWell(w, f)
}

// hardEnough reports whether a tinted or doubted surface was proven not to be
// softened by a hardness test.
func hardEnough(findings []found, damage term.Damage) bool {
	return damage == term.HeatTint && tested(findings, term.Softness, []term.Method{term.Hardness})
}

func cmpOr[T comparable](value, otherwise T) T {
	var zero T
	if value == zero {
		return otherwise
	}
	return value
}

// tested reports whether a damage was looked for on a surface by a test and
// not found. With no methods named, any test counts: not the eye alone.
func tested(findings []found, damage term.Damage, by []term.Method) bool {
	return slices.ContainsFunc(findings, func(f found) bool {
		if f.Damage != damage || f.Severity != term.NotFound {
			return false
		}
		if len(by) > 0 {
			return slices.Contains(by, f.Method)
		}
		return f.Method == term.Penetrant || f.Method == term.MagneticParticles || f.Method == term.Hardness
	})
}

// groupOf returns the gear group that a surface serves: its own, or that of the
// part's place, or all.
func groupOf(w *work, f *spec.Surface) term.GearGroup {
	if f.Group != "" {
		return f.Group
	}
	if w.place != nil && w.place.Group != "" {
		return w.place.Group
	}
	return term.AllGears
}

// fill puts the case's own words into a sentence of the specs.
func (a *assessor) fill(text string, w *work, f *spec.Surface) string {
	if !strings.Contains(text, "{") {
		return text
	}
	gear := f.Gear
	if gear == "" && w.place != nil {
		gear = w.place.Gear
	}
	if gear == "" {
		gear = "the gear that it serves"
	}
	for _, word := range [...][2]string{{"{surface}", f.Name}, {"{gear}", gear}, {"{part}", lowerFirst(w.Name)}} {
		text = strings.ReplaceAll(text, word[0], word[1])
	}
	return upperFirst(text)
}

func upperFirst(s string) string { return first(s, unicode.ToUpper) }
func lowerFirst(s string) string { return first(s, unicode.ToLower) }

func first(s string, to func(rune) rune) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(to(r)) + s[size:]
}
