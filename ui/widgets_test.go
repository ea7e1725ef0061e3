package ui

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TestMarkup holds what the widgets of our own are drawn from, and where.
func TestMarkup(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(newLook(LightUI))
	judged := []rowItem{
		{ID: "a", Lead: "1", Text: "Pilot nose", Quiet: "18.436 mm", Word: "sound", Judged: true, Verdict: term.Sound},
		{ID: "b", Lead: "2", Text: "Cone", Quiet: "rust pits", Word: "condemned", Judged: true, Verdict: term.Condemned},
		{ID: "c", Lead: "3", Text: "Dents, seen", Struck: true},
	}
	list := newRows(nil)
	list.WordWidth = 90
	list.SetItems(judged)
	list.Mark("b")
	lane := newTiles(nil)
	lane.SetItems([]tileItem{
		{ID: "a", Name: "Input shaft", Grade: "yard duty only", Verdict: term.Condemned},
		{ID: "b", Name: "Hub", Grade: "usable", Verdict: term.Usable},
		{ID: "c", Name: "Seals", Grade: "always replaced", Apart: true},
	})
	lane.Mark("a")
	scale := newChoices(nil, []choice{severityWords[term.Seen], severityWords[term.Felt], severityWords[term.Deep]}, nil)
	scale.Numbered = true
	scale.Mark(string(term.Felt))
	for name, w := range map[string]fyne.Widget{"rows": list, "tiles": lane, "choices": scale} {
		w.Resize(fyne.NewSize(420, max(w.MinSize().Height, 40)))
		test.AssertObjectRendersToMarkup(t, name+".xml", w)
	}
	for _, v := range term.Verdicts {
		b := newBand(v, 40)
		b.Resize(fyne.NewSize(60, 8))
		test.AssertObjectRendersToMarkup(t, "band-"+v.String()+".xml", b)
	}
}

// TestBandsDiffer holds that no two verdicts are told apart by colour only.
func TestBandsDiffer(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(newLook(LightUI))
	seen := map[string]term.Verdict{}
	for _, v := range term.Verdicts {
		b := newBand(v, 40)
		b.Resize(fyne.NewSize(60, 8))
		var shape strings.Builder
		for _, o := range test.WidgetRenderer(b).Objects() {
			fmt.Fprint(&shape, o.Position(), o.Size())
		}
		if other, ok := seen[shape.String()]; ok {
			t.Errorf("the bands of %s and %s have one shape", v, other)
		}
		seen[shape.String()] = v
	}
}

func TestThemeHasAllColors(t *testing.T) {
	test.NewTempApp(t)
	for _, shade := range []Shade{LightUI, DarkUI} {
		test.AssertAllColorNamesDefined(t, newLook(shade), string(shade))
		for _, name := range []fyne.ThemeColorName{colorQuiet, colorRaised, colorChosen, colorMat, colorChip, colorWarn, colorWarnEdge, colorInform, colorInformEdge} {
			if _, _, _, a := newLook(shade).Color(name, theme.VariantLight).RGBA(); a == 0 {
				t.Errorf("%s has no colour %s", shade, name)
			}
		}
	}
}

// contrast is that of WCAG 2.2 (relative luminance, sRGB).
func contrast(t *testing.T, l *look, ink, ground fyne.ThemeColorName) float64 {
	t.Helper()
	light := func(name fyne.ThemeColorName) float64 {
		r, g, b, _ := l.Color(name, theme.VariantLight).RGBA()
		return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
	}
	a, b := light(ink), light(ground)
	return (max(a, b) + 0.05) / (min(a, b) + 0.05)
}

func linear(channel uint32) float64 {
	c := float64(channel) / 0xffff
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

func TestWordsCanBeRead(t *testing.T) {
	const least = 4.5 // WCAG 2.2, success criterion 1.4.3
	for _, shade := range []Shade{LightUI, DarkUI} {
		l := newLook(shade)
		for ink, grounds := range map[fyne.ThemeColorName][]fyne.ThemeColorName{
			theme.ColorNameForeground:          {theme.ColorNameBackground, colorRaised, colorChosen, colorWarn, colorInform, theme.ColorNameButton},
			colorQuiet:                         {theme.ColorNameBackground, colorRaised, colorChosen, colorWarn, colorInform, theme.ColorNameButton},
			theme.ColorNameError:               {theme.ColorNameBackground, colorRaised},
			theme.ColorNameForegroundOnPrimary: {theme.ColorNamePrimary},
			theme.ColorNamePlaceHolder:         {theme.ColorNameInputBackground},
		} {
			for _, ground := range grounds {
				if c := contrast(t, l, ink, ground); c < least {
					t.Errorf("%s: %s on %s has a contrast of %.2f", shade, ink, ground, c)
				}
			}
		}
	}
}

func TestTilesFindByTyping(t *testing.T) {
	test.NewTempApp(t)
	lane := newTiles(nil)
	lane.SetItems([]tileItem{{ID: "1", Name: "Input shaft"}, {ID: "2", Name: "Main shaft"}, {ID: "3", Name: "Blocking ring, 3rd"}, {ID: "4", Name: "3rd gear"}})
	for typed, want := range map[string]string{"main": "2", "3rd": "4", "ring": "3", "aft": "1", "in": "1"} {
		lane.FocusLost()
		lane.Mark("")
		for _, r := range typed {
			lane.TypedRune(r)
		}
		if lane.Selected != want {
			t.Errorf("typing %q goes to %s, want %s", typed, lane.Selected, want)
		}
	}
}

// TestKeysAreClear holds that no stroke stands for two things, and that the photo
// leaves all others alone.
func TestKeysAreClear(t *testing.T) {
	h := atWork(t)
	photo := map[stroke]bool{}
	for _, r := range "+-=01 k" {
		photo[letter(r)] = true
	}
	seen := map[stroke]string{}
	for _, a := range h.f.all() {
		for _, s := range a.strokes {
			if a.run == nil {
				continue
			}
			if other, ok := seen[s]; ok {
				t.Errorf("%s stands for %q and %q", s.says(), a.says, other)
			}
			if photo[s] {
				t.Errorf("%s of %q is the photo's own", s.says(), a.says)
			}
			seen[s] = a.says
		}
		if a.says == "" || len(a.strokes) == 0 {
			t.Errorf("%+v has no words or no key", a)
		}
	}
	h.press(fyne.KeyF1)
	if len(h.f.window.Canvas().Overlays().List()) != 1 {
		t.Fatal("F1 shows no list")
	}
	wide := func(s string, bold bool) float32 {
		return fyne.MeasureText(s, theme.TextSize(), fyne.TextStyle{Bold: bold}).Width
	}
	for _, a := range h.f.listed() {
		// The widest keys of a column may stand beside any of its meanings.
		if wide("Ctrl+Shift+Z or Ctrl+Y", true)+16+wide(a.says, false)+8 > keyColumnWidth {
			t.Errorf("%q is too long for the list of keys", a.says)
		}
	}
	h.press(fyne.KeyEscape)
	if len(h.f.window.Canvas().Overlays().List()) != 0 {
		t.Error("Escape leaves the list open")
	}
	h.write("w")
	h.wantTitle("Input shaft · sound · saved — Fettlebook")
}

func TestLongNote(t *testing.T) {
	h := atWork(t)
	long := strings.Repeat("ガス漏れ שמן ", 100_000/13) + strings.Repeat("x", 100_000)
	h.write("u")
	sheet := h.place().side.sheet.(*partSheet)
	clipboard := test.NewClipboard()
	clipboard.SetContent(long)
	sheet.note.entry.TypedShortcut(&fyne.ShortcutPaste{Clipboard: clipboard})
	if sheet.note.Text() != long {
		t.Fatal("a long text was cut")
	}
	if n := len([]rune(sheet.note.entry.Text)); n > longNote {
		t.Errorf("the entry holds %d characters", n)
	}
	sheet.submit()
	h.settled()
	if got := h.record().Parts[h.place().part].Note; got != long {
		t.Errorf("the record holds %d bytes of %d", len(got), len(long))
	}
	h.write("u")
	sheet = h.place().side.sheet.(*partSheet)
	if sheet.note.Text() != long {
		t.Error("the sheet lost text of the record")
	}
	sheet.note.replace()
	h.f.window.Canvas().Unfocus()
	if sheet.note.Text() != long {
		t.Error("replacing by nothing lost the text")
	}
}

func TestCut(t *testing.T) {
	text := "one\n\n" + strings.Repeat("é", pieceRunes+7) + "\nlast"
	got := cut(text)
	if len(got) != 5 || got[1] != "" || len([]rune(got[2])) != pieceRunes || len([]rune(got[3])) != 7 || got[4] != "last" {
		t.Errorf("cut into %d pieces: %.40q", len(got), got)
	}
}

func TestPicturesAreBounded(t *testing.T) {
	bench, err := inspection.Open(t.Context(), inspection.Options{Dir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	defer bench.Close()
	p := newPictures(context.Background(), bench, func(work func()) { work() })
	for i := range 60 {
		key := pictureKey{file: strings.Repeat("a", i+1), size: previewSize}
		p.keep(&picture{key: key, image: image.NewGray(image.Rect(0, 0, 1, 1)), bytes: 10 << 20})
	}
	if p.bytes > pictureBytes || p.cache.Len() != len(p.found) || p.cache.Len() != pictureBytes/(10<<20) {
		t.Errorf("%d pictures with %d bytes are kept", p.cache.Len(), p.bytes)
	}
	if p.have(pictureKey{file: strings.Repeat("a", 60), size: previewSize}) == nil {
		t.Error("the newest is gone")
	}
	if p.have(pictureKey{file: "a", size: previewSize}) != nil {
		t.Error("the oldest is still there")
	}
}

func TestThumbsOfTurnedPhoto(t *testing.T) {
	if keyOf(record.Photo{File: "f"}, thumbSize) == keyOf(record.Photo{File: "f", Turned: 90}, thumbSize) {
		t.Error("a photo that was turned shares the picture of the one that was not")
	}
}
