package ui

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"testing"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func TestWordsForErrors(t *testing.T) {
	for name, test := range map[string]struct {
		err           error
		message, hint string
	}{
		"nothing":  {nil, "", ""},
		"stopped":  {fmt.Errorf("photo: %w", context.Canceled), "It was stopped before it was finished.", ""},
		"too slow": {context.DeadlineExceeded, "It took too long.", "Is the disk or the network slow? Try again."},
		"with a way out": {errors.New(`photo "a.jpg": the file is empty; copy it from the camera again`),
			`Photo "a.jpg": the file is empty.`, "Copy it from the camera again."},
		"two semicolons": {errors.New("a; b; do this"), "A; b.", "Do this."},
		"no way out":     {errors.New("the disk made a noise"), "The disk made a noise.", ""},
		"no right": {fmt.Errorf("nothing can be written to the folder /x: %w", fs.ErrPermission),
			"Nothing can be written to the folder /x: permission denied.",
			"Your user has no right to do that there; choose another place or have the right given."},
		"gone": {fmt.Errorf("open x: %w", fs.ErrNotExist), "Open x: file does not exist.",
			"It is not there any more: moved, renamed, or its drive is unplugged."},
		"a question": {errors.New("can't be put in place; is it open elsewhere?"), "Can't be put in place.", "Is it open elsewhere?"},
	} {
		t.Run(name, func(t *testing.T) {
			got := wordsFor("It failed.", test.err)
			if want := (words{Title: "It failed.", Message: test.message, Hint: test.hint}); got != want {
				t.Errorf("got  %+v\nwant %+v", got, want)
			}
		})
	}
}

func TestVerdictSays(t *testing.T) {
	const s, u, c, un = term.Sound, term.Usable, term.Condemned, term.Undecided
	for _, test := range []struct {
		by   [3]term.Verdict
		want string
	}{
		{[3]term.Verdict{s, s, s}, "sound"},
		{[3]term.Verdict{u, c, c}, "condemned for road and hard, usable for yard"},
		{[3]term.Verdict{s, u, c}, "condemned for hard, usable for road, sound for yard"},
		{[3]term.Verdict{un, un, un}, "undecided"},
		{[3]term.Verdict{s, un, un}, "undecided for road and hard, sound for yard"},
	} {
		if got := verdictSays(test.by); got != test.want {
			t.Errorf("%v says %q, want %q", test.by, got, test.want)
		}
	}
}

func TestLookedSays(t *testing.T) {
	for want, l := range map[string]record.Looked{
		"not looked at": {}, "clean": {Clean: true}, "looked at, felt": {Eye: true, Touch: true, Clean: true},
		"looked at, not clean": {Eye: true}, "felt, not clean": {Touch: true},
	} {
		if got := lookedSays(l); got != want {
			t.Errorf("%+v says %q, want %q", l, got, want)
		}
	}
}

func TestLower(t *testing.T) {
	for text, want := range map[string]string{
		"Input shaft": "input shaft", "3rd gear": "3rd gear", "TW4 case": "TW4 case", "": "", "Ünal": "ünal", "O2 seal": "O2 seal",
	} {
		if got := lower(text); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}

func TestLengthIn(t *testing.T) {
	const mm, in, thou = gauge.Millimetre, gauge.Inch, gauge.Thou
	for _, test := range []struct {
		typed      string
		of, wanted gauge.Unit
		want       string
	}{
		{"18.436", mm, mm, "18.436 mm"},
		{"18,44", mm, mm, "18,44 mm"},
		{"25.4", mm, in, "1.0000 in"},
		{".726", in, in, ".726 in"},
		{".726 in", in, in, ".726 in"},
		{"1", in, mm, "25.400 mm"},
		{"3", thou, mm, "0.076 mm"},
		{"3 thou", mm, mm, "0.076 mm"},
		{"0.5 mm", mm, mm, "0.5 mm"},
		{"0.254 mm", mm, in, "0.0100 in"},
		{"about 3", mm, in, "about 3 mm"},
		{"23/32", "mm", "mm", "18.256 mm"},
		{"23/32", "in", "in", "23/32 in"},
		{"2″", "mm", "mm", "50.800 mm"},
	} {
		if got := lengthIn(test.typed, test.of, test.wanted); got != test.want {
			t.Errorf("%q %s shown in %s is %q, want %q", test.typed, test.of, test.wanted, got, test.want)
		}
	}
}

func TestPathsAndNames(t *testing.T) {
	t.Setenv("HOME", "/tmp/edda")
	for typed, want := range map[string]string{
		"  /a/b.jpg ": "/a/b.jpg", `"/a b/c.jpg"`: "/a b/c.jpg", "file:///a/b": "/a/b", "~/photos": "/tmp/edda/photos",
		"~other/x": "~other/x", "": "", "'/x/'": "/x",
	} {
		if got := cleanPath(typed); got != want {
			t.Errorf("the path %q became %q, want %q", typed, got, want)
		}
	}
	for text, want := range map[string]string{
		"TW4 40117 customer": "TW4 40117 customer", "a/b\\c:d*?": "a-b-c-d--", "..": "report", "": "report", "Ünit 7 / x": "Ünit 7 - x",
	} {
		if got := fileName(text); got != want {
			t.Errorf("the name %q became %q, want %q", text, got, want)
		}
	}
}

func TestSettings(t *testing.T) {
	fresh := readSettings(nil)
	if fresh.Width != firstWidth || fresh.Unit != gauge.Millimetre || fresh.Paper != "a4" || fresh.Shade != AsSystem {
		t.Errorf("the first settings are %+v", fresh)
	}
	for _, garbage := range []string{"{", `{"width": "wide"}`, `{"shade": "pink", "unit": "ell", "width": 3, "paper": "wall"}`, "[]"} {
		if got := readSettings([]byte(garbage)); got != fresh {
			t.Errorf("from %s came %+v, want the first settings", garbage, got)
		}
	}
	kept := settings{Shade: DarkUI, Unit: gauge.Inch, Width: 1600, Height: 1000, Photos: "/cam", Reports: "/out", Paper: "letter"}
	if got := readSettings(kept.text()); got != kept {
		t.Errorf("kept %+v, read %+v", kept, got)
	}
}
