package ui_test

import (
	"fmt"
	"image"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
	"fettlebook/ui"
)

// photoHand works on a view as a person does, and writes down what it tells. Its
// places are pixels of the photo.
type photoHand struct {
	*ui.PhotoView
	t    *testing.T
	told []string
	held desktop.MouseButton
	mod  fyne.KeyModifier
	at   fyne.Position
}

// upright is a photo of 400 × 300 pixels; the view has room for it one to one.
var upright = record.Photo{File: "f", Number: 1, Width: 400, Height: 300, Orientation: 1}

func lookAt(t *testing.T, photo record.Photo) *photoHand {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(ui.PhotoTheme(false))
	h := &photoHand{PhotoView: ui.NewPhotoView(), t: t}
	w := test.NewTempWindow(t, h.PhotoView)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400+2*margin, 300+2*margin))
	h.SetPhoto(photo, image.NewRGBA(image.Rect(0, 0, 400, 300)))
	tell := func(format string, args ...any) { h.told = append(h.told, fmt.Sprintf(format, args...)) }
	h.OnDrawn = func(s record.Shape, p []record.Point) { tell("drew %s %s", s, inPixels(p)) }
	h.OnReshaped = func(id record.ID, p []record.Point) { tell("reshaped %s %s", id, inPixels(p)) }
	h.OnSelected = func(id record.ID) { tell("selected %s", id) }
	h.OnRemove = func(id record.ID) { tell("remove %s", id) }
	h.OnTool = func(tool ui.Tool) { tell("tool %d", tool) }
	h.OnKey = func(name fyne.KeyName, r rune) bool {
		if r != 0 {
			name = fyne.KeyName(r)
		}
		tell("key %s", name)
		return true
	}
	return h
}

func inPixels(points []record.Point) string {
	words := make([]string, len(points))
	for i, p := range points {
		words[i] = fmt.Sprintf("%g,%g", float64(p[0])/100, float64(p[1])/100)
	}
	return strings.Join(words, " ")
}

// polygon is an outline through pixels of a photo.
func polygon(id record.ID, xy ...int) ui.ShownOutline {
	o := ui.ShownOutline{ID: id, Number: 1, Verdict: term.Condemned, Outline: record.Outline{Shape: record.Polygon}}
	for i := 0; i+1 < len(xy); i += 2 {
		o.Outline.Points = append(o.Outline.Points, record.Point{xy[i] * 100, xy[i+1] * 100})
	}
	return o
}

func box(id record.ID, x0, y0, x1, y1 int) ui.ShownOutline {
	return polygon(id, x0, y0, x1, y0, x1, y1, x0, y1)
}

func oval(id record.ID, x0, y0, x1, y1 int) ui.ShownOutline {
	o := polygon(id, x0, y0, x1, y1)
	o.Outline.Shape = record.Oval
	return o
}

// does plays a script: "click 10,10 key Escape type c".
func (h *photoHand) does(script string) {
	h.t.Helper()
	words := strings.Fields(script)
	next := func() string {
		h.t.Helper()
		if len(words) == 0 {
			h.t.Fatalf("%q ends too early", script)
		}
		word := words[0]
		words = words[1:]
		return word
	}
	for len(words) > 0 {
		switch word := next(); word {
		case "click":
			h.down(next(), desktop.MouseButtonPrimary)
			h.up()
		case "double":
			at := next()
			for range 2 {
				h.down(at, desktop.MouseButtonPrimary)
				h.up()
			}
			h.DoubleTapped(&fyne.PointEvent{Position: h.at})
		case "quick": // two clicks in two places, which Fyne counts as a double one
			h.down(next(), desktop.MouseButtonPrimary)
			h.up()
			first := h.at
			h.down(next(), desktop.MouseButtonPrimary)
			h.up()
			h.DoubleTapped(&fyne.PointEvent{Position: first})
		case "down":
			h.down(next(), desktop.MouseButtonPrimary)
		case "second":
			h.down(next(), desktop.MouseButtonSecondary)
		case "middle":
			h.down(next(), desktop.MouseButtonTertiary)
		case "drag":
			h.at = h.spot(next())
			h.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: h.at}})
		case "up":
			h.up()
		case "lost": // let go over another widget
			h.held = 0
			h.DragEnd()
		case "move":
			h.at = h.spot(next())
			h.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: h.at}, Button: h.held})
		case "out":
			h.MouseOut()
		case "wheel":
			dy := float32(25)
			if next() == "down" {
				dy = -25
			}
			h.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: h.at}, Scrolled: fyne.NewDelta(0, dy)})
		case "shift":
			h.mod = fyne.KeyModifierShift
			h.KeyDown(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
		case "unshift":
			h.mod = 0
			h.KeyUp(&fyne.KeyEvent{Name: desktop.KeyShiftLeft})
		case "press":
			h.press(fyne.KeyName(next()))
		case "release":
			h.KeyUp(&fyne.KeyEvent{Name: fyne.KeyName(next())})
		case "key":
			name := fyne.KeyName(next())
			h.press(name)
			h.KeyUp(&fyne.KeyEvent{Name: name})
		case "again": // the key that is held repeats
			h.TypedKey(&fyne.KeyEvent{Name: fyne.KeyName(next())})
		case "type":
			r := []rune(next())[0]
			h.TypedKey(&fyne.KeyEvent{Name: fyne.KeyName(strings.ToUpper(string(r)))})
			h.TypedRune(r)
		default:
			h.t.Fatalf("%q is no word of a script", word)
		}
	}
}

// spot is where a pixel of the photo is in the view as long as it is fitted.
func (h *photoHand) spot(word string) fyne.Position {
	h.t.Helper()
	var x, y float32
	if _, err := fmt.Sscanf(word, "%g,%g", &x, &y); err != nil {
		h.t.Fatalf("%q is no place: %v", word, err)
	}
	return fyne.NewPos(x+margin, y+margin)
}

func (h *photoHand) down(word string, button desktop.MouseButton) {
	h.t.Helper()
	h.at, h.held = h.spot(word), button
	h.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: h.at}, Button: button, Modifier: h.mod})
}

func (h *photoHand) up() {
	button := h.held
	h.held = 0
	h.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: h.at}, Button: button, Modifier: h.mod})
	h.DragEnd()
}

func (h *photoHand) press(name fyne.KeyName) {
	h.KeyDown(&fyne.KeyEvent{Name: name})
	h.TypedKey(&fyne.KeyEvent{Name: name})
	if name == fyne.KeySpace {
		h.TypedRune(' ')
	}
}

// wants compares what was told with what was to be, and forgets it.
func (h *photoHand) wants(want ...string) {
	h.t.Helper()
	if strings.Join(h.told, "; ") != strings.Join(want, "; ") {
		h.t.Errorf("told %q, want %q", h.told, want)
	}
	h.told = nil
}

// photoCase is a script and all that it makes the view tell.
type photoCase struct {
	script string
	want   []string
}

func runPhotoCases(t *testing.T, cases map[string]photoCase, outlines ...ui.ShownOutline) {
	t.Helper()
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			h := lookAt(t, upright)
			h.SetOutlines(outlines)
			h.does(c.script)
			h.wants(c.want...)
		})
	}
}

func TestPhotoDrawingCorners(t *testing.T) {
	triangle := []string{"tool 1", "drew polygon 10,10 110,10 110,90"}
	runPhotoCases(t, map[string]photoCase{
		"closed on the first corner":  {"type c click 10,10 click 110,10 click 110,90 click 13,12", triangle},
		"closed by Enter":             {"type c click 10,10 click 110,10 click 110,90 key Return", triangle},
		"closed by a double click":    {"type c click 10,10 click 110,10 double 110,90", triangle},
		"quick clicks are no double":  {"type c click 10,10 click 50,10 quick 110,10 110,90", []string{"tool 1"}},
		"a corner taken back":         {"type c click 10,10 click 200,200 key BackSpace click 110,10 click 110,90 key Return", triangle},
		"a corner dragged into place": {"type c click 10,10 click 110,10 down 150,150 drag 120,100 drag 110,90 up key Return", triangle},
		"a click that trembles":       {"type c click 10,10 click 110,10 down 110,90 drag 112,91 up key Return", triangle},
		"brought to the edge": {"type c click -13,-12 click 410,-5 click 409,309 key Return",
			[]string{"tool 1", "drew polygon 0,0 400,0 400,300"}},
		"two corners are no outline": {"type c click 10,10 click 110,10 key Return double 110,10 key Escape key Escape",
			[]string{"tool 1", "tool 0"}},
		"Escape leads out step by step": {"type c click 10,10 click 110,10 click 110,90 key Escape key Return key Escape key Escape",
			[]string{"tool 1", "tool 0", "key Escape"}},
		"another tool drops it": {"type c click 10,10 click 110,10 click 110,90 type v key Return", []string{"tool 1", "tool 0", "key Return"}},
		"the tool stays for the next": {"type c click 10,10 click 110,10 click 110,90 key Return click 210,10 click 310,10 click 310,90 key Return",
			append(triangle[:2:2], "drew polygon 210,10 310,10 310,90")},
		"one that crosses itself is not taken": {"type c click 10,10 click 210,110 click 210,10 click 10,150 key Return key Escape", triangle[:1]},
		"its last corner taken back it is":     {"type c click 10,10 click 110,10 click 110,90 click 60,-5 key Return key BackSpace key Return", triangle},
		"closed again it is untangled": {"type c click 100,100 click 300,200 click 300,100 click 100,250 key Return key Return",
			[]string{"tool 1", "drew polygon 100,100 220,160 100,250"}},
		"a corner more asks anew": {"type c click 100,100 click 300,200 click 300,100 click 100,250 key Return click 90,260 key Return key Escape",
			[]string{"tool 1"}},
		"away from the first again": {"type c click 10,10 click 110,10 click 110,90 down 12,12 drag 60,200 up key Escape", triangle[:1]},
	})
}

func TestPhotoDrawingOvals(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"dragged":           {"type o down 50,60 drag 100,100 drag 150,120 up", []string{"tool 3", "drew oval 50,60 150,120"}},
		"the other way":     {"type o down 150,120 drag 100,100 drag 50,60 up", []string{"tool 3", "drew oval 50,60 150,120"}},
		"let go elsewhere":  {"type o down 50,60 drag 100,100 lost", []string{"tool 3", "drew oval 50,60 100,100"}},
		"to the edge":       {"type o down 350,250 drag 999,999 up", []string{"tool 3", "drew oval 350,250 400,300"}},
		"a jerk":            {"type o down 50,60 drag 53,61 up", []string{"tool 3"}},
		"a click":           {"type o click 50,60", []string{"tool 3"}},
		"a line is no oval": {"type o down 50,60 drag 150,62 up", []string{"tool 3"}},
		"given up":          {"type o down 50,60 drag 150,120 key Escape up key Escape", []string{"tool 3", "tool 0"}},
	})
}

func TestPhotoDrawingByKeys(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		// The pointer starts in the middle and moves by 4, with Shift by 40.
		"an oval": {"type o key Space key Right key Down key Down key Space", []string{"tool 3", "drew oval 200,150 204,158"}},
		"corners": {"type c key Space shift key Right unshift key Space key Down key Down key Space key Space",
			[]string{"tool 1", "drew polygon 200,150 240,150 240,158"}},
		"Enter sets, and closes on the last": {"type c key Left key Return key Down key Return key Down key Right key Return key Return",
			[]string{"tool 1", "drew polygon 196,150 196,154 200,158"}},
		"on the first it closes": {"type c key Space shift key Right unshift key Space shift key Down key Left unshift key Space shift key Up unshift key Space",
			[]string{"tool 1", "drew polygon 200,150 240,150 200,190"}},
		"from the mouse on":         {"move 50,60 type o key Space shift key Right key Down unshift key Space", []string{"tool 3", "drew oval 50,60 90,100"}},
		"no further than the edge":  {"move 390,10 type o key Space shift key Right key Down unshift key Space", []string{"tool 3", "drew oval 390,10 400,50"}},
		"the mouse takes over":      {"type c key Space key Right key Space click 300,200 key Return", []string{"tool 1", "drew polygon 200,150 204,150 300,200"}},
		"Space that pans sets none": {"type c click 10,10 click 110,10 press Space down 200,200 drag 220,220 up release Space key Return", []string{"tool 1"}},
	})
}

func TestPhotoOutlinesAreKeptInTheFilesOwnPixels(t *testing.T) {
	// 300 × 400 as stored, lying on its side (EXIF 6): its shown corner at the top
	// left is stored at the bottom left.
	h := lookAt(t, record.Photo{File: "f", Number: 1, Width: 300, Height: 400, Orientation: 6})
	h.does("type c click 0,0 click 100,0 click 100,50 key Return type o down 20,10 drag 120,60 up")
	h.wants("tool 1", "drew polygon 0,400 0,300 50,300", "tool 3", "drew oval 10,380 60,280")
	// And they are shown where they were drawn.
	h.SetOutlines([]ui.ShownOutline{polygon("a", 0, 400, 0, 300, 50, 300), oval("b", 10, 380, 60, 280)})
	h.does("type v click 90,20 click 60,50")
	h.wants("tool 0", "selected a", "selected b")
}

func TestPhotoWorkingOnAPolygon(t *testing.T) {
	const chosen = "selected a"
	moved := []string{chosen, "reshaped a 120,110 220,110 220,210 120,210"}
	runPhotoCases(t, map[string]photoCase{
		"chosen inside":          {"click 150,150", []string{chosen}},
		"chosen on its line":     {"click 150,107", []string{chosen}},
		"chosen by its number":   {"click 93,93", []string{chosen}},
		"not chosen beside it":   {"click 150,85", nil},
		"left by a click":        {"click 150,150 click 300,50", []string{chosen, "selected "}},
		"moved":                  {"click 150,150 down 150,150 drag 160,155 drag 170,160 up", moved},
		"moved by its line":      {"down 150,100 drag 160,105 drag 170,110 up", moved},
		"let go elsewhere":       {"click 150,150 down 150,150 drag 170,160 lost", moved},
		"moved by a hair":        {"click 150,150 down 150,150 drag 152,151 up", []string{chosen}},
		"no drag before a click": {"down 150,150 drag 170,160 up", nil}, // it pans, if there is room
		"to the edge and no further": {"click 150,150 down 150,150 drag 150,0 up",
			[]string{chosen, "reshaped a 100,0 200,0 200,100 100,100"}},
		"a drag given up":      {"click 150,150 down 150,150 drag 170,160 key Escape up", []string{chosen}},
		"a corner dragged":     {"click 150,150 down 205,195 drag 215,205 drag 235,245 up", []string{chosen, "reshaped a 100,100 200,100 230,250 100,200"}},
		"a corner to the edge": {"click 150,150 down 200,200 drag 500,200 up", []string{chosen, "reshaped a 100,100 200,100 400,200 100,200"}},
		"a corner added": {"double 150,102",
			[]string{chosen, "reshaped a 100,100 150,100 200,100 200,200 100,200"}},
		"no corner added inside":     {"double 150,150", []string{chosen}},
		"a corner dropped":           {"click 150,150 shift click 200,200", []string{chosen, "reshaped a 100,100 200,100 100,200"}},
		"three corners stay":         {"click 150,150 shift click 200,200 click 200,100", []string{chosen, "reshaped a 100,100 200,100 100,200"}},
		"a corner dropped below":     {"click 150,150 move 200,200 key BackSpace", []string{chosen, "reshaped a 100,100 200,100 100,200"}},
		"Backspace elsewhere":        {"click 150,150 move 150,150 key BackSpace", []string{chosen, "key BackSpace"}},
		"removed":                    {"click 150,150 key Delete", []string{chosen, "selected ", "remove a"}},
		"nothing to remove":          {"key Delete", []string{"key Delete"}},
		"moved by keys":              {"click 150,150 key Right key Down", []string{chosen, "reshaped a 101,100 201,100 201,200 101,200", "reshaped a 101,101 201,101 201,201 101,201"}},
		"a held key is one gesture":  {"click 150,150 press Right again Right again Right release Right", []string{chosen, "reshaped a 103,100 203,100 203,200 103,200"}},
		"with Shift by ten":          {"click 150,150 shift key Left unshift", []string{chosen, "reshaped a 90,100 190,100 190,200 90,200"}},
		"the next act ends the move": {"click 150,150 press Right click 300,50", []string{chosen, "reshaped a 101,100 201,100 201,200 101,200", "selected "}},
		"another key ends the move":  {"click 150,150 press Right type f", []string{chosen, "reshaped a 101,100 201,100 201,200 101,200", "key f"}},
		"a corner moved by keys":     {"click 150,150 type k type k key Up", []string{chosen, "reshaped a 100,100 200,99 200,200 100,200"}},
		"a corner dropped by keys":   {"click 150,150 type k type k key BackSpace", []string{chosen, "reshaped a 100,100 200,200 100,200"}},
		"Escape leaves corner first": {"click 150,150 type k key Escape key Escape key Escape", []string{chosen, "selected ", "key Escape"}},
		"chosen by the space bar":    {"key Space", []string{chosen}},
	}, box("a", 100, 100, 200, 200))
}

func TestPhotoWorkingOnAnOval(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"chosen inside":                {"click 150,150", []string{"selected a"}},
		"not in the corner of its box": {"click 107,193", nil},
		"moved":                        {"click 150,150 down 150,150 drag 140,140 up", []string{"selected a", "reshaped a 90,90 190,190"}},
		"its second handle":            {"click 150,150 down 200,100 drag 210,80 up", []string{"selected a", "reshaped a 100,80 210,200"}},
		"its third handle":             {"click 150,150 down 200,200 drag 210,220 up", []string{"selected a", "reshaped a 100,100 210,220"}},
		"its fourth handle":            {"click 150,150 down 100,200 drag 80,220 up", []string{"selected a", "reshaped a 80,100 200,220"}},
		"it has no corners to add":     {"double 150,101", []string{"selected a"}},
		"nor to drop":                  {"click 150,150 shift click 200,200", []string{"selected a"}},
	}, oval("a", 100, 100, 200, 200))
}

func TestPhotoChoosingAmongOutlines(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"the smallest wins":        {"click 120,120", []string{"selected small"}},
		"round it the large one":   {"click 60,60", []string{"selected large"}},
		"the space bar walks":      {"key Space key Space key Space", []string{"selected large", "selected small", "selected large"}},
		"with Shift backwards":     {"shift key Space unshift", []string{"selected small"}},
		"the selected one drags":   {"click 60,60 down 120,120 drag 125,125 up", []string{"selected large", "reshaped large 15,15 295,15 295,295 15,295"}},
		"Escape leads out":         {"click 60,60 key Escape key Escape", []string{"selected large", "selected ", "key Escape"}},
		"a tool keeps hands off":   {"type c click 120,120 key Escape key Escape", []string{"tool 1", "tool 0"}},
		"keys it does not use":     {"type f key F1 key Next type 2 key LeftShift", []string{"key f", "key F1", "key Next", "key 2"}},
		"the corner key needs one": {"type k", []string{"key k"}},
	}, box("large", 10, 10, 290, 290), box("small", 100, 100, 150, 150))
}

func TestPhotoForLookingOnly(t *testing.T) {
	h := lookAt(t, upright)
	h.SetOutlines([]ui.ShownOutline{box("a", 100, 100, 200, 200)})
	h.SetDisabled(true)
	h.does("click 150,150 down 150,150 drag 170,160 up down 200,200 drag 230,230 up shift click 200,200 unshift double 150,100 key Delete type k type c type o")
	h.wants("selected a", "key Delete", "key k")
	if h.Tool() != ui.PointTool {
		t.Errorf("tool %d", h.Tool())
	}
	h.does("key Right move 100,100 wheel up wheel up")
	h.wants()
	if h.Zoom() < 1.5 {
		t.Errorf("zoom %v after two notches", h.Zoom())
	}
}

func TestPhotoLooking(t *testing.T) {
	large := record.Photo{File: "l", Number: 2, Width: 4000, Height: 3000, Orientation: 1}
	h := lookAt(t, large)
	h.wants()
	h.does("type + type + type +")
	h.wants()
	h.does("type 1")
	if h.Zoom() != 1 {
		t.Errorf("one to one is a zoom of %v", h.Zoom())
	}
	h.does("type 0")
	if h.Zoom() != 0.1 {
		t.Errorf("fitted is a zoom of %v, want 0.1", h.Zoom())
	}
	// Panning by hand, with the middle button, with the space bar: what was drawn
	// afterwards tells where the photo lies.
	h.does("type 1 type o down 100,100 drag 200,200 up")
	was := h.told[len(h.told)-1]
	for name, way := range map[string]string{
		"the point tool":    "type v down 200,200 drag 190,180 drag 150,120 up type o",
		"the middle button": "middle 200,200 drag 190,180 drag 150,120 up",
		"the space bar":     "press Space down 200,200 drag 190,180 drag 150,120 up release Space",
	} {
		h.told = nil
		h.does(way + " down 50,20 drag 150,120 up")
		if got := h.told[len(h.told)-1]; got != was {
			t.Errorf("after panning by %s: %q, want %q", name, got, was)
		}
		h.does("middle 150,120 drag 160,130 drag 200,200 up") // and back
	}
}

// What a person drew before a photo came too late must not end up on it.
func TestPhotoChanges(t *testing.T) {
	h := lookAt(t, upright)
	outlines := []ui.ShownOutline{box("a", 100, 100, 200, 200)}
	h.SetOutlines(outlines)
	other := record.Photo{File: "g", Number: 2, Width: 400, Height: 300, Orientation: 1}
	picture := image.NewRGBA(image.Rect(0, 0, 400, 300))

	h.does("click 150,150 press Right")
	h.SetPhoto(other, picture)
	h.wants("selected a", "reshaped a 101,100 201,100 201,200 101,200")
	if h.Selected() != "" {
		t.Errorf("%q is selected on another photo", h.Selected())
	}
	h.does("type c click 10,10 click 110,10 click 110,90")
	h.SetPhoto(upright, picture)
	h.does("key Return")
	h.wants("tool 1")

	// The same photo with its next picture: what is begun goes on.
	h.does("click 10,10 click 110,10 click 110,90")
	h.SetPhoto(upright, picture)
	h.does("key Return type v")
	h.wants("drew polygon 10,10 110,10 110,90", "tool 0")

	// Outlines that come while one is dragged do not take it from the hand.
	h.SetOutlines(outlines)
	h.does("click 150,150 down 150,150 drag 160,160")
	h.SetOutlines(outlines)
	h.does("drag 170,170 up")
	h.wants("selected a", "reshaped a 120,120 220,120 220,220 120,220")

	// Nor does it end the drag when the keys go elsewhere.
	h.SetOutlines(outlines)
	h.does("down 150,150 drag 160,160")
	h.FocusLost()
	h.does("drag 170,170 up")
	h.wants("reshaped a 120,120 220,120 220,220 120,220")

	// One that went is dropped.
	h.SetOutlines(outlines)
	h.does("down 150,150 drag 160,160")
	h.SetOutlines(nil)
	h.does("drag 170,170 up key Delete")
	h.wants("key Delete")

	h.SetMessage("This photo can't be read.")
	if h.HasPhoto() {
		t.Error("a message leaves the photo")
	}
	h.does("click 150,150 type c type + key Right key Escape move 50,50 wheel up")
	h.wants("key c", "key +", "key Right", "key Escape")
}

func TestPhotoFocus(t *testing.T) {
	h := lookAt(t, upright)
	canvas := fyne.CurrentApp().Driver().CanvasForObject(h.PhotoView)
	h.does("click 10,10")
	if canvas.Focused() != fyne.Focusable(h.PhotoView) {
		t.Error("a click does not take the focus")
	}
	if h.AcceptsTab() {
		t.Error("Tab does not lead out")
	}
	h.SetOutlines([]ui.ShownOutline{box("a", 100, 100, 200, 200)})
	h.does("click 150,150 press Right")
	canvas.Unfocus()
	h.wants("selected a", "reshaped a 101,100 201,100 201,200 101,200")
	if got := h.Cursor(); got != desktop.DefaultCursor {
		t.Errorf("cursor %v", got)
	}
	h.does("move 201,100")
	if got := h.Cursor(); got != desktop.PointerCursor {
		t.Errorf("over a corner the cursor is %v", got)
	}
	h.does("type c")
	if got := h.Cursor(); got != desktop.CrosshairCursor {
		t.Errorf("while drawing the cursor is %v", got)
	}
}
