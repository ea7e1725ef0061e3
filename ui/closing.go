package ui

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// waitBeforeSaying is how long closing waits in silence: most changes are saved
// long before.
const waitBeforeSaying = 300 * time.Millisecond

// close ends the work once all is saved. If something can't be saved it says what,
// and the person decides.
func (f *frame) close() {
	if f.closing {
		return
	}
	at, ok := f.here.(*inspectionPlace)
	if !ok {
		f.end()
		return
	}
	f.closing = true
	f.flush(at)
}

func (f *frame) flush(at *inspectionPlace) {
	ctx, cancel := context.WithCancel(f.ctx)
	said := time.AfterFunc(waitBeforeSaying, func() {
		f.later(func() {
			if ctx.Err() == nil {
				f.showClosing("Saving…", "The window closes as soon as all is saved.", nil)
			}
		})
	})
	beside(f, func(context.Context) (struct{}, error) { return struct{}{}, at.n.Flush(ctx) }, func(_ struct{}, err error) {
		said.Stop()
		cancel()
		if err == nil {
			f.end()
			return
		}
		w := wordsFor("Not everything could be saved", err)
		f.showClosing(w.Title, w.Message+" "+w.Hint, at)
	})
}

// showClosing fills the window with what closing waits for. With a place it asks
// what to do.
func (f *frame) showClosing(title, message string, at *inspectionPlace) {
	box := container.NewVBox(newHeading(title, theme.SizeNameHeadingText), plainly(message))
	if at == nil {
		box.Add(widget.NewProgressBarInfinite())
	} else {
		says, _ := at.n.Undoable()
		if says != "" {
			box.Add(quietly("The last change: " + says))
		}
		again := newButton(f, "Try again", nil, func() { f.flush(at) }).primary()
		stay := newButton(f, "Keep the window open", nil, func() {
			f.closing = false
			f.body.Objects = []fyne.CanvasObject{at.view()}
			f.body.Refresh()
		})
		lose := newButton(f, "Close and lose it", nil, f.end)
		lose.Importance = widget.DangerImportance
		box.Add(container.NewHBox(again, stay, lose))
		defer f.focus(again)
	}
	f.body.Objects = []fyne.CanvasObject{container.NewCenter(atLeast(box, 460, 120))}
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
