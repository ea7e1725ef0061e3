package ui

import (
	"fmt"
	"slices"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// entriesOf lists what was entered on a surface of a part, in the order of the
// kinds: findings, readings, limits, what was worked out, trial fits, verdicts of a
// person. What speaks of the part as a whole stands with every surface of it.
func (s *surfacePane) entriesOf(r *record.Record) []rowItem {
	items := s.findingItems(r)
	add := func(id record.ID, text, withdrawn string) {
		item := rowItem{ID: string(id), Text: text, Struck: withdrawn != ""}
		if withdrawn == "" {
			item.Judged, item.Verdict = true, s.verdictOf(id)
		}
		items = append(items, item)
	}
	for id, m := range record.InOrder(r.Readings) {
		if m.Part == s.p.part && m.Surface == s.p.surface {
			add(id, s.readingSays(m), m.Withdrawn)
		}
	}
	for id, l := range record.InOrder(r.Limits) {
		if l.Part == s.p.part && l.Surface == s.p.surface {
			items = append(items, rowItem{ID: string(id), Text: s.limitSays(l), Struck: l.Withdrawn != ""})
		}
	}
	for id, w := range record.InOrder(r.Workings) {
		if w.Part == s.p.part && (w.Surface == s.p.surface || w.Surface == "") {
			item := rowItem{ID: string(id), Text: s.p.workedName(r, id), Struck: w.Withdrawn != ""}
			if x, counts := s.p.worked(id); counts && x.Measurement != nil && x.Measurement.HasLimit {
				item.Judged, item.Verdict = true, s.verdictOf(id)
			}
			items = append(items, item)
		}
	}
	for id, f := range record.InOrder(r.TrialFits) {
		if s.touches(f) {
			add(id, s.fitSays(f), f.Withdrawn)
		}
	}
	for id, o := range record.InOrder(r.Overrides) {
		if o.Part == s.p.part && (o.Surface == s.p.surface || o.Surface == "") {
			add(id, overrideSays(o), o.Withdrawn)
		}
	}
	return items
}

func (s *surfacePane) findingItems(r *record.Record) []rowItem {
	var items []rowItem
	for id, f := range record.InOrder(r.Findings) {
		if f.Part != s.p.part || f.Surface != s.p.surface {
			continue
		}
		item := rowItem{ID: string(id), Lead: fmt.Sprint(f.Number), Text: findingSays(f), Struck: f.Withdrawn != ""}
		if photos := photosOf(r, id); len(photos) > 0 {
			item.Word = "photo " + strings.Join(photos, ", ")
		}
		if f.Withdrawn == "" {
			item.Judged, item.Verdict = true, verdictOf(s.p.n.Assessment(), id, f)
		}
		items = append(items, item)
	}
	return items
}

// verdictOf returns the verdict that an entry of the chosen part leads to.
func (s *surfacePane) verdictOf(id record.ID) term.Verdict {
	a := s.p.n.Assessment()
	part, ok := a.Part(s.p.part)
	if !ok {
		return term.Undecided
	}
	reasons := slices.Clone(part.Reasons)
	if surface, ok := part.Surface(s.p.surface); ok {
		reasons = append(reasons, surface.Reasons...)
	}
	at := slices.IndexFunc(reasons, func(x inspection.Reason) bool { return x.Of == id })
	if at < 0 {
		return term.Undecided
	}
	return reasons[at].Verdicts.For(a.Duty)
}

// touches reports whether a trial fit is one of the chosen part, by the chosen
// surface or by one that no spec names.
func (s *surfacePane) touches(f record.TrialFit) bool {
	here := record.PartOf{Record: s.p.n.ID(), Part: s.p.part}
	if f.A != here && f.B != here {
		return false
	}
	pair, ok := s.p.f.bench.Specs().Pair(f.Pair)
	if !ok {
		return true
	}
	_, surface, ok := pair.Side(s.p.n.Record().Parts[s.p.part].Kind)
	return !ok || surface == s.p.surface
}

func (s *surfacePane) readingSays(m record.Reading) string {
	return capital(dimensionName(s.p.knownSurface(m.Part, m.Surface), m.Dimension)) + " " + valuesSay(m, s.p.f.settings.Unit)
}

func (s *surfacePane) limitSays(l record.Limit) string {
	return "Limit: " + dimensionName(s.p.knownSurface(l.Part, l.Surface), l.Dimension) + " " + lengthIn(l.Discard, gauge.Millimetre, s.p.f.settings.Unit)
}

func (s *surfacePane) fitSays(f record.TrialFit) string {
	other := f.B
	if f.B.Record == s.p.n.ID() && f.B.Part == s.p.part {
		other = f.A
	}
	return capital(term.Plain(term.Role(f.Outcome))) + " with " + s.p.n.EndName(other)
}

func overrideSays(o record.Override) string {
	says := o.By + " judges it " + verdictWord(o.Verdict)
	if o.Surface == "" {
		says = o.By + " judges the whole part " + verdictWord(o.Verdict)
	}
	return says
}

func (s *surfacePane) showEntries(r *record.Record) {
	items := s.entriesOf(r)
	if !slices.Equal(items, s.entries.Items) {
		s.entries.SetItems(items)
	}
	s.entries.Mark(string(s.p.entry))
	s.entries.Hidden = len(items) == 0
	about, withdrawn, ok := s.p.aboutEntry(r, s.p.entry)
	s.more.Hidden = !ok
	if ok {
		s.more.Set(piece{Text: about, Color: colorQuiet, Small: true})
	}
	change := ok && !withdrawn && s.p.editable()
	s.edit.Hidden, s.withdraw.Hidden = !change, !change
	known := s.p.knownSurface(s.p.part, s.p.surface)
	s.gauge.Hidden = known == nil || len(known.Dimensions) == 0
	s.fit.Hidden = len(s.p.n.Fits(s.p.part, s.p.surface)) == 0
	_, finding := r.Findings[s.p.entry]
	s.size.Hidden = !finding || len(photosOf(r, s.p.entry)) == 0
	s.handle.Refresh()
}

// aboutEntry tells what an entry's row has no room for, and whether it was
// withdrawn; ok is false where there is no such entry.
func (p *inspectionPlace) aboutEntry(r *record.Record, id record.ID) (says string, withdrawn, ok bool) {
	var by, struck string
	if f, is := r.Findings[id]; is {
		return strings.TrimSpace(moreOf(f) + " " + p.extentOf(r, id)), f.Withdrawn != "", true
	} else if m, is := r.Readings[id]; is {
		says, by, struck = instrumentSays(m, p.f.settings.Unit), m.By, m.Withdrawn
	} else if l, is := r.Limits[id]; is {
		says, struck = p.limitTells(r, id, l), l.Withdrawn
	} else if w, is := r.Workings[id]; is {
		says, by, struck = p.workedTells(w, id), w.By, w.Withdrawn
	} else if f, is := r.TrialFits[id]; is {
		says, by, struck = f.Note, f.By, f.Withdrawn
		if pair, known := p.f.bench.Specs().Pair(f.Pair); known {
			says = strings.TrimSpace(sentence("Trial fit, "+pair.Name) + " " + f.Note)
		}
	} else if o, is := r.Overrides[id]; is {
		says, by, struck = o.Reason, o.By, o.Withdrawn
	} else {
		return "", false, false
	}
	if says = sentence(shortened(oneLine(says), noteInPane)); by != "" {
		says += " By " + by + "."
	}
	if struck != "" {
		says += " Withdrawn by " + sentence(struck)
	}
	return strings.TrimSpace(says), struck != "", true
}

// limitTells tells a limit's other lengths and its source, and that it gave way to
// one that was typed in later.
func (p *inspectionPlace) limitTells(r *record.Record, id record.ID, l record.Limit) string {
	var says []string
	for _, one := range [...][2]string{{"nominal", l.Nominal}, {"new", l.New}, {"reuse", l.Reuse}} {
		if one[1] != "" {
			says = append(says, one[0]+" "+lengthIn(one[1], gauge.Millimetre, p.f.settings.Unit))
		}
	}
	says = append(says, inspection.LimitSource(r, l))
	if holds, ok := inspection.TypedLimit(r, l.Part, l.Surface, l.Dimension); ok && holds != id && l.Withdrawn == "" {
		says = append(says, "a later one holds in its place")
	}
	return strings.Join(says, ", ")
}

// tellUnknown says why an entry can't be edited: on its sheet it would turn into
// something that the specs know.
func (p *inspectionPlace) tellUnknown(id, why string) {
	p.notices.put(notice{ID: id, words: words{Title: "Not to be edited here.", Message: why, Hint: "It stays as it is; it can be struck through."}})
}

// photosOf lists the numbers of the photos on which a finding is outlined.
func photosOf(r *record.Record, finding record.ID) []string {
	var numbers []string
	for _, o := range record.InOrder(r.Outlines) {
		number := fmt.Sprint(r.Photos[o.Photo].Number)
		if o.Finding == finding && !slices.Contains(numbers, number) {
			numbers = append(numbers, number)
		}
	}
	return numbers
}

// noteInPane is how many characters of a note the pane shows; the whole stands in
// the entry's own sheet.
const noteInPane = 300

// moreOf tells what a finding's row has no room for.
func moreOf(f record.Finding) string {
	says := capital(f.Method.Says()) + ", " + term.Plain(f.Zone)
	if f.Share != "" {
		says += ", " + f.Share + " % of the worst tooth's working face"
	}
	if f.Standing != "" {
		says += ", " + standingWords[f.Standing].Label
	}
	if f.By != "" {
		says += ", by " + f.By
	}
	says += "."
	if f.Withdrawn != "" {
		says += " Withdrawn by " + sentence(f.Withdrawn)
	}
	if f.Note != "" {
		says += " " + sentence(shortened(oneLine(f.Note), noteInPane))
	}
	return says
}
