package ui

import (
	"image"
	"image/color"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// told is what a view called back with.
type told struct {
	drawn    []record.Point
	shape    record.Shape
	reshaped []record.Point
	removed  record.ID
	selected record.ID
	keys     string
}

// looking shows a photo of 400 × 300 in a view of 400 × 300, so that a unit of
// the window is a pixel of the photo.
func looking(t *testing.T, orientation int) (*PhotoView, *told) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(newLook(LightUI))
	v, got := NewPhotoView(), &told{}
	v.OnDrawn = func(s record.Shape, p []record.Point) { got.shape, got.drawn = s, p }
	v.OnReshaped = func(_ record.ID, p []record.Point) { got.reshaped = p }
	v.OnRemove = func(id record.ID) { got.removed = id }
	v.OnSelected = func(id record.ID) { got.selected = id }
	v.OnKey = func(name fyne.KeyName, r rune) bool { got.keys += string(name) + string(r); return true }
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 300))
	width, height := 400, 300
	if orientation > 4 {
		width, height = 300, 400
	}
	v.SetPhoto(record.Photo{File: "f", Number: 1, Width: width, Height: height, Orientation: orientation}, image.NewRGBA(image.Rect(0, 0, 400, 300)))
	return v, got
}

// play plays a gesture written in words: "down 10,10 drag 60,50 up", "press Enter", "type c".
func play(v *PhotoView, script string) {
	words := strings.Fields(script)
	var at fyne.Position
	for i := 0; i < len(words); i++ {
		arg := ""
		if i+1 < len(words) {
			arg = words[i+1]
		}
		switch words[i] {
		case "down", "click", "shift-click":
			at = spot(arg)
			mod := fyne.KeyModifier(0)
			if words[i] == "shift-click" {
				mod = fyne.KeyModifierShift
			}
			ev := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: desktop.MouseButtonPrimary, Modifier: mod}
			v.MouseDown(ev)
			if words[i] != "down" {
				v.MouseUp(ev)
			}
			i++
		case "drag":
			at = spot(arg)
			v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}})
			i++
		case "up":
			v.DragEnd()
			v.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
		case "move":
			v.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: spot(arg)}})
			i++
		case "press":
			v.TypedKey(&fyne.KeyEvent{Name: fyne.KeyName(arg)})
			v.KeyUp(&fyne.KeyEvent{Name: fyne.KeyName(arg)})
			i++
		case "type":
			v.TypedRune([]rune(arg)[0])
			i++
		}
	}
}

func spot(text string) fyne.Position {
	var x, y float32
	for i, part := range strings.Split(text, ",") {
		n := float32(0)
		for _, r := range part {
			n = n*10 + float32(r-'0')
		}
		if i == 0 {
			x = n
		} else {
			y = n
		}
	}
	return fyne.NewPos(x, y)
}

func points(xy ...int) []record.Point {
	var out []record.Point
	for i := 0; i < len(xy); i += 2 {
		out = append(out, record.Point{xy[i] * 100, xy[i+1] * 100})
	}
	return out
}

func TestDrawingAnOutline(t *testing.T) {
	for name, c := range map[string]struct {
		script string
		shape  record.Shape
		want   []record.Point
	}{
		"corner by corner, closed on the first": {"type c click 10,10 click 110,10 click 110,90 click 12,12", record.Polygon, points(10, 10, 110, 10, 110, 90)},
		"closed by Enter":                       {"type c click 10,10 click 110,10 click 110,90 press Return", record.Polygon, points(10, 10, 110, 10, 110, 90)},
		"closed by a double click":              {"type c click 10,10 click 110,10 click 110,90 click 110,90", record.Polygon, points(10, 10, 110, 10, 110, 90)},
		"the last corner taken back":            {"type c click 10,10 click 200,200 press BackSpace click 110,10 click 110,90 press Return", record.Polygon, points(10, 10, 110, 10, 110, 90)},
		"two corners are no outline":            {"type c click 10,10 click 110,10 press Return press Escape", "", nil},
		"Escape drops what was begun":           {"type c click 10,10 click 110,10 click 110,90 press Escape", "", nil},
		"an oval":                               {"type o down 50,60 drag 100,100 drag 150,120 up", record.Oval, points(50, 60, 150, 120)},
		"a jerk is no oval":                     {"type o down 50,60 drag 52,61 up", "", nil},
		"outside is brought to the edge":        {"type o down 350,250 drag 999,999 up", record.Oval, points(350, 250, 400, 300)},
		"the point tool draws nothing":          {"click 10,10 click 110,10 click 110,90 press Return", "", nil},
		"an oval by keys":                       {"type o press Space press Right press Down press Space", record.Oval, points(200, 150, 208, 158)},
	} {
		t.Run(name, func(t *testing.T) {
			v, got := looking(t, 1)
			play(v, c.script)
			if got.shape != c.shape || !slices.Equal(got.drawn, c.want) {
				t.Errorf("drawn %q %v, want %q %v", got.shape, got.drawn, c.shape, c.want)
			}
		})
	}
}

// A photo that lies on its side (EXIF 6) is 300 × 400 as stored. Its shown corner
// at the top left is stored at the bottom left.
func TestAnOutlineIsKeptInTheFilesOwnPixels(t *testing.T) {
	v, got := looking(t, 6)
	play(v, "type c click 0,0 click 100,0 click 100,50 press Return")
	if want := points(0, 400, 0, 300, 50, 300); !slices.Equal(got.drawn, want) {
		t.Errorf("stored as %v, want %v", got.drawn, want)
	}
}

func TestWorkingOnAnOutline(t *testing.T) {
	square := points(100, 100, 200, 100, 200, 200, 100, 200)
	for name, c := range map[string]struct {
		script string
		want   []record.Point
	}{
		"moved":                       {"click 150,150 down 150,150 drag 170,160 up", points(120, 110, 220, 110, 220, 210, 120, 210)},
		"moved no further than it is": {"click 150,150 down 150,150 drag 150,0 up", points(100, 0, 200, 0, 200, 100, 100, 100)},
		"a corner dragged":            {"click 150,150 down 200,200 drag 230,240 up", points(100, 100, 200, 100, 230, 240, 100, 200)},
		"a corner added":              {"click 150,100 click 150,101 click 150,101", points(100, 100, 150, 100, 200, 100, 200, 200, 100, 200)},
		"a corner dropped":            {"click 150,150 shift-click 200,200", points(100, 100, 200, 100, 100, 200)},
		"moved by a key":              {"click 150,150 press Right", points(101, 100, 201, 100, 201, 200, 101, 200)},
		"not moved":                   {"click 150,150", nil},
	} {
		t.Run(name, func(t *testing.T) {
			v, got := looking(t, 1)
			v.SetOutlines([]ShownOutline{{ID: "a", Number: 1, Outline: record.Outline{Shape: record.Polygon, Points: square}, Verdict: term.Condemned}})
			play(v, c.script)
			if !slices.Equal(got.reshaped, c.want) {
				t.Errorf("got %v, want %v", got.reshaped, c.want)
			}
		})
	}
}

func TestChoosingAndRemoving(t *testing.T) {
	v, got := looking(t, 1)
	outline := func(id record.ID, at, to int) ShownOutline {
		return ShownOutline{ID: id, Outline: record.Outline{Shape: record.Polygon, Points: points(at, at, to, at, to, to, at, to)}}
	}
	v.SetOutlines([]ShownOutline{outline("large", 10, 290), outline("small", 100, 150)})
	play(v, "click 120,120")
	if got.selected != "small" {
		t.Errorf("of two outlines one in the other %q was chosen, want the small one", got.selected)
	}
	play(v, "press Escape")
	if v.Selected() != "" {
		t.Error("Escape does not lead out of the choice")
	}
	play(v, "click 11,150 press Delete")
	if got.removed != "large" {
		t.Errorf("%q was removed, want large", got.removed)
	}
	v.SetDisabled(true)
	got.removed = ""
	play(v, "click 120,120 press Delete")
	if v.Selected() != "small" {
		t.Error("a view for looking only does not let choose")
	}
	play(v, "type c click 10,10 click 50,10 click 50,50 press Return")
	if got.removed != "" || got.drawn != nil {
		t.Error("a view for looking only removed or drew something")
	}
}

func TestKeysThatTheViewDoesNotUseArePassedOn(t *testing.T) {
	v, got := looking(t, 1)
	play(v, "type f press F1 type o press Escape press Escape")
	if want := "fF1Escape"; strings.ReplaceAll(got.keys, "\x00", "") != want {
		t.Errorf("passed on: %q, want %q: o chooses a tool and the first Escape leaves it", got.keys, want)
	}
}

func TestWhatIsDrawnIsSeen(t *testing.T) {
	v, _ := looking(t, 1)
	v.SetOutlines([]ShownOutline{{ID: "a", Number: 7, Outline: record.Outline{Shape: record.Polygon, Points: points(100, 100, 300, 100, 300, 200, 100, 200)}, Verdict: term.Condemned}})
	r := test.WidgetRenderer(v).(*photoRenderer)
	img := r.draw(400, 300)
	at := func(x, y int) color.RGBA { return img.(*image.RGBA).RGBAAt(x, y) }
	if got, want := at(150, 200), inkOf(0xD55E00); got != want {
		t.Errorf("on the line the colour is %v, want the condemned ink %v", got, want)
	}
	if got := at(200, 150); got != (color.RGBA{A: 255}) {
		t.Errorf("inside the outline the photo is covered: %v", got)
	}
}

func BenchmarkFrame1600x1000Of48MP(b *testing.B) {
	test.NewApp().Settings().SetTheme(newLook(LightUI))
	v := NewPhotoView()
	v.SetPhoto(record.Photo{File: "f", Number: 1, Width: 8000, Height: 6000, Orientation: 1}, image.NewRGBA(image.Rect(0, 0, 1600, 1200)))
	v.SetSharper(v.photo, image.NewRGBA(image.Rect(0, 0, 8000, 6000)))
	var outlines []ShownOutline
	for i := range 200 {
		x, y := 100+(i%20)*380, 100+(i/20)*580
		outlines = append(outlines, ShownOutline{ID: record.ID(rune('a' + i)), Number: i, Verdict: term.Verdicts[i%5],
			Outline: record.Outline{Shape: record.Polygon, Points: points(x, y, x+300, y+40, x+200, y+400, x+20, y+300)}})
	}
	r := &photoRenderer{v: v}
	for name, c := range map[string]struct {
		outlines []ShownOutline
		scale    float64
	}{"fitted": {nil, 0.166}, "magnified": {nil, 0.7}, "fitted-200-outlines": {outlines, 0.166}} {
		b.Run(name, func(b *testing.B) {
			v.SetOutlines(c.outlines)
			v.at.resize(1600, 1000)
			v.at.zoom(c.scale, 800, 500)
			b.ReportAllocs()
			for b.Loop() {
				r.draw(1600, 1000)
			}
		})
	}
}
