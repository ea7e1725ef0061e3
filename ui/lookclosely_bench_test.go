//go:build linux

package ui

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// photos48 writes photos of 48 megapixels, each another file.
func photos48(b *testing.B, count int) []string {
	b.Helper()
	const w, h = 8000, 6000
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		for x := range w {
			img.Y[y*img.YStride+x] = byte(60 + x*60/w + y*60/h + (x/300+y/300)%2*40)
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 120, 131
	}
	var packed bytes.Buffer
	if err := jpeg.Encode(&packed, img, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	dir := b.TempDir()
	var paths []string
	for i := range count {
		path := filepath.Join(dir, fmt.Sprintf("IMG_%04d.jpg", i+1))
		comment := fmt.Sprintf("\xff\xd8\xff\xfe\x00\x06%04d", i) // makes it another file
		if err := os.WriteFile(path, append([]byte(comment), packed.Bytes()[2:]...), 0o644); err != nil {
			b.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// archiveOf is an archive with one record that holds photos, all ready to be looked
// at closely.
func archiveOf(b *testing.B, paths []string) (dir string, id record.ID) {
	b.Helper()
	dir = b.TempDir()
	h := newHands(b, inspection.Options{Dir: dir}, "")
	id = h.begun("40117", "Joss Ternway")
	h.open(id)
	job := h.place().n.AttachPhotos(b.Context(), nil, "", paths)
	if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
		b.Fatal(err, job.Failed())
	}
	var photos []record.Photo
	for _, p := range h.record().Photos {
		photos = append(photos, p)
	}
	if err := h.bench.Cut(b.Context(), photos, false).Wait(); err != nil {
		b.Fatal(err)
	}
	h.settled()
	h.f.window.Close()
	if err := h.bench.Close(); err != nil {
		b.Fatal(err)
	}
	return dir, id
}

// BenchmarkLargePhotoShows measures from the click on the thumbnail of a photo of 48
// megapixels to the first frame that shows it, in a program that has just opened its
// archive, to the one that shows its preview, and from one to one to the frame that
// misses no tile.
func BenchmarkLargePhotoShows(b *testing.B) {
	dir, id := archiveOf(b, photos48(b, 2))
	var shows, preview, sharp time.Duration
	for b.Loop() {
		h := newHands(b, inspection.Options{Dir: dir}, "")
		h.open(id)
		v := h.place().viewer
		v.setScope(ofAll)
		h.until("the first photo", func() bool { return v.photoView.HasPhoto() && v.photoView.tiles != nil })
		ids := v.list(ofAll)
		began := time.Now()
		v.choose(ids[1])
		h.until("the photo", v.photoView.HasPhoto)
		h.composed()
		shows += time.Since(began)
		h.until("its preview", func() bool { return v.photoView.tiles != nil })
		h.composed()
		preview += time.Since(began)
		began = time.Now()
		v.photoView.Actual()
		h.composed()
		h.until("all tiles", func() bool { _, missing := h.composed(); return missing == 0 })
		sharp += time.Since(began)
		h.f.window.Close()
		if err := h.bench.Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(shows.Milliseconds())/float64(b.N), "ms-to-photo")
	b.ReportMetric(float64(preview.Milliseconds())/float64(b.N), "ms-to-preview")
	b.ReportMetric(float64(sharp.Milliseconds())/float64(b.N), "ms-to-sharp")
}

// openedPhotos is how many photos of 48 megapixels are opened one after another.
const openedPhotos = 60

// BenchmarkMemoryOf60LargePhotos opens them and looks at each fitted, in between and
// one to one: the most memory that the process has meanwhile.
func BenchmarkMemoryOf60LargePhotos(b *testing.B) {
	dir, id := archiveOf(b, photos48(b, openedPhotos))
	debug.FreeOSMemory()
	before := forgetPeak(b)
	for b.Loop() {
		h := newHands(b, inspection.Options{Dir: dir}, "")
		h.open(id)
		v := h.place().viewer
		v.setScope(ofAll)
		for _, id := range v.list(ofAll) {
			v.choose(id)
			h.until("the photo", func() bool { return v.photoView.HasPhoto() && v.photoView.tiles != nil })
			for _, zoom := range []float64{1, 4, 100} {
				v.photoView.ZoomBy(zoom)
				if zoom == 100 {
					v.photoView.Actual()
				}
				h.until("all tiles", func() bool { _, missing := h.composed(); return missing == 0 })
			}
		}
		if kept := h.f.pictures.bytes; kept > pictureBytes {
			b.Errorf("%d bytes of pictures are kept, at most %d may be", kept, pictureBytes)
		}
		h.f.window.Close()
		if err := h.bench.Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(before, "MB-before")
	b.ReportMetric(peakMB(b), "MB-peak")
}

// forgetPeak begins to count the most memory anew and returns what is in use.
func forgetPeak(b *testing.B) float64 {
	b.Helper()
	if err := os.WriteFile("/proc/self/clear_refs", []byte("5"), 0); err != nil {
		b.Skipf("this system does not tell the most memory: %v", err)
	}
	return peakMB(b)
}

func peakMB(b *testing.B) float64 {
	b.Helper()
	status, err := os.Open("/proc/self/status")
	if err != nil {
		b.Fatal(err)
	}
	defer status.Close()
	for lines := bufio.NewScanner(status); lines.Scan(); {
		if rest, ok := strings.CutPrefix(lines.Text(), "VmHWM:"); ok {
			kilobytes, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(rest), " kB"), 64)
			if err != nil {
				b.Fatal(err)
			}
			return kilobytes / 1024
		}
	}
	b.Fatal("the system does not tell the most memory")
	return 0
}
