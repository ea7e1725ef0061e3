package ui_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2/driver/desktop"

	"fettlebook/assess/record"
	"fettlebook/ui"
)

// circle is a script that draws round a place, from one angle to another.
func circle(x, y, r float64, from, to int) string {
	var words []string
	for a := from; a <= to; a += 6 {
		rad := float64(a) * math.Pi / 180
		words = append(words, fmt.Sprintf("drag %.1f,%.1f", x+r*math.Cos(rad), y+r*math.Sin(rad)))
	}
	return strings.Join(words, " ")
}

// drewFreehand plays a script and returns the corners of the outline that came.
func drewFreehand(t *testing.T, h *photoHand, script string) []record.Point {
	t.Helper()
	var drawn [][]record.Point
	h.OnDrawn = func(s record.Shape, p []record.Point) {
		if s != record.Polygon {
			t.Errorf("the shape is %s", s)
		}
		drawn = append(drawn, p)
	}
	h.does(script)
	if len(drawn) != 1 {
		t.Fatalf("%d outlines came of %q", len(drawn), script)
	}
	return drawn[0]
}

func areaOf(points []record.Point) float64 {
	sum := 0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return math.Abs(float64(sum)) / 2 / 100 / 100
}

func TestPhotoPencil(t *testing.T) {
	disc := math.Pi * 60 * 60
	for name, script := range map[string]string{
		"drawn once round":             "type z down 260,150 " + circle(200, 150, 60, 0, 354) + " up",
		"over its own beginning":       "type z down 260,150 " + circle(200, 150, 60, 0, 400) + " drag 230,170 up",
		"with a slip of the hand":      "type z down 260,150 " + circle(200, 150, 60, 0, 180) + " drag 130,140 drag 130,160 drag 142,152 " + circle(200, 150, 60, 186, 354) + " up",
		"let go over another widget":   "type z down 260,150 " + circle(200, 150, 60, 0, 354) + " lost",
		"with the second button":       "second 260,150 " + circle(200, 150, 60, 0, 354) + " up",
		"with it while another is out": "type o second 260,150 " + circle(200, 150, 60, 0, 354) + " up",
	} {
		t.Run(name, func(t *testing.T) {
			h := lookAt(t, upright)
			points := drewFreehand(t, h, script)
			if got := areaOf(points); math.Abs(got-disc) > 0.05*disc {
				t.Errorf("the area is %.0f, want about %.0f", got, disc)
			}
			if len(points) > 40 || len(points) < 8 {
				t.Errorf("the line is kept by %d corners", len(points))
			}
		})
	}
}

func TestPhotoPencilThatEnclosesNothing(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"a click":              {"type z click 50,60", []string{"tool 2"}},
		"a stroke":             {"type z down 50,60 drag 90,60 drag 150,60 up", []string{"tool 2"}},
		"a dot":                {"type z down 50,60 drag 52,63 drag 54,60 up", []string{"tool 2"}},
		"given up":             {"type z down 50,60 drag 90,60 drag 90,100 drag 50,100 key Escape up", []string{"tool 2"}},
		"second button, given": {"second 50,60 drag 90,60 drag 90,100 drag 50,100 key Escape up", nil},
		"a second click":       {"second 50,60 up", nil},
	})
}

func TestPhotoPencilByKeys(t *testing.T) {
	h := lookAt(t, upright)
	h.does("type z key Space")
	for _, way := range []string{"Right", "Down", "Left"} {
		for range 10 {
			h.does("key " + way)
		}
	}
	points := drewFreehand(t, h, "key Space")
	if got := areaOf(points); math.Abs(got-1600) > 1 {
		t.Errorf("a box of 40 × 40 has the area %.1f", got)
	}
	h.does("type z key Space key Right key Down key Escape key Escape")
	h.told = nil
	h.does("key Space")
	h.wants()
}

func TestPhotoBox(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"dragged":       {"type q down 50,60 drag 100,100 drag 150,120 up", []string{"tool 4", "drew polygon 50,60 150,60 150,120 50,120"}},
		"the other way": {"type q down 150,120 drag 50,60 up", []string{"tool 4", "drew polygon 50,60 150,60 150,120 50,120"}},
		"a jerk":        {"type q down 50,60 drag 53,61 up", []string{"tool 4"}},
		"by keys": {"type q key Space shift key Right key Down unshift key Space",
			[]string{"tool 4", "drew polygon 200,150 240,150 240,190 200,190"}},
		"of the usual size": {"type q key Return", []string{"tool 4", "drew polygon 150.8,100.8 249.2,100.8 249.2,199.2 150.8,199.2"}},
		"at the pointer":    {"move 100,200 type q key Return", []string{"tool 4", "drew polygon 50.8,150.8 149.2,150.8 149.2,249.2 50.8,249.2"}},
		"an oval, too":      {"type o key Return", []string{"tool 3", "drew oval 150.8,100.8 249.2,199.2"}},
		"at the edge": {"move 395,295 type q key Return",
			[]string{"tool 4", "drew polygon 301.6,201.6 400,201.6 400,300 301.6,300"}},
	})
}

func TestPhotoOutlinesDoNotCross(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"corner by corner": {"type c click 10,10 click 110,90 click 110,10 click 10,90 key Return key BackSpace key BackSpace key Return click 10,90 key Return",
			[]string{"tool 1", "drew polygon 10,10 110,90 10,90"}},
		"three in a line": {"type c click 10,10 click 60,10 click 110,10 key Return click 110,90 key Return",
			[]string{"tool 1", "drew polygon 10,10 60,10 110,10 110,90"}},
		"dragged over": {"click 150,150 down 200,200 drag 120,190 drag 80,120 up key Escape", []string{"selected a", "selected "}},
	}, box("a", 100, 100, 200, 200))

	// One that crosses itself already may still be moved.
	h := lookAt(t, upright)
	h.SetOutlines([]ui.ShownOutline{polygon("a", 100, 100, 200, 200, 200, 100, 100, 200)})
	h.does("key Space key Right")
	h.wants("selected a", "reshaped a 101,100 201,200 201,100 101,200")
}

func TestPhotoCornersAddedByKeys(t *testing.T) {
	runPhotoCases(t, map[string]photoCase{
		"behind the chosen one": {"key Space type k key Insert key Up", []string{"selected a",
			"reshaped a 100,100 200,100 300,100 300,200 100,200", "reshaped a 100,100 200,99 300,100 300,200 100,200"}},
		"on the longest edge": {"key Space key Insert", []string{"selected a", "reshaped a 100,100 200,100 300,100 300,200 100,200"}},
		"and deleted":         {"key Space key Insert key BackSpace", []string{"selected a", "reshaped a 100,100 200,100 300,100 300,200 100,200", "reshaped a 100,100 300,100 300,200 100,200"}},
		"to nothing":          {"key Insert", []string{"key Insert"}},
	}, box("a", 100, 100, 300, 200))
}

// The handles of corners that lie close do not stand in the way of moving it all.
func TestPhotoCrowdedOutlineCanBeMoved(t *testing.T) {
	h := lookAt(t, upright)
	var xy []int
	for a := 0; a < 360; a += 20 {
		rad := float64(a) * math.Pi / 180
		xy = append(xy, 200+int(20*math.Cos(rad)), 150+int(20*math.Sin(rad)))
	}
	h.SetOutlines([]ui.ShownOutline{polygon("a", xy...)})
	h.does("click 200,150 down 209,150 drag 219,150 drag 229,160 up")
	if len(h.told) != 2 || !strings.HasPrefix(h.told[1], "reshaped a 240,160 ") {
		t.Errorf("told %q", h.told)
	}
	if h.Cursor() != desktop.DefaultCursor {
		t.Error("it was taken by a corner")
	}
}
