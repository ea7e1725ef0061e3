package ui

import (
	"fmt"
	"slices"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// showOutlines draws the outlines of the photo that is shown. Those of the chosen
// surface stand out, the others are faint.
func (v *viewer) showOutlines() {
	shown := v.outlinesOf(v.shown)
	v.photoView.SetOutlines(shown)
	if sel := v.photoView.Selected(); sel != "" && !slices.ContainsFunc(shown, func(s ShownOutline) bool { return s.ID == sel }) {
		v.photoView.Select("")
	}
	if v.photoView.Selected() != "" && v.led == v.p.entry {
		return // undo may have taken from it what it showed
	}
	v.led = v.p.entry
	shows := func(s ShownOutline) bool { return v.p.entry != "" && s.Outline.Finding == v.p.entry }
	if slices.ContainsFunc(shown, func(s ShownOutline) bool { return s.ID == v.photoView.Selected() && shows(s) }) {
		return // one of several that show the same finding
	}
	if i := slices.IndexFunc(shown, shows); i >= 0 {
		v.photoView.Select(shown[i].ID)
	}
}

// outlinesOf are the outlines of a photo as they are shown.
func (v *viewer) outlinesOf(photo record.ID) []ShownOutline {
	r, a := v.p.n.Record(), v.p.n.Assessment()
	var shown []ShownOutline
	for id, o := range record.InOrder(r.Outlines) {
		if o.Photo != photo || v.errand.hidden(id, o) {
			continue
		}
		s := ShownOutline{ID: id, Number: o.Number, Outline: o}
		s.Faint = o.Known != record.Known{} || o.Face != record.Face{} || o.Repeats != "" || o.Shape == record.Edges
		if f, ok := r.Findings[o.Finding]; ok {
			s.Number = f.Number
			s.Verdict = verdictOf(a, o.Finding, f)
			s.Faint = f.Withdrawn != "" || f.Part != v.p.part || f.Surface != v.p.surface
		}
		shown = append(shown, s)
	}
	return append(shown, axes(r, photo)...)
}

// verdictOf returns the verdict that a finding leads to, for the record's duty.
func verdictOf(a *inspection.Assessment, id record.ID, f record.Finding) term.Verdict {
	part, ok := a.Part(f.Part)
	if !ok {
		return term.Undecided
	}
	surface, ok := part.Surface(f.Surface)
	if !ok {
		return term.Undecided
	}
	for _, reason := range surface.Reasons {
		if reason.Of == id {
			return reason.Verdicts.For(a.Duty)
		}
	}
	return surface.Verdict
}

// drawn takes an outline over that was just finished, and asks what it shows.
func (v *viewer) drawn(shape record.Shape, points []record.Point) {
	if !v.p.editable() || v.shown == "" {
		v.showOutlines()
		return
	}
	if v.drawnFor(shape, points) {
		return
	}
	id, err := v.p.n.AddOutline(record.Outline{Photo: v.shown, Shape: shape, Points: points})
	if !v.p.tried("The outline was not kept.", err) {
		v.showOutlines()
		return
	}
	v.p.entry = ""
	v.photoView.SetTool(PointTool)
	v.showTool()
	v.p.refresh()
	v.photoView.Select(id)
	if shape == record.Line || shape == record.Edges {
		v.p.showScale(id)
		return
	}
	v.p.showFinding(id)
}

func (v *viewer) reshaped(id record.ID, points []record.Point) {
	if outline, ok := outlineOfAxis(id); ok && v.p.editable() {
		v.reshapedAxis(outline, points)
		return
	}
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || !v.p.editable() {
		v.showOutlines()
		return
	}
	says := fmt.Sprintf("outline %d reshaped on photo %d", o.Number, v.p.n.Record().Photos[o.Photo].Number)
	v.p.do("The outline was not changed.", record.ChangeOutline(says, id, func(o *record.Outline) { o.Points = points }))
	v.p.refreshSoon()
}

// aboutOutline is a sheet that tells of one outline on the photo.
type aboutOutline interface {
	sheet
	about() record.ID
}

// intoSheet puts the keys to the first thing that the open sheet asks.
func (v *viewer) intoSheet() bool {
	s, ok := v.p.side.sheet.(interface{ begin() })
	if ok {
		s.begin()
	}
	return ok
}

// selected goes to the finding that an outline shows, or tells of the outline. The
// keys stay with the photo: one may go on to the next.
func (v *viewer) selected(id record.ID) {
	if outline, ok := outlineOfAxis(id); ok {
		v.p.side.put(newSizeSheet(v.p, outline))
		return
	}
	o, ok := v.p.n.Record().Outlines[id]
	if s, open := v.p.side.sheet.(aboutOutline); ok && open && s.about() != id {
		v.p.side.close()
	}
	if ok && o.Finding == "" {
		v.p.entry = ""
		v.p.side.show()
	}
	switch {
	case !ok:
		v.p.entry = ""
		v.p.side.show()
	case o.Finding != "":
		v.p.chooseFinding(o.Finding)
	case o.Face != record.Face{} || o.Repeats != "":
		v.p.side.put(newSizeSheet(v.p, id))
	case (o.Shape == record.Line || o.Shape == record.Edges || o.Known != record.Known{}) && v.p.editable():
		v.p.side.put(newScaleSheet(v.p, id))
	}
}

// stay keeps to the photo of an outline that was told what it shows: with that the
// photo is unassigned no longer, but more may be to be drawn on it.
func (v *viewer) stay(outline record.ID) {
	if o, ok := v.p.n.Record().Outlines[outline]; ok && o.Photo == v.shown && v.scope == unassigned {
		v.scope = ofPart
	}
}

func (v *viewer) remove(id record.ID) {
	if outline, ok := outlineOfAxis(id); ok && v.p.editable() {
		v.reshapedAxis(outline, nil)
		return
	}
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || !v.p.editable() {
		return
	}
	v.p.do("The outline was not removed.", record.RemoveOutline(id, o.Number))
	v.p.refreshSoon()
}
