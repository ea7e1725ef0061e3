package ui

import (
	"image"
	"math"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/record"
)

// A photo on the move is coarse where whole frames take too long, and only there.
func TestOnlyAMovingPhotoIsCoarse(t *testing.T) {
	const width, height = 501, 401
	slow := 10 * time.Millisecond
	for name, c := range map[string]struct {
		cost   time.Duration
		before time.Duration // since it was moved last
		doing  func(*PhotoView)
		coarse bool
	}{
		"on the move":              {slow, time.Millisecond, func(v *PhotoView) { v.view.Pan(5, 3) }, true},
		"zoomed on and on":         {slow, time.Millisecond, func(v *PhotoView) { v.ZoomBy(1.02) }, true},
		"one step out of the blue": {slow, time.Second, func(v *PhotoView) { v.ZoomBy(1.25) }, false},
		"at rest":                  {slow, time.Millisecond, func(*PhotoView) {}, false},
		"on a quick machine":       {time.Millisecond, time.Millisecond, func(v *PhotoView) { v.view.Pan(5, 3) }, false},
		"under the magnifier":      {slow, time.Millisecond, func(v *PhotoView) { v.SetLens(true); v.view.Pan(5, 3) }, false},
		"pixel by pixel":           {slow, time.Millisecond, func(v *PhotoView) { v.ZoomBy(9) }, false},
	} {
		t.Run(name, func(t *testing.T) {
			v := movable(t, fyne.NewSize(width, height))
			v.paint(width, height)
			v.motion.cost, v.motion.moved = c.cost, time.Now().Add(-c.before)
			c.doing(v)
			want := image.Pt(width, height)
			if c.coarse {
				want = image.Pt(251, 201)
			}
			if got := v.paint(width, height).Bounds().Size(); got != want {
				t.Errorf("the frame has %v pixels, want %v", got, want)
			}
			if (v.motion.still != nil) != c.coarse {
				t.Error("a whole frame must follow a coarse one, and no other")
			}
			if got := v.paint(width, height).Bounds().Size(); got != image.Pt(width, height) {
				t.Errorf("at rest again it has %v pixels", got)
			}
		})
	}
}

// A coarse frame shows what the whole one shows, in the same places.
func TestACoarseFrameShowsTheSame(t *testing.T) {
	v := movable(t, fyne.NewSize(500, 400))
	v.SetOutlines([]ShownOutline{{ID: "a", Outline: record.Outline{Number: 1, Shape: record.Polygon,
		Points: []record.Point{{30000, 30000}, {60000, 30000}, {60000, 60000}}}}})
	v.ZoomBy(1.6)
	whole := v.compose(500, 400, 1).(*image.RGBA)
	coarse := v.compose(500, 400, coarsely).(*image.RGBA)
	off := 0.0
	for y := range 200 {
		for x := range 250 {
			mean := 0.0
			for _, p := range []image.Point{{2 * x, 2 * y}, {2*x + 1, 2 * y}, {2 * x, 2*y + 1}, {2*x + 1, 2*y + 1}} {
				mean += float64(whole.RGBAAt(p.X, p.Y).G) / 4
			}
			off += math.Abs(mean-float64(coarse.RGBAAt(x, y).G)) / (200 * 250)
		}
	}
	if off > 2 {
		t.Errorf("it is %.1f tones off on the average", off)
	}
	if again := v.compose(500, 400, 1).(*image.RGBA); again != whole {
		t.Error("the whole frame's picture is not used again")
	}
}

// movable is a view of a photo that is worth moving about in.
func movable(t *testing.T, size fyne.Size) *PhotoView {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(PhotoTheme(false))
	v := NewPhotoView()
	v.Resize(size)
	test.WidgetRenderer(v)
	img := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	for i := range img.Pix {
		x, y := i/4%1600, i/4/1600
		img.Pix[i] = uint8(x/8 + y/8)
	}
	v.SetPhoto(record.Photo{File: "a", Number: 1, Width: 1600, Height: 1200, Orientation: 1}, img)
	v.ZoomBy(2)
	return v
}
