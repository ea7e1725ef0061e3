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
	r, a := v.p.n.Record(), v.p.n.Assessment()
	var shown []ShownOutline
	for id, o := range record.InOrder(r.Outlines) {
		if o.Photo != v.shown {
			continue
		}
		s := ShownOutline{ID: id, Number: o.Number, Outline: o}
		if f, ok := r.Findings[o.Finding]; ok {
			s.Number = f.Number
			s.Verdict = verdictOf(a, o.Finding, f)
			s.Faint = f.Withdrawn != "" || f.Part != v.p.part || f.Surface != v.p.surface
		}
		shown = append(shown, s)
	}
	v.photoView.SetOutlines(shown)
	if sel := v.photoView.Selected(); sel != "" && !slices.ContainsFunc(shown, func(s ShownOutline) bool { return s.ID == sel }) {
		v.photoView.Select("")
	}
	if v.p.entry != "" {
		for _, s := range shown {
			if s.Outline.Finding == v.p.entry && v.photoView.Selected() != s.ID {
				v.photoView.Select(s.ID)
				return
			}
		}
	}
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
	v.p.showFinding(id)
}

func (v *viewer) reshaped(id record.ID, points []record.Point) {
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || !v.p.editable() {
		v.showOutlines()
		return
	}
	says := fmt.Sprintf("outline %d reshaped on photo %d", o.Number, v.p.n.Record().Photos[o.Photo].Number)
	v.p.do("The outline was not changed.", record.ChangeOutline(says, id, func(o *record.Outline) { o.Points = points }))
	v.p.refreshSoon()
}

// selected goes to the finding that an outline shows.
func (v *viewer) selected(id record.ID) {
	o, ok := v.p.n.Record().Outlines[id]
	switch {
	case !ok:
		v.p.entry = ""
		v.p.side.show()
	case o.Finding != "":
		v.p.chooseFinding(o.Finding)
	}
}

func (v *viewer) remove(id record.ID) {
	o, ok := v.p.n.Record().Outlines[id]
	if !ok || !v.p.editable() {
		return
	}
	v.p.do("The outline was not removed.", record.RemoveOutline(id, o.Number))
	v.p.refreshSoon()
}

// turn turns the photo clockwise. The file stays as it is.
func (v *viewer) turn(by int) {
	p, ok := v.record()
	if !ok || !v.p.editable() {
		return
	}
	turned := ((p.Turned+by)%360 + 360) % 360
	says := fmt.Sprintf("photo %d turned", p.Number)
	v.p.do("The photo was not turned.", record.ChangePhoto(says, v.shown, func(p *record.Photo) { p.Turned = turned }))
	v.p.refreshSoon()
}

func (v *viewer) setStage(word string) {
	p, ok := v.record()
	stage := stageOf(word)
	if !ok || !v.p.editable() || p.Stage == stage {
		return
	}
	says := fmt.Sprintf("photo %d: %s", p.Number, word)
	v.p.do("The stage was not changed.", record.ChangePhoto(says, v.shown, func(p *record.Photo) { p.Stage = stage }))
	v.p.f.focus(v.photoView)
	v.p.refreshSoon()
}

// nextStage goes through the stages.
func (v *viewer) nextStage() {
	if p, ok := v.record(); ok {
		at := slices.Index(term.Stages, p.Stage)
		v.setStage(term.Plain(term.Stages[(at+1)%len(term.Stages)]))
	}
}

// toggleSubject says that the photo shows the chosen part, or that it does not.
func (v *viewer) toggleSubject() {
	p, ok := v.record()
	part := v.p.part
	if !ok || part == "" || !v.p.editable() {
		return
	}
	name := lower(v.p.n.PartName(part))
	says := fmt.Sprintf("photo %d shows %s", p.Number, name)
	subjects := append(slices.Clone(p.Subjects), record.Subject{Part: part})
	if shows(p, part) {
		says = fmt.Sprintf("photo %d does not show %s", p.Number, name)
		subjects = slices.DeleteFunc(slices.Clone(p.Subjects), func(s record.Subject) bool { return s.Part == part })
	}
	v.p.do("The photo was not assigned.", record.ChangePhoto(says, v.shown, func(p *record.Photo) { p.Subjects = subjects }))
	v.p.f.focus(v.photoView)
	v.p.refreshSoon()
}

// removePhoto takes the photo out of the record; undo brings it back.
func (v *viewer) removePhoto() {
	if p, ok := v.record(); ok && v.p.editable() {
		v.p.do("The photo was not taken out.", record.RemovePhoto(v.shown, p.Number))
		v.p.refreshSoon()
	}
}
