package ui_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/plane"
	"fettlebook/ui"
)

// margin is the room round a fitted photo.
const margin = 14

// looked is a viewport after some zooming and panning, with its own account of the
// sizes.
type looked struct {
	ui.Viewport
	width, height float64
}

func (l *looked) resize(t *rapid.T) {
	l.width = rapid.Float64Range(40, 2500).Draw(t, "width")
	l.height = rapid.Float64Range(40, 1500).Draw(t, "height")
	l.SetView(l.width, l.height, rapid.SampledFrom([]float64{1, 1.25, 2, 0.8}).Draw(t, "density"))
}

func (l *looked) place(t *rapid.T) (x, y float64) {
	return rapid.Float64Range(0, l.width).Draw(t, "x"), rapid.Float64Range(0, l.height).Draw(t, "y")
}

func anyLook(t *rapid.T) *looked {
	l := &looked{}
	l.resize(t)
	l.SetPhoto(rapid.IntRange(1, 9000).Draw(t, "photo width"), rapid.IntRange(1, 9000).Draw(t, "photo height"))
	for range rapid.IntRange(0, 6).Draw(t, "moves") {
		x, y := l.place(t)
		switch rapid.IntRange(0, 5).Draw(t, "move") {
		case 0:
			l.ZoomBy(rapid.Float64Range(0.05, 20).Draw(t, "factor"), x, y)
		case 1:
			l.Pan(rapid.Float64Range(-5000, 5000).Draw(t, "dx"), rapid.Float64Range(-5000, 5000).Draw(t, "dy"))
		case 2:
			l.resize(t)
		case 3:
			l.OneToOne(x, y)
		case 4:
			l.Fit()
		case 5:
			l.Reveal(l.photoPlace(t))
		}
	}
	return l
}

func (l *looked) photoPlace(t *rapid.T) plane.Point {
	size := l.PhotoSize()
	return plane.Point{X: rapid.Float64Range(0, size.X).Draw(t, "px"), Y: rapid.Float64Range(0, size.Y).Draw(t, "py")}
}

func TestViewportMapsThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		p := l.photoPlace(t)
		x, y := l.ToView(p)
		if back := l.ToPhoto(x, y); back.Distance(p) > 1e-6 {
			t.Fatalf("%v comes back as %v", p, back)
		}
		// And as the window rounds it, to single precision, within half a pixel.
		if back := l.ToPhoto(float64(float32(x)), float64(float32(y))); back.Distance(p) > 0.5 {
			t.Fatalf("%v comes back from the window as %v", p, back)
		}
	})
}

func TestViewportNeverLosesThePhoto(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		left, top := l.ToView(plane.Point{})
		right, bottom := l.ToView(l.PhotoSize())
		for _, axis := range []struct{ low, high, view float64 }{{left, right, l.width}, {top, bottom, l.height}} {
			const slack = 1e-6
			if axis.high-axis.low <= axis.view-2*margin {
				if math.Abs(axis.low-(axis.view-axis.high)) > slack {
					t.Fatalf("not in the middle: %+v", axis)
				}
			} else if axis.low > margin+slack || axis.high < axis.view-margin-slack {
				t.Fatalf("an edge comes too far into the view: %+v", axis)
			}
		}
	})
}

// Where the photo is larger than the view after zooming, and its edges are not near,
// the place under the pointer stays.
func TestViewportZoomsAboutThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &looked{}
		l.width, l.height = 800, 600
		l.SetView(800, 600, 1)
		l.SetPhoto(8000, 6000)
		l.ZoomBy(4, 400, 300)
		for range rapid.IntRange(1, 4).Draw(t, "turns") {
			x, y := 400+rapid.Float64Range(-100, 100).Draw(t, "x"), 300+rapid.Float64Range(-100, 100).Draw(t, "y")
			before := l.ToPhoto(x, y)
			l.ZoomBy(rapid.Float64Range(1, 2).Draw(t, "factor"), x, y)
			if after := l.ToPhoto(x, y); after.Distance(before) > 1e-6 {
				t.Fatalf("%v went, %v came", before, after)
			}
		}
	})
}

func TestViewportFits(t *testing.T) {
	for name, c := range map[string]struct {
		width, height, density float64
		photoW, photoH         int
		scale, left, top       float64
	}{
		"as wide as the view": {828, 1000, 1, 4000, 3000, 0.2, margin, 200},
		"as high as the view": {1000, 628, 1, 4000, 3000, 0.2, 100, margin},
		"a small photo grows": {428, 328, 1, 100, 75, 4, margin, margin},
		"but not to no end":   {5000, 5000, 2, 1, 1, 16, 2492, 2492},
	} {
		t.Run(name, func(t *testing.T) {
			var v ui.Viewport
			v.SetPhoto(c.photoW, c.photoH)
			v.SetView(c.width, c.height, c.density)
			x, y := v.ToView(plane.Point{})
			if !v.Fitted() || math.Abs(v.Scale()-c.scale) > 1e-9 || math.Abs(x-c.left) > 1e-9 || math.Abs(y-c.top) > 1e-9 {
				t.Errorf("scale %v at %v, %v; want %v at %v, %v", v.Scale(), x, y, c.scale, c.left, c.top)
			}
		})
	}
}

func TestViewportKeepsWhatItShowsWhenTheWindowGrows(t *testing.T) {
	var v ui.Viewport
	v.SetView(828, 628, 1)
	v.SetPhoto(4000, 3000)
	v.SetView(1628, 1228, 1)
	if v.Scale() != 0.4 {
		t.Errorf("a fitted photo has a scale of %v after the window grew, want 0.4", v.Scale())
	}
	v.ZoomBy(5, 814, 614)
	middle := v.ToPhoto(814, 614)
	v.SetView(800, 600, 1)
	if got := v.ToPhoto(400, 300); got.Distance(middle) > 1e-9 || v.Scale() != 2 {
		t.Errorf("in the middle is %v at %v, want %v at 2", got, v.Scale(), middle)
	}
	v.OneToOne(400, 300)
	if v.Zoom() != 1 || v.Fitted() {
		t.Errorf("one to one is a zoom of %v", v.Zoom())
	}
	v.SetView(400, 300, 2)
	v.OneToOne(200, 150)
	if v.Zoom() != 1 || v.Scale() != 0.5 {
		t.Errorf("one to one with two pixels a unit is a zoom of %v, a scale of %v", v.Zoom(), v.Scale())
	}
}

func TestViewportZoomHasEnds(t *testing.T) {
	var v ui.Viewport
	v.SetView(828, 628, 2)
	v.SetPhoto(4000, 3000)
	v.ZoomBy(1e9, 0, 0)
	if v.Zoom() != 32 {
		t.Errorf("largest zoom %v, want 32", v.Zoom())
	}
	v.ZoomBy(1e-9, 0, 0)
	if math.Abs(v.Scale()-0.2) > 1e-12 {
		t.Errorf("smallest scale %v, want the fitted 0.2", v.Scale())
	}
	v.ZoomBy(math.NaN(), 0, 0)
	v.ZoomBy(-1, 0, 0)
	if !(v.Scale() > 0) {
		t.Errorf("scale %v", v.Scale())
	}
}

func TestViewportReveals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLook(t)
		p := l.photoPlace(t)
		l.Reveal(p)
		x, y := l.ToView(p)
		if x < -1e-6 || y < -1e-6 || x > l.width+1e-6 || y > l.height+1e-6 {
			t.Fatalf("%v stays out of view at %v, %v", p, x, y)
		}
	})
}

func TestViewportWithoutPhotoOrSize(t *testing.T) {
	var v ui.Viewport
	v.ZoomBy(2, 1, 1)
	v.Pan(3, 3)
	v.OneToOne(1, 1)
	v.Reveal(plane.Point{X: 5})
	if v.Ready() || v.ToPhoto(3, 4) != (plane.Point{}) {
		t.Error("a view of nothing maps somewhere")
	}
	v.SetPhoto(-1, 5)
	v.SetView(100, 100, math.Inf(1))
	if v.Ready() || math.IsNaN(v.Scale()) {
		t.Error("a photo without a size is ready")
	}
}
