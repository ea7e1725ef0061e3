//go:build linux && !headless

package main_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// How long a desk waits for anything. A loaded machine that draws in software
// needs seconds for the first frame; only a real fault needs this long.
const deskPatience = 90 * time.Second

// A desk is a display of its own with a window manager, on which a test starts
// the built program and uses it as a person does: it reads titles, presses keys,
// moves the mouse. Nothing of the user's own settings reaches it. Tests never
// sleep on it; they wait for what they expect to see.
//
// Where a test fails, the desk's folder stays, with a screenshot and the output of
// all programs; FETTLEBOOK_KEEP_DESK=1 keeps it always.
type desk struct {
	t        testing.TB
	dir      string // home, settings, outputs and screenshots
	display  string // as in DISPLAY
	programs []*program
}

// newDesk starts the display (1600 × 1000 pixels, one pixel of the program's for
// each of the screen's) and the window manager, and ends all with the test.
func newDesk(t testing.TB) *desk {
	t.Helper()
	needTools(t, "Xvfb", "openbox", "xdotool", "xprop", "import")
	dir, err := os.MkdirTemp("", "fettlebook-desk-")
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{t: t, dir: dir}
	t.Cleanup(d.close)
	d.startServer()
	d.write("openbox.xml", deskManager)
	// What openbox runs at its start it runs once it takes windows over; one that
	// comes before is lost to it.
	ready := filepath.Join(dir, "ready")
	d.start("openbox", "--sm-disable", "--config-file", filepath.Join(dir, "openbox.xml"), "--startup", "touch "+ready)
	d.until("the window manager to be ready", func() bool {
		_, err := os.Stat(ready)
		return err == nil
	})
	return d
}

// deskManager has windows where the mouse coordinates of a test expect them, and
// binds one key only, the usual one that closes a window: all others belong to the
// program.
const deskManager = `<?xml version="1.0" encoding="UTF-8"?>
<openbox_config xmlns="http://openbox.org/3.4/rc">
  <focus><focusNew>yes</focusNew><followMouse>no</followMouse></focus>
  <desktops><number>1</number><popupTime>0</popupTime></desktops>
  <keyboard><keybind key="A-F4"><action name="Close"/></keybind></keyboard>
  <mouse><context name="Client"><mousebind button="Left" action="Press"><action name="Focus"/></mousebind></context></mouse>
  <applications>
    <application class="*" type="normal">
      <decor>no</decor>
      <position force="yes"><x>0</x><y>0</y></position>
      <focus>yes</focus>
    </application>
  </applications>
</openbox_config>
`

func needTools(t testing.TB, names ...string) {
	t.Helper()
	var missing []string
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			missing = append(missing, name)
		}
	}
	if missing != nil {
		t.Fatalf("this test needs %s; `.ci/packages.sh test` installs what is missing", strings.Join(missing, ", "))
	}
}

// startServer lets Xvfb choose a free display and tell which.
func (d *desk) startServer() {
	d.t.Helper()
	told, tells, err := os.Pipe()
	if err != nil {
		d.t.Fatal(err)
	}
	defer told.Close()
	defer tells.Close()
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1600x1000x24", "-noreset", "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{tells}
	cmd.Env = os.Environ()
	server := d.run(cmd)
	tells.Close()
	if err := told.SetReadDeadline(time.Now().Add(deskPatience)); err != nil {
		d.t.Fatal(err)
	}
	number, err := io.ReadAll(told) // ends when Xvfb closes its end, or dies
	if err != nil || len(bytes.TrimSpace(number)) == 0 {
		d.t.Fatalf("Xvfb did not start: %v\n%s", err, server.output())
	}
	d.display = ":" + string(bytes.TrimSpace(number))
}

// command prepares a program that is to know this desk only.
func (d *desk) command(name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	home := filepath.Join(d.dir, "home")
	for _, kv := range os.Environ() {
		key, _, _ := strings.Cut(kv, "=")
		switch {
		case strings.HasPrefix(key, "XDG_"), strings.HasPrefix(key, "LC_"), strings.HasPrefix(key, "FYNE_"),
			key == "WAYLAND_DISPLAY", key == "XAUTHORITY":
		default:
			cmd.Env = append(cmd.Env, kv)
		}
	}
	cmd.Env = append(cmd.Env,
		"DISPLAY="+d.display,
		"HOME="+home,
		"XDG_CONFIG_HOME="+filepath.Join(home, ".config"),
		"XDG_DATA_HOME="+filepath.Join(home, ".local", "share"),
		"XDG_CACHE_HOME="+filepath.Join(home, ".cache"),
		"LANG=en_GB.UTF-8", // Fyne knows no language called C
		"LC_CTYPE=C.UTF-8", // there on every machine
		"LIBGL_ALWAYS_SOFTWARE=1",
		"FYNE_SCALE=1",
		// No message bus: nobody answers there, and asking costs seconds.
		"DBUS_SESSION_BUS_ADDRESS=unix:path="+filepath.Join(d.dir, "no-bus"),
		"DBUS_SYSTEM_BUS_ADDRESS=unix:path="+filepath.Join(d.dir, "no-bus"),
	)
	return cmd
}

// A program is a running one; its output goes to a file of the desk's.
type program struct {
	desk  *desk
	name  string
	out   string
	cmd   *exec.Cmd
	ended chan struct{}
	err   error // once ended
	asked bool  // the test knows that it ends
}

// start runs a program on the desk. If it ends before the test waits for its end,
// whatever the test waits for then fails.
func (d *desk) start(name string, args ...string) *program {
	d.t.Helper()
	if err := os.MkdirAll(filepath.Join(d.dir, "home"), 0o755); err != nil {
		d.t.Fatal(err)
	}
	return d.run(d.command(name, args...))
}

func (d *desk) run(cmd *exec.Cmd) *program {
	d.t.Helper()
	name := filepath.Base(cmd.Path)
	p := &program{desk: d, name: name, cmd: cmd, ended: make(chan struct{})}
	p.out = filepath.Join(d.dir, fmt.Sprintf("%02d-%s.txt", len(d.programs), name))
	file, err := os.Create(p.out)
	if err != nil {
		d.t.Fatal(err)
	}
	defer file.Close()
	cmd.Stdout, cmd.Stderr = file, file
	// A test that is killed must leave no display behind.
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	if err := cmd.Start(); err != nil {
		d.t.Fatalf("start %s: %v", name, err)
	}
	d.programs = append(d.programs, p)
	go func() {
		p.err = cmd.Wait()
		close(p.ended)
	}()
	return p
}

// waitEnd waits until the program has ended by itself and returns how: nil is
// exit code 0.
func (p *program) waitEnd() error {
	p.desk.t.Helper()
	p.asked = true
	p.desk.until(p.name+" to end", p.hasEnded)
	return p.err
}

func (p *program) hasEnded() bool {
	select {
	case <-p.ended:
		return true
	default:
		return false
	}
}

// output is what the program has printed so far.
func (p *program) output() string {
	b, err := os.ReadFile(p.out)
	if err != nil {
		return err.Error()
	}
	return string(b)
}

// until waits for something to become true, and fails the test if it does not, or
// if a program ends meanwhile that should not.
func (d *desk) until(what string, is func() bool) {
	d.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), deskPatience)
	defer cancel()
	again := time.NewTicker(20 * time.Millisecond)
	defer again.Stop()
	for !is() {
		for _, p := range d.programs {
			if p.hasEnded() && !p.asked {
				d.t.Fatalf("waiting for %s: %s has ended: %v\n%s", what, p.name, p.err, p.output())
			}
		}
		select {
		case <-ctx.Done():
			d.t.Fatalf("waited %v for %s; on the desk: %q", deskPatience, what, d.titles())
		case <-again.C:
		}
	}
}

// A window is one on the desk.
type window struct {
	desk *desk
	id   string
}

var windowID = regexp.MustCompile(`0x[0-9a-f]+`)

// windows are those of programs, in the order in which they came.
func (d *desk) windows() []window {
	out, _ := d.command("xprop", "-root", "_NET_CLIENT_LIST").Output()
	var all []window
	for _, id := range windowID.FindAllString(string(out), -1) {
		all = append(all, window{d, id})
	}
	return all
}

func (d *desk) titles() []string {
	var all []string
	for _, w := range d.windows() {
		all = append(all, w.title())
	}
	return all
}

// waitWindow waits for a window whose title matches the regular expression.
func (d *desk) waitWindow(title string) window {
	d.t.Helper()
	matches := regexp.MustCompile(title)
	var found window
	d.until(fmt.Sprintf("a window titled %q", title), func() bool {
		for _, w := range d.windows() {
			if matches.MatchString(w.title()) {
				found = w
				return true
			}
		}
		return false
	})
	return found
}

// title is the window's title, "" if the window is gone.
func (w window) title() string {
	out, _ := w.desk.command("xdotool", "getwindowname", w.id).Output()
	return strings.TrimSuffix(string(out), "\n")
}

// waitTitle waits until the title matches the regular expression, and returns it.
func (w window) waitTitle(title string) string {
	w.desk.t.Helper()
	matches := regexp.MustCompile(title)
	var got string
	w.desk.until(fmt.Sprintf("the title %q", title), func() bool {
		got = w.title()
		return matches.MatchString(got)
	})
	return got
}

// write puts a file into the desk's folder and returns its path.
func (d *desk) write(name, content string) string {
	d.t.Helper()
	file := filepath.Join(d.dir, name)
	if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
		d.t.Fatal(err)
	}
	return file
}

// shot keeps a picture of the whole desk, for a person to look at, and returns its
// path. It waits for the picture to stand still, but not for long: a text cursor
// blinks for ever.
func (d *desk) shot(name string) string {
	file := filepath.Join(d.dir, name+".png")
	var before []byte
	for same, tries := 0, 0; same < 2 && tries < 15; tries++ {
		now, err := d.command("import", "-window", "root", "png24:-").Output()
		if err != nil {
			d.t.Logf("screenshot %s: %v", name, err)
			return file
		}
		if bytes.Equal(now, before) {
			same++
		} else {
			same = 0
		}
		before = now
	}
	if err := os.WriteFile(file, before, 0o644); err != nil {
		d.t.Log(err)
	}
	return file
}

// colour is the mean colour of a part of the desk, each channel from 0 to 255.
func (d *desk) colour(of image.Rectangle) [3]float64 {
	d.t.Helper()
	crop := fmt.Sprintf("%dx%d+%d+%d", of.Dx(), of.Dy(), of.Min.X, of.Min.Y)
	out, err := d.command("import", "-window", "root", "-crop", crop, "+repage", "png24:-").Output()
	if err != nil {
		d.t.Fatalf("look at %v of the desk: %v", of, err)
	}
	picture, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		d.t.Fatalf("look at %v of the desk: %v", of, err)
	}
	return meanColour(picture, picture.Bounds())
}

func meanColour(picture image.Image, of image.Rectangle) [3]float64 {
	var sum [3]float64
	for y := of.Min.Y; y < of.Max.Y; y++ {
		for x := of.Min.X; x < of.Max.X; x++ {
			r, g, b, _ := picture.At(x, y).RGBA()
			for i, v := range [3]uint32{r, g, b} {
				sum[i] += float64(v) / 257
			}
		}
	}
	for i := range sum {
		sum[i] /= float64(of.Dx() * of.Dy())
	}
	return sum
}

// alike tells whether an eye would take two colours for one.
func alike(a, b [3]float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 4 {
			return false
		}
	}
	return true
}

func (d *desk) close() {
	keep := d.t.Failed() || os.Getenv("FETTLEBOOK_KEEP_DESK") != ""
	if keep {
		if d.display != "" {
			d.shot("at-the-end")
		}
		d.t.Logf("the desk's folder stays: %s", d.dir)
	}
	for i := len(d.programs) - 1; i >= 0; i-- {
		p := d.programs[i]
		_ = p.cmd.Process.Kill() // it may have ended already
		<-p.ended
	}
	if !keep {
		if err := os.RemoveAll(d.dir); err != nil {
			d.t.Log(err)
		}
	}
}
