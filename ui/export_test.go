package ui

import (
	"image"
	_ "image/jpeg"
	_ "image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
)

// attachShown attaches a photo and waits until it is the one that is worked on.
func (h *hands) attachShown(path string) {
	h.t.Helper()
	h.attach(path)
	h.until("it to be shown", func() bool {
		p, ok := h.place().viewer.record()
		return ok && p.Number == len(h.record().Photos) && h.place().viewer.photoView.HasPhoto() && h.place().viewer.photoView.photo.Number == p.Number
	})
}

// exports opens the sheet with its key, chooses a format by its number and writes into
// a folder; it returns the names of the files there.
func (h *hands) exports(number, folder string) []string {
	h.t.Helper()
	h.hold(ctrl(fyne.KeyE))
	s, open := h.place().side.sheet.(*exportSheet)
	if !open {
		h.t.Fatal("Ctrl+E opens no sheet")
	}
	s.folder.SetText(folder)
	h.write(number)
	h.press(fyne.KeyReturn)
	h.until("the export", func() bool { return !s.work.running() && len(s.says.pieces) > 1 })
	var names []string
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		names = append(names, e.Name())
		if s.says.pieces[0].Text == "Written: " && len(entries) <= 4 && !strings.Contains(s.says.pieces[1].Text, e.Name()) {
			h.t.Errorf("of %s it says %q", e.Name(), s.says.pieces[1].Text)
		}
	}
	return names
}

// TestEveryExportFromTheWindow holds that the window writes all that the command line
// does, by keys alone.
func TestEveryExportFromTheWindow(t *testing.T) {
	h := atWork(t)
	for _, path := range photoFiles(t, "a.jpg", "bb.jpg") {
		h.attachShown(path)
		h.outlined("rust p", "2")
	}
	var known []string
	for i, w := range exportWays {
		known = append(known, w.as)
		folder := filepath.Join(t.TempDir(), "new", w.as)
		names := h.exports(string(rune('1'+i)), folder)
		want := map[string]string{
			"jpeg": "photo-002.jpg", "png": "photo-002.png", "svg": "photo-002.svg", "stripped": "photo-002-stripped.jpg stripped.csv",
			"csv": "extents.csv findings.csv readings.csv workings.csv", "annotations": "annotations.jsonld", "coco": "coco.json",
		}[w.as]
		if strings.Join(names, " ") != want {
			t.Errorf("as %s it wrote %q, want %q", w.as, names, want)
		}
		h.press(fyne.KeyEscape)
		if h.place().side.open() {
			t.Fatal("Escape leaves the sheet open")
		}
	}
	formats := inspection.ExportFormats()
	slices.Sort(formats)
	if slices.Sort(known); !slices.Equal(known, formats) {
		t.Errorf("the window knows %q, the program %q", known, formats)
	}
}

// TestExportOfAllPhotos holds that those that are picked are exported first of all, and
// every one on request.
func TestExportOfAllPhotos(t *testing.T) {
	h := atWork(t)
	for _, path := range photoFiles(t, "a.jpg", "bb.jpg") {
		h.attachShown(path)
		h.outlined("rust p", "2")
	}
	h.attachShown(photoFile(t, "bare.jpg", image.White))
	folder := t.TempDir()
	if names := h.exports("2", folder); len(names) != 0 {
		t.Errorf("of a photo without an outline came %q", names)
	}
	s := h.place().side.sheet.(*exportSheet)
	if says := s.says.pieces[1].Text; !strings.Contains(says, "have no outline") || !strings.Contains(says, "Nothing was written") {
		t.Errorf("it says %q", says)
	}
	h.f.focus(s.which)
	h.press(fyne.KeyRight, fyne.KeyReturn)
	h.until("the export", func() bool { return s.written != "" })
	if says := s.says.pieces[1].Text; says != "photo-001.png and photo-002.png in "+folder+"." {
		t.Errorf("it says %q", says)
	}
	file, err := os.Open(filepath.Join(folder, "photo-001.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if img, _, err := image.Decode(file); err != nil || img.Bounds().Dx() != 640 {
		t.Errorf("%v, or the picture has another size", err)
	}
}

// TestExportGoesOn holds that an export goes on when its sheet is closed, and that a
// folder that can't be written to is told.
func TestExportGoesOn(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", image.White))
	h.outlined("rust p", "2")
	h.hold(ctrl(fyne.KeyE))
	s := h.place().side.sheet.(*exportSheet)
	folder := t.TempDir()
	s.folder.SetText(folder)
	s.submit()
	h.press(fyne.KeyEscape)
	h.until("the notice", func() bool { return strings.Contains(h.titles(), "The export is written.") })

	path := photoFile(t, "in-the-way", image.Black)
	h.exports("5", filepath.Join(path, "below"))
	s = h.place().side.sheet.(*exportSheet)
	if says := s.says.pieces; says[0].Text != "Not all was exported. " || s.written != "" {
		t.Errorf("it says %+v", says)
	}
}
