package inspection

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"fettlebook/assess/record"
)

// Cutting is a job that makes the tiles of photos that keep them, one photo after the
// other: one of 48 megapixels takes 100 MB meanwhile.
type Cutting struct {
	*Job
	b *Bench

	mu      sync.Mutex
	waiting []cutWish
	now     record.Hash
	made    int
	failed  []PhotoFailure
	over    bool
}

// cutWish is a photo that is to be cut; anew also if it seems to be.
type cutWish struct {
	photo record.Photo
	anew  bool
}

// Cut makes the tiles of those photos that keep them and have none yet. Progress
// tells of a total only once there is one to be made. Anew they are made also where
// they seem to be there: one may be spoilt.
func (b *Bench) Cut(ctx context.Context, photos []record.Photo, anew bool) *Cutting {
	c := &Cutting{b: b}
	for _, p := range photos {
		c.waiting = append(c.waiting, cutWish{photo: p, anew: anew})
	}
	ready := make(chan struct{})
	c.Job = start(ctx, func(ctx context.Context, _ *Job) error {
		<-ready
		return c.run(ctx)
	})
	close(ready)
	return c
}

// First has a photo cut before all others that wait, also if only some of its tiles
// are spoilt. It reports false where the job has come to its end.
func (c *Cutting) First(p record.Photo) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.over {
		return false
	}
	if c.now != record.Hash(p.File) {
		c.waiting = slices.DeleteFunc(c.waiting, func(w cutWish) bool { return w.photo.File == p.File })
		c.waiting = slices.Insert(c.waiting, 0, cutWish{photo: p, anew: true})
	}
	return true
}

// Waits tells whether a photo is still to be cut.
func (c *Cutting) Waits(p record.Photo) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return !c.over && (c.now == record.Hash(p.File) ||
		slices.ContainsFunc(c.waiting, func(w cutWish) bool { return w.photo.File == p.File }))
}

// Failed returns the photos that could not be cut; the rest were.
func (c *Cutting) Failed() []PhotoFailure {
	c.mu.Lock()
	defer c.mu.Unlock()
	return slices.Clone(c.failed)
}

// next takes the photo that comes next; the job is over where there is none.
func (c *Cutting) next(ctx context.Context) (w cutWish, total int, ok bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = ""
	if len(c.waiting) == 0 || ctx.Err() != nil {
		c.over = true
		return w, 0, false
	}
	w, c.waiting = c.waiting[0], c.waiting[1:]
	c.now = record.Hash(w.photo.File)
	return w, c.made + 1 + len(c.waiting), true
}

func (c *Cutting) run(ctx context.Context) error {
	c.sort(ctx)
	for {
		w, total, ok := c.next(ctx)
		if !ok {
			break
		}
		c.at(c.made, total, w.photo.Name)
		err := c.b.makeTiles(ctx, w.photo, c.tell)
		c.mu.Lock()
		c.made++
		if err != nil && ctx.Err() == nil {
			c.failed = append(c.failed, PhotoFailure{Path: w.photo.Name, Err: fmt.Errorf("photo %d: %w", w.photo.Number, err)})
		}
		c.mu.Unlock()
		c.at(c.made, total, w.photo.Name)
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("getting large photos ready was stopped: %w", err)
	}
	return nil
}

// sort leaves out what need not be cut.
func (c *Cutting) sort(ctx context.Context) {
	c.mu.Lock()
	waiting := slices.Clone(c.waiting)
	c.mu.Unlock()
	done := map[string]bool{}
	for _, w := range waiting {
		if !w.anew && (!KeepsTiles(w.photo) || c.b.hasTiles(ctx, w.photo)) {
			done[w.photo.File] = true
		}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.waiting = slices.DeleteFunc(c.waiting, func(w cutWish) bool { return !w.anew && done[w.photo.File] })
}
