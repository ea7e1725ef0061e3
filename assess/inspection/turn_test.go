package inspection_test

import (
	"context"
	"errors"
	"testing"

	"fettlebook/assess/inspection"
	"fettlebook/assess/term"
)

// TestTakeInsWaitForOneAnother holds that a second take-in begins after the first,
// tells meanwhile how much waits and no time, and can be stopped by itself.
func TestTakeInsWaitForOneAnother(t *testing.T) {
	b := bench(t, t.TempDir())
	n := begun(t, b)
	leave := b.HoldTurn()
	takeIn := func(names ...string) *inspection.TakeIn {
		var paths []string
		for i, name := range names {
			paths = append(paths, picture(t, name, 40+len(name)*8+i, 30))
		}
		job := n.AttachPhotos(t.Context(), nil, term.AsFound, paths)
		waits := make(chan struct{}, 64)
		job.Watch(func() {
			if job.Progress().Waits {
				waits <- struct{}{}
			}
		})
		<-waits
		return job
	}
	first, second, third := takeIn("a.jpg", "b.jpg"), takeIn("long-c.jpg"), takeIn("longest-d.jpg", "longest-e.jpg", "longest-f.jpg")
	for job, total := range map[*inspection.TakeIn]int{first: 2, second: 1, third: 3} {
		if p := job.Progress(); p.Total != total || p.Done != 0 || p.Left != 0 {
			t.Errorf("while it waits it tells %+v, want %d in all", p, total)
		}
	}
	second.Cancel()
	if err := second.Wait(); !errors.Is(err, context.Canceled) {
		t.Errorf("the second ended with %v", err)
	}
	if first.Ended() || third.Ended() {
		t.Error("stopping one ended another")
	}
	leave()
	for _, job := range []*inspection.TakeIn{first, third} {
		if err := job.Wait(); err != nil || len(job.Failed()) > 0 {
			t.Error(err, job.Failed())
		}
	}
	if got := len(n.Record().Photos); got != 5 {
		t.Errorf("%d photos are in the record, want those of the first and the third", got)
	}
}
