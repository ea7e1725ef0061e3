package ui

import (
	"context"
	"path/filepath"
	"slices"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// phoneEvery is how often the phone's folder is looked into. A file must be found
// the same twice, so a photo comes in within some seconds.
const phoneEvery = 2 * time.Second

// ticking gives the times to look; tests give their own.
type ticking func(every time.Duration) (times <-chan time.Time, stop func())

func byClock(every time.Duration) (<-chan time.Time, func()) {
	t := time.NewTicker(every)
	return t.C, t.Stop
}

// phoneFolder takes photos in as they appear in a folder. They show no part yet:
// nobody said which one was in hand when the phone sent them.
type phoneFolder struct {
	p    *inspectionPlace
	stop context.CancelFunc
	// came are the photos that came in and were not looked at yet.
	came []record.ID
}

// follow begins to look into the folder that is set, or ends it.
func (w *phoneFolder) follow() {
	w.leave()
	f := w.p.f
	dir := f.settings.Phone
	w.p.viewer.showWatched(dir)
	if f.phone != nil && f.phone.Dir() != dir {
		f.phone = nil
	}
	if dir == "" || !w.p.editable() {
		return
	}
	ctx, stop := context.WithCancel(f.ctx)
	times, end := f.ticks(phoneEvery)
	w.stop = func() { stop(); end() }
	go w.look(ctx, dir, f.phone, times)
}

// leave ends it. What is being taken in is taken in.
func (w *phoneFolder) leave() {
	if w.stop != nil {
		w.stop()
		w.stop = nil
	}
}

// look is the work beside the window.
func (w *phoneFolder) look(ctx context.Context, dir string, watch *inspection.FolderWatch, times <-chan time.Time) {
	later := func(do func()) {
		w.p.f.later(func() {
			if ctx.Err() == nil {
				do()
			}
		})
	}
	if watch != nil {
		// Found the same twice, though at once: a person is asked before it is taken.
		_, _ = watch.Look(ctx)
		if waiting, err := watch.Look(ctx); err == nil && len(waiting) > 0 {
			later(func() { w.ask(waiting) })
		}
	}
	for {
		var ready []string
		var err error
		if watch != nil {
			ready, err = watch.Look(ctx)
		} else if watch, err = inspection.WatchFolder(ctx, dir); err == nil {
			begun := watch
			later(func() { w.p.f.phone = begun })
		}
		later(func() { w.found(ready, err) })
		select {
		case <-ctx.Done():
			return
		case <-times:
		}
	}
}

// ask offers photos that appeared while no record was open: nobody knows of which
// core they are.
func (w *phoneFolder) ask(waiting []string) {
	w.p.notices.put(notice{ID: "phone-waiting", Do: "Take in here", Doing: func() {
		w.p.notices.take("phone-waiting")
		w.take(waiting)
	}, words: words{
		Title:   countOf(len(waiting), "photo has", "photos have") + " appeared in the phone's folder.",
		Message: "No record was open then. Are they of this core?"}})
}

// found takes in what is ready, and tells if the folder is away.
func (w *phoneFolder) found(ready []string, err error) {
	if err != nil {
		n := notice{ID: "phone-folder", words: wordsFor("Photos of the phone do not come in.", err)}
		n.Hint += " It is looked for every few seconds."
		if !slices.ContainsFunc(w.p.notices.notices, func(old notice) bool { return old.ID == n.ID }) {
			w.p.notices.put(n)
		}
		return
	}
	w.p.notices.take("phone-folder")
	if len(ready) > 0 {
		w.take(ready)
	}
}

// take takes photos in beside what is being worked on.
func (w *phoneFolder) take(ready []string) {
	job := w.p.n.AttachPhotos(w.p.f.ctx, nil, w.p.viewer.newStage, ready)
	told := false
	job.Watch(func() {
		if job.Ended() {
			w.p.f.later(func() {
				if !told {
					told = true
					w.taken(job)
					w.p.closely.cutAll()
				}
			})
		}
	})
}

// taken tells of photos that came in by themselves, and leaves on the screen what
// is being worked on.
func (w *phoneFolder) taken(job *inspection.TakeIn) {
	err := job.Wait()
	for _, id := range job.Taken() {
		if !slices.Contains(job.Known(), id) {
			w.came = append(w.came, id)
		}
	}
	failed := job.Failed()
	n := notice{ID: "phone", words: words{
		Title:   countOf(len(w.came), "photo", "photos") + " came in from the phone.",
		Message: "No part is assigned to them yet.",
	}}
	switch {
	case err != nil:
		n.Warns, n.words = true, wordsFor("The photos of the phone were not taken in.", err)
	case len(failed) > 0:
		n.Warns, n.List = true, failureLines(failed)
		n.Message = countOf(len(failed), "file was", "files were") + " not taken in; it is tried again when one changes."
	case len(w.came) == 0:
		return
	}
	if len(w.came) > 0 {
		n.Do, n.Doing = "Show", w.show
	}
	w.p.notices.put(n)
	w.p.tellOfPhotos(job, 0)
	w.p.refresh()
}

// show goes to the photos that came in.
func (w *phoneFolder) show() {
	w.p.notices.take("phone")
	r := w.p.n.Record()
	ids := slices.DeleteFunc(w.came, func(id record.ID) bool { _, there := r.Photos[id]; return !there })
	w.came = nil
	w.p.viewer.showTaken(ids)
	w.p.refresh()
	w.p.f.focus(w.p.viewer.photoView)
}

// toggleWatch has the folder that is listed watched, or none.
func (s *attachSheet) toggleWatch() {
	f := s.p.f
	if f.settings.Phone == s.folder {
		f.settings.Phone = ""
	} else {
		f.settings.Phone = s.folder
	}
	f.keepSettings()
	s.p.phone.follow()
	s.showWatch()
}

// showWatch tells whether the folder that is listed is the one that is watched.
func (s *attachSheet) showWatch() {
	s.watch.Show()
	s.watch.Set(s.folder != "" && s.folder == s.p.f.settings.Phone)
}

// showWatched tells beside the strip which folder is watched.
func (v *viewer) showWatched(dir string) {
	text := ""
	if dir != "" {
		text = "watching " + shortened(filepath.Base(dir), 14)
	}
	v.watched.SetText(text)
}
