package assess

import (
	"maps"
	"slices"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/assess/working"
)

// Worked is something that was worked out of several sizes, by what it comes to.
type Worked struct {
	ID      record.ID `json:"id"`
	Surface string    `json:"surface,omitzero"`
	// Name says what it is: "Rock of a shaft".
	Name string `json:"name"`
	// Typed are the entries as they were typed, each with what was asked and its unit.
	Typed []string `json:"typed"`
	// Lines are sentences, the outcome first; Notes what must be known to trust it.
	Lines []string `json:"lines"`
	Notes []string `json:"notes,omitempty"`
	// Decided says how it stands to the limit or the band that was typed, empty where
	// there is none; Source where that comes from.
	Decided string `json:"decided,omitzero"`
	Source  string `json:"source,omitzero"`
	// Rule is that by which it was decided.
	Rule gauge.Rule `json:"-"`
	// Set says what is to be set at assembly, empty for nothing. It speaks of no wear.
	Set string `json:"set,omitzero"`
	// Measurement holds the numbers, nil where it comes to no length.
	Measurement *Measurement `json:"-"`
}

// WorkOut tells what a working comes to by a rule. One that is not known here, since
// a newer program kept it, gives ok false.
func WorkOut(w record.Working, rule gauge.Rule) (r working.Result, ok bool) {
	what, ok := working.Called(w.What)
	if !ok {
		return working.Result{}, false
	}
	c := working.Case{Entries: w.Entries, Unit: gauge.Unit(w.Unit), Rule: rule}
	for _, one := range []struct {
		typed record.Instrument
		into  **gauge.Instrument
	}{{w.Instrument, &c.Instrument}, {w.Inner, &c.Inner}} {
		if one.typed == (record.Instrument{}) {
			continue
		}
		in, err := instrumentOf(one.typed)
		if err != nil {
			return working.Result{Err: err}, true
		}
		*one.into = &in
	}
	return what.Work(c), true
}

// WorkingName says what a working is; one that is not known here by its own word.
func WorkingName(id string) string {
	if w, ok := working.Called(id); ok {
		return w.Name
	}
	return upperFirst(strings.ReplaceAll(id, "-", " "))
}

// WorkedOf returns what a kept working of a part comes to. Of one that was withdrawn
// it tells what was typed, and nothing of what that comes to.
func WorkedOf(part *Part, id record.ID, w record.Working) Worked {
	if i := slices.IndexFunc(part.Workings, func(x Worked) bool { return x.ID == id }); i >= 0 {
		return part.Workings[i]
	}
	return Worked{ID: id, Surface: w.Surface, Name: WorkingName(w.What), Typed: typedEntries(w)}
}

// workOut works out anew what was kept with a part, and holds it to the limits that
// were typed with it. Where the part is not judged by its surfaces, it is only told.
func (a *assessor) workOut(w *work) {
	for _, one := range a.workings[w.ID] {
		x, reason := a.worked(one.id, one.Working)
		w.Workings = append(w.Workings, x)
		if len(w.Surfaces) == 0 {
			continue
		}
		if reason != nil {
			reason.Of, reason.work = one.id, ToMeasure
			a.settle(w, reason)
			w.say(one.Surface, *reason)
		}
	}
}

// worked works one out. The reason is nil where it decides nothing.
func (a *assessor) worked(id record.ID, w record.Working) (Worked, *Reason) {
	out := Worked{ID: id, Surface: w.Surface, Name: WorkingName(w.What), Typed: typedEntries(w), Rule: a.rules}
	r, known := WorkOut(w, a.rules)
	if !known {
		out.Lines = []string{strings.Join(out.Typed, ", ")}
		out.Notes = []string{"this program does not know this working; it stands as it was typed"}
		return out, nil
	}
	out.Lines, out.Notes = r.Lines, r.Notes
	switch {
	case r.Err != nil:
		out.Lines = []string{"it can't be worked out: " + r.Err.Error()}
		return out, incomplete(out.Name, w, "it can't be worked out: "+r.Err.Error())
	case len(r.Missing) > 0:
		out.Lines = []string{"still to be written: " + strings.Join(r.Missing, ", ")}
		return out, incomplete(out.Name, w, out.Lines[0])
	}
	x := Measurement{Name: r.Of, Unit: gauge.Unit(w.Unit), Rule: a.rules, Ring: r.Ring, Notes: slices.Clone(r.Notes), Source: sourceOfWorking(a.record, w)}
	if r.Measured != nil {
		x.Measured = *r.Measured
		out.Measurement = &x
	}
	for _, in := range []record.Instrument{w.Instrument, w.Inner} {
		a.calibrated(&x, in, w.At)
	}
	out.Notes, out.Source = x.Notes, x.Source
	if r.Setting != nil {
		out.Decided, out.Set = r.Decided(), r.Setting.Do
	}
	if r.Worn == nil {
		return out, nil
	}
	reason := a.hold(&x, r.Worn, w)
	out.Decided = decidedSays(&x)
	return out, &reason
}

// hold holds a working to its limit, as a reading is held.
func (a *assessor) hold(x *Measurement, worn *working.Worn, w record.Working) Reason {
	x.HasLimit, x.Limit, x.Judgement = true, worn.Limit, worn.Judgement
	r := a.decided(x)
	r.Measurement = x
	open := func(why, says, next string) {
		if x.Open == "" {
			x.Open = why
			r.next = next
		}
		r.Verdicts, r.Remedy = all(term.Undecided), ""
		r.Text += " " + says
	}
	if w.Instrument == (record.Instrument{}) {
		open("nobody said with what it was measured", "Nobody said with what it was measured.", "Say with what the "+x.Name+" was measured.")
	}
	if worn.Doubt != "" && worn.Judgement.Discard.Decision == gauge.DoesNotConform {
		open(worn.Doubt, "That proves nothing yet: "+worn.Doubt+".", upperFirst(afterSemicolon(worn.Doubt))+".")
	}
	if x.Source == "" {
		x.Source, r.Source = noSource, noSource
		open("its limit has no source", "The limit has no source, so it decides nothing.", "Name the manual and the page that give the limit of the "+x.Name+".")
	}
	x.saysRound(&r)
	a.saysOverdue(x, &r)
	return r
}

// noSource stands for the manual of a limit that was typed without one.
const noSource = "limit without a source"

func afterSemicolon(text string) string {
	if _, after, ok := strings.Cut(text, "; "); ok {
		return after
	}
	return text
}

// decidedSays words how a length stands to its limit, for a line of its own.
func decidedSays(x *Measurement) string {
	limit := "limit " + x.limitSays() + ": "
	switch d := x.Judgement.Discard.Decision; {
	case x.Open != "":
		return limit + "not decided, " + x.Open
	case d == gauge.Conforms:
		return limit + "within it"
	case d == gauge.DoesNotConform:
		return limit + "past it"
	}
	return limit + "not decided"
}

// incomplete is what a working that can't be worked out asks for: nothing, unless a
// limit stands among its entries that may be the one that condemns.
func incomplete(name string, w record.Working, why string) *Reason {
	what, _ := working.Called(w.What)
	if !slices.ContainsFunc(what.Asks, func(k working.Ask) bool { return k.Limit && strings.TrimSpace(w.Entries[k.ID]) != "" }) {
		return nil
	}
	return &Reason{Source: "what was worked out", Text: name + ": " + why + ".", next: "Correct it: " + lowerFirst(name) + "."}
}

// typedEntries tell the entries of a working as they were typed, in the order in which
// they are asked for; what no ask knows by its own word.
func typedEntries(w record.Working) []string {
	var typed []string
	asked := map[string]bool{}
	if what, ok := working.Called(w.What); ok {
		for _, k := range what.Asks {
			asked[k.ID] = true
			if text := strings.TrimSpace(w.Entries[k.ID]); text != "" {
				typed = append(typed, k.Label+" "+k.WithUnit(text, gauge.Unit(w.Unit)))
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(w.Entries)) {
		if !asked[name] && w.Entries[name] != "" {
			typed = append(typed, strings.ReplaceAll(name, "-", " ")+" "+w.Entries[name]+" (lengths in "+w.Unit+")")
		}
	}
	return typed
}

// sourceOfWorking says where the limit or band of a working comes from, empty where
// nobody said.
func sourceOfWorking(r *record.Record, w record.Working) string {
	if w.Manual == "" {
		return ""
	}
	return LimitSource(r, record.Limit{Manual: w.Manual, Page: w.Page, By: w.By})
}
