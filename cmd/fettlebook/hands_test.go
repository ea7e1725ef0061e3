//go:build linux && !headless

package main_test

import (
	"image"
	"strconv"
	"strings"
)

// xdotool makes one gesture out of one call: its steps cannot be torn apart.
func (d *desk) xdotool(args ...string) {
	d.t.Helper()
	if out, err := d.command("xdotool", args...).CombinedOutput(); err != nil {
		d.t.Fatalf("xdotool %s: %v: %s", strings.Join(args, " "), err, out)
	}
}

// key presses keys one after another, each by its X name with its modifiers:
// "Tab", "ctrl+z", "shift+F10". They go to the window that has the focus.
func (d *desk) key(chords ...string) {
	d.t.Helper()
	d.xdotool(append([]string{"key", "--delay", "20"}, chords...)...)
}

// typeText types ASCII text into what has the focus.
func (d *desk) typeText(text string) {
	d.t.Helper()
	d.xdotool("type", "--delay", "15", "--", text)
}

// closeWindow asks the window that has the focus to close, as its cross would.
func (d *desk) closeWindow() {
	d.t.Helper()
	d.key("alt+F4")
}

// Points are counted in pixels from the window's upper left corner.

func (w window) moveTo(p image.Point) []string {
	return []string{"mousemove", "--window", w.id, strconv.Itoa(p.X), strconv.Itoa(p.Y)}
}

// click presses and releases the left button.
func (w window) click(x, y int) {
	w.desk.t.Helper()
	w.desk.xdotool(append(w.moveTo(image.Pt(x, y)), "click", "1")...)
}

// rightClick presses and releases the right button.
func (w window) rightClick(x, y int) {
	w.desk.t.Helper()
	w.desk.xdotool(append(w.moveTo(image.Pt(x, y)), "click", "3")...)
}

// doubleClick is two clicks of the left button, close enough to count as one.
func (w window) doubleClick(x, y int) {
	w.desk.t.Helper()
	w.desk.xdotool(append(w.moveTo(image.Pt(x, y)), "click", "--repeat", "2", "--delay", "60", "1")...)
}

// scroll turns the wheel by so many notches, away from the hand if positive.
func (w window) scroll(x, y, notches int) {
	w.desk.t.Helper()
	button := "4"
	if notches < 0 {
		button, notches = "5", -notches
	}
	w.desk.xdotool(append(w.moveTo(image.Pt(x, y)), "click", "--repeat", strconv.Itoa(notches), "--delay", "20", button)...)
}

// drag holds the left button from the first point to the last, by way of all the
// others. Between two points the mouse passes a few more, as a hand's does: a
// program that starts to drag only after some way must see that way.
func (w window) drag(points ...image.Point) {
	w.desk.t.Helper()
	args := append(w.moveTo(points[0]), "mousedown", "1")
	const steps = 6
	for i, to := range points[1:] {
		way := to.Sub(points[i])
		for s := 1; s <= steps; s++ {
			args = append(args, w.moveTo(points[i].Add(way.Mul(s).Div(steps)))...)
		}
	}
	w.desk.xdotool(append(args, "mouseup", "1")...)
}

// size is the window's, in pixels.
func (w window) size() image.Point {
	w.desk.t.Helper()
	out, err := w.desk.command("xdotool", "getwindowgeometry", "--shell", w.id).Output()
	if err != nil {
		w.desk.t.Fatalf("size of window %s: %v", w.id, err)
	}
	var p image.Point
	for _, line := range strings.Fields(string(out)) {
		if v, ok := strings.CutPrefix(line, "WIDTH="); ok {
			p.X, _ = strconv.Atoi(v)
		}
		if v, ok := strings.CutPrefix(line, "HEIGHT="); ok {
			p.Y, _ = strconv.Atoi(v)
		}
	}
	return p
}

// resize asks for a size and waits until the window has it.
func (w window) resize(width, height int) {
	w.desk.t.Helper()
	w.desk.xdotool("windowsize", w.id, strconv.Itoa(width), strconv.Itoa(height))
	w.desk.until("the new size", func() bool { return w.size() == image.Pt(width, height) })
}
