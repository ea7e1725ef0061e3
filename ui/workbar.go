package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
)

// workBar shows how far a long job is and offers to stop it.
type workBar struct {
	p      *inspectionPlace
	text   *caption
	bar    *widget.ProgressBar
	object *fyne.Container
	job    *inspection.Job
}

func newWorkBar(p *inspectionPlace) *workBar {
	w := &workBar{p: p, text: newCaption("", colorQuiet), bar: widget.NewProgressBar()}
	w.bar.TextFormatter = func() string { return "" }
	stop := newButton(p.f, "Stop", nil, func() {
		if w.job != nil {
			w.job.Cancel()
		}
	})
	row := container.NewBorder(nil, nil, nil, stop, container.New(shares{0.4, 0.6}, upright(w.text), upright(atLeast(w.bar, 100, 14))))
	w.object = container.NewStack(newGround(colorInform), padded(row, 4, 4, 14, 12))
	w.object.Hide()
	return w
}

// watch shows a job until it ends, and then calls back with why it failed.
func (w *workBar) watch(says string, job *inspection.Job, ended func(error)) {
	w.job = job
	w.text.SetText(says)
	w.bar.SetValue(0)
	w.object.Show()
	f := w.p.f
	told := false
	job.Watch(func() {
		progress, over := job.Progress(), job.Ended()
		f.later(func() {
			if told {
				return
			}
			if !over {
				w.show(says, progress)
				return
			}
			told = true
			if w.job == job {
				w.job = nil
				w.object.Hide()
			}
			ended(job.Wait())
		})
	})
}

func (w *workBar) show(says string, progress inspection.Progress) {
	if progress.Total > 0 {
		w.bar.SetValue(float64(progress.Done) / float64(progress.Total))
		says += fmt.Sprintf(" · %d of %d", progress.Done, progress.Total)
	}
	if left := leftSays(progress.Left); left != "" {
		says += " · " + left
	}
	w.text.SetText(says)
}
