package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// picked are the photos that something is done to: those that are picked in the
// strip, or else the one that is shown.
func (v *viewer) picked() []record.ID {
	var ids []record.ID
	for _, id := range v.strip.Picked() {
		ids = append(ids, record.ID(id))
	}
	if len(ids) == 0 && v.shown != "" {
		ids = []record.ID{v.shown}
	}
	return ids
}

// changed makes a change of photos, and shows the one that comes after them if
// they leave the strip by it.
func (v *viewer) changed(did string, ids []record.ID, err error) bool {
	if !v.p.tried(did, err) {
		return false
	}
	if list := v.list(v.scope); !slices.Contains(list, v.shown) {
		v.shown = v.following(ids, list)
	}
	v.p.refresh()
	return true
}

// following is the photo that is still in the list and stood next to some that
// are not: behind the last of them if there is one, else before.
func (v *viewer) following(gone, left []record.ID) record.ID {
	before, behind := record.ID(""), record.ID("")
	passed := false
	for i := range v.strip.Items {
		id := record.ID(v.strip.Items[i].ID)
		switch {
		case slices.Contains(gone, id):
			passed, behind = true, ""
		case !slices.Contains(left, id):
		case !passed:
			before = id
		case behind == "":
			behind = id
		}
	}
	if behind != "" {
		return behind
	}
	return before
}

// assign says that photos show a part or a surface.
func (v *viewer) assign(ids []record.ID, to record.Subject, only bool) bool {
	if len(ids) == 0 || !v.p.editable() {
		return false
	}
	return v.changed("The photos were not assigned.", ids, v.p.n.Assign(ids, to, only))
}

// unassign says that photos do not show a part, or a surface of it.
func (v *viewer) unassign(ids []record.ID, from record.Subject) bool {
	if len(ids) == 0 || !v.p.editable() {
		return false
	}
	return v.changed("The photos were not taken from the part.", ids, v.p.n.Unassign(ids, from))
}

// saysSubject names a part in a sentence, or a surface with its part.
func (p *inspectionPlace) saysSubject(s record.Subject) string {
	name := lower(p.n.PartName(s.Part))
	if s.Surface != "" {
		name += " (" + lower(p.n.SurfaceName(s.Part, s.Surface)) + ")"
	}
	return name
}

// saysShown tells what a photo shows, without the chosen part as a whole: a mark of
// its own says that.
func (v *viewer) saysShown(p record.Photo) string {
	var names []string
	for _, s := range p.Subjects {
		switch {
		case s.Part != v.p.part:
			names = append(names, v.p.saysSubject(s))
		case s.Surface != "":
			names = append(names, lower(v.p.n.SurfaceName(s.Part, s.Surface)))
		}
	}
	return and(names)
}

// allShow tells whether all of some photos show a subject.
func (v *viewer) allShow(ids []record.ID, to record.Subject) bool {
	r := v.p.n.Record()
	return len(ids) > 0 && !slices.ContainsFunc(ids, func(id record.ID) bool {
		p := r.Photos[id]
		if to.Surface == "" {
			return !shows(p, to.Part)
		}
		return !slices.Contains(p.Subjects, to)
	})
}

// toggleSubject says that the photos show the chosen part, or that they do not.
func (v *viewer) toggleSubject() {
	ids, part := v.picked(), v.p.part
	if part == "" {
		return
	}
	if v.allShow(ids, record.Subject{Part: part}) {
		v.unassign(ids, record.Subject{Part: part})
	} else {
		v.assign(ids, record.Subject{Part: part}, false)
	}
	v.refocus()
}

func (v *viewer) setStage(word string) {
	ids, stage := v.picked(), stageOf(word)
	if len(ids) == 0 || !v.p.editable() {
		return
	}
	v.changed("The stage was not changed.", ids, v.p.n.SetStage(ids, stage))
	v.refocus()
}

// nextStage goes through the stages: all picked photos to the one after that of
// the photo that is shown.
func (v *viewer) nextStage() {
	if p, ok := v.record(); ok {
		at := slices.Index(term.Stages, p.Stage)
		v.setStage(term.Plain(term.Stages[(at+1)%len(term.Stages)]))
	}
}

// toggleLeftOut leaves the photos out of the report, or takes them back into it if all
// of them are out.
func (v *viewer) toggleLeftOut() {
	ids, r := v.picked(), v.p.n.Record()
	if len(ids) == 0 || !v.p.editable() {
		return
	}
	out := slices.ContainsFunc(ids, func(id record.ID) bool { return r.Photos[id].LeftOut == "" })
	v.changed("The photos were not left out.", ids, v.p.n.LeaveOut(ids, out))
	v.refocus()
}

func leftOutSays(p record.Photo) string {
	if p.LeftOut == "" {
		return ""
	}
	return "left out of the report by " + p.LeftOut
}

// turn turns photos clockwise. The files stay as they are.
func (v *viewer) turn(by int) {
	if ids := v.picked(); len(ids) > 0 && v.p.editable() {
		v.changed("The photo was not turned.", ids, v.p.n.TurnPhotos(ids, by))
	}
}

// removePhoto takes photos out of the record; undo brings them back.
func (v *viewer) removePhoto() {
	if ids := v.picked(); len(ids) > 0 && v.p.editable() {
		v.changed("The photo was not taken out.", ids, v.p.n.RemovePhotos(ids))
	}
}

// refocus gives the keys back to the photo, unless they are at the strip.
func (v *viewer) refocus() {
	if v.p.f.window.Canvas().Focused() != fyne.Focusable(v.strip) {
		v.p.f.focus(v.photoView)
	}
}

// unpick leaves only the photo that is shown, and reports whether there were more.
func (v *viewer) unpick() bool {
	if len(v.strip.picks.of) == 0 {
		return false
	}
	v.strip.pickOnly(v.strip.Selected)
	return true
}
