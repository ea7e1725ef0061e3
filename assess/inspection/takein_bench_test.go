package inspection_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// benchPhotos is how many photos of 12 megapixels are taken in.
const benchPhotos = 100

// photosOfTheBench writes photos that pack about as badly as those of worn parts:
// soft shapes under grain. Each differs from the next.
func photosOfTheBench(b *testing.B) []string {
	b.Helper()
	const w, h = 4000, 3000
	rnd := rand.New(rand.NewPCG(7, 11))
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	for y := range h {
		row := img.Y[y*img.YStride : y*img.YStride+w]
		for x := range row {
			row[x] = byte(70 + (x*90)/w + (y*50)/h + ((x/97+y/61)%3)*9 + rnd.IntN(24))
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = byte(118+(i/89)%12+rnd.IntN(4)), byte(124+(i/143)%10+rnd.IntN(4))
	}
	var packed bytes.Buffer
	if err := jpeg.Encode(&packed, img, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	dir := b.TempDir()
	var paths []string
	for i := range benchPhotos {
		path := filepath.Join(dir, fmt.Sprintf("IMG_%04d.jpg", i+1))
		// A comment in front makes it another file.
		comment := fmt.Sprintf("\xff\xd8\xff\xfe\x00\x06%04d", i)
		if err := os.WriteFile(path, append([]byte(comment), packed.Bytes()[2:]...), 0o644); err != nil {
			b.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// BenchmarkTakeIn takes 100 photos of 12 megapixels into an archive: hash, EXIF,
// original on the disk, preview and thumbnail. Beside it vipsthumbnail makes the
// previews alone of the same files.
func BenchmarkTakeIn(b *testing.B) {
	tool, err := exec.LookPath("vipsthumbnail")
	if err != nil {
		b.Skip("vipsthumbnail is not here; .ci/packages.sh bench installs it")
	}
	paths := photosOfTheBench(b)
	var ours, theirs time.Duration
	for b.Loop() {
		out := b.TempDir()
		started := time.Now()
		args := append([]string{"--size", "1600", "-o", filepath.Join(out, "%s.jpg[Q=85]")}, paths...)
		if said, err := exec.CommandContext(b.Context(), tool, args...).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, said)
		}
		theirs += time.Since(started)
		ours += takeInAll(b, paths)
	}
	b.ReportMetric(ours.Seconds()/float64(b.N), "s/take-in")
	b.ReportMetric(theirs.Seconds()/float64(b.N), "s/vipsthumbnail")
	b.ReportMetric(ours.Seconds()/theirs.Seconds(), "ratio")
	if peak, ok := peakMegabytes(); ok {
		b.ReportMetric(peak, "MB-peak")
	}
}

func takeInAll(b *testing.B, paths []string) time.Duration {
	b.Helper()
	bench, err := inspection.Open(b.Context(), inspection.Options{Dir: b.TempDir(), Who: "Edda Quillan"})
	if err != nil {
		b.Fatal(err)
	}
	defer bench.Close()
	n, err := bench.Begin(b.Context(), record.New(record.Unit{Type: "four-speed"}, term.Road))
	if err != nil {
		b.Fatal(err)
	}
	started := time.Now()
	job := n.AttachPhotos(b.Context(), nil, "", paths)
	if err := job.Wait(); err != nil {
		b.Fatal(err)
	}
	if err := n.Flush(b.Context()); err != nil {
		b.Fatal(err)
	}
	spent := time.Since(started)
	if len(job.Taken()) != len(paths) {
		b.Fatalf("%d of %d were taken in: %v", len(job.Taken()), len(paths), job.Failed())
	}
	return spent
}
