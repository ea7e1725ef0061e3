package ui

import (
	"context"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// waitBeforeSaying is how long closing waits in silence: most changes are saved
// long before.
const waitBeforeSaying = 300 * time.Millisecond

// close ends the work once all is saved, of every record that was opened. If
// something can't be saved it says what, and the person decides.
func (f *frame) close() {
	if f.closing {
		return
	}
	f.closing = true
	f.flush()
}

func (f *frame) flush() {
	ctx, cancel := context.WithCancel(f.ctx)
	said := time.AfterFunc(waitBeforeSaying, func() {
		f.later(func() {
			if ctx.Err() == nil {
				f.showClosing(newHeading("Saving …", theme.SizeNameHeadingText),
					plainly("The window closes as soon as all is saved."), widget.NewProgressBarInfinite())
			}
		})
	})
	opened := slices.Clone(f.opened)
	beside(f, func(context.Context) (struct{}, error) {
		for _, n := range opened {
			if err := n.Flush(ctx); err != nil {
				return struct{}{}, err
			}
		}
		return struct{}{}, nil
	}, func(_ struct{}, err error) {
		said.Stop()
		cancel()
		if err == nil {
			f.end()
			return
		}
		f.askToLose(err)
	})
}

// askToLose says what can't be saved and leaves it to the person.
func (f *frame) askToLose(err error) {
	w := wordsFor("Not everything could be saved", err)
	waiting := 0
	box := []fyne.CanvasObject{newHeading(w.Title, theme.SizeNameHeadingText), plainly(w.Message + " " + w.Hint)}
	for _, n := range f.opened {
		if unsaved := n.Status().Unsaved; unsaved > 0 {
			waiting += unsaved
			says, _ := n.Undoable()
			box = append(box, quietly(n.Record().Unit.Says()+": "+countOf(unsaved, "change", "changes")+", the last: "+says))
		}
	}
	again := newButton(f, "Try again", nil, f.flush).primary()
	stay := newButton(f, "Keep the window open", nil, func() {
		f.closing = false
		f.body.Objects = []fyne.CanvasObject{f.here.view()}
		f.body.Refresh()
	})
	lose := newButton(f, "Close and lose "+countOf(waiting, "change", "changes"), nil, f.end)
	lose.Importance = widget.DangerImportance
	f.showClosing(append(box, container.NewHBox(again, stay, lose))...)
	f.focus(again)
}

// showClosing fills the window with what closing waits for.
func (f *frame) showClosing(box ...fyne.CanvasObject) {
	f.body.Objects = []fyne.CanvasObject{container.NewCenter(atLeast(column(8, box...), 480, 120))}
	f.body.Refresh()
}

// end closes the window. Its size is remembered for the next time.
func (f *frame) end() {
	size := f.window.Canvas().Size()
	if size.Width >= leastWidth && size.Height >= leastHeight {
		f.settings.Width, f.settings.Height = size.Width, size.Height
		f.keepSettings()
	}
	if f.here != nil {
		f.here.leave()
	}
	f.window.SetCloseIntercept(nil)
	f.window.Close()
}
