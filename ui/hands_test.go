package ui

import (
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// patience is how long hands wait for work beside the window. Only a fault needs
// this long.
const patience = 60 * time.Second

// hands use a window as a person does: they press keys and read what is shown.
// What comes back from work beside the window waits in a line until the hands
// wait for something, so that everything of the window runs on one goroutine.
type hands struct {
	t     testing.TB
	f     *frame
	bench *inspection.Bench
	line  chan func()
	// closed is set once the window was closed.
	closed bool
}

// newHands opens a window on an archive, which is made if it is not there.
func newHands(t testing.TB, o inspection.Options, settings string) *hands {
	t.Helper()
	if o.Who == "" {
		o.Who = "Wren Aldous"
	}
	bench, err := inspection.Open(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { bench.Close() })
	h := &hands{t: t, bench: bench, line: make(chan func(), 4096)}
	h.f = newFrame(t.Context(), test.NewTempApp(t), Options{Bench: bench, Settings: []byte(settings)})
	h.f.run = func(work func()) { h.line <- work }
	h.f.window.Resize(fyne.NewSize(1280, 800))
	t.Cleanup(func() {
		if !h.closed {
			h.f.window.Close()
		}
	})
	h.f.window.SetOnClosed(func() { h.closed = true })
	h.f.begin("")
	return h
}

// atWork opens a window with a fresh record of the generic gearbox in it.
func atWork(t testing.TB) *hands {
	t.Helper()
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.open(h.begun("40117", "Joss Ternway"))
	return h
}

func (h *hands) begun(serial, owner string) record.ID {
	h.t.Helper()
	r := record.New(record.Unit{Type: "four-speed", Serial: serial}, term.Road)
	r.Owner.Name = owner
	n, err := h.bench.Begin(h.t.Context(), r)
	if err != nil {
		h.t.Fatal(err)
	}
	return n.ID()
}

func (h *hands) open(id record.ID) {
	h.t.Helper()
	h.f.here.(*register).open(id)
	h.until("the inspection to open", func() bool { _, ok := h.f.here.(*inspectionPlace); return ok })
}

// until does what waits in the line until something holds.
func (h *hands) until(what string, holds func() bool) {
	h.t.Helper()
	deadline := time.After(patience)
	for !holds() {
		select {
		case work := <-h.line:
			work()
		case <-deadline:
			h.t.Fatalf("waited in vain for %s; the title is %q", what, h.title())
		}
	}
}

// settled waits until the title tells that all is saved.
func (h *hands) settled() {
	h.t.Helper()
	h.until("all to be saved", func() bool { return strings.Contains(h.title(), " · saved — ") && len(h.line) == 0 })
}

func (h *hands) title() string { return h.f.window.Title() }

func (h *hands) wantTitle(want string) {
	h.t.Helper()
	h.until("the title "+want, func() bool { return h.title() == want })
}

// press presses keys that are no text, one after the other.
func (h *hands) press(names ...fyne.KeyName) {
	for _, name := range names {
		h.stroke(name, 0)
	}
}

// write types text. The window is told of a letter twice, as the driver does: as
// a key and as a rune.
func (h *hands) write(text string) {
	for _, r := range text {
		name := fyne.KeyName(strings.ToUpper(string(r)))
		if r == ' ' {
			name = fyne.KeySpace
		}
		h.stroke(name, r)
	}
}

// stroke tells the window of one key as the driver does: down, typed, the rune if
// there is one, up; each to what has the focus at that moment.
func (h *hands) stroke(name fyne.KeyName, r rune) {
	c, ev := h.f.window.Canvas(), &fyne.KeyEvent{Name: name}
	if focused, ok := c.Focused().(desktop.Keyable); ok {
		focused.KeyDown(ev)
	}
	if focused := c.Focused(); focused != nil {
		focused.TypedKey(ev)
	} else {
		c.OnTypedKey()(ev)
	}
	if focused := c.Focused(); r != 0 && focused != nil {
		focused.TypedRune(r)
	} else if r != 0 {
		c.OnTypedRune()(r)
	}
	if focused, ok := c.Focused().(desktop.Keyable); ok {
		focused.KeyUp(ev)
	}
}

// hold presses a key together with Control and the like, on the way that the
// driver takes.
func (h *hands) hold(s stroke) {
	c := h.f.window.Canvas()
	shortcut := s.fyneShortcut()
	if focused, ok := c.Focused().(fyne.Shortcutable); ok {
		focused.TypedShortcut(shortcut)
		return
	}
	c.(interface{ TypedShortcut(fyne.Shortcut) }).TypedShortcut(shortcut)
}

func (h *hands) place() *inspectionPlace { return h.f.here.(*inspectionPlace) }

func (h *hands) record() *record.Record { return h.place().n.Record() }

// choose goes to a part by its name.
func (h *hands) choose(part string) {
	h.t.Helper()
	h.hold(ctrl(fyne.KeyF))
	h.write(strings.ToLower(part))
	h.press(fyne.KeyReturn)
	if got := h.place().n.PartName(h.place().part); got != part {
		h.t.Fatalf("the chosen part is %q, want %q", got, part)
	}
}

// photo makes a photo file of a colour and returns its path.
func photoFile(t testing.TB, name string, ink color.Color) string {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	for i := range 16 * 16 {
		img.Set(i%16, i/16, ink)
	}
	path := filepath.Join(t.TempDir(), name)
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, img, nil); err != nil {
		t.Fatal(err)
	}
	return path
}

// attach attaches a photo file to the chosen part by typing its path.
func (h *hands) attach(path string) {
	h.t.Helper()
	before := len(h.record().Photos)
	h.hold(ctrl(fyne.KeyO))
	h.f.window.Canvas().Focused().(*field).SetText(path)
	h.press(fyne.KeyReturn)
	h.until("the photo to be attached", func() bool { return len(h.record().Photos) > before })
	h.until("the photo to be shown", func() bool { return h.place().viewer.photoView.HasPhoto() })
}
