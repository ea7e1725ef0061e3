package ui

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func anyViewport(t *rapid.T) viewport {
	v := newViewport(rapid.IntRange(1, 9000).Draw(t, "photo width"), rapid.IntRange(1, 9000).Draw(t, "photo height"))
	v.resize(rapid.Float64Range(50, 2500).Draw(t, "width"), rapid.Float64Range(50, 1500).Draw(t, "height"))
	for range rapid.IntRange(0, 5).Draw(t, "moves") {
		switch rapid.IntRange(0, 3).Draw(t, "move") {
		case 0:
			v.zoom(v.scale*rapid.Float64Range(0.1, 10).Draw(t, "factor"), rapid.Float64Range(0, v.width).Draw(t, "x"), rapid.Float64Range(0, v.height).Draw(t, "y"))
		case 1:
			v.pan(rapid.Float64Range(-5000, 5000).Draw(t, "dx"), rapid.Float64Range(-5000, 5000).Draw(t, "dy"))
		case 2:
			v.resize(rapid.Float64Range(50, 2500).Draw(t, "width"), rapid.Float64Range(50, 1500).Draw(t, "height"))
		case 3:
			v.fit()
		}
	}
	return v
}

func TestAPlaceComesBackFromTheWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyViewport(t)
		px, py := rapid.Float64Range(0, v.photoWidth).Draw(t, "px"), rapid.Float64Range(0, v.photoHeight).Draw(t, "py")
		x, y := v.toView(px, py)
		bx, by := v.toPhoto(x, y)
		if math.Abs(bx-px) > 1e-6*(1+px) || math.Abs(by-py) > 1e-6*(1+py) {
			t.Fatalf("%v, %v comes back as %v, %v", px, py, bx, by)
		}
	})
}

func TestThePhotoIsNeverLostFromView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := anyViewport(t)
		right, bottom := v.left+v.photoWidth*v.scale, v.top+v.photoHeight*v.scale
		seenX, seenY := min(right, v.width)-max(v.left, 0), min(bottom, v.height)-max(v.top, 0)
		if seenX < min(keepsInView, v.photoWidth*v.scale, v.width)-1e-6 || seenY < min(keepsInView, v.photoHeight*v.scale, v.height)-1e-6 {
			t.Fatalf("only %.1f × %.1f of the photo is in view: %+v", seenX, seenY, v)
		}
	})
}

func TestZoomingKeepsThePlaceUnderThePointer(t *testing.T) {
	v := newViewport(4000, 3000)
	v.resize(800, 600)
	px, py := v.toPhoto(400, 300)
	v.zoom(1, 400, 300)
	if x, y := v.toView(px, py); math.Abs(x-400) > 1e-9 || math.Abs(y-300) > 1e-9 {
		t.Errorf("the place under the pointer went to %v, %v", x, y)
	}
	if v.scale != 1 {
		t.Errorf("scale %v, want 1", v.scale)
	}
	v.fit()
	if v.scale != 0.2 || v.left != 0 || v.top != 0 {
		t.Errorf("fitted: %+v", v)
	}
}
