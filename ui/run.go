package ui

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// Options say what the window is opened on.
type Options struct {
	// Bench is the open archive. The window closes no bench that it did not open:
	// that is the caller's.
	Bench *inspection.Bench
	// Icon is the program's icon as PNG, nil for none.
	Icon    []byte
	Version string
	// Named says that the bench was told who is at work: the window then does not
	// take the name that it remembers.
	Named bool
	// Open is a record to begin with, empty for the register.
	Open record.ID
	// Settings is what KeepSettings was last given, nil the first time: JSON of
	// the window's own (size, shade, unit). KeepSettings writes it into the user's
	// configuration folder; nil forgets it.
	Settings     []byte
	KeepSettings func([]byte) error
}

// programID names the program to the desktop.
const programID = "org.fettlebook.Fettlebook"

// Run opens the window and returns when it was closed, or when ctx ends. It must
// be called on the program's first goroutine.
func Run(ctx context.Context, o Options) error {
	if o.Bench == nil {
		return fmt.Errorf("open the window: there is no archive to show")
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	a := app.NewWithID(programID)
	if len(o.Icon) > 0 {
		a.SetIcon(fyne.NewStaticResource("icon.png", o.Icon))
	}
	f := newFrame(ctx, a, o)
	f.window.SetMaster()
	f.window.Resize(fyne.NewSize(f.settings.Width, f.settings.Height))
	f.begin(o.Open)
	stop := context.AfterFunc(ctx, func() { f.later(f.close) })
	defer stop()
	f.window.ShowAndRun()
	return nil
}

// begin goes to the first place.
func (f *frame) begin(open record.ID) {
	register := newRegister(f)
	f.show(register)
	if open != "" {
		register.open(open)
	}
}
