package ui

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// largePhotoFile is a grey photo of 17 megapixels, black to the left and white to the
// right of a line that only its full size shows in place.
func largePhotoFile(t testing.TB, name string) string {
	t.Helper()
	const w, h, line = 5000, 3400, 2501
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := line; x < w; x++ {
			img.Pix[y*img.Stride+x] = 255
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// composed is the photo's view as the window draws it, and the tiles it misses.
func (h *hands) composed() (*image.RGBA, int) {
	v := h.place().viewer.photoView
	size := v.Size()
	img := v.Compose(int(size.Width), int(size.Height)).(*image.RGBA)
	return img, len(v.frame.blit.missing)
}

func TestLargePhotoIsCutAndLookedAtClosely(t *testing.T) {
	h := atWork(t)
	h.attach(largePhotoFile(t, "large.jpg"))
	v := h.place().viewer
	h.until("its preview", func() bool { return v.photoView.HasPhoto() && v.photoView.tiles != nil })
	p, _ := v.record()
	v.photoView.Actual()
	if _, missing := h.composed(); missing == 0 {
		t.Fatal("one to one it wants no tiles")
	}
	h.until("the tiles to come", func() bool { _, missing := h.composed(); return missing == 0 })
	img, _ := h.composed()
	size := v.photoView.Size()
	x, y := v.photoView.view.ToView(plane.Point{X: 2501, Y: 1700})
	at := func(dx int) color.RGBA { return img.RGBAAt(int(x+0.5)+dx, int(y)) }
	if int(size.Width) < 50 || at(-2).R > 60 || at(1).R < 190 {
		t.Errorf("beside the line it shows %v and %v", at(-2), at(1))
	}
	if _, err := h.bench.Tile(t.Context(), p, 0, 3, 2); err != nil {
		t.Error(err)
	}
}

// A tile that was spoilt since is made again while one looks; stopping that leaves the
// photo as it is until it is chosen again.
func TestSpoiltTilesAreMadeAgain(t *testing.T) {
	h := atWork(t)
	h.attach(largePhotoFile(t, "large.jpg"))
	v, large := h.place().viewer, h.place().closely
	h.until("its preview", func() bool { return v.photoView.HasPhoto() && v.photoView.tiles != nil })
	p, _ := v.record()
	h.until("it to be cut", func() bool {
		_, err := h.bench.Tile(t.Context(), p, len(inspection.TileLevels(p))-1, 0, 0)
		return err == nil && large.job == nil
	})
	spoil := func() {
		found, _ := filepath.Glob(filepath.Join(h.bench.Dir(), "views", "*", p.File+".tile-0-*"))
		if len(found) == 0 {
			t.Fatal("there are no tiles to spoil")
		}
		for _, path := range found {
			if err := os.Truncate(path, 100); err != nil {
				t.Fatal(err)
			}
		}
	}
	spoil()
	v.photoView.Actual()
	h.composed()
	h.until("the tiles to be made again and to come", func() bool { _, missing := h.composed(); return missing == 0 })
	h.until("the end of it", func() bool { return large.job == nil })

	spoil()
	for key, at := range h.f.pictures.found {
		if key.size == tileSize {
			h.f.pictures.cache.Remove(at)
			delete(h.f.pictures.found, key)
		}
	}
	again := h.f.pictures.tilesFor(p, v.photoView, large.cut)
	v.photoView.SetTiles(p, again)
	h.composed()
	h.until("it to be cut once more", func() bool { return large.job != nil })
	large.job.Cancel()
	h.until("it to be given up", func() bool { return large.job == nil && again.failed })
	if _, missing := h.composed(); missing == 0 || large.job != nil {
		t.Errorf("after it was stopped %d tiles are missing, and a job %v runs", missing, large.job)
	}
}

func TestReaderLooksClosely(t *testing.T) {
	dir := t.TempDir()
	id := func() record.ID {
		h := newHands(t, inspection.Options{Dir: dir}, "")
		id := h.begun("40117", "Joss Ternway")
		h.open(id)
		h.attach(largePhotoFile(t, "large.jpg"))
		h.settled()
		h.f.window.Close()
		h.bench.Close()
		return id
	}()
	found, _ := filepath.Glob(filepath.Join(dir, "views", "*", "*.tile-*"))
	for _, path := range found {
		os.Remove(path)
	}
	h := newHands(t, inspection.Options{Dir: dir, ReadOnly: true}, "")
	h.open(id)
	v := h.place().viewer
	v.setScope(ofAll)
	h.until("its preview", func() bool { return v.photoView.HasPhoto() && v.photoView.tiles != nil })
	v.photoView.Actual()
	h.composed()
	h.until("the tiles to come", func() bool { _, missing := h.composed(); return missing == 0 })
}
