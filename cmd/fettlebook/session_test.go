//go:build linux && !headless

package main_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// programTags are those of the Makefile: the program that is tried is the one
// that is shipped.
const programTags = "migrated_fynedo,netgo,osusergo"

// build builds the program into the desk's folder.
func (d *desk) build() string {
	d.t.Helper()
	bin := filepath.Join(d.dir, "fettlebook")
	cmd := exec.Command("go", "build", "-tags", programTags, "-o", bin, ".")
	cmd.Env = append(os.Environ(), "CGO_ENABLED=1")
	if out, err := cmd.CombinedOutput(); err != nil {
		d.t.Fatalf("build: %v\n%s", err, out)
	}
	return bin
}

// ask runs the program beside its window and returns what it prints.
func (d *desk) ask(bin string, args ...string) []byte {
	d.t.Helper()
	out, err := d.command(bin, args...).Output()
	if err != nil {
		d.t.Fatalf("fettlebook %s: %v", strings.Join(args, " "), err)
	}
	return out
}

// seen is what the session looks at in a record's JSON.
type seen struct {
	Photos   map[string]struct{ Name, Stage string }
	Findings map[string]struct {
		Damage, Severity, Zone, Surface string
		Withdrawn                       string
	}
	Outlines map[string]struct {
		Photo, Finding, Shape string
		Points                [][2]int
	}
}

func (d *desk) record(bin, archive string) seen {
	d.t.Helper()
	var r seen
	if err := json.Unmarshal(d.ask(bin, "--archive", archive, "show", "40117"), &r); err != nil {
		d.t.Fatal(err)
	}
	return r
}

// TestSession does the main job with mouse and keyboard on the built program:
// attach a photo, outline a damage, say what it is and how bad, see the grade
// change, take it back and do it again, write the report.
func TestSession(t *testing.T) {
	d := newDesk(t)
	needTools(t, "pdftotext", "pdffonts", "pdfimages", "qpdf")
	bin, archive := d.build(), filepath.Join(d.dir, "archive")
	photo := filepath.Join(d.dir, "home", "the cone, again.jpg")
	if err := os.MkdirAll(filepath.Dir(photo), 0o755); err != nil {
		t.Fatal(err)
	}
	original, err := os.ReadFile("../../assets/demo/photos/40508-input-shaft-cone.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(photo, original, 0o644); err != nil {
		t.Fatal(err)
	}

	program := d.start(bin, "--as", "Wren Aldous", "demo", "--archive", archive)
	w := d.waitWindow("^Register — Fettlebook$")
	before := d.record(bin, archive)
	d.key("Return")
	w.waitTitle("^Input shaft · yard duty only · saved — Fettlebook$")

	d.key("ctrl+o", "ctrl+a")
	d.typeText(photo)
	d.key("Return")
	d.until("the photo to be in the archive", func() bool {
		return len(d.record(bin, archive).Photos) == len(before.Photos)+1
	})

	size := w.size()
	at := func(x, y float64) image.Point { return image.Pt(int(x*float64(size.X)), int(y*float64(size.Y))) }
	// The archive has the photo before the window shows it, and until then a click
	// meets the photo before it. What will be outlined must be seen there first.
	there, here := image.Rect(601, 285, 859, 606), image.Rectangle{at(0.244, 0.40), at(0.304, 0.52)}
	cone := meanColour(decoded(t, original), there)
	d.until("the photo to be seen", func() bool { return alike(d.colour(here), cone) })
	d.key("c")
	for _, p := range []image.Point{at(0.244, 0.40), at(0.304, 0.40), at(0.304, 0.52), at(0.244, 0.52)} {
		w.click(p.X, p.Y)
	}
	d.key("Return")
	d.until("the outline to be in the archive", func() bool {
		return len(d.record(bin, archive).Outlines) == len(before.Outlines)+1
	})
	d.typeText("scor")
	d.key("Return", "3", "Return")
	w.waitTitle("^Input shaft · condemned · saved — Fettlebook$")
	d.shot("condemned")

	after := d.record(bin, archive)
	if got := len(after.Findings) - len(before.Findings); got != 1 {
		t.Fatalf("%d findings were added", got)
	}
	for id, f := range after.Findings {
		if _, old := before.Findings[id]; old {
			continue
		}
		if f.Damage != "scoring" || f.Severity != "deep" || f.Surface != "cone" || f.Zone != "working-face" {
			t.Errorf("the finding is %+v", f)
		}
		shown := false
		for _, o := range after.Outlines {
			shown = shown || o.Finding == id && o.Shape == "polygon" && len(o.Points) == 4
		}
		if !shown {
			t.Errorf("no outline of four corners shows the finding: %+v", after.Outlines)
		}
	}
	list := string(d.ask(bin, "--archive", archive, "list", "40117", "--json"))
	if !strings.Contains(list, "6 condemned") {
		t.Errorf("the register says %s", list)
	}

	d.key("ctrl+z")
	w.waitTitle("^Input shaft · yard duty only · saved — Fettlebook$")
	d.key("ctrl+shift+z")
	w.waitTitle("^Input shaft · condemned · saved — Fettlebook$")

	d.key("ctrl+p")
	d.key("ctrl+Return")
	var report string
	d.until("the report to be written", func() bool {
		found, _ := filepath.Glob(filepath.Join(d.dir, "home", "*.pdf"))
		more, _ := filepath.Glob(filepath.Join(d.dir, "home", "*", "*.pdf"))
		if found = append(found, more...); len(found) == 1 {
			report = found[0]
		}
		return report != ""
	})
	d.shot("reported")
	checkReport(t, d, report)

	d.closeWindow()
	if err := program.waitEnd(); err != nil {
		t.Errorf("the program ended with %v:\n%s", err, program.output())
	}
	if out := string(d.ask(bin, "--archive", archive, "archive", "verify")); !strings.Contains(out, "whole") {
		t.Errorf("archive verify says %s", out)
	}
}

func decoded(t *testing.T, photo []byte) image.Image {
	t.Helper()
	picture, err := jpeg.Decode(bytes.NewReader(photo))
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

func checkReport(t *testing.T, d *desk, report string) {
	t.Helper()
	run := func(name string, args ...string) string {
		out, err := d.command(name, args...).CombinedOutput()
		if err != nil {
			t.Errorf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
		}
		return string(out)
	}
	text := run("pdftotext", "-layout", report, "-")
	for _, want := range []string{"Condition report", "Worth rebuilding", "page 1 of", "Quillan Gear Shop", "scoring, a finger feels the step", "Cautions"} {
		if !strings.Contains(text, want) {
			t.Errorf("the report does not say %q", want)
		}
	}
	if check := run("qpdf", "--check", report); !strings.Contains(check, "No syntax or stream encoding errors") {
		t.Errorf("qpdf says %s", check)
	}
	for _, line := range strings.Split(strings.TrimSpace(run("pdffonts", report)), "\n")[2:] {
		if !regexp.MustCompile(`yes yes yes`).MatchString(line) {
			t.Errorf("a typeface is not embedded as a subset with its text: %s", line)
		}
	}
	if pictures := strings.Count(run("pdfimages", "-list", report), "jpeg"); pictures != 7 {
		t.Errorf("the report holds %d photos, want the seven of the record", pictures)
	}
}
