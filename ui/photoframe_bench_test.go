package ui_test

import (
	"fmt"
	"image"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/ui"
)

// sameTiles gives one tile for all, so that a photo of 48 megapixels is not needed.
type sameTiles struct {
	levels  []inspection.TileLevel
	tile    *image.RGBA
	missing []ui.TilePlace
}

func (s *sameTiles) Levels() []inspection.TileLevel { return s.levels }
func (s *sameTiles) Tile(int, int, int) *image.RGBA { return s.tile }
func (s *sameTiles) Want(missing []ui.TilePlace)    { s.missing = missing }

var photo48 = record.Photo{File: "f", Number: 1, Width: 8000, Height: 6000, Orientation: 1}

// largePhoto is a view of a photo of 48 megapixels, its tiles in memory.
func largePhoto(size fyne.Size) (*ui.PhotoView, *sameTiles) {
	v := ui.NewPhotoView()
	v.Resize(size)
	test.WidgetRenderer(v)
	v.SetPhoto(photo48, grained(1600, 1200))
	tiles := &sameTiles{levels: inspection.TileLevels(photo48), tile: grained(512, 512)}
	v.SetTiles(photo48, tiles)
	return v, tiles
}

// manyOutlines are spread over a photo of 48 megapixels.
func manyOutlines(count int) []ui.ShownOutline {
	var outlines []ui.ShownOutline
	for i := range count {
		x, y := 100+(i%20)*380, 100+(i/20)*580
		o := polygon(record.ID(fmt.Sprint(i)), x, y, x+300, y+40, x+200, y+400, x+20, y+300)
		if i%2 == 1 {
			o = oval(record.ID(fmt.Sprint(i)), x, y, x+300, y+400)
		}
		o.Number, o.Verdict = i, term.Verdicts[i%len(term.Verdicts)]
		outlines = append(outlines, o)
	}
	return outlines
}

// BenchmarkPhotoFrame measures composing 1600 × 1000 over a photo of 48 megapixels, on
// one core, tiles in memory: the median frame and the one that 99 of 100 are as fast as.
func BenchmarkPhotoFrame(b *testing.B) {
	for _, c := range []struct {
		name     string
		outlines int
		zoom     float64 // times fitted; 0 is one to one, panned
		still    bool
		light    int
		lens     bool
	}{
		{"fitted", 0, 1, false, 0, false}, {"between", 0, 3, false, 0, false}, {"between-levels", 0, 1.7, false, 0, false},
		{"one-to-one", 0, 6, false, 0, false}, {"pixel-for-pixel", 0, 0, false, 0, false}, {"twice", 0, 12, false, 0, false},
		{"pixels", 0, 60, false, 0, false},
		{"200-outlines", 200, 1, false, 0, false}, {"200-outlines-still", 200, 1, true, 0, false},
		{"200-outlines-between", 200, 2, false, 0, false}, {"200-outlines-one-to-one", 200, 6, false, 0, false},
		{"in-other-light", 0, 3, false, 30, false}, {"lens-still", 0, 1, true, 0, true}, {"lens-in-other-light", 200, 1, true, 30, true},
	} {
		b.Run(c.name, func(b *testing.B) {
			test.NewTempApp(b).Settings().SetTheme(ui.PhotoTheme(false))
			v, _ := largePhoto(fyne.NewSize(1600, 1000))
			v.SetOutlines(manyOutlines(c.outlines))
			v.ZoomBy(c.zoom)
			if c.zoom == 0 {
				v.Actual()
			}
			v.SetLight(ui.Light{Brightness: c.light, Contrast: c.light})
			v.SetLens(c.lens)
			v.Compose(1600, 1000)
			v.Compose(1600, 1000)
			b.ReportAllocs()
			took := make([]time.Duration, 0, max(b.N, 4096))
			factor, pan := 1.001, &fyne.ScrollEvent{Scrolled: fyne.NewDelta(1, 0)}
			for b.Loop() {
				if c.zoom == 0 {
					v.Scrolled(pan)
					pan.Scrolled.DX = -pan.Scrolled.DX
				} else if !c.still {
					v.ZoomBy(factor)
					factor = 1 / factor
				}
				began := time.Now()
				v.Compose(1600, 1000)
				if len(took) < cap(took) {
					took = append(took, time.Since(began))
				}
			}
			slices.Sort(took)
			b.ReportMetric(milliseconds(took[0]), "ms-best")
			b.ReportMetric(milliseconds(took[len(took)/2]), "ms-median")
			b.ReportMetric(milliseconds(took[min(len(took)*99/100, len(took)-1)]), "ms-p99")
		})
	}
}

func milliseconds(d time.Duration) float64 { return float64(d) / 1e6 }

// BenchmarkPhotoPrepare measures making a preview ready for being drawn.
func BenchmarkPhotoPrepare(b *testing.B) {
	planes := image.NewYCbCr(image.Rect(0, 0, 1600, 1200), image.YCbCrSubsampleRatio420)
	b.ReportAllocs()
	for b.Loop() {
		ui.PreparePicture(planes)
	}
}
