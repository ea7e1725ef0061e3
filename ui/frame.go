package ui

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fettlebook/assess/gauge"
	"fettlebook/assess/inspection"
)

// place is one of the pages that fill the window.
type place interface {
	view() fyne.CanvasObject
	// title is what the window is called, without the program's name.
	title() string
	// actions are what the keyboard does here.
	actions() actions
	// enter is called when the place is shown, leave when another one is.
	enter()
	leave()
	// dropped takes files that were dropped on the window; false means that this
	// place has no use for them.
	dropped(paths []string) bool
	// back is what Escape does when nothing else has use for it.
	back()
}

// frame is the window: it shows one place at a time and carries the keys to it.
type frame struct {
	ctx      context.Context
	app      fyne.App
	window   fyne.Window
	bench    *inspection.Bench
	pictures *pictures
	look     *look
	settings settings
	keep     func([]byte) error
	version  string

	// run hands work over to Fyne's thread; tests hand it to their own.
	run func(func())
	// ticks gives the times to look into the phone's folder.
	ticks ticking
	// phone watches that folder for the record that is open, nil while none is set.
	// Each photo is given out once, whichever record is open then.
	phone *inspection.FolderWatch

	here place
	// gauges is the gauge room with what was typed and not kept yet, nil for none.
	gauges  *gaugeRoom
	notices *noticeBoard
	body    *fyne.Container
	bound   []stroke
	closing bool
	// opened are the records that were worked on: closing waits for them all.
	opened []*inspection.Inspection
}

const programName = "Fettlebook"

func newFrame(ctx context.Context, app fyne.App, o Options) *frame {
	f := &frame{
		ctx: ctx, app: app, bench: o.Bench, settings: readSettings(o.Settings), keep: o.KeepSettings,
		version: o.Version, run: fyne.Do, ticks: byClock, window: app.NewWindow(programName),
	}
	if !o.Named {
		f.bench.SetWho(f.settings.Who)
	}
	f.look = newLook(f.settings.Shade)
	app.Settings().SetTheme(f.look)
	f.pictures = newPictures(ctx, o.Bench, f.later)
	f.notices = newNoticeBoard(f)
	f.body = container.NewStack()
	f.window.SetPadded(false)
	f.window.SetContent(container.NewBorder(f.notices.box, nil, nil, nil, f.body))
	f.window.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) { f.drop(uris) })
	f.window.SetCloseIntercept(f.close)
	canvas := f.window.Canvas()
	canvas.SetOnTypedKey(func(ev *fyne.KeyEvent) { f.typedKey(ev.Name) })
	canvas.SetOnTypedRune(func(r rune) { f.typedRune(r) })
	f.tellOfBench()
	return f
}

// later runs work on Fyne's thread. It is for goroutines that were started here.
func (f *frame) later(work func()) { f.run(work) }

// beside runs work on a goroutine of its own and its answer on Fyne's thread.
func beside[T any](f *frame, work func(context.Context) (T, error), answer func(T, error)) {
	go func() {
		v, err := work(f.ctx)
		f.later(func() { answer(v, err) })
	}()
}

// tellOfBench shows what holds for the whole archive: that it can only be read,
// and which specs were refused.
func (f *frame) tellOfBench() {
	if f.bench.ReadOnly() {
		f.notices.put(notice{ID: "read-only", Stays: true, Warns: true, words: words{
			Title:   "Open for looking only.",
			Message: "Nothing can be changed here: the archive is open elsewhere, or it can't be written to.",
			Hint:    "Close it there and open it again to work in it.",
		}})
	}
	problems := f.bench.SpecProblems()
	if len(problems) == 0 {
		return
	}
	lines := make([]string, len(problems))
	for i, p := range problems {
		lines[i] = p.Error()
	}
	f.notices.put(notice{ID: "specs", Warns: true, List: lines, words: words{
		Title:   "A spec of yours is not in force.",
		Message: "All other specs are.",
		Hint:    "Mend the file in the archive's folder \"specs\" and start again.",
	}})
}

// show goes to a place.
func (f *frame) show(p place) {
	if f.here != nil {
		f.here.leave()
	}
	f.unbind()
	f.here = p
	f.body.Objects = []fyne.CanvasObject{p.view()}
	f.body.Refresh()
	f.bind()
	f.retitle()
	p.enter()
}

// retitle names the window after what is shown; sessions that drive the window
// read it.
func (f *frame) retitle() {
	title := f.here.title() + " — " + programName
	if f.window.Title() != title {
		f.window.SetTitle(title)
	}
}

func (f *frame) all() actions { return append(f.here.actions(), f.own()...) }

// own are the actions of the window itself.
func (f *frame) own() actions {
	return actions{
		{says: "Light, dark, as the system", strokes: []stroke{ctrl(fyne.KeyL)}, run: f.nextShade},
		{says: "Gauge room: fits, shims, teeth", strokes: []stroke{ctrl(fyne.KeyG)}, run: f.showGaugeRoom},
		{says: "Instruments, rule of decision", strokes: []stroke{ctrl(fyne.KeyM)}, run: f.showInstruments},
		{says: "Shop: name, at the bench, wear", strokes: []stroke{ctrl(fyne.KeyComma)}, run: f.showShop},
		{says: "This list of keys", strokes: []stroke{plain(fyne.KeyF1)}, run: f.showKeys},
		{says: "Close", strokes: []stroke{ctrl(fyne.KeyQ)}, run: f.close},
	}
}

func (f *frame) bind() {
	for _, a := range f.all() {
		for _, s := range a.strokes {
			if s.mod == 0 || a.run == nil {
				continue
			}
			f.bound = append(f.bound, s)
			f.window.Canvas().AddShortcut(s.fyneShortcut(), func(fyne.Shortcut) { f.do(s) })
		}
	}
}

func (f *frame) unbind() {
	for _, s := range f.bound {
		f.window.Canvas().RemoveShortcut(s.fyneShortcut())
	}
	f.bound = nil
}

// do carries out what a stroke stands for.
func (f *frame) do(s stroke) bool {
	if f.here == nil || f.closing {
		return false
	}
	if len(f.window.Canvas().Overlays().List()) > 0 {
		return false
	}
	a, ok := f.all().find(s)
	if !ok || (a.changes && f.bench.ReadOnly()) {
		return false
	}
	a.run()
	return true
}

func (f *frame) typedKey(name fyne.KeyName) bool {
	if f.do(plain(name)) {
		return true
	}
	if name == fyne.KeyEscape && f.here != nil {
		if overlay := f.window.Canvas().Overlays().Top(); overlay != nil {
			overlay.Hide()
			f.window.Canvas().Overlays().Remove(overlay)
			return true
		}
		if !f.notices.takeLast() {
			f.here.back()
		}
		return true
	}
	return false
}

func (f *frame) typedRune(r rune) bool { return f.do(letter(r)) }

func (f *frame) shortcut(s fyne.Shortcut) bool {
	own, ok := shortcutOf(s)
	return ok && f.do(own)
}

// focus puts the keys to a widget.
func (f *frame) focus(w fyne.Focusable) { f.window.Canvas().Focus(w) }

func (f *frame) drop(uris []fyne.URI) {
	var paths []string
	for _, u := range uris {
		if u.Scheme() == "file" {
			paths = append(paths, u.Path())
		}
	}
	switch {
	case len(paths) == 0:
		f.notices.put(notice{ID: "drop", Warns: true, words: words{
			Title: "Nothing was attached.", Message: "Only files and folders of this machine can be dropped here."}})
	case f.here == nil || !f.here.dropped(paths):
		f.notices.put(notice{ID: "drop", Warns: true, words: words{
			Title: "Nothing was attached.", Message: "Open a record first, then drop photos on its window."}})
	}
}

// nextShade goes from the system's shade to light, dark and back.
func (f *frame) nextShade() {
	next := map[Shade]Shade{AsSystem: LightUI, LightUI: DarkUI, DarkUI: AsSystem}
	f.setShade(next[f.settings.Shade])
}

func (f *frame) setShade(s Shade) {
	f.settings.Shade, f.look.shade = s, s
	f.app.Settings().SetTheme(f.look)
	f.keepSettings()
}

func (f *frame) setUnit(u gauge.Unit) {
	f.settings.Unit = u
	f.keepSettings()
}

// keepSettings writes what the window remembers. That it could not is worth a
// word, once, and no more.
func (f *frame) keepSettings() {
	if f.keep == nil {
		return
	}
	if err := f.keep(f.settings.text()); err != nil {
		f.notices.put(notice{ID: "settings", words: wordsFor("The window's settings were not kept.", err)})
	}
}
