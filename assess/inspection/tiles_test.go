package inspection_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// slope is a photo that is lighter from left to right, and bluer downwards, so that
// each place can be told.
func slope(t *testing.T, w, h int) string {
	t.Helper()
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			img.Y[y*img.YStride+x] = uint8(80 + 100*x/w)
		}
	}
	for y := range (h + 1) / 2 {
		for x := range (w + 1) / 2 {
			img.Cb[y*img.CStride+x], img.Cr[y*img.CStride+x] = uint8(110+40*2*y/h), 128
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "slope.jpg")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// takenIn is the one photo of a fresh record.
func takenIn(t *testing.T, b *inspection.Bench, path string) record.Photo {
	t.Helper()
	n := begun(t, b)
	job := n.AttachPhotos(t.Context(), nil, term.AsFound, []string{path})
	if err := job.Wait(); err != nil || len(job.Taken()) != 1 {
		t.Fatal(err, job.Failed())
	}
	return n.Record().Photos[job.Taken()[0]]
}

// wantSlope looks at all tiles of a photo of slope.
func wantSlope(t *testing.T, b *inspection.Bench, p record.Photo) {
	t.Helper()
	shownW, shownH := inspection.ShownSize(p)
	levels := inspection.TileLevels(p)
	if l := levels[0]; l.Width != shownW || l.Height != shownH {
		t.Fatalf("the largest size is %d × %d, want %d × %d", l.Width, l.Height, shownW, shownH)
	}
	for i, l := range levels {
		for c := range len(l.Columns) - 1 {
			for r := range len(l.Rows) - 1 {
				tile, err := b.Tile(t.Context(), p, i, c, r)
				if err != nil {
					t.Fatal(err)
				}
				w, h := l.Columns[c+1]-l.Columns[c], l.Rows[r+1]-l.Rows[r]
				if tile.Rect != image.Rect(0, 0, w, h) {
					t.Fatalf("tile %d %d of size %d is %v, want %d × %d", c, r, i, tile.Rect, w, h)
				}
				for _, at := range []image.Point{{2, 2}, {w - 3, 2}, {2, h - 3}, {w - 3, h - 3}} {
					x := (float64(l.Columns[c]+at.X) + 0.5) * float64(shownW) / float64(l.Width)
					y := (float64(l.Rows[r]+at.Y) + 0.5) * float64(shownH) / float64(l.Height)
					stored := inspection.StoredPoint(p, x, y)
					wantY, wantCb := 80+100*stored[0]/100/p.Width, 110+40*stored[1]/100/p.Height
					got := tile.RGBAAt(at.X, at.Y)
					gotY := (299*int(got.R) + 587*int(got.G) + 114*int(got.B)) / 1000
					gotCb := 128 + (int(got.B)-gotY)*564/1000
					if abs(gotY-wantY) > 4 || abs(gotCb-wantCb) > 4 {
						t.Errorf("orientation %d turned %d, size %d, tile %d %d at %v: %d %d, want %d %d",
							p.Orientation, p.Turned, i, c, r, at, gotY, gotCb, wantY, wantCb)
					}
				}
			}
		}
	}
}

func abs(n int) int { return max(n, -n) }

func TestTilesOfASmallPhotoComeFromItsOriginal(t *testing.T) {
	b := bench(t, t.TempDir())
	p := takenIn(t, b, slope(t, 1301, 907))
	if inspection.KeepsTiles(p) {
		t.Fatal("a small photo keeps tiles")
	}
	for orientation := 1; orientation <= 8; orientation++ {
		p.Orientation, p.Turned = orientation, 90*(orientation%4)
		wantSlope(t, b, p)
	}
	if _, err := b.Tile(t.Context(), p, 9, 0, 0); err == nil {
		t.Error("a size that is not there gives a tile")
	}
	// The file is what it is, whatever the record says of it.
	p.Width, p.Height = 9000, 700
	for level, place := range [][2]int{{17, 1}, {0, 0}, {0, 0}, {0, 0}, {0, 0}} {
		if _, err := b.Tile(t.Context(), p, level, place[0], place[1]); err == nil || !strings.Contains(err.Error(), "1301 × 907") {
			t.Errorf("of another size than the file's, level %d gives %v", level, err)
		}
	}
}

func TestTilesOfALargePhotoAreMadeOnce(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	p := takenIn(t, b, slope(t, 5000, 3300))
	if _, err := b.Tile(t.Context(), p, 0, 0, 0); !errors.Is(err, inspection.ErrUncut) {
		t.Fatalf("before they are made a tile gives %v", err)
	}
	cut := func(anew bool) int {
		t.Helper()
		job := b.Cut(t.Context(), []record.Photo{p}, anew)
		if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
			t.Fatal(err, job.Failed())
		}
		return job.Progress().Done
	}
	if cut(false) != 1 {
		t.Error("it was not cut")
	}
	wantSlope(t, b, p)
	p.Turned = 270
	wantSlope(t, b, p)
	if cut(false) != 0 {
		t.Error("it was cut a second time")
	}

	// One is spoilt, as by a power cut, and all are gone.
	tile := filepath.Join(dir, "views", p.File[:2], p.File+".tile-1-2-1.jpg")
	if err := os.Truncate(tile, 500); err != nil {
		t.Fatal(err)
	}
	if damage, err := b.Archive().Verify(t.Context(), nil); err != nil || len(damage) > 0 {
		t.Errorf("verify gives %v, %v; tiles can be made again", damage, err)
	}
	spoilt := p
	spoilt.Turned = 0
	if _, err := b.Tile(t.Context(), spoilt, 1, 2, 1); !errors.Is(err, inspection.ErrUncut) {
		t.Errorf("a spoilt tile gives %v", err)
	}
	if cut(true) != 1 {
		t.Error("it was not cut anew")
	}
	wantSlope(t, b, spoilt)
	if err := os.RemoveAll(filepath.Join(dir, "views")); err != nil {
		t.Fatal(err)
	}
	if cut(false) != 1 {
		t.Error("it was not cut after all tiles were gone")
	}
	wantSlope(t, b, p)
}

func TestAReaderKeepsTilesInMemory(t *testing.T) {
	dir := t.TempDir()
	p := takenIn(t, bench(t, dir), slope(t, 5000, 3300))
	reader, err := inspection.Open(t.Context(), inspection.Options{Dir: dir, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	for range 2 {
		if err := reader.Cut(t.Context(), []record.Photo{p}, true).Wait(); err != nil {
			t.Fatal(err)
		}
		wantSlope(t, reader, p)
	}
	if found, _ := filepath.Glob(filepath.Join(dir, "views", "*", "*.tile-*")); len(found) > 0 {
		t.Errorf("a reader wrote %d tiles", len(found))
	}
}

func TestCuttingStopsAndNamesWhatFails(t *testing.T) {
	b := bench(t, t.TempDir())
	p := takenIn(t, b, slope(t, 5000, 3300))
	gone := p
	gone.File, gone.Number = string(record.HashOf([]byte("gone"))), 7
	job := b.Cut(t.Context(), []record.Photo{gone, p}, false)
	if err := job.Wait(); err != nil {
		t.Fatal(err)
	}
	if failed := job.Failed(); len(failed) != 1 || failed[0].Path != gone.Name {
		t.Errorf("failed are %v", failed)
	}
	wantSlope(t, b, p)
	if job.First(p) || job.Waits(p) {
		t.Error("a job that has ended takes more")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := b.Cut(ctx, []record.Photo{p}, true).Wait(); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped job gives %v", err)
	}
}
