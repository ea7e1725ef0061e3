package ui

import (
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func TestNewRecord(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.until("the register to say that it is empty", func() bool { return len(h.f.here.(*register).empty.Objects) > 0 })
	h.wantTitle("Register — Fettlebook")
	h.hold(ctrl(fyne.KeyN))
	h.wantTitle("New record — Fettlebook")
	form := h.f.here.(*newRecord).form
	if form.chosen == "" {
		form.kind.SetSelectedIndex(0)
	}
	h.f.focus(form.serial)
	h.write("55021")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("Input shaft · to be inspected · saved — Fettlebook")
	if r := h.record(); r.Unit.Serial != "55021" || r.Dates.Received == "" || r.Duty != term.Road {
		t.Errorf("the record holds %+v, %+v, duty %s", r.Unit, r.Dates, r.Duty)
	}
	h.hold(ctrl(fyne.KeyR))
	h.wantTitle("Register — Fettlebook")
	h.until("the register to list it", func() bool { return len(h.f.here.(*register).rows) == 1 })
}

func TestRecordNeedsUnitAndDay(t *testing.T) {
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, "")
	h.hold(ctrl(fyne.KeyN))
	form := h.f.here.(*newRecord).form
	form.chosen = ""
	form.received.SetText("12.5.26")
	h.hold(ctrl(fyne.KeyReturn))
	if !form.kindFault.Visible() || !form.receivedFault.Visible() {
		t.Errorf("the faults are not shown: unit %q, day %q", form.kindFault.Text, form.receivedFault.Text)
	}
	if _, still := h.f.here.(*newRecord); !still {
		t.Error("a record was begun all the same")
	}
	h.press(fyne.KeyEscape)
	h.wantTitle("Register — Fettlebook")
}

func TestWholePartInOneStroke(t *testing.T) {
	h := atWork(t)
	h.wantTitle("Input shaft · to be inspected · saved — Fettlebook")
	h.write("w")
	h.until("the grade", func() bool { return strings.HasPrefix(h.title(), "Input shaft · sound · ") })
	for id, l := range h.record().Parts[h.place().part].Surfaces {
		if !l.Eye || !l.Touch || !l.Clean || l.By != "Wren Aldous" {
			t.Errorf("surface %s: %+v", id, l)
		}
	}
	h.hold(ctrl(fyne.KeyZ))
	h.wantTitle("Input shaft · to be inspected · saved — Fettlebook")
	h.hold(ctrlShift(fyne.KeyZ))
	h.wantTitle("Input shaft · sound · saved — Fettlebook")
}

// TestFindingByKeyboard goes the shortest way: F, the first letters, Enter, a
// number, Enter.
func TestFindingByKeyboard(t *testing.T) {
	h := atWork(t)
	h.write("w")
	h.settled()
	h.place().chooseSurface("cone")
	h.write("f")
	h.write("rust p")
	h.press(fyne.KeyReturn)
	h.write("2")
	h.press(fyne.KeyReturn)
	h.wantTitle("Input shaft · yard duty only · saved — Fettlebook")
	findings := h.record().Findings
	if len(findings) != 1 {
		t.Fatalf("there are %d findings", len(findings))
	}
	for id, f := range findings {
		want := record.Finding{Number: 1, Part: h.place().part, Surface: "cone", Damage: term.RustPits,
			Severity: term.Felt, Zone: term.WorkingFace, Method: term.Touch, By: "Wren Aldous"}
		if f != want {
			t.Errorf("the finding is %+v, want %+v", f, want)
		}
		if h.place().entry != id {
			t.Error("the new finding is not chosen")
		}
	}
	if h.place().side.open() {
		t.Error("the sheet is still open")
	}
	h.hold(ctrl(fyne.KeyZ))
	h.wantTitle("Input shaft · sound · saved — Fettlebook")
	if len(h.record().Findings) != 0 {
		t.Error("undo left the finding")
	}
}

// TestLettersWhileWriting holds that no letter acts while a person writes.
func TestLettersWhileWriting(t *testing.T) {
	h := atWork(t)
	h.settled()
	before := h.record()
	h.write("f")
	h.write("wltkxrmsd[],.")
	if h.record() != before {
		t.Error("a letter that was written changed the record")
	}
	if got := h.place().side.sheet.(*findingSheet).filter.Text; got != "wltkxrmsd[],." {
		t.Errorf("the field holds %q", got)
	}
	h.press(fyne.KeyEscape)
	if h.place().side.open() {
		t.Error("Escape left the sheet open")
	}
}

func TestFindingNeedsSeverity(t *testing.T) {
	h := atWork(t)
	h.write("f")
	h.write("scoring")
	h.press(fyne.KeyReturn, fyne.KeyReturn)
	sheet, open := h.place().side.sheet.(*findingSheet)
	if !open || sheet.fault.Text == "" || len(h.record().Findings) != 0 {
		t.Error("a finding without a severity went in without a word")
	}
}

// TestOutlineThenFinding draws by keyboard, as one may with the mouse.
func TestOutlineThenFinding(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "cone.jpg", color.White))
	h.place().chooseSurface("cone")
	h.write("c ")
	for range 12 {
		h.press(fyne.KeyRight)
	}
	h.write(" ")
	for range 12 {
		h.press(fyne.KeyDown)
	}
	h.write(" ")
	h.press(fyne.KeyReturn)
	h.until("the outline", func() bool { return len(h.record().Outlines) == 1 })
	if _, open := h.place().side.sheet.(*findingSheet); !open {
		t.Fatal("the outline does not ask what it shows")
	}
	h.write("scor")
	h.press(fyne.KeyReturn)
	h.write("3")
	h.press(fyne.KeyReturn)
	h.settled()
	for id, o := range h.record().Outlines {
		f, ok := h.record().Findings[o.Finding]
		if !ok || f.Damage != term.Scoring || f.Severity != term.Deep {
			t.Errorf("outline %s shows %+v", id, f)
		}
	}
	says, _ := h.place().n.Undoable()
	if !strings.Contains(says, "scoring") {
		t.Errorf("undo would take back %q first, want the finding", says)
	}
	h.hold(ctrl(fyne.KeyZ))
	h.hold(ctrl(fyne.KeyZ))
	if r := h.record(); len(r.Findings) != 0 || len(r.Outlines) != 0 {
		t.Error("two undos left a finding or an outline")
	}
}

func TestWithdraw(t *testing.T) {
	h := atWork(t)
	h.write("f")
	h.write("dents")
	h.press(fyne.KeyReturn)
	h.write("1")
	h.press(fyne.KeyReturn)
	h.settled()
	h.write("x")
	h.press(fyne.KeyReturn)
	for _, f := range h.record().Findings {
		if f.Withdrawn != "Wren Aldous: entered by mistake" {
			t.Errorf("withdrawn says %q", f.Withdrawn)
		}
	}
	h.until("the row to be struck", func() bool { return h.place().side.surfaces.entries.Items[0].Struck })
}

// TestBadPhotos drops a folder with one photo among files that are none.
func TestBadPhotos(t *testing.T) {
	h := atWork(t)
	dir := t.TempDir()
	good := photoFile(t, "good 'one' 😀.jpg", color.Black)
	whole, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{
		"good 'one' 😀.jpg": whole, "cut.jpg": whole[:len(whole)/2], "text.png": []byte("no picture"), "empty.jpg": nil,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if !h.place().dropped([]string{dir, filepath.Join(dir, "gone.jpg")}) {
		t.Fatal("the inspection has no use for dropped files")
	}
	h.until("the notice", func() bool { return len(h.place().notices.notices) > 0 })
	n := h.place().notices.notices[0]
	if n.Title != "4 files were not attached." || n.Message != "1 photo was." {
		t.Errorf("the notice says %q %q", n.Title, n.Message)
	}
	all := strings.Join(n.List, "\n")
	for _, name := range []string{"cut.jpg", "text.png", "empty.jpg", "gone.jpg"} {
		if !strings.Contains(all, name) {
			t.Errorf("%s is not named in:\n%s", name, all)
		}
	}
	if len(h.record().Photos) != 1 {
		t.Errorf("%d photos were attached", len(h.record().Photos))
	}
	h.press(fyne.KeyEscape)
	h.f.focus(h.place().viewer.photoView)
}

func TestPhotoActs(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", color.White))
	photo := func() record.Photo {
		for _, p := range h.record().Photos {
			return p
		}
		return record.Photo{}
	}
	if p := photo(); len(p.Subjects) != 1 || p.Stage != term.AsFound {
		t.Fatalf("the photo is %+v", p)
	}
	h.write("r")
	h.write("s")
	if p := photo(); p.Turned != 90 || p.Stage != term.Cleaned {
		t.Errorf("turned %d, stage %s", p.Turned, p.Stage)
	}
	h.write("m")
	if p := photo(); len(p.Subjects) != 0 {
		t.Errorf("the photo still shows %v", p.Subjects)
	}
	h.settled()
	h.hold(ctrl(fyne.KeyDelete))
	h.write("aa")
	h.hold(ctrl(fyne.KeyDelete))
	if len(h.record().Photos) != 0 {
		t.Error("the photo is still in the record")
	}
	h.hold(ctrl(fyne.KeyZ))
	if len(h.record().Photos) != 1 {
		t.Error("undo did not bring the photo back")
	}
}

func TestPartAndDuty(t *testing.T) {
	h := atWork(t)
	h.choose("3rd gear")
	h.write("u")
	h.write("2")
	h.hold(ctrl(fyne.KeyReturn))
	h.wantTitle("3rd gear · missing · saved — Fettlebook")
	h.write("d")
	if d := h.record().Duty; d != term.HardDuty {
		t.Errorf("the duty is %s", d)
	}
	h.write("[")
	if got := h.place().n.PartName(h.place().part); got == "3rd gear" {
		t.Error("[ stays at the part")
	}
}

func TestReport(t *testing.T) {
	dir := t.TempDir()
	h := newHands(t, inspection.Options{Dir: t.TempDir()}, `{"reports": "`+filepath.ToSlash(dir)+`"}`)
	h.open(h.begun("40117", "Joss Ternway"))
	h.hold(ctrl(fyne.KeyP))
	h.write("2")
	h.press(fyne.KeyReturn)
	sheet := h.place().side.sheet.(*reportSheet)
	h.until("the report", func() bool { return sheet.written != "" })
	b, err := os.ReadFile(filepath.Join(dir, "four-speed 40117 warranty.pdf"))
	if err != nil || !strings.HasPrefix(string(b), "%PDF-") {
		t.Errorf("the report: %v, %.8q", err, b)
	}
}

func TestReportThatCannotBeWritten(t *testing.T) {
	h := atWork(t)
	h.hold(ctrl(fyne.KeyP))
	sheet := h.place().side.sheet.(*reportSheet)
	sheet.path.SetText(t.TempDir())
	h.press(fyne.KeyReturn)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	h.until("the job to end", func() bool { return !sheet.work.running() })
	sheet.path.SetText(filepath.Join(file, "below.pdf"))
	sheet.submit()
	h.until("the words", func() bool { return !sheet.work.running() && len(sheet.says.pieces) > 1 })
	if got := sheet.says.pieces[0].Text; !strings.Contains(got, "not written") {
		t.Errorf("it says %q", got)
	}
}

// TestScaleThenMeasure draws a line of known length, then outlines a finding, and
// reads how large it is.
func TestScaleThenMeasure(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "rule.jpg", color.White))
	v := h.place().viewer
	v.drawn(record.Line, []record.Point{{1000, 1000}, {51000, 1000}})
	sheet := h.place().side.sheet.(*scaleSheet)
	h.press(fyne.KeyReturn)
	if sheet.fault.Text == "" {
		t.Error("a scale without a size was taken")
	}
	h.write("50")
	h.press(fyne.KeyReturn)
	h.settled()
	for _, o := range h.record().Outlines {
		if o.Known.Length != "50 mm" || o.Shape != record.Line {
			t.Errorf("the scale is %+v", o)
		}
	}
	v.drawn(record.Line, []record.Point{{1000, 20000}, {31000, 20000}})
	if said := paragraphText(h.place().side.sheet.(*scaleSheet).says); !strings.Contains(said, "30.0 mm ±") && !strings.Contains(said, "30 mm ±") {
		t.Errorf("a line of 30 mm is said to be %q", said)
	}
	h.press(fyne.KeyEscape)
	h.place().chooseSurface("cone")
	v.drawn(record.Polygon, []record.Point{{10000, 10000}, {20000, 10000}, {20000, 20000}, {10000, 20000}})
	h.write("rust p")
	h.press(fyne.KeyReturn)
	h.write("2")
	h.press(fyne.KeyReturn)
	h.settled()
	about, _, _ := h.place().aboutEntry(h.record(), h.place().entry)
	if !strings.Contains(about, "100 mm² ±") || !strings.Contains(about, "steel rule") {
		t.Errorf("a patch of 100 mm² is told as %q", about)
	}
	v.drawn(record.Polygon, []record.Point{{5000, 5000}, {25000, 5000}, {25000, 25000}, {5000, 25000}})
	h.place().side.sheet.(*findingSheet).means.chose(string(term.WorkingFace))
	h.settled()
	about, _, _ = h.place().aboutEntry(h.record(), h.place().entry)
	for id := range h.record().Findings {
		about, _, _ = h.place().aboutEntry(h.record(), id)
	}
	if !strings.Contains(about, "25.0 % ±") {
		t.Errorf("a quarter of the face is told as %q", about)
	}
}
