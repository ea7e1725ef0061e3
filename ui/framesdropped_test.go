//go:build linux

package ui_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/canvas"

	"fettlebook/ui"
)

// framesVariable makes the test binary a window that counts frames; its value says what
// the window shows.
const framesVariable = "FETTLEBOOK_TEST_FRAMES"

// TestMain lets the test binary be its own window.
func TestMain(m *testing.M) {
	if what := os.Getenv(framesVariable); what != "" {
		showFrames(what)
		return
	}
	os.Exit(m.Run())
}

// countedFrames are the frames of a window while it moves.
type countedFrames struct {
	Frames, Dropped int
	Median, P99     float64 // milliseconds from frame to frame
}

// The window draws 60 times a second at most; it is watched for so many frames after
// some that are not counted.
const (
	framesPerSecond = 60
	framesFirst     = 30
	framesCounted   = 300
)

// showFrames opens a window of 1600 × 1000, moves what it shows with every frame and
// writes how many came too late.
func showFrames(what string) {
	a := app.NewWithID("fettlebook.frames")
	a.Settings().SetTheme(ui.PhotoTheme(false))
	w := a.NewWindow("frames")
	w.SetPadded(false)
	content, move := movedContent(what)
	w.SetContent(content)
	w.Resize(fyne.NewSize(1600, 1000))
	var at []time.Time
	var running *fyne.Animation
	running = &fyne.Animation{Duration: time.Hour, Curve: fyne.AnimationLinear, Tick: func(float32) {
		at = append(at, time.Now())
		move(len(at))
		if len(at) == framesFirst+framesCounted+1 {
			running.Stop()
			_ = json.NewEncoder(os.Stdout).Encode(countFrames(at[framesFirst:]))
			a.Quit()
		}
	}}
	a.Lifecycle().SetOnStarted(func() { running.Start() })
	w.ShowAndRun()
}

// movedContent is what the window shows, and how it moves.
func movedContent(what string) (fyne.CanvasObject, func(frame int)) {
	if what == "empty" {
		blank := image.NewRGBA(image.Rect(0, 0, 1600, 1000))
		raster := canvas.NewRaster(func(int, int) image.Image { return blank })
		return raster, func(int) { canvas.Refresh(raster) }
	}
	v, _ := largePhoto(fyne.NewSize(1600, 1000))
	if strings.Contains(what, "outlines") {
		v.SetOutlines(manyOutlines(200))
	}
	v.ZoomBy(2.5)
	return v, func(frame int) {
		back := float32(1 - 2*(frame/40%2))
		if strings.Contains(what, "pan") {
			v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(7*back, 3*back)})
			return
		}
		v.ZoomBy(math.Pow(1.02, float64(back)))
	}
}

func countFrames(at []time.Time) countedFrames {
	var c countedFrames
	var took []float64
	for i := 1; i < len(at); i++ {
		d := at[i].Sub(at[i-1])
		took = append(took, milliseconds(d))
		c.Dropped += max(int(math.Round(d.Seconds()*framesPerSecond))-1, 0)
	}
	slices.Sort(took)
	c.Frames, c.Median, c.P99 = len(took), took[len(took)/2], took[len(took)*99/100]
	return c
}

func TestCountFrames(t *testing.T) {
	const tick = time.Second / framesPerSecond
	at := []time.Time{time.Unix(0, 0)}
	for _, ticks := range []float64{1, 1.2, 0.8, 2, 3.1, 1} {
		at = append(at, at[len(at)-1].Add(time.Duration(ticks*float64(tick))))
	}
	if got := countFrames(at); got.Frames != 6 || got.Dropped != 3 {
		t.Errorf("%d frames, %d dropped; want 6 and 3", got.Frames, got.Dropped)
	}
}

// BenchmarkFramesDropped moves a photo of 48 megapixels in a real window, and beside it a
// raster of the same size that draws nothing: how many frames come too late in each.
func BenchmarkFramesDropped(b *testing.B) {
	if _, err := exec.LookPath("Xvfb"); err != nil {
		b.Skip("Xvfb is not here; .ci/packages.sh test installs it")
	}
	display := virtualDisplay(b)
	shows := []string{"empty", "pan", "zoom", "pan-outlines", "zoom-outlines"}
	dropped := map[string]int{}
	var last map[string]countedFrames
	for b.Loop() {
		last = map[string]countedFrames{}
		for _, what := range shows {
			c := framesOf(b, display, what)
			last[what] = c
			dropped[what] += c.Dropped
		}
	}
	for _, what := range shows {
		b.ReportMetric(float64(dropped[what])/float64(b.N*framesCounted)*100, "%dropped-"+what)
		b.ReportMetric(last[what].Median, "ms-"+what)
	}
}

func framesOf(b *testing.B, display, what string) countedFrames {
	b.Helper()
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	cmd := exec.CommandContext(b.Context(), self)
	home := b.TempDir()
	cmd.Env = append(os.Environ(), framesVariable+"="+what, "DISPLAY="+display, "HOME="+home, "XDG_CONFIG_HOME="+home,
		"LIBGL_ALWAYS_SOFTWARE=1", "FYNE_SCALE=1", "LANG=en_GB.UTF-8", "LC_ALL=",
		"DBUS_SESSION_BUS_ADDRESS=unix:path="+home+"/no-bus", "DBUS_SYSTEM_BUS_ADDRESS=unix:path="+home+"/no-bus")
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		b.Fatalf("the window ended with %v\n%s", err, complaints.String())
	}
	var c countedFrames
	if err := json.Unmarshal(out.Bytes(), &c); err != nil {
		b.Fatalf("the window said %q: %v", out.String(), err)
	}
	return c
}

// virtualDisplay starts a display that ends with the benchmark.
func virtualDisplay(b *testing.B) string {
	b.Helper()
	told, tells, err := os.Pipe()
	if err != nil {
		b.Fatal(err)
	}
	defer told.Close()
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1600x1000x24", "-noreset", "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{tells}
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	tells.Close()
	b.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	number, err := io.ReadAll(told)
	if err != nil || len(bytes.TrimSpace(number)) == 0 {
		b.Fatalf("Xvfb did not start: %v", err)
	}
	return fmt.Sprintf(":%s", bytes.TrimSpace(number))
}
