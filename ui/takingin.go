package ui

import (
	"fmt"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

func (p *inspectionPlace) showAttach() {
	if !p.editable() {
		return
	}
	s := newAttachSheet(p)
	p.side.put(s)
	s.begin()
}

// dropped attaches files that were dropped on the window to the chosen part.
func (p *inspectionPlace) dropped(paths []string) bool {
	if p.editable() {
		p.attach(paths)
	}
	return true
}

// attach takes photos in, shows how far it is, and tells what could not be taken
// in. Success needs no words: the photos are there, and picked.
func (p *inspectionPlace) attach(paths []string) {
	var subjects []record.Subject
	if p.part != "" && !p.viewer.newLoose {
		subjects = []record.Subject{{Part: p.part}}
	}
	job := p.n.AttachPhotos(p.f.ctx, subjects, p.viewer.newStage, paths)
	line := 0
	line = p.work.watch("Taking in photos", job.Job, func(err error) { p.attached(job, line, err) })
}

// ofLine makes the matter of a notice one of its own where several jobs are going on,
// so that what one tells does not take the place of what another did.
func ofLine(matter string, line int) string {
	if line == 0 {
		return matter
	}
	return fmt.Sprintf("%s %d", matter, line)
}

// attached tells what came of photos that were taken in on a line of the work bar.
func (p *inspectionPlace) attached(job *inspection.TakeIn, line int, err error) {
	failed := job.Failed()
	attach := ofLine("attach", line)
	switch {
	case err != nil:
		p.notices.put(notice{ID: attach, Warns: true, words: wordsFor("No photo was attached.", err)})
	case len(failed) > 0:
		title := countOf(len(failed), "file was", "files were") + " not attached."
		p.notices.put(notice{ID: attach, Warns: true, List: failureLines(failed), words: words{
			Title: title, Message: countOf(len(job.Taken()), "photo was.", "photos were.")}})
	default:
		p.notices.take(attach)
	}
	p.tellOfPhotos(job, line)
	p.viewer.showTaken(job.Taken())
	p.refresh()
	p.closely.cutAll()
}

// tellOfPhotos points out what a person may want to know of photos that were taken
// in: which were here already, and which the camera has counted and are not here.
func (p *inspectionPlace) tellOfPhotos(job *inspection.TakeIn, line int) {
	if known := len(job.Known()); known > 0 {
		message := "They were not taken in again"
		if known == 1 {
			message = "It was not taken in again"
		}
		switch {
		case !job.Assigns():
			message += "."
		case known == 1:
			message += "; it now shows what this one was to show."
		default:
			message += "; they now show what these were to show."
		}
		p.notices.put(notice{ID: ofLine("known", line), words: words{Title: countOf(known, "photo was", "photos were") + " here already.", Message: message}})
	}
	p.tellOfAlike(job.Alike(), line)
	gaps := job.Gaps()
	if len(gaps) == 0 {
		return
	}
	lines := make([]string, len(gaps))
	for i, g := range gaps {
		lines[i] = g.Says()
	}
	n := notice{ID: ofLine("gaps", line), List: lines, words: words{
		Title: "The camera's numbers leap.", Message: "Was a photo left in the camera, or deleted?"}}
	if len(gaps) == 1 {
		n.List, n.Message = nil, lines[0]+" Left in the camera, or deleted?"
	}
	p.notices.put(n)
}

// tellOfAlike points out photos that show nearly the same as another one. Which of
// them stays is for a person to say.
func (p *inspectionPlace) tellOfAlike(alike []inspection.Alike, line int) {
	if len(alike) == 0 {
		return
	}
	r := p.n.Record()
	lines := make([]string, len(alike))
	for i, a := range alike {
		lines[i] = fmt.Sprintf("Photo %d looks nearly like photo %d.", r.Photos[a.New].Number, r.Photos[a.Other].Number)
	}
	n := notice{ID: ofLine("alike", line), List: lines, words: words{
		Title: countOf(len(alike), "photo looks", "photos look") + " nearly like another.", Message: "Two shots of one thing? Ctrl+Delete takes one out."}}
	if len(alike) == 1 {
		n.List, n.Title = nil, lines[0]
	}
	p.notices.put(n)
}

// showTaken shows photos that were just taken in, and picks them where they are
// several of one part: their stage is mostly the same for all. Those of no part yet
// mostly show different ones, and dragging the first must not take all along.
func (v *viewer) showTaken(ids []record.ID) {
	if len(ids) == 0 {
		return
	}
	v.shown = ids[0]
	in := ofAll
	switch p := v.p.n.Record().Photos[ids[0]]; {
	case shows(p, v.p.part):
		in = ofPart
		v.perPart[v.p.part] = ids[0]
	case len(p.Subjects) == 0:
		in = unassigned
	}
	if v.scope != ofAll {
		v.scope = in
	}
	v.show()
	if len(ids) > 1 && len(v.p.n.Record().Photos[ids[0]].Subjects) > 0 {
		picks := map[string]bool{}
		for _, id := range ids {
			picks[string(id)] = true
		}
		v.strip.setPicks(picks)
		v.strip.Refresh()
	}
}

// leftSays tells how long a job will go on, in words that promise no more than is
// known.
func leftSays(left time.Duration) string {
	const step = 5 * time.Second
	switch {
	case left <= 0:
		return ""
	case left <= time.Minute-step:
		return fmt.Sprintf("about %d s left", int((left+step-1)/step*step/time.Second))
	}
	return fmt.Sprintf("about %d min left", int((left+time.Minute/2)/time.Minute))
}
