package inspection_test

import (
	"fmt"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Whatever of a part is outlined on a photo, the photo shows that part; it goes on
// showing what it showed before, and one undo takes both back.
func TestAnOutlinedPartIsShown(t *testing.T) {
	n := begun(t, bench(t, t.TempDir()))
	shaft, gear := place(t, n, "input-shaft"), place(t, n, "gear-3")
	pits := record.Finding{Part: shaft, Surface: "cone", Damage: term.RustPits, Severity: term.Felt, Zone: term.WorkingFace}
	triangle := []record.Point{{0, 0}, {900, 0}, {900, 900}}
	draw := func(o record.Outline) record.ID {
		t.Helper()
		o.Shape, o.Points = record.Polygon, triangle
		id, err := n.AddOutline(o)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	first, err := n.AddFinding(inspection.FindingEntry{Finding: pits})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		before []record.Subject
		mark   func(photo record.ID) error
		want   []record.Subject
	}{
		"found on a photo of nothing yet": {nil, func(photo record.ID) error {
			_, err := n.AddFinding(inspection.FindingEntry{Finding: pits, Outline: draw(record.Outline{Photo: photo})})
			return err
		}, []record.Subject{{Part: shaft}}},
		"found beside another part": {[]record.Subject{{Part: gear}}, func(photo record.ID) error {
			_, err := n.AddFinding(inspection.FindingEntry{Finding: pits, Outline: draw(record.Outline{Photo: photo})})
			return err
		}, []record.Subject{{Part: gear}, {Part: shaft}}},
		"found where the surface is shown": {[]record.Subject{{Part: shaft, Surface: "cone"}}, func(photo record.ID) error {
			_, err := n.AddFinding(inspection.FindingEntry{Finding: pits, Outline: draw(record.Outline{Photo: photo})})
			return err
		}, []record.Subject{{Part: shaft, Surface: "cone"}}},
		"one finding on a second photo": {nil, func(photo record.ID) error {
			draw(record.Outline{Photo: photo, Finding: first})
			return nil
		}, []record.Subject{{Part: shaft}}},
		"the shape of a face": {nil, func(photo record.ID) error {
			return n.OutlineFace(draw(record.Outline{Photo: photo}), record.Face{Part: shaft, Surface: "cone", Zone: term.WorkingFace})
		}, []record.Subject{{Part: shaft}}},
		"an outline of nothing yet": {nil, func(photo record.ID) error {
			draw(record.Outline{Photo: photo})
			return nil
		}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			job := n.AttachPhotos(t.Context(), c.before, term.Cleaned, []string{picture(t, name+".jpg", 400+len(n.Record().Photos), 300)})
			if err := job.Wait(); err != nil || len(job.Taken()) != 1 {
				t.Fatal(err, job.Failed())
			}
			photo := job.Taken()[0]
			if err := c.mark(photo); err != nil {
				t.Fatal(err)
			}
			if got := n.Record().Photos[photo].Subjects; fmt.Sprint(got) != fmt.Sprint(c.want) {
				t.Errorf("it shows %v, want %v", got, c.want)
			}
			if err := n.Undo(); err != nil {
				t.Fatal(err)
			}
			if got := n.Record().Photos[photo].Subjects; fmt.Sprint(got) != fmt.Sprint(c.before) {
				t.Errorf("after one undo it shows %v, before %v", got, c.before)
			}
		})
	}
}
