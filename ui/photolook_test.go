package ui_test

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/record"
	"fettlebook/ui"
)

func TestPhotoLight(t *testing.T) {
	for name, c := range map[string]struct {
		light ui.Light
		want  map[uint8]uint8
	}{
		"as taken": {ui.Light{}, map[uint8]uint8{0: 0, 40: 40, 128: 128, 255: 255}},
		"brighter": {ui.Light{Brightness: 50}, map[uint8]uint8{0: 0, 64: 128, 255: 255}},
		"darker":   {ui.Light{Brightness: -50}, map[uint8]uint8{0: 0, 128: 64, 255: 255}},
		"harder":   {ui.Light{Contrast: 50}, map[uint8]uint8{0: 0, 60: 0, 100: 72, 128: 129, 200: 255}},
		"softer":   {ui.Light{Contrast: -50}, map[uint8]uint8{0: 64, 128: 128, 255: 191}},
		"too much": {ui.Light{Contrast: 900}, map[uint8]uint8{100: 17, 140: 178}},
	} {
		t.Run(name, func(t *testing.T) {
			for tone, want := range c.want {
				h := lookAt(t, upright)
				h.SetPhoto(upright, plain(400, 300, tone))
				h.SetOutlines([]ui.ShownOutline{box("a", 100, 100, 200, 200)})
				before := at(compose(h), 100, 150)
				h.SetLight(c.light)
				for range 2 { // drawn, and taken from the frame before
					got := at(compose(h), 50, 50)
					if d := int(got.R) - int(want); d > 1 || d < -1 || got.R != got.B {
						t.Errorf("tone %d becomes %v, want %d", tone, got, want)
					}
				}
				if line := at(compose(h), 100, 150); line != before {
					t.Errorf("the outline's ink became %v, was %v", line, before)
				}
				if mat := compose(h).RGBAAt(2, 2); mat != compose(h).RGBAAt(margin+420-margin, 2) || mat.R == want && want > 60 {
					t.Errorf("the mat is %v", mat)
				}
			}
		})
	}
}

func TestPhotoLightSays(t *testing.T) {
	if says := (ui.Light{}).Says(); says != "" {
		t.Errorf("as taken it says %q", says)
	}
	if says := (ui.Light{Brightness: 20, Contrast: -5}).Says(); says != "brightness +20, contrast -5, for looking only" {
		t.Errorf("it says %q", says)
	}
}

// squares is a picture whose pixels tell where they are.
func squares() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			img.SetRGBA(x, y, color.RGBA{R: uint8(x / 2), G: uint8(y / 2), B: 90, A: 255})
		}
	}
	return img
}

func TestPhotoLens(t *testing.T) {
	h := lookAt(t, upright)
	h.SetPhoto(upright, squares())
	without := shot(h)
	h.does("move 200,150 type 3")
	if !h.Lens() {
		t.Fatal("its key does not turn it on")
	}
	img := compose(h)
	// Three times as large about the pointer, and as it was outside of the disc.
	for _, d := range []image.Point{{0, 0}, {60, 0}, {-60, 30}, {0, -90}} {
		want := squares().RGBAAt(200+d.X/3, 150+d.Y/3)
		if got := at(img, 200+d.X, 150+d.Y); !close4(got, want, 2) {
			t.Errorf("%v from the pointer it shows %v, want %v", d, got, want)
		}
	}
	if got, want := at(img, 40, 150), squares().RGBAAt(40, 150); !close4(got, want, 1) {
		t.Errorf("outside of it is %v, want %v", got, want)
	}
	h.does("move 60,60")
	if got, want := at(compose(h), 60, 60), squares().RGBAAt(60, 60); !close4(got, want, 2) {
		t.Errorf("after the pointer moved there is %v under it, want %v", got, want)
	}
	// At the very corner, and gone again by Escape.
	h.does("move -13,-13")
	compose(h)
	h.does("release 3 key Escape")
	if h.Lens() || shot(h) != without {
		t.Error("Escape does not take it away")
	}
	h.wants()
}

func TestPhotoLensHeld(t *testing.T) {
	h := lookAt(t, upright)
	h.does("type 3 type 3 type 3 release 3")
	if h.Lens() {
		t.Error("letting the key go leaves it on")
	}
	h.does("type 3 release 3")
	if !h.Lens() {
		t.Error("a tap does not leave it on")
	}
	h.does("type 3 release 3")
	if h.Lens() {
		t.Error("a second tap does not turn it off")
	}
	h.does("type 3 type 3")
	h.FocusLost()
	if h.Lens() {
		t.Error("it stays when the keys go elsewhere while it is held")
	}
	h.SetMessage("nothing here")
	h.does("type 3")
	if h.Lens() {
		t.Error("there is one without a photo")
	}
}

// TestPhotoLinked holds that two views go along with one another.
func TestPhotoLinked(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(ui.PhotoTheme(false))
	photo := record.Photo{File: "f", Number: 1, Width: 4000, Height: 3000, Orientation: 1}
	var views [2]*ui.PhotoView
	for i := range views {
		views[i] = ui.NewPhotoView()
		w := test.NewTempWindow(t, views[i])
		w.SetPadded(false)
		w.Resize(fyne.NewSize(428, 328))
		views[i].SetPhoto(photo, squares())
	}
	a, b := views[0], views[1]
	same := func(what string) {
		t.Helper()
		if a.Zoom() != b.Zoom() || shot(&photoHand{PhotoView: a}) != shot(&photoHand{PhotoView: b}) {
			t.Errorf("after %s they show different places, at %v and %v", what, a.Zoom(), b.Zoom())
		}
	}
	hand := &photoHand{PhotoView: a, t: t}
	hand.does("move 300,200 wheel up wheel up out")
	if a.Zoom() == b.Zoom() {
		t.Fatal("the other follows without a link")
	}
	a.Fit()
	a.Link(b)
	hand.does("move 300,200 wheel up wheel up wheel up middle 100,100 drag 60,80 up out")
	same("the wheel and a drag")
	other := &photoHand{PhotoView: b, t: t}
	other.does("type + key Left out")
	same("keys in the other one")
	other.does("type 0")
	same("fitting")
	a.Link(nil)
	other.does("type +")
	if a.Zoom() == b.Zoom() {
		t.Error("it follows after the link was ended")
	}
}

func TestPhotoFrameWithLensDoesNotAllocate(t *testing.T) {
	h := lookAt(t, upright)
	h.SetPhoto(upright, paintings()["YCbCr"])
	h.SetOutlines([]ui.ShownOutline{box("a", 100, 100, 300, 200), oval("b", 20, 20, 90, 90)})
	h.SetLight(ui.Light{Brightness: 20, Contrast: 30})
	h.does("move 150,150 type 3")
	for range 3 {
		compose(h)
	}
	if n := testing.AllocsPerRun(20, func() { compose(h) }); n > 0 {
		t.Errorf("%v allocations a frame", n)
	}
}
