package ui

import (
	"slices"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// closeLooks have their tiles made beside the window: those of the record when it
// is opened and when some were taken in, and first of all those that are looked at
// closely.
type closeLooks struct {
	p   *inspectionPlace
	job *inspection.Cutting
	// more is whether photos came while the job was at work.
	more bool
	// waiting are the tiles that views wait for.
	waiting []*storedTiles
}

// cutAll begins with the photos of the record that have no tiles yet.
func (l *closeLooks) cutAll() {
	if l.job != nil {
		l.more = true
		return
	}
	var photos []record.Photo
	for _, id := range l.p.viewer.list(ofAll) {
		if p := l.p.n.Record().Photos[id]; inspection.KeepsTiles(p) {
			photos = append(photos, p)
		}
	}
	if len(photos) > 0 && l.p.editable() {
		l.watch(l.p.f.bench.Cut(l.p.f.ctx, photos, false))
	}
}

// cut has the tiles of one photo made before all others.
func (l *closeLooks) cut(s *storedTiles) {
	if !slices.Contains(l.waiting, s) {
		l.waiting = append(l.waiting, s)
	}
	if l.job == nil || !l.job.First(s.photo) {
		l.watch(l.p.f.bench.Cut(l.p.f.ctx, []record.Photo{s.photo}, true))
	}
}

// leave ends the work: what is missing is made when it is next looked at.
func (l *closeLooks) leave() {
	l.more = false
	if l.job != nil {
		l.job.Cancel()
	}
}

func (l *closeLooks) watch(job *inspection.Cutting) {
	l.job = job
	shown := false
	job.Watch(func() {
		working, over := job.Progress().Total > 0, job.Ended()
		l.p.f.later(func() {
			if working && !over && !shown {
				shown = true
				l.p.work.watch("Getting large photos ready to be looked at closely", job.Job, func(error) {})
			}
			l.came(job)
			if over && l.job == job {
				l.ended(job)
			}
		})
	})
}

// came has those views look again whose photo is being cut or was.
func (l *closeLooks) came(job *inspection.Cutting) {
	waiting := slices.Clone(l.waiting)
	l.waiting = slices.DeleteFunc(l.waiting, func(s *storedTiles) bool { return !job.Waits(s.photo) })
	for _, s := range waiting {
		s.tried = s.tried || !job.Waits(s.photo)
		s.again()
	}
}

func (l *closeLooks) ended(job *inspection.Cutting) {
	l.job = nil
	if failed := job.Failed(); len(failed) > 0 {
		l.p.notices.put(notice{ID: "large", Warns: true, List: failureLines(failed), words: words{
			Title: countOf(len(failed), "photo", "photos") + " can't be looked at closely."}})
	}
	if l.more {
		l.more = false
		l.cutAll()
	}
}
