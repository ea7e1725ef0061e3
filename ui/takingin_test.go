package ui

import (
	"fmt"
	"image/color"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/inspection"
)

// titles are those of the notices of the place that is open.
func (h *hands) titles() string {
	var all []string
	for _, n := range h.place().notices.notices {
		all = append(all, n.Title)
	}
	return strings.Join(all, " ")
}

// photoFiles makes files of photos that differ, and returns their paths.
func photoFiles(t *testing.T, names ...string) []string {
	t.Helper()
	var paths []string
	for i, name := range names {
		paths = append(paths, photoFile(t, name, color.RGBA{R: uint8(40 * i), G: uint8(255 - 30*i), B: uint8(len(name) * 9), A: 255}))
	}
	return paths
}

func TestPastedPaths(t *testing.T) {
	paths := photoFiles(t, "a one.jpg", "b.jpg", "c.jpg")
	uri := "file://" + strings.ReplaceAll(filepath.ToSlash(paths[0]), " ", "%20")
	for name, text := range map[string]string{
		"lines":     strings.Join(paths, "\n"),
		"quoted":    `"` + strings.Join(paths, `" "`) + `"`,
		"addresses": uri + "\nfile://" + paths[1] + "\r\nfile://" + paths[2] + "\n",
	} {
		t.Run(name, func(t *testing.T) {
			h := atWork(t)
			h.hold(ctrl(fyne.KeyO))
			sheet := h.place().side.sheet.(*attachSheet)
			clipboard := test.NewClipboard()
			clipboard.SetContent(text)
			sheet.path.TypedShortcut(&fyne.ShortcutPaste{Clipboard: clipboard})
			if got := len(sheet.ticks()); got != 3 {
				t.Fatalf("%d photos are ticked: %q", got, sheet.ticks())
			}
			h.press(fyne.KeyReturn)
			h.until("the photos", func() bool { return len(h.record().Photos) == 3 })
			h.until("them to be picked", func() bool { return len(h.place().viewer.picked()) == 3 })
		})
	}
}

func TestPathsPastedOnThePhoto(t *testing.T) {
	h := atWork(t)
	paths := photoFiles(t, "a.jpg", "b.jpg")
	h.f.app.Clipboard().SetContent(strings.Join(paths, "\n"))
	h.hold(ctrl(fyne.KeyV))
	h.until("the photos", func() bool { return len(h.record().Photos) == 2 })
	h.f.app.Clipboard().SetContent("just words")
	h.hold(ctrl(fyne.KeyV))
	if told := h.place().viewer.photoView.told; told == "" {
		t.Error("nothing is said of a text that is no path")
	}
}

func TestPastedPathThatIsGone(t *testing.T) {
	h := atWork(t)
	paths := append(photoFiles(t, "a.jpg"), filepath.Join(t.TempDir(), "gone.jpg"))
	h.hold(ctrl(fyne.KeyO))
	h.f.window.Canvas().Focused().(*field).SetText(`"` + strings.Join(paths, `" "`) + `"`)
	h.press(fyne.KeyReturn)
	h.until("the notice", func() bool { return strings.Contains(h.titles(), "1 file was not attached.") })
	if n := h.place().notices.notices[0]; len(n.List) != 1 || !strings.Contains(n.List[0], "gone.jpg") || len(h.record().Photos) != 1 {
		t.Errorf("the notice lists %q, %d photos are there", n.List, len(h.record().Photos))
	}
}

func TestWhatIsToldOfPhotos(t *testing.T) {
	h := atWork(t)
	paths := photoFiles(t, "IMG_0012.jpg", "IMG_0015.jpg")
	h.place().attach(paths)
	h.until("the notice of the gap", func() bool { return strings.Contains(h.titles(), "The camera's numbers leap.") })
	at := slices.IndexFunc(h.place().notices.notices, func(n notice) bool { return n.ID == "gaps" })
	if n := h.place().notices.notices[at]; n.Warns || n.Message != "Between IMG_0012 and IMG_0015 2 photos are not here. Left in the camera, or deleted?" {
		t.Errorf("it says %q", n.Message)
	}
	if !strings.Contains(h.titles(), "Photo 2 looks nearly like photo 1.") {
		t.Errorf("of two that are alike it says %q", h.titles())
	}
	h.press(fyne.KeyEscape, fyne.KeyEscape)
	h.place().attach(paths[:1])
	h.until("the notice of a known photo", func() bool { return strings.Contains(h.titles(), "1 photo was here already.") })
	if strings.Contains(h.titles(), "leap") || len(h.record().Photos) != 2 {
		t.Errorf("it says %q of %d photos", h.titles(), len(h.record().Photos))
	}
}

func TestTakenInToNoPart(t *testing.T) {
	h := atWork(t)
	h.hold(ctrl(fyne.KeyO))
	sheet := h.place().side.sheet.(*attachSheet)
	h.place().viewer.newLoose = true
	sheet.attach(t.TempDir(), photoFiles(t, "a.jpg", "b.jpg"))
	v := h.place().viewer
	h.until("them to be shown", func() bool { return v.scope == unassigned && len(v.strip.Items) == 2 })
	h.wantSubjects("1 ; 2 ")
	if len(v.picked()) != 1 {
		t.Errorf("%d photos of no part are picked unasked: one that is dragged takes the others along", len(v.picked()))
	}
	h.hold(ctrl(fyne.KeyA))
	h.write("p")
	h.write("input shaft")
	h.press(fyne.KeyReturn)
	h.wantSubjects("1 Input shaft; 2 Input shaft")
}

// A folder is typed over the one that stands there, and all of it goes in with two
// strokes.
func TestAFolderIsTakenInByKeys(t *testing.T) {
	h := atWork(t)
	files := photoFiles(t, "a.jpg", "b.jpg")
	if err := os.Rename(files[1], filepath.Join(filepath.Dir(files[0]), "b.jpg")); err != nil {
		t.Fatal(err)
	}
	h.hold(ctrl(fyne.KeyO))
	sheet := h.place().side.sheet.(*attachSheet)
	h.until("the folder to be read", func() bool { return sheet.folder != "" })
	h.write(filepath.Dir(files[0]))
	h.press(fyne.KeyReturn)
	h.until("the typed folder to be read", func() bool { return sheet.folder == filepath.Dir(files[0]) && len(sheet.photos) > 0 })
	if sheet.do.Text != "Attach all 2 photos   Ctrl+Enter" {
		t.Errorf("the button says %q", sheet.do.Text)
	}
	h.hold(ctrl(fyne.KeyReturn))
	h.until("both to be taken in", func() bool { return len(h.record().Photos) == 2 })
	h.wantSubjects("1 Input shaft; 2 Input shaft")
}

func TestTakingInIsStopped(t *testing.T) {
	h := atWork(t)
	var names []string
	for i := range 6 {
		names = append(names, fmt.Sprintf("p%d.jpg", i))
	}
	h.place().attach(photoFiles(t, names...))
	if !h.place().work.object.Visible() {
		t.Fatal("no progress is shown")
	}
	h.place().work.lines[0].job.Cancel()
	h.until("the notice", func() bool {
		return strings.Contains(h.titles(), "No photo was attached.") || len(h.record().Photos) > 0
	})
	if h.place().work.object.Visible() {
		t.Error("the progress stays")
	}
}

func TestLeftSays(t *testing.T) {
	for left, want := range map[time.Duration]string{
		0: "", 300 * time.Millisecond: "about 5 s left", 12 * time.Second: "about 15 s left", 55 * time.Second: "about 55 s left",
		58 * time.Second: "about 1 min left", 100 * time.Second: "about 2 min left", 10 * time.Minute: "about 10 min left",
	} {
		if got := leftSays(left); got != want {
			t.Errorf("%s: %q, want %q", left, got, want)
		}
	}
}

// byHand gives the times to look into the phone's folder, one for each call.
func (h *hands) byHand() (tick func()) {
	times := make(chan time.Time)
	h.f.ticks = func(time.Duration) (<-chan time.Time, func()) { return times, func() {} }
	return func() {
		h.t.Helper()
		deadline := time.After(patience)
		for {
			select {
			case times <- time.Time{}:
				return
			case work := <-h.line:
				work()
			case <-deadline:
				h.t.Fatal("the folder is not looked at")
			}
		}
	}
}

func TestPhoneFolder(t *testing.T) {
	dir := t.TempDir()
	put := func(path string) {
		t.Helper()
		if err := os.Rename(path, filepath.Join(dir, filepath.Base(path))); err != nil {
			t.Fatal(err)
		}
	}
	files := photoFiles(t, "old.jpg", "IMG_0001.jpg", "IMG_0002.jpg", "while-away.jpg", "IMG_0003.jpg")
	put(files[0])
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, `{"phone": "`+filepath.ToSlash(dir)+`"}`)
	tick := h.byHand()
	id := h.begun("40117", "Joss Ternway")
	h.open(id)
	h.until("the folder to be watched", func() bool { return h.f.phone != nil })
	put(files[1])
	if err := os.WriteFile(filepath.Join(dir, "half.jpg"), []byte{0xff, 0xd8}, 0o644); err != nil {
		t.Fatal(err)
	}
	tick()
	tick()
	tick()
	h.until("a photo", func() bool { return strings.Contains(h.titles(), "1 photo came in from the phone.") })
	n := h.place().notices.notices[0]
	if len(h.record().Photos) != 1 || len(n.List) != 1 || !strings.Contains(n.List[0], "half.jpg") {
		t.Fatalf("%d photos are here, the notice lists %q", len(h.record().Photos), n.List)
	}
	// A half that is written on to its end comes in then.
	whole, err := os.ReadFile(files[2])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "half.jpg"), whole, 0o644); err != nil {
		t.Fatal(err)
	}
	tick()
	tick()
	tick()
	h.until("the other half", func() bool { return len(h.record().Photos) == 2 })
	h.until("the notice", func() bool { return strings.Contains(h.titles(), "2 photos came in from the phone.") })
	i := slices.IndexFunc(h.place().notices.notices, func(n notice) bool { return n.ID == "phone" })
	h.place().notices.notices[i].Doing()
	if v := h.place().viewer; v.scope != unassigned || len(v.strip.Items) != 2 || len(v.picked()) != 1 {
		t.Errorf("shown are %s, %d picked", v.scope, len(v.picked()))
	}

	// What appears while no record is open is offered, not taken.
	h.settled()
	h.hold(ctrl(fyne.KeyR))
	put(files[3])
	h.open(id)
	h.until("the offer", func() bool { return strings.Contains(h.titles(), "1 photo has appeared in the phone's folder.") })
	if len(h.record().Photos) != 2 {
		t.Fatal("it was taken in unasked")
	}
	h.place().notices.notices[0].Doing()
	h.until("it to come in", func() bool { return len(h.record().Photos) == 3 })

	// The folder goes, with the phone, and comes back.
	if err := os.Rename(dir, dir+"-away"); err != nil {
		t.Fatal(err)
	}
	tick()
	h.until("the notice", func() bool { return strings.Contains(h.titles(), "Photos of the phone do not come in.") })
	if err := os.Rename(dir+"-away", dir); err != nil {
		t.Fatal(err)
	}
	tick()
	h.until("it to go", func() bool { return !strings.Contains(h.titles(), "do not come in") })
	if got := h.subjects(); got != "1 ; 2 ; 3 " {
		t.Errorf("they show %q", got)
	}
}

func TestWatchingAFolderIsSetInTheSheet(t *testing.T) {
	dir := t.TempDir()
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, `{"photos": "`+filepath.ToSlash(dir)+`"}`)
	h.byHand()
	h.open(h.begun("40117", "Joss Ternway"))
	h.hold(ctrl(fyne.KeyO))
	sheet := h.place().side.sheet.(*attachSheet)
	h.until("the folder to be read", func() bool { return sheet.folder == dir })
	sheet.watch.OnTapped()
	if h.f.settings.Phone != dir || !sheet.watch.On || !strings.HasPrefix(h.place().viewer.watched.Text, "watching ") {
		t.Errorf("the setting is %q, the window says %q", h.f.settings.Phone, h.place().viewer.watched.Text)
	}
	h.until("the folder to be watched", func() bool { return h.f.phone != nil })
	sheet.watch.OnTapped()
	if h.f.settings.Phone != "" || h.place().viewer.watched.Text != "" || h.place().phone.stop != nil {
		t.Error("it is still watched")
	}
}

// TestTwoTakeInsAtOnce holds that each has a line of its own, can be stopped by itself,
// and that what one could not take in is told beside what the other could not.
func TestTwoTakeInsAtOnce(t *testing.T) {
	h := atWork(t)
	gone := func(name string) string { return filepath.Join(t.TempDir(), name) }
	files := photoFiles(t, "a.jpg", "bb.jpg", "ccc.jpg", "dddd.jpg")
	h.place().attach([]string{files[0], gone("first.jpg"), files[1]})
	h.place().attach([]string{files[2], gone("second.jpg")})
	h.place().attach(files[3:])
	w := h.place().work
	if len(w.lines) != 3 || len(w.object.Objects) != 3 {
		t.Fatalf("there are %d lines", len(w.lines))
	}
	w.lines[1].show(inspection.Progress{Total: 2, Waits: true})
	if got := w.lines[1].text.Text; got != "Taking in photos · 2 wait for those before" {
		t.Errorf("the second says %q", got)
	}
	third := w.lines[2].job
	third.Cancel()
	h.until("all to end", func() bool { return len(w.lines) == 0 })
	if w.object.Visible() {
		t.Error("the progress stays")
	}
	var lists []string
	for _, n := range h.place().notices.notices {
		lists = append(lists, n.List...)
	}
	if all := strings.Join(lists, "; "); !strings.Contains(all, "first.jpg") || !strings.Contains(all, "second.jpg") {
		t.Errorf("told is %q", all)
	}
	if err := third.Wait(); err == nil {
		t.Skip("the third was done before it could be stopped")
	}
	if got := len(h.record().Photos); got != 3 {
		t.Errorf("%d photos were taken in, want 3", got)
	}
}
