package inspection_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fettlebook/assess/archive"
	"fettlebook/assess/inspection"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

func bench(t *testing.T, dir string) *inspection.Bench {
	t.Helper()
	b, err := inspection.Open(t.Context(), inspection.Options{Dir: dir, Who: "Edda Quillan"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// begun is a record of the generic gearbox, laid out.
func begun(t *testing.T, b *inspection.Bench) *inspection.Inspection {
	t.Helper()
	n, err := b.Begin(t.Context(), record.New(record.Unit{Type: "four-speed", Serial: "40117"}, term.Road))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func place(t *testing.T, n *inspection.Inspection, name string) record.ID {
	t.Helper()
	id, err := n.PartNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return id
}

func grade(t *testing.T, n *inspection.Inspection, id record.ID) string {
	t.Helper()
	p, ok := n.Assessment().Part(id)
	if !ok {
		t.Fatal("the part is not judged")
	}
	return p.Grade
}

// picture writes a JPEG of the size and returns its path.
func picture(t *testing.T, name string, w, h int) string {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.Set(x, y, color.RGBA{uint8(x), uint8(y), uint8(len(name) * 7), 255})
		}
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, nil); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, buf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTheMainJob(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	n := begun(t, b)
	shaft := place(t, n, "input-shaft")
	if got := grade(t, n, shaft); got != "to be inspected" {
		t.Errorf("a part at which nobody looked is graded %q", got)
	}
	if err := n.WholePartSound(shaft); err != nil {
		t.Fatal(err)
	}
	if got := grade(t, n, shaft); got == "condemned" || got == "to be inspected" {
		t.Errorf("a part that was looked at and felt all over is graded %q", got)
	}
	job := n.AttachPhotos(t.Context(), []record.Subject{{Part: shaft, Surface: "cone"}}, term.Cleaned, []string{picture(t, "cone.jpg", 400, 300)})
	if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
		t.Fatal(err, job.Failed())
	}
	outline, err := n.AddOutline(record.Outline{Photo: job.Taken()[0], Shape: record.Polygon, Points: []record.Point{{100, 100}, {9000, 100}, {9000, 8000}}})
	if err != nil {
		t.Fatal(err)
	}
	entry := inspection.FindingEntry{Outline: outline, Finding: record.Finding{Part: shaft, Surface: "cone", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace}}
	finding, err := n.AddFinding(entry)
	if err != nil {
		t.Fatal(err)
	}
	if got := grade(t, n, shaft); got != "yard duty only" {
		t.Errorf("with pits in its cone that a fingernail catches the shaft is graded %q", got)
	}
	if n.Record().Outlines[outline].Finding != finding {
		t.Error("the outline does not show the finding")
	}
	if err := n.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := n.Record(); len(got.Findings) != 0 || got.Outlines[outline].Finding != "" {
		t.Error("one undo does not take back the finding and its outline's tie")
	}
	if err := n.Redo(); err != nil {
		t.Fatal(err)
	}
	if err := n.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := b.Inspect(t.Context(), n.ID())
	if err != nil {
		t.Fatal(err)
	}
	if got := grade(t, again, shaft); got != "yard duty only" {
		t.Errorf("opened again the shaft is graded %q", got)
	}
	if says, ok := again.Undoable(); !ok || !strings.Contains(says, "rust pits") {
		t.Errorf("opened again, undo would take back %q", says)
	}
	for _, reader := range []string{"customer", "warranty", "archive"} {
		path := filepath.Join(dir, "out", reader+".pdf")
		if err := again.Report(t.Context(), inspection.ReportOrder{Reader: reader, Path: path}).Wait(); err != nil {
			t.Fatal(err)
		}
		first, _ := os.ReadFile(path)
		if err := again.Report(t.Context(), inspection.ReportOrder{Reader: reader, Path: path}).Wait(); err != nil {
			t.Fatal(err)
		}
		if second, _ := os.ReadFile(path); !bytes.Equal(first, second) || len(first) < 1000 {
			t.Errorf("the %s report of the same record has other bytes the second time", reader)
		}
	}
}

func TestPhotosThatCantBeTakenInAreNamedAndTheRestGoesOn(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft := place(t, n, "input-shaft")
	folder := t.TempDir()
	good := picture(t, "über  \"die\" Welle 🔧.jpg", 64, 48)
	text := filepath.Join(folder, "notes.jpg")
	os.WriteFile(text, []byte("no photo"), 0o644)
	whole, _ := os.ReadFile(good)
	cut := filepath.Join(folder, "cut.jpg")
	os.WriteFile(cut, whole[:len(whole)/2], 0o644)
	empty := t.TempDir()
	job := n.AttachPhotos(t.Context(), []record.Subject{{Part: shaft}}, term.AsFound,
		[]string{text, good, cut, empty, filepath.Join(folder, "gone.jpg")})
	if err := job.Wait(); err != nil {
		t.Fatal(err)
	}
	want := map[string]photo.Kind{text: photo.NotAPhoto, cut: photo.Truncated, filepath.Join(folder, "gone.jpg"): photo.Missing, empty: ""}
	for _, f := range job.Failed() {
		kind, ok := want[f.Path]
		if !ok || photo.KindOf(f.Err) != kind {
			t.Errorf("%s: %v (%s)", f.Path, f.Err, photo.KindOf(f.Err))
		}
		if name := filepath.Base(f.Path); !strings.Contains(f.Err.Error(), name) {
			t.Errorf("the message %q does not name %s", f.Err, name)
		}
		delete(want, f.Path)
	}
	if len(want) > 0 {
		t.Errorf("nothing is said of %v", want)
	}
	if len(job.Taken()) != 1 || n.Record().Photos[job.Taken()[0]].Name != filepath.Base(good) {
		t.Errorf("taken in: %v", n.Record().Photos)
	}
}

func TestTheSamePhotoTwiceIsOneEntryWithTwoSubjects(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	a, b := place(t, n, "input-shaft"), place(t, n, "main-shaft")
	path := picture(t, "both.jpg", 64, 48)
	for _, part := range []record.ID{a, b, a} {
		if err := n.AttachPhotos(t.Context(), []record.Subject{{Part: part}}, term.AsFound, []string{path}).Wait(); err != nil {
			t.Fatal(err)
		}
	}
	if photos := n.Record().Photos; len(photos) != 1 {
		t.Fatalf("%d entries for one file", len(photos))
	}
	for _, p := range n.Record().Photos {
		if len(p.Subjects) != 2 {
			t.Errorf("subjects %v, want both parts once", p.Subjects)
		}
	}
}

func TestAStoppedTakeInAttachesNothing(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	job := n.AttachPhotos(ctx, nil, term.AsFound, []string{picture(t, "a.jpg", 64, 48)})
	if err := job.Wait(); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want it to say that it was stopped", err)
	}
	if len(n.Record().Photos) != 0 {
		t.Error("a photo was attached all the same")
	}
}

func TestAReaderSeesAndChangesNothing(t *testing.T) {
	dir := t.TempDir()
	n := begun(t, bench(t, dir))
	if _, err := inspection.Open(t.Context(), inspection.Options{Dir: dir}); !errors.Is(err, archive.ErrInUse) {
		t.Fatalf("a second writer gets %v, want to hear that the archive is in use", err)
	}
	reader, err := inspection.Open(t.Context(), inspection.Options{Dir: dir, ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	seen, err := reader.Named(t.Context(), "40117")
	if err != nil {
		t.Fatal(err)
	}
	if err := seen.WholePartSound(place(t, seen, "input-shaft")); !errors.Is(err, archive.ErrReadOnly) {
		t.Errorf("a reader's change gives %v", err)
	}
	if string(seen.ID()) != string(n.ID()) {
		t.Error("the reader sees another record")
	}
}

func TestPointsGoToTheShownPhotoAndBack(t *testing.T) {
	for orientation := 1; orientation <= 8; orientation++ {
		for _, turned := range []int{0, 90, 180, 270} {
			p := record.Photo{Width: 400, Height: 300, Orientation: orientation, Turned: turned}
			for _, at := range []record.Point{{0, 0}, {40000, 30000}, {12345, 678}} {
				x, y := inspection.Shown(p, at)
				w, h := inspection.ShownSize(p)
				if x < 0 || y < 0 || x > float64(w) || y > float64(h) {
					t.Errorf("orientation %d turned %d: %v is shown at %v, %v of %d × %d", orientation, turned, at, x, y, w, h)
				}
				if back := inspection.StoredPoint(p, x, y); back != at {
					t.Errorf("orientation %d turned %d: %v comes back as %v", orientation, turned, at, back)
				}
			}
		}
	}
}

// A note may be as long as a person likes, in any script; nothing of it is lost
// on its way to the disk, and the report is written all the same.
func TestALongNoteInManyScriptsIsKeptWhole(t *testing.T) {
	dir := t.TempDir()
	b := bench(t, dir)
	n := begun(t, b)
	shaft := place(t, n, "input-shaft")
	note := strings.Repeat("Zähne geprüft. בדיקה ביד. 手で確認した。 فحص 🔧\n", 2600)
	if len([]rune(note)) < 100_000 {
		t.Fatalf("the note has only %d characters", len([]rune(note)))
	}
	if _, err := n.AddFinding(inspection.FindingEntry{Finding: record.Finding{
		Part: shaft, Surface: "cone", Damage: term.RustPits, Severity: term.Seen, Zone: term.WorkingFace, Note: note}}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "long.pdf")
	if err := n.Report(t.Context(), inspection.ReportOrder{Reader: "archive", Path: path}).Wait(); err != nil {
		t.Fatal(err)
	}
	if err := n.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := b.Inspect(t.Context(), n.ID())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range again.Record().Findings {
		if f.Note != note {
			t.Errorf("of %d bytes of the note %d came back, or others", len(note), len(f.Note))
		}
	}
	text, err := exec.CommandContext(t.Context(), "pdftotext", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian: poppler-utils): %v", err)
	}
	if got := strings.Count(string(text), "Zähne geprüft"); got != 2600 {
		t.Errorf("the report holds %d of 2600 lines of the note", got)
	}
}

// What a failed report must not leave: half a file, or one in the way.
func TestAReportThatFailsLeavesNothing(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	folder := t.TempDir()
	path := filepath.Join(folder, "report.pdf")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := n.Report(ctx, inspection.ReportOrder{Reader: "customer", Path: path}).Wait(); err == nil {
		t.Error("a report that was stopped says that it was written")
	}
	for _, wrong := range []inspection.ReportOrder{{Reader: "neighbour", Path: path}, {Reader: "customer", Paper: "papyrus", Path: path}, {Reader: "customer", Path: folder}} {
		if err := n.Report(t.Context(), wrong).Wait(); err == nil {
			t.Errorf("%+v was written", wrong)
		}
	}
	if left, _ := os.ReadDir(folder); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Photos that were taken in and the person at the window may come at the same
// moment; none of them is turned away.
func TestGesturesOfTwoAtOnceAllCount(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft := place(t, n, "input-shaft")
	var hands sync.WaitGroup
	for range 8 {
		hands.Go(func() {
			for range 5 {
				if _, err := n.AddFinding(inspection.FindingEntry{Finding: record.Finding{
					Part: shaft, Surface: "cone", Damage: term.Scoring, Severity: term.Seen, Zone: term.WorkingFace}}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	hands.Wait()
	if err := n.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	if got := len(n.Record().Findings); got != 40 {
		t.Errorf("%d of 40 findings are there", got)
	}
}

func TestAnImportedRecordIsKeptAsItIs(t *testing.T) {
	r := record.New(record.Unit{Type: "four-speed", Serial: "5"}, term.Road)
	whole, err := r.Marshal()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "core.json")
	if err := os.WriteFile(path, whole, 0o644); err != nil {
		t.Fatal(err)
	}
	n, err := bench(t, t.TempDir()).Import(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := n.Record().Marshal(); !bytes.Equal(got, whole) {
		t.Errorf("imported as\n%s\nwant\n%s", got, whole)
	}
}
