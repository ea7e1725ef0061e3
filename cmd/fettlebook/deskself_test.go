//go:build linux && !headless

package main_test

import (
	"image"
	"image/png"
	"os"
	"regexp"
	"strings"
	"testing"
)

// TestDesk tries the desk on the X server's own event printer: what a hand does
// must arrive, where it was meant to, before any test of the program can rest on
// it.
func TestDesk(t *testing.T) {
	d := newDesk(t)
	needTools(t, "xev", "stdbuf")
	xev := d.start("stdbuf", "-oL", "xev", "-geometry", "640x480")
	w := d.waitWindow("^Event Test")
	if got := w.waitTitle("Tester$"); got != "Event Tester" {
		t.Errorf("title %q", got)
	}
	if got := w.size(); got != image.Pt(640, 480) {
		t.Errorf("size %v", got)
	}

	heard := func(event string) {
		t.Helper()
		re := regexp.MustCompile("(?s)" + event)
		d.until("the event "+event, func() bool { return re.MatchString(xev.output()) })
	}
	heard("FocusIn event")
	const press = `KeyPress event[^\n]*\n[^\n]*\n    state 0x%, keycode \d+ \(keysym 0x[0-9a-f]+, `
	key := func(state, name string) string {
		return strings.Replace(press, "%", state, 1) + name + `\)`
	}
	d.typeText("d8,W")
	heard(key("0", "d") + ".*" + key("0", "8") + ".*" + key("0", "comma") + ".*" + key("1", "W"))
	d.key("Tab", "ctrl+z")
	heard(key("0", "Tab") + ".*" + key("4", "z"))

	button := func(kind, at string, number string) string {
		return "Button" + kind + ` event[^\n]*\n[^\n]*\(` + at + `\)[^\n]*\n    state 0x[0-9a-f]+, button ` + number + ","
	}
	w.click(123, 45)
	heard(button("Press", "123,45", "1") + ".*" + button("Release", "123,45", "1"))
	w.rightClick(50, 60)
	heard(button("Press", "50,60", "3"))
	w.doubleClick(70, 80)
	heard(button("Press", "70,80", "1") + ".*" + button("Press", "70,80", "1"))
	w.scroll(90, 100, -2)
	heard(button("Press", "90,100", "5") + ".*" + button("Press", "90,100", "5"))
	w.scroll(90, 110, 1)
	heard(button("Press", "90,110", "4"))
	motion := func(at string) string { return `MotionNotify event[^\n]*\n[^\n]*\(` + at + `\)` }
	w.drag(image.Pt(200, 200), image.Pt(260, 200), image.Pt(260, 260))
	// On a busy machine the server may join some of the moves between.
	heard(button("Press", "200,200", "1") + ".*" + motion(`2[0-9]+,2[0-9]+`) + ".*" + button("Release", "260,260", "1"))

	w.resize(500, 400)
	heard("ConfigureNotify event.*width 500, height 400")

	file, err := os.Open(d.shot("xev"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	picture, err := png.Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	if got := picture.Bounds().Size(); got != image.Pt(1600, 1000) {
		t.Errorf("screenshot is %v", got)
	}

	d.closeWindow()
	if err := xev.waitEnd(); err != nil {
		t.Errorf("xev ended with %v", err)
	}
}
