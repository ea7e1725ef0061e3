package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
)

// runningJob is the job that a sheet has begun, with its bar and the button that stops
// it. Both are hidden while none is running.
type runningJob struct {
	f    *frame
	job  *inspection.Job
	bar  *widget.ProgressBar
	stop *button
}

func newRunningJob(f *frame) *runningJob {
	r := &runningJob{f: f, bar: widget.NewProgressBar()}
	r.stop = newButton(f, "Stop", nil, func() { r.job.Cancel() })
	r.show()
	return r
}

func (r *runningJob) running() bool { return r.job != nil && !r.job.Ended() }

func (r *runningJob) show() {
	r.bar.Hidden, r.stop.Hidden = !r.running(), !r.running()
}

// run shows a job until it ends and then calls back, as long as the sheet is there.
func (r *runningJob) run(job *inspection.Job, here func() bool, ended func(error)) {
	r.job = job
	r.bar.SetValue(0)
	r.show()
	job.Watch(func() {
		progress, over := job.Progress(), job.Ended()
		r.f.later(func() {
			switch {
			case r.job != job || !here():
			case over:
				r.job = nil
				r.show()
				ended(job.Wait())
			case progress.Total > 0:
				r.bar.SetValue(float64(progress.Done) / float64(progress.Total))
			}
		})
	})
}

// chooseFolder asks for a folder, beginning in one.
func (f *frame) chooseFolder(begin string, chosen func(path string)) {
	d := dialog.NewFolderOpen(func(folder fyne.ListableURI, err error) {
		if err == nil && folder != nil {
			chosen(folder.Path())
		}
	}, f.window)
	if at, err := storage.ListerForURI(storage.NewFileURI(begin)); err == nil {
		d.SetLocation(at)
	}
	d.Resize(fyne.NewSize(820, 560))
	d.Show()
}
