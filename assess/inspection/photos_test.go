package inspection_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// withPhotos takes photos of these names in, which show nothing.
func withPhotos(t *testing.T, n *inspection.Inspection, names ...string) ([]record.ID, *inspection.TakeIn) {
	t.Helper()
	var paths []string
	for i, name := range names {
		paths = append(paths, picture(t, name, 40+i+8*len(n.Record().Photos), 30))
	}
	job := n.AttachPhotos(t.Context(), nil, term.AsFound, paths)
	if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
		t.Fatal(err, job.Failed())
	}
	return job.Taken(), job
}

func TestAssign(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft, gear := place(t, n, "input shaft"), place(t, n, "3rd gear")
	ids, _ := withPhotos(t, n, "a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg")
	shown := func(i int) string {
		var all []string
		for _, s := range n.Record().Photos[ids[i]].Subjects {
			name := map[record.ID]string{shaft: "shaft", gear: "gear"}[s.Part]
			all = append(all, strings.TrimSuffix(name+"/"+s.Surface, "/"))
		}
		return strings.Join(all, " ")
	}
	said := func() string { says, _ := n.Undoable(); return says }
	for _, step := range []struct {
		do   func() error
		i    int
		want string
		says string
	}{
		{func() error { return n.Assign(ids[:1], record.Subject{Part: shaft}, false) }, 0, "shaft", "photo 1 shows input shaft"},
		{func() error { return n.Assign(ids[:2], record.Subject{Part: gear}, false) }, 0, "shaft gear", "photos 1 and 2 show 3rd gear"},
		{func() error { return n.Assign(ids[:1], record.Subject{Part: shaft, Surface: "cone"}, false) }, 0, "gear shaft/cone", "photo 1 shows input shaft, synchroniser cone"},
		{func() error { return n.Assign(ids[:1], record.Subject{Part: shaft}, false) }, 0, "gear shaft/cone", "photo 1 shows input shaft, synchroniser cone"},
		{func() error { return n.Assign(ids[:1], record.Subject{Part: shaft, Surface: "pilot"}, false) }, 0, "gear shaft/cone shaft/pilot", "photo 1 shows input shaft, pilot nose"},
		{func() error { return n.Unassign(ids[:1], record.Subject{Part: shaft, Surface: "cone"}) }, 0, "gear shaft/pilot", "photo 1 does not show input shaft, synchroniser cone"},
		{func() error { return n.Assign(ids, record.Subject{Part: shaft}, true) }, 0, "shaft", "5 photos show only input shaft"},
		{func() error { return n.Unassign(ids[:1], record.Subject{Part: shaft}) }, 0, "", "photo 1 does not show input shaft"},
		{func() error { return n.Assign([]record.ID{"gone", ids[4]}, record.Subject{Part: gear}, false) }, 4, "shaft gear", "photo 5 shows 3rd gear"},
		{func() error { return n.SetStage(ids[1:3], term.Repaired) }, 1, "shaft", "photos 2 and 3: repaired"},
	} {
		if err := step.do(); err != nil {
			t.Fatal(err)
		}
		if got := shown(step.i); got != step.want {
			t.Errorf("after %q photo %d shows %q, want %q", step.says, step.i+1, got, step.want)
		}
		if step.says != said() {
			t.Errorf("it says %q, want %q", said(), step.says)
		}
	}
	if err := n.RemovePhotos(ids[1:]); err != nil || len(n.Record().Photos) != 1 {
		t.Errorf("%v; %d photos are left", err, len(n.Record().Photos))
	}
	if err := n.Undo(); err != nil || len(n.Record().Photos) != 5 {
		t.Errorf("%v; %d photos are back", err, len(n.Record().Photos))
	}
}

func TestCameraGaps(t *testing.T) {
	for names, want := range map[string]string{
		"":                                        "",
		"IMG_0012.jpg IMG_0013.jpg":               "",
		"IMG_0012.jpg IMG_0015.jpg":               "Between IMG_0012 and IMG_0015 2 photos are not here.",
		"IMG_0015.jpg IMG_0012.jpg":               "Between IMG_0012 and IMG_0015 2 photos are not here.",
		"DSC00009.JPG DSC00011.JPG":               "Between DSC00009 and DSC00011 a photo is not here.",
		"P1010001.jpg P1010003.jpg":               "Between P1010001 and P1010003 a photo is not here.",
		"IMG_0012.jpg IMG_0900.jpg":               "", // another day
		"IMG_0012.jpg DSC_0014.jpg":               "", // another camera
		"IMG_0012.jpg IMG_0012.heic":              "",
		"20260511_130001.jpg 20260511_130007.jpg": "", // times
		"PXL_20260511_130001234.jpg":              "",
		"0012.jpg 0014.jpg":                       "", // no camera's
		"IMG_0001.jpg IMG_0003.jpg IMG_0006.jpg":  "Between IMG_0001 and IMG_0003 a photo is not here. Between IMG_0003 and IMG_0006 2 photos are not here.",
	} {
		var says []string
		for _, g := range inspection.CameraGaps(strings.Fields(names)) {
			says = append(says, g.Says())
		}
		if got := strings.Join(says, " "); got != want {
			t.Errorf("%s: %q, want %q", names, got, want)
		}
	}
}

func TestTakeInTellsOfGapsAndKnownPhotos(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	_, first := withPhotos(t, n, "IMG_0012.jpg", "IMG_0015.jpg")
	if len(first.Gaps()) != 1 || len(first.Known()) != 0 {
		t.Errorf("at first: gaps %v, known %v", first.Gaps(), first.Known())
	}
	_, second := withPhotos(t, n, "IMG_0016.jpg", "IMG_0018.jpg")
	if gaps := second.Gaps(); len(gaps) != 1 || gaps[0].Before != "IMG_0018" {
		t.Errorf("a gap is told twice, or not: %v", gaps)
	}
	path := picture(t, "IMG_0019.jpg", 90, 30)
	for _, known := range []int{0, 1} {
		job := n.AttachPhotos(t.Context(), nil, term.AsFound, []string{path})
		if err := job.Wait(); err != nil || len(job.Known()) != known || len(job.Taken()) != 1 {
			t.Errorf("%v: known %v, taken %v", err, job.Known(), job.Taken())
		}
	}
	// The record holds one of these under another name: none is missing between them.
	var renamed []string
	for i, name := range []string{"DSC_0101.jpg", "DSC_0102.jpg", "DSC_0103.jpg"} {
		to := filepath.Join(t.TempDir(), name)
		from := picture(t, "x.jpg", 200+i, 30)
		if i == 1 {
			from = path
		}
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
		renamed = append(renamed, to)
	}
	job := n.AttachPhotos(t.Context(), nil, term.AsFound, renamed)
	if err := job.Wait(); err != nil || len(job.Gaps()) > 0 || len(job.Known()) != 1 {
		t.Errorf("%v: gaps %v, known %v", err, job.Gaps(), job.Known())
	}
	if says, _ := n.Undoable(); says != "2 photos taken in" {
		t.Errorf("undo says %q", says)
	}
	if len(n.Record().Photos) != 7 {
		t.Errorf("there are %d photos", len(n.Record().Photos))
	}
}

func TestFolderOfFoldersIsTakenIn(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	card := filepath.Join(t.TempDir(), "DCIM")
	for i, name := range []string{"100CAM/IMG_0001.jpg", "101CAM/IMG_0002.JPG", ".trash/IMG_0003.jpg"} {
		to := filepath.Join(card, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(picture(t, "x.jpg", 40+i, 30), to); err != nil {
			t.Fatal(err)
		}
	}
	job := n.AttachPhotos(t.Context(), nil, term.AsFound, []string{card})
	if err := job.Wait(); err != nil || len(job.Taken()) != 2 || len(job.Failed()) != 0 {
		t.Errorf("%v: taken %v, failed %v", err, job.Taken(), job.Failed())
	}
}

func TestTimeLeft(t *testing.T) {
	for _, c := range []struct {
		took        time.Duration
		done, total int
		want        time.Duration
	}{
		{time.Second, 1, 100, 0}, {10 * time.Second, 0, 100, 0}, {10 * time.Second, 100, 100, 0},
		{10 * time.Second, 20, 60, 20 * time.Second}, {time.Minute, 1, 3, 2 * time.Minute},
	} {
		if got := inspection.Left(c.took, c.done, c.total); got != c.want {
			t.Errorf("%d of %d in %s: %s left, want %s", c.done, c.total, c.took, got, c.want)
		}
	}
}

func TestFolderWatch(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, content string) {
		t.Helper()
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("old.jpg", "was there before")
	w, err := inspection.WatchFolder(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	look := func(what string, want ...string) {
		t.Helper()
		ready, err := w.Look(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, path := range ready {
			below, _ := filepath.Rel(dir, path)
			names = append(names, filepath.ToSlash(below))
		}
		if !slices.Equal(names, want) {
			t.Errorf("%s: ready is %q, want %q", what, names, want)
		}
	}
	look("nothing new")
	put("b.jpg", "a photo")
	put("100CAM/a.heic", "another")
	put("a/b/c/too-deep.jpg", "far below")
	put("note.txt", "no photo")
	put(".hidden.jpg", "hidden")
	put("half.jpg.part", "on its way")
	put("empty.jpg", "")
	put("reserved.jpg", strings.Repeat("\x00", 9000))
	look("seen for the first time")
	put("b.jpg", "a photo that grows")
	look("found the same", "100CAM/a.heic")
	look("the one that grew", "b.jpg")
	look("each only once")
	put("reserved.jpg", strings.Repeat("\x00", 8999)+"x")
	put("empty.jpg", "now it is written")
	look("just written")
	look("now whole", "empty.jpg", "reserved.jpg")
	put("old.jpg", "taken anew")
	look("changed")
	look("one that was changed", "old.jpg")
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Look(t.Context()); err == nil || !strings.Contains(err.Error(), dir) {
		t.Errorf("the folder is gone: %v", err)
	}
	put("back.jpg", "here again")
	look("after it came back")
	look("after it came back", "back.jpg")
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := w.Look(stopped); err == nil {
		t.Error("it looks though it was stopped")
	}
	if _, err := inspection.WatchFolder(t.Context(), filepath.Join(dir, "none")); err == nil {
		t.Error("a folder that is not there is watched")
	}
}

func TestPhotosElsewhere(t *testing.T) {
	b := bench(t, t.TempDir())
	other := begun(t, b)
	ids, _ := withPhotos(t, other, "a.jpg", "b.jpg")
	if err := other.Assign(ids[:1], record.Subject{Part: place(t, other, "3rd gear")}, false); err != nil {
		t.Fatal(err)
	}
	if err := other.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	n := begun(t, b)
	found, err := n.PhotosElsewhere(t.Context(), place(t, n, "3rd gear"))
	if err != nil || len(found) != 1 || found[0].Name != "a.jpg" || !strings.Contains(found[0].Core, "40117") {
		t.Errorf("%v: found %+v", err, found)
	}
	if found, _ := n.PhotosElsewhere(t.Context(), place(t, n, "2nd gear")); len(found) != 0 {
		t.Errorf("found %s", fmt.Sprint(found))
	}
}

// TestAlike tells two shots of one thing from two things.
func TestAlike(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	scene := func(name string, move, light int) string {
		img := image.NewRGBA(image.Rect(0, 0, 640, 480))
		for y := range 480 {
			for x := range 640 {
				shade := 90 + light + int(50*math.Sin(float64(x+move)/70)*math.Cos(float64(y)/50))
				img.Set(x, y, color.RGBA{uint8(shade), uint8(shade), uint8(shade + 20), 255})
			}
		}
		path := filepath.Join(t.TempDir(), name)
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, img, nil); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, buf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	take := func(paths ...string) *inspection.TakeIn {
		t.Helper()
		job := n.AttachPhotos(t.Context(), nil, term.AsFound, paths)
		if err := job.Wait(); err != nil {
			t.Fatal(err)
		}
		return job
	}
	first := take(scene("a.jpg", 0, 0), scene("b.jpg", 150, 0))
	if len(first.Alike()) != 0 {
		t.Errorf("two things are alike: %v", first.Alike())
	}
	again := take(scene("c.jpg", 2, 12))
	alike := again.Alike()
	if len(alike) != 1 || alike[0].Other != first.Taken()[0] || alike[0].New != again.Taken()[0] {
		t.Errorf("a second shot of the first is told as %v", alike)
	}
	if same := take(scene("a.jpg", 0, 0)); len(same.Alike()) != 0 || len(same.Known()) != 1 {
		t.Errorf("the very same file is told as alike: %v", same.Alike())
	}
}

// TestSameFileByTwoAtOnce holds that a file has one entry however it comes in.
func TestSameFileByTwoAtOnce(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	path := picture(t, "a.jpg", 60, 40)
	var jobs []*inspection.TakeIn
	for range 6 {
		jobs = append(jobs, n.AttachPhotos(t.Context(), nil, term.AsFound, []string{path}))
	}
	for _, job := range jobs {
		if err := job.Wait(); err != nil {
			t.Fatal(err)
		}
	}
	if len(n.Record().Photos) != 1 {
		t.Errorf("one file has %d entries", len(n.Record().Photos))
	}
}

// The picture that stands for a record in the register is upright as the photo is.
func TestRowThumbnailIsUpright(t *testing.T) {
	b := bench(t, t.TempDir())
	n := begun(t, b)
	ids, _ := withPhotos(t, n, "a.jpg") // wider than high
	for _, tall := range []bool{false, true} {
		if err := n.Flush(t.Context()); err != nil {
			t.Fatal(err)
		}
		page, err := b.Find(t.Context(), inspection.Query{})
		if err != nil || len(page.Rows) != 1 {
			t.Fatal(page, err)
		}
		img, err := b.RowThumbnail(t.Context(), page.Rows[0])
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Dy() > img.Bounds().Dx(); got != tall {
			t.Errorf("turned %v, it is %v", tall, img.Bounds())
		}
		if err := n.TurnPhotos(ids, 90); err != nil {
			t.Fatal(err)
		}
	}
}
