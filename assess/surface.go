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
	e := evidenceOf(w, f)
	s.Reasons = make([]Reason, 0, len(e.findings)+1)
	for i := range e.findings {
		s.Reasons = append(s.Reasons, a.finding(w, f, &e, &e.findings[i]))
	}
	s.Reasons = append(s.Reasons, a.lookedAt(f, &e, &s))
	return s
}

// lookedAt says what the inspection itself is worth: a surface at which nobody
// looked is never sound, and one that calls for a finger is not sound by eye.
func (a *assessor) lookedAt(f *spec.Surface, e *evidence, s *Surface) Reason {
	state := lookOf(f, e.looked)
	r := Reason{Source: commonPractice, Verdicts: all(state.verdict()), from: fromLook}
	if a.terse {
		return r
	}
	switch state {
	case untried:
		r.Text = "It can't be seen, and its substitute test has not been done."
		s.todo(ToFeel, f.Hidden, false)
	case byTest:
		r.Text = "It can't be seen; by its substitute test it will do, and no better can be said of it."
		r.Text = bySomeone(r.Text, e.looked)
	case unseen:
		r.Text = "Nobody has looked at it yet."
		s.todo(ToLook, f.Look, false)
		if f.Feel != "" {
			s.todo(ToFeel, f.Feel, false)
		}
	case unclean:
		r.Text = "It was not clean when it was looked at."
		step := "Clean it, then look again: " + lowerFirst(f.Look)
		if a.record.Hold != "" {
			r.Text = "It was not clean when it was looked at, and the record is on hold."
			step = "Leave it as it is (" + a.record.Hold + "); when it is released, clean it and look again."
		}
		s.todo(ToClean, step, false)
	case feltOnly:
		r.Text = "It was felt and not looked at."
		s.todo(ToLook, f.Look, false)
	case seenOnly:
		r.Text = bySomeone("It was only looked at; this surface calls for a finger.", e.looked)
		s.todo(ToFeel, f.Feel, false)
	case inspected:
		r.Text = "Looked at clean"
		if e.looked.Touch {
			r.Text += " and felt"
		}
		if len(e.findings) > 0 {
			r.Text += ": nothing else found."
		} else {
			r.Text += ": nothing found."
		}
		r.Text = bySomeone(r.Text, e.looked)
	}
	return r
}

// bySomeone puts the name of who looked behind a sentence, where it is known.
func bySomeone(text string, looked record.Looked) string {
	if looked.By == "" {
		return text
	}
	return strings.TrimSuffix(text, ".") + " (" + looked.By + ")."
}

// finding puts into words what is held of one finding.
func (a *assessor) finding(w *work, f *spec.Surface, e *evidence, one *found) Reason {
	is := a.rule(w, f, e, one)
	r := Reason{
		Of: one.id, Verdicts: is.verdicts, Safety: is.safety, Source: commonPractice,
		from: fromFinding, number: one.Number, waits: is.waits,
	}
	if is.row != nil {
		r.askMate, r.seized = is.row.AskMate, is.row.Shock && !is.asFound
	}
	if a.terse {
		return r
	}
	known, _ := a.specs.Damage(one.Damage)
	if known != nil {
		r.Plain = known.Plain
	}
	r.How = how(one)
	name := a.noun(one.Damage)
	switch is.by {
	case colourAsFound:
		r.Text = upperFirst(name) + " as found says nothing: the surface must be clean before its colour is judged."
		r.next, r.work = a.whenReleased("Clean it with solvent, then look again."), ToClean
	case cleared:
		in := "in a trial fit"
		if by := test(e.findings, one.Damage, settledBy(known)); by != nil {
			in = how(by)
		}
		r.Text = "The suspected " + name + " was looked for " + in + " and not found."
	case bySafety:
		r.Source, r.Remedy = safetySet, term.Replace
		r.Text = upperFirst(name) + " belongs to the safety set: it is never put up with."
	case unruled:
		r.Source = noRule
		r.Text = "No rule speaks of " + name + " (" + one.Severity.Says() + ") here."
		r.next, r.work = askAHand, ToAsk
	default:
		a.byRow(w, f, one, is, known, &r)
	}
	if is.asFound {
		r.next, r.work = a.whenReleased("Clean it, then look again and feel it."), ToClean
		r.Text += " It was only seen, and before cleaning: appearance as found condemns nothing."
	}
	return r
}

// noun is what a damage is called inside a sentence.
func (a *assessor) noun(d term.Damage) string {
	if known, ok := a.specs.Damage(d); ok {
		return known.Says()
	}
	return term.Plain(d)
}

// safetySet is the source of what no row, specification or person may loosen.
const safetySet = "the safety set"

// byRow puts into words what a row says of a finding.
func (a *assessor) byRow(w *work, f *spec.Surface, one *found, is ruling, known *spec.Damage, r *Reason) {
	row := is.row
	r.Rule, r.Source, r.Reviewed, r.Remedy = row.ID, row.Source, row.Reviewed, row.Remedy
	r.Text, r.IfLeft = a.fill(row.Reason, w, f), a.fill(row.IfLeft, w, f)
	r.next, r.work = a.fill(row.Next, w, f), workOf(row, one, known)
	if is.waits {
		r.next, r.work = a.fill(row.UntilTested.Next, w, f), workOfTest(row.UntilTested)
		r.Remedy = cmpOr(r.Remedy, term.Test)
	}
	if r.next != "" && r.work != ToAsk {
		r.next = a.whenReleased(r.next)
	}
	if slices.Contains(laboratory, one.Method) || one.Method == term.Gauge {
		r.Text += " Found " + r.How + "."
		if one.Severity == term.NotFound {
			r.Text = strings.TrimSuffix(r.Text, " Found "+r.How+".") + " Tested " + r.How + "."
		}
	}
	r.Passed = a.passed(w, f, one, row)
}

// whenReleased keeps a step that cleans from being done while the record is on hold.
func (a *assessor) whenReleased(step string) string {
	if a.record.Hold == "" {
		return step
	}
	return "Leave it as it is (" + a.record.Hold + "); when it is released: " + lowerFirst(step)
}

// passed returns the other rows that spoke of a finding and gave way.
func (a *assessor) passed(w *work, f *spec.Surface, one *found, decided *spec.Rule) []Passed {
	rows := a.specs.Speaking(a.caseOf(w, f, one))
	if len(rows) < 2 {
		return nil
	}
	passed := make([]Passed, 0, len(rows)-1)
	for _, row := range rows {
		if row != decided {
			passed = append(passed, Passed{
				Rule: row.ID, Source: row.Source, Text: a.fill(row.Reason, w, f), Since: row.GivesWay(decided),
				Verdicts: byDuty(row, groupOf(w, f), row.UntilTested != nil && !a.settledNow(w, f, row.UntilTested)),
			})
		}
	}
	return passed
}

func (a *assessor) settledNow(w *work, f *spec.Surface, u *spec.Untested) bool {
	e := evidenceOf(w, f)
	return a.settled(w, f, &e, u)
}

// how tells by what a finding was made and by whom: "with penetrant (Wren Aldous)".
func how(one *found) string {
	says := one.Method.Says()
	if one.By != "" {
		says += " (" + one.By + ")"
	}
	return says
}

// test returns the finding by which a damage was looked for and not found, nil for
// none.
func test(findings []found, damage term.Damage, by []term.Method) *found {
	i := slices.IndexFunc(findings, func(f found) bool { return tested([]found{f}, damage, by) })
	if i < 0 {
		return nil
	}
	return &findings[i]
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

func cmpOr[T comparable](value, otherwise T) T {
	var zero T
	if value == zero {
		return otherwise
	}
	return value
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
