package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
)

// workBar shows how far long jobs are, each on a line of its own, and offers to stop
// them.
type workBar struct {
	p      *inspectionPlace
	lines  []*workLine
	object *fyne.Container
}

// workLine is one job.
type workLine struct {
	// number is the least that no other line has while this one is there.
	number int
	says   string
	job    *inspection.Job
	text   *caption
	bar    *widget.ProgressBar
	object fyne.CanvasObject
}

func newWorkBar(p *inspectionPlace) *workBar {
	w := &workBar{p: p, object: container.New(layout.NewCustomPaddedVBoxLayout(1))}
	w.object.Hide()
	return w
}

// watch shows a job until it ends, and then calls back with why it failed. It returns
// the number of its line.
func (w *workBar) watch(says string, job *inspection.Job, ended func(error)) int {
	l := w.add(says, job)
	f := w.p.f
	told := false
	job.Watch(func() {
		progress, over := job.Progress(), job.Ended()
		f.later(func() {
			if told {
				return
			}
			if !over {
				l.show(progress)
				return
			}
			told = true
			w.drop(l)
			ended(job.Wait())
		})
	})
	return l.number
}

func (w *workBar) add(says string, job *inspection.Job) *workLine {
	l := &workLine{says: says, job: job, text: newCaption(says, colorQuiet), bar: widget.NewProgressBar()}
	for slices.ContainsFunc(w.lines, func(other *workLine) bool { return other.number == l.number }) {
		l.number++
	}
	l.bar.TextFormatter = func() string { return "" }
	stop := newButton(w.p.f, "Stop", nil, job.Cancel)
	row := container.NewBorder(nil, nil, nil, stop, container.New(shares{0.4, 0.6}, upright(l.text), upright(atLeast(l.bar, 100, 14))))
	l.object = container.NewStack(newGround(colorInform), padded(row, 4, 4, 14, 12))
	w.lines = append(w.lines, l)
	w.object.Add(l.object)
	w.object.Show()
	return l
}

func (w *workBar) drop(l *workLine) {
	w.lines = slices.DeleteFunc(w.lines, func(other *workLine) bool { return other == l })
	w.object.Remove(l.object)
	if len(w.lines) == 0 {
		w.object.Hide()
	}
}

func (l *workLine) show(progress inspection.Progress) {
	says := l.says
	switch {
	case progress.Waits:
		says += fmt.Sprintf(" · %d wait for those before", progress.Total)
	case progress.Total > 0:
		l.bar.SetValue(float64(progress.Done) / float64(progress.Total))
		says += fmt.Sprintf(" · %d of %d", progress.Done, progress.Total)
	}
	if left := leftSays(progress.Left); left != "" {
		says += " · " + left
	}
	l.text.SetText(says)
}
