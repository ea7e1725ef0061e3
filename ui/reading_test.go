package ui

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// typeLimit types the limit of the chosen surface in, as the sheet asks for it.
func (h *hands) typeLimit(discard, nominal string) {
	h.t.Helper()
	h.place().showLimit()
	sheet := h.place().side.sheet.(*limitSheet)
	sheet.fields["discard"].SetText(discard)
	sheet.fields["nominal"].SetText(nominal)
	sheet.fields["manual"].SetText("workshop manual")
	sheet.fields["sheet"].SetText("31")
	h.press(fyne.KeyReturn)
	if _, ok := h.place().side.sheet.(*readingSheet); !ok {
		h.t.Fatal("the limit was not kept")
	}
	h.press(fyne.KeyEscape)
}

func (h *hands) instruments(list ...record.Instrument) {
	h.t.Helper()
	if err := h.bench.SetGauges(h.t.Context(), inspection.Gauges{Instruments: list}); err != nil {
		h.t.Fatal(err)
	}
}

var goodMicrometer = record.Instrument{Kind: "micrometer", Name: "micrometer 0–25", Serial: "M-3", Resolution: "0.001 mm", Error: "0.002 mm", Repeatability: "0.001 mm"}

// TestReadingAsOnAPad takes readings by the keys alone: G, a value and Enter for
// each, and Ctrl+Enter.
func TestReadingAsOnAPad(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.write("w")
	h.settled()
	h.place().chooseSurface("pilot")
	h.typeLimit("18.415", "18.440")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	h.write("18.436")
	if said := paragraphText(sheet.verdict); !strings.Contains(said, "Decided.") || !strings.Contains(said, "within it") {
		t.Errorf("while it is typed it says %q", said)
	}
	h.press(fyne.KeyReturn)
	h.write("18,41")
	if said := paragraphText(sheet.verdict); !strings.Contains(said, "worn past it") {
		t.Errorf("with a value past the limit it says %q", said)
	}
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Input shaft · condemned · saved — Fettlebook")
	for _, m := range h.record().Readings {
		if len(m.Values) != 2 || m.Values[1].Text != "18,41" || m.Instrument != goodMicrometer || m.By != "Wren Aldous" || m.At.UTC == "" {
			t.Errorf("the reading is %+v", m)
		}
	}
	if in, ok := h.bench.LastFor("input-shaft", "pilot", "diameter"); ok && in != goodMicrometer {
		t.Errorf("for the next time it remembers %+v", in)
	}
	h.write("e")
	if _, ok := h.place().side.sheet.(*readingSheet); !ok {
		t.Error("the reading can't be edited")
	}
	h.press(fyne.KeyEscape)
	h.write("x")
	h.press(fyne.KeyReturn)
	h.wantTitle("Input shaft · sound · saved — Fettlebook")
}

func TestASlipIsAskedAbout(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.place().chooseSurface("pilot")
	h.typeLimit("18.415", "18.440")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	for _, c := range [][2]string{{"1.843", "decimal"}, {"0.726", "inches"}, {"18.34 furlong", "not a length"}, {"18.43650", "more digits"}, {"0", "above zero"}, {"-3", "above zero"}, {"1e308", "not a length"}} {
		typed, want := c[0], c[1]
		sheet.value.SetText(typed)
		h.f.focus(sheet.value)
		h.press(fyne.KeyReturn)
		if !strings.Contains(paragraphText(sheet.fault), want) || len(sheet.m.Values) != 0 {
			t.Errorf("%s: it says %q with %d values", typed, paragraphText(sheet.fault), len(sheet.m.Values))
		}
	}
	sheet.value.SetText("1.843")
	h.press(fyne.KeyReturn, fyne.KeyReturn)
	if len(sheet.m.Values) != 1 {
		t.Error("typed again it was still refused")
	}
}

// TestALimitIsRefusedAtTheField types limits that can't be: the message stands at the
// field that is wrong, the keys are there, and all else stays typed.
// TestAReadingIsRefusedAtTheField types what can't be around the values: the message
// stands at the field, nothing is lost, and done again it is kept as it is.
func TestAReadingIsRefusedAtTheField(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.place().chooseSurface("pilot")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	h.write("18.436")
	h.press(fyne.KeyReturn)
	for _, c := range []struct{ value, angle, wants string }{
		{"0.7252 in", "", "first value in mm"}, {"18.43", "400", "Angle: 400° is more than once round"}, {"18.43", "NaN", "Angle:"}, {"18.43", "left", "Angle:"},
		{"NaN", "", "not a length"}, {"1e308", "", "not a length"}, {"0", "", "above zero"},
	} {
		sheet.angle.SetText(c.angle)
		sheet.value.SetText(c.value)
		h.f.focus(sheet.value)
		h.press(fyne.KeyReturn)
		if says := paragraphText(sheet.fault); !strings.Contains(says, c.wants) || sheet.fault.Hidden || len(sheet.m.Values) != 1 || sheet.value.Text != c.value {
			t.Errorf("%s at %s: it says %q with %d values", c.value, c.angle, says, len(sheet.m.Values))
		}
	}
	sheet.value.SetText("")
	sheet.angle.SetText("")
	for id, c := range map[string][2]string{"before": {"abc", "not a length"}, "after": {"0.5", "set it and measure again"}, "part": {"NaN", "not a number"}, "instrument": {"900", "not between"}} {
		sheet.checks["part"].SetText("20")
		was := sheet.checks[id].Text
		sheet.checks[id].SetText(c[0])
		h.hold(ctrl(fyne.KeyReturn))
		f := sheet.checks[id]
		if says := paragraphText(f.wrong); !strings.Contains(says, c[1]) || f.Text != c[0] || h.f.window.Canvas().Focused() != fyne.Focusable(f.field) {
			t.Errorf("%s with %q says %q", id, c[0], says)
		}
		if len(h.record().Readings) != 0 {
			t.Fatalf("%s with %q was kept", id, c[0])
		}
		sheet.checks[id].SetText(was)
	}
	sheet.checks["after"].SetText("0.5")
	h.hold(ctrl(fyne.KeyReturn))
	h.hold(ctrl(fyne.KeyReturn))
	if len(h.record().Readings) != 1 {
		t.Error("done again it is not kept")
	}
}

// TestAnInstrumentTypes takes values as instruments send them: with a plus, a unit, and
// Enter or a tab behind. One that is asked about does not run into the next, and is
// still told of. A hand's Tab goes to where it was taken.
func TestAnInstrumentTypes(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.place().chooseSurface("pilot")
	h.typeLimit("18.415", "18.440")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	for _, sent := range []string{"18.436\r", "+18.435\r", "18.437 mm\t", "184.36\r", "18.434\t"} {
		h.write(sent[:len(sent)-1])
		if sent[len(sent)-1] == '\r' {
			h.press(fyne.KeyReturn)
		} else if sheet.value.AcceptsTab() {
			h.press(fyne.KeyTab)
		} else {
			t.Fatalf("after %q Tab leaves the field", sent)
		}
	}
	var got []string
	for _, v := range sheet.m.Values {
		got = append(got, v.Text)
	}
	if want := []string{"18.436", "18.435", "18.437 mm", "18.434"}; !slices.Equal(got, want) {
		t.Errorf("taken is %q, want %q", got, want)
	}
	if says := paragraphText(sheet.fault); says != "Not taken: 184.36." || sheet.fault.Hidden {
		t.Errorf("of what was typed over it says %q", says)
	}
	h.write("18.433")
	sheet.typing.began = sheet.typing.began.Add(-time.Second)
	if sheet.value.AcceptsTab() {
		t.Error("a hand's Tab does not leave the field")
	}
	if sheet.value.SetText(""); sheet.value.AcceptsTab() {
		t.Error("Tab does not leave the empty field")
	}
}

func TestALimitIsRefusedAtTheField(t *testing.T) {
	h := atWork(t)
	h.place().chooseSurface("pilot")
	h.place().showLimit()
	sheet := h.place().side.sheet.(*limitSheet)
	for _, c := range []struct {
		typed     map[string]string
		at, wants string
	}{
		{map[string]string{"manual": "m"}, "discard", "Type the limit"},
		{map[string]string{"discard": "18.415"}, "manual", "which manual"},
		{map[string]string{"discard": "18.45", "nominal": "18.44", "manual": "m"}, "discard", "wrong side of the nominal, 18.44 mm: wear makes this smaller"},
		{map[string]string{"discard": "18.41", "nominal": "18.04", "new": "18.43", "reuse": "18.42", "manual": "m"}, "nominal", "wrong side of the worst that a new one has, 18.43 mm"},
		{map[string]string{"discard": "18.41", "nominal": "18.44", "reuse": "0.728 in", "manual": "m"}, "reuse", "wrong side of the nominal"},
		{map[string]string{"discard": "abc", "manual": "m"}, "discard", "not a length"},
		{map[string]string{"discard": "18.41", "nominal": "1e308", "manual": "m"}, "nominal", "not a length"},
		{map[string]string{"discard": "18.41", "new": "NaN", "manual": "m"}, "new", "not a length"},
		{map[string]string{"discard": "0", "manual": "m"}, "discard", "above zero"},
		{map[string]string{"discard": "18.41", "reuse": "-18.42", "manual": "m"}, "reuse", "above zero"},
		{map[string]string{"discard": "1,000", "manual": "m"}, "discard", "read in two ways"},
		{map[string]string{"discard": "18.4", "manual": "m", "photo": "77"}, "photo", "no photo 77"},
	} {
		for id, f := range sheet.fields {
			f.SetText(c.typed[id])
		}
		sheet.submit()
		for id, f := range sheet.fields {
			if f.Text != c.typed[id] {
				t.Errorf("%v: in %s there is %q now", c.typed, id, f.Text)
			}
			if says := paragraphText(f.wrong); id == c.at && (!strings.Contains(says, c.wants) || f.wrong.Hidden) || id != c.at && says != "" {
				t.Errorf("%v: at %s it says %q", c.typed, id, says)
			}
		}
		if h.f.window.Canvas().Focused() != fyne.Focusable(sheet.fields[c.at].field) {
			t.Errorf("%v: the keys are not at %s", c.typed, c.at)
		}
		if len(h.record().Limits) != 0 {
			t.Fatalf("%v was taken", c.typed)
		}
		sheet.fields[c.at].SetText("1")
		if !sheet.fields[c.at].wrong.Hidden {
			t.Errorf("changed, %s is still refused", c.at)
		}
	}
}

// TestALimitInInches types bare numbers in a window of inches: each is told as it is
// understood and kept with its unit.
func TestALimitInInches(t *testing.T) {
	h := atWork(t)
	h.f.setUnit("in")
	h.place().chooseSurface("pilot")
	h.place().showLimit()
	sheet := h.place().side.sheet.(*limitSheet)
	for _, c := range [][2]string{{"", ""}, {".725", "= 0.725 in"}, {"18,44 mm", "= 0.72600 in"}, {"725 thou", "= 0.725 in"}, {"23/32", "= 0.71875 in"}, {"x", "= ?"}} {
		sheet.fields["nominal"].SetText(c[0])
		if got := sheet.fields["nominal"].means.Text; !strings.HasPrefix(got, c[1]) || c[1] == "" && got != "" {
			t.Errorf("%q is told as %q, want %q", c[0], got, c[1])
		}
	}
	for id, text := range map[string]string{"nominal": ".726", "new": "", "discard": "18.415 mm", "manual": "m", "checked": "EQ"} {
		sheet.fields[id].SetText(text)
	}
	h.f.setUnit("mm")
	h.place().refresh()
	sheet.submit()
	h.settled()
	for id, l := range h.record().Limits {
		if l.Nominal != ".726 in" || l.Discard != "18.415 mm" || l.Checked != "EQ" {
			t.Fatalf("kept is %+v", l)
		}
		h.press(fyne.KeyEscape)
		h.place().chooseEntry(id)
		h.write("e")
	}
	sheet = h.place().side.sheet.(*limitSheet)
	if sheet.fields["checked"].Text != "EQ" || sheet.fields["nominal"].means.Text != "= 18.440 mm" {
		t.Errorf("edited it begins with %q and %q", sheet.fields["checked"].Text, sheet.fields["nominal"].means.Text)
	}
	sheet.fields["sheet"].SetText("32")
	if sheet.fields["checked"].Text != "" {
		t.Error("of another page the second person's initials stay")
	}
}

func TestInstrumentsAreKept(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyM))
	page := h.f.here.(*instrumentsPage)
	page.fields["error"].SetText("two")
	if page.keep() {
		t.Error("an error of two was taken")
	}
	for id, text := range map[string]string{"name": "micrometer 0–25", "serial": "M-3", "error": "0.002 mm", "resolution": ".001"} {
		page.fields[id].SetText(text)
	}
	page.rule.Mark("u")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Register — Fettlebook")
	g := h.bench.Gauges()
	if len(g.Instruments) != 1 || g.Instruments[0].Serial != "M-3" || !g.OlderRule {
		t.Errorf("kept is %+v", g)
	}
}

// TestInstrumentsAreRefusedAtTheField types what can't be of an instrument, and goes
// between rows while nothing is kept yet: nothing is lost.
func TestInstrumentsAreRefusedAtTheField(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	caliper := record.Instrument{Kind: "caliper", Name: "caliper", Error: "0.02 mm"}
	h.instruments(goodMicrometer, caliper)
	h.hold(ctrl(fyne.KeyM))
	page := h.f.here.(*instrumentsPage)
	page.list.pick(2)
	for _, c := range [][3]string{
		{"error", "abc", "not a length"}, {"error", "-0.002", "below zero"}, {"resolution", "1e308", "not a length"}, {"repeatability", "NaN", "not a length"},
		{"calibrated", "last spring", "not a day"}, {"due", "2026-02-30", "not a day"}, {"name", "", "name or a serial"}, {"name", "caliper", "give each its serial"},
	} {
		page.fields["name"].SetText("new one")
		page.fields[c[0]].SetText(c[1])
		at := c[0]
		if c[1] == "caliper" {
			at = "serial"
		}
		if page.keep() || len(page.g.Instruments) != 2 {
			t.Fatalf("%s %q was taken", c[0], c[1])
		}
		if says := paragraphText(page.fields[at].wrong); !strings.Contains(says, c[2]) || page.fields[c[0]].Text != c[1] || h.f.window.Canvas().Focused() != fyne.Focusable(page.fields[at].field) {
			t.Errorf("%s %q says %q", c[0], c[1], says)
		}
		page.fields[c[0]].SetText("")
	}
	page.fields["calibrated"].SetText("2026-05-12")
	page.fields["due"].SetText("2025-05-12")
	page.fields["name"].SetText("new one")
	if page.keep() || !strings.Contains(paragraphText(page.fields["due"].wrong), "before 2026-05-12") {
		t.Error("due before it was calibrated was taken")
	}
	page.fields["due"].SetText("")
	page.list.pick(1)
	page.fields["error"].SetText("0.03 mm")
	page.list.pick(0)
	if page.fields["error"].Text != goodMicrometer.Error || page.list.Items[1].Quiet != "not kept yet" || page.list.Items[0].Quiet != "" {
		t.Errorf("the first row shows %q; the rows are %+v", page.fields["error"].Text, page.list.Items)
	}
	page.list.pick(1)
	if page.fields["error"].Text != "0.03 mm" {
		t.Errorf("gone back, the edit is %q", page.fields["error"].Text)
	}
	page.list.pick(0)
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Register — Fettlebook")
	if g := h.bench.Gauges().Instruments; len(g) != 3 || g[0] != goodMicrometer || g[1].Error != "0.03 mm" || g[2].Name != "new one" || g[2].Calibrated != "2026-05-12" {
		t.Errorf("kept is %+v", g)
	}
}

func paragraphText(p *paragraph) string {
	says := ""
	for _, one := range p.pieces {
		says += one.Text
	}
	return says
}

// TestDimensionsOfOneName takes a reading and a limit of each bore of the case:
// each is kept with its own surface.
func TestDimensionsOfOneName(t *testing.T) {
	h := atWork(t)
	for _, part := range h.place().n.Assessment().Parts {
		h.place().choosePart(part.ID)
		if len(h.place().dimensions()) == 0 {
			continue
		}
		h.place().showReading("")
		sheet := h.place().side.sheet.(*readingSheet)
		h.place().showLimit()
		limit := h.place().side.sheet.(*limitSheet)
		for i, d := range sheet.dims {
			sheet.dim.SetSelected(sheet.dim.Options[i])
			if sheet.m.Surface != d.surface.ID || sheet.m.Dimension != d.ID {
				t.Errorf("%s: %q takes a reading of %s %s, want %s %s", part.Name, sheet.dim.Selected, sheet.m.Surface, sheet.m.Dimension, d.surface.ID, d.ID)
			}
			if limit.dim.SetSelected(limit.dim.Options[i]); limit.dim.SelectedIndex() != i {
				t.Errorf("%s: %q takes the limit of another", part.Name, limit.dim.Selected)
			}
		}
	}
}

// TestALimitOnTheWay types a limit in while a reading is taken: its values stay,
// whether the limit is kept or not.
func TestALimitOnTheWay(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.place().chooseSurface("pilot")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	h.write("18.436")
	h.press(fyne.KeyReturn)
	h.place().showLimit()
	h.press(fyne.KeyEscape)
	if h.place().side.sheet != sheet || len(sheet.m.Values) != 1 {
		t.Fatalf("after Escape there is %T", h.place().side.sheet)
	}
	h.place().showLimit()
	limit := h.place().side.sheet.(*limitSheet)
	limit.fields["discard"].SetText("18.415")
	limit.fields["nominal"].SetText("18.440")
	limit.fields["manual"].SetText("workshop manual")
	h.press(fyne.KeyReturn)
	if h.place().side.sheet != sheet || len(sheet.m.Values) != 1 {
		t.Fatalf("after the limit there is %T", h.place().side.sheet)
	}
	if said := paragraphText(sheet.verdict); !strings.Contains(said, "within it") {
		t.Errorf("with the limit it says %q", said)
	}
	h.hold(ctrl(fyne.KeyReturn))
	h.settled()
	if len(h.record().Readings) != 1 {
		t.Error("the reading was not kept")
	}
}

// TestReadingKeepsUp changes the unit and the instrument beside an open sheet, and
// goes to a dimension for which another instrument is remembered.
func TestReadingKeepsUp(t *testing.T) {
	h := atWork(t)
	bore := record.Instrument{Kind: "bore-gauge", Name: "bore gauge", Error: "0.003 mm"}
	h.instruments(goodMicrometer, bore)
	h.place().chooseSurface("pilot")
	h.write("g")
	sheet := h.place().side.sheet.(*readingSheet)
	next := sheet.dims[1]
	if err := h.bench.UseFor(t.Context(), sheet.kind, next.surface.ID, next.ID, bore); err != nil {
		t.Fatal(err)
	}
	h.f.setUnit("in")
	better := goodMicrometer
	better.Error = "0.001 mm"
	g := h.bench.Gauges()
	g.Instruments[0] = better
	if err := h.bench.SetGauges(t.Context(), g); err != nil {
		t.Fatal(err)
	}
	h.place().refresh()
	sheet.checks["before"].SetText("0.00005")
	h.f.focus(sheet.value)
	h.write("0.726")
	h.press(fyne.KeyReturn)
	h.f.setUnit("mm")
	h.place().refresh()
	h.press(fyne.KeyReturn)
	if sheet.at != 1 || sheet.m.Unit != "mm" || sheet.m.Instrument != bore || sheet.checks["before"].Text != "" {
		t.Errorf("for %s it goes on with %+v", sheet.dims[sheet.at].ID, sheet.entry())
	}
	for _, m := range h.record().Readings {
		if m.Unit != "in" || m.Instrument != better || m.ZeroBefore != "0.00005" {
			t.Errorf("the reading is %+v", m)
		}
	}
	if last, _ := h.bench.LastFor(sheet.kind, next.surface.ID, next.ID); last != bore {
		t.Errorf("for the next dimension it remembers %+v", last)
	}
}

// TestInstrumentsInInches types sizes without a unit in a window of inches, and a
// second instrument of the same name.
func TestInstrumentsInInches(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.f.setUnit("in")
	h.hold(ctrl(fyne.KeyM))
	page := h.f.here.(*instrumentsPage)
	page.fields["name"].SetText("micrometer 0–1")
	page.fields["error"].SetText(".0001")
	if !page.keep() {
		t.Fatal(page.typed())
	}
	page.list.pick(1)
	page.fields["name"].SetText("micrometer 0–1")
	page.fields["error"].SetText("0.001 mm")
	if page.keep() || len(page.g.Instruments) != 1 || page.fields["error"].Text != "0.001 mm" {
		t.Errorf("a second of the same name was taken: %+v", page.g.Instruments)
	}
	page.fields["serial"].SetText("M-4")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Register — Fettlebook")
	if g := h.bench.Gauges().Instruments; len(g) != 2 || g[0].Error != ".0001 in" || g[1].Error != "0.001 mm" {
		t.Errorf("kept is %+v", g)
	}
}

// TestALimitIsCorrectedAndStruck edits a typed-in limit from the list of entries and
// strikes it through: the reading is held to what is left.
func TestALimitIsCorrectedAndStruck(t *testing.T) {
	h := atWork(t)
	h.instruments(goodMicrometer)
	h.place().chooseSurface("pilot")
	h.typeLimit("18.415 mm", "18.440 mm")
	var id record.ID
	for of := range h.record().Limits {
		id = of
	}
	listed := func() (items []rowItem) {
		for _, item := range h.place().side.surfaces.entriesOf(h.record()) {
			if item.ID == string(id) {
				items = append(items, item)
			}
		}
		return items
	}
	if items := listed(); len(items) != 1 || items[0].Text != "Limit: diameter of the pilot nose 18.415 mm" || items[0].Struck {
		t.Fatalf("it is listed as %+v", items)
	}
	h.place().chooseEntry(id)
	h.write("e")
	sheet := h.place().side.sheet.(*limitSheet)
	if sheet.fields["nominal"].Text != "18.440 mm" || sheet.fields["sheet"].Text != "31" {
		t.Errorf("it is edited as %q, page %q", sheet.fields["nominal"].Text, sheet.fields["sheet"].Text)
	}
	sheet.fields["discard"].SetText("18.400 mm")
	h.press(fyne.KeyReturn)
	if l := h.record().Limits; len(l) != 1 || l[id].Discard != "18.400 mm" || h.place().side.sheet != nil || h.place().entry != id {
		t.Fatalf("corrected it is %+v", l)
	}
	h.write("x")
	h.write("wrong page")
	h.press(fyne.KeyReturn)
	if l := h.record().Limits[id]; l.Withdrawn != "Wren Aldous: wrong page" {
		t.Errorf("struck through it says %q", l.Withdrawn)
	}
	if items := listed(); len(items) != 1 || !items[0].Struck {
		t.Errorf("then it is listed as %+v", items)
	}
	if about := paragraphText(h.place().side.surfaces.more); !strings.Contains(about, "Withdrawn by Wren Aldous: wrong page") {
		t.Errorf("about it is said %q", about)
	}
	h.write("e")
	if h.place().side.sheet != nil {
		t.Error("it can be edited still")
	}
	h.place().showLimit()
	if sheet := h.place().side.sheet.(*limitSheet); sheet.id != "" || sheet.fields["discard"].Text != "" {
		t.Error("a new limit begins with the one that was struck")
	}
}
