package inspection

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"fettlebook/assess/archive"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// TakeIn is a job that takes photos in. Failed is complete once the job has ended.
type TakeIn struct {
	*Job
	mu     sync.Mutex
	failed []PhotoFailure
	taken  []record.ID
	known  []record.ID
	gaps   []CameraGap
	alike  []Alike
	// assigns is whether they were to show something.
	assigns bool
}

// PhotoFailure is a file that was not taken in, and why.
type PhotoFailure struct {
	Path string
	Err  error
}

// Failed returns the files that were not taken in; the rest were.
func (t *TakeIn) Failed() []PhotoFailure {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.failed)
}

// Taken returns the entries of the photos that were taken in, in their order.
func (t *TakeIn) Taken() []record.ID {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.taken)
}

// Known returns the entries of those that the record held already, by their hashes.
func (t *TakeIn) Known() []record.ID {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.known)
}

// Assigns tells whether the photos were to show something.
func (t *TakeIn) Assigns() bool { return t.assigns }

// Gaps returns the leaps in the camera's numbers that came with these photos.
func (t *TakeIn) Gaps() []CameraGap {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.gaps)
}

// Alike returns those that show nearly the same as another photo of the record.
func (t *TakeIn) Alike() []Alike {
	t.mu.Lock()
	defer t.mu.Unlock()
	return slices.Clone(t.alike)
}

func (t *TakeIn) fail(path string, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.failed = append(t.failed, PhotoFailure{Path: path, Err: err})
}

// AttachPhotos takes photo files in, as one gesture, and says what they show.
// A folder stands for the photo files in it. What can't be taken in is told and
// the rest goes on. A file that the record holds already is attached to the
// subject without a second entry.
func (n *Inspection) AttachPhotos(ctx context.Context, subjects []record.Subject, stage term.Stage, paths []string) *TakeIn {
	t := &TakeIn{assigns: len(subjects) > 0}
	ready := make(chan struct{})
	t.Job = start(ctx, func(ctx context.Context, j *Job) error {
		<-ready
		return n.takeIn(ctx, t, subjects, stage, paths)
	})
	close(ready)
	return t
}

func (n *Inspection) takeIn(ctx context.Context, t *TakeIn, subjects []record.Subject, stage term.Stage, paths []string) error {
	if n.bench.ReadOnly() {
		return archive.ErrReadOnly
	}
	files := t.spread(paths)
	leave, err := n.bench.turn(ctx, t.Job, len(files))
	if err != nil {
		return err
	}
	defer leave()
	photos := make([]*record.Photo, len(files))
	t.at(0, len(files), "taking in photos")
	done, line := 0, make(chan int)
	var workers sync.WaitGroup
	for range takeInWorkers {
		workers.Go(func() {
			for i := range line {
				p, err := n.bench.takeInOne(ctx, files[i])
				if err != nil {
					t.fail(files[i], err)
				} else {
					p.Stage, p.Subjects = stage, slices.Clone(subjects)
					photos[i] = p
				}
				t.mu.Lock()
				done++
				now := done
				t.mu.Unlock()
				t.at(now, len(files), filepath.Base(files[i]))
			}
		})
	}
	for i := range files {
		line <- i
	}
	close(line)
	workers.Wait()
	if err := ctx.Err(); err != nil {
		return stopped(err)
	}
	return n.attach(ctx, t, subjects, slices.DeleteFunc(photos, func(p *record.Photo) bool { return p == nil }))
}

func stopped(err error) error {
	return fmt.Errorf("taking in photos was stopped; none was attached: %w", err)
}

// turn waits until no other job takes photos in; leave lets the next one begin.
func (b *Bench) turn(ctx context.Context, j *Job, total int) (leave func(), err error) {
	leave = func() { <-b.taking }
	select {
	case b.taking <- struct{}{}:
		return leave, nil
	default:
	}
	j.waits(total)
	select {
	case b.taking <- struct{}{}:
		return leave, nil
	case <-ctx.Done():
		return nil, stopped(ctx.Err())
	}
}

// takeInWorkers is how many photos are decoded at a time: memory, not cores,
// sets the bound, since one of 48 MP takes 72 MB while it is decoded.
const takeInWorkers = 2

// spread puts the photo files of a folder in the folder's place.
func (t *TakeIn) spread(paths []string) []string {
	var files []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil || !info.IsDir() {
			files = append(files, path)
			continue
		}
		within, err := photosIn(path)
		if err != nil {
			t.fail(path, fmt.Errorf("the folder can't be read: %w", err))
			continue
		}
		if len(within) == 0 {
			t.fail(path, fmt.Errorf("folder %q holds no photo; choose the folder with the photos in it", filepath.Base(path)))
		}
		files = append(files, within...)
	}
	return files
}

// photosIn are the photo files of a folder, or where it has none those of the
// folders in it: a card holds one folder for each camera.
func photosIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var files, below []string
	for _, e := range entries {
		switch path := filepath.Join(folder, e.Name()); {
		case !e.IsDir() && isPhotoName(e.Name()):
			files = append(files, path)
		case e.IsDir() && !strings.HasPrefix(e.Name(), "."):
			below = append(below, path)
		}
	}
	if len(files) > 0 {
		return files, nil
	}
	for _, folder := range below {
		inner, err := os.ReadDir(folder)
		if err != nil {
			continue
		}
		for _, e := range inner {
			if !e.IsDir() && isPhotoName(e.Name()) {
				files = append(files, filepath.Join(folder, e.Name()))
			}
		}
	}
	return files, nil
}

// takeInOne stores the original and its views. The original counts once it is
// on the disk.
func (b *Bench) takeInOne(ctx context.Context, path string) (*record.Photo, error) {
	f, err := photo.Open(ctx, path, b.limits)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	picture, err := f.Decode(ctx)
	if err != nil {
		return nil, err
	}
	views, err := photo.MakeViews(ctx, picture)
	if err != nil {
		return nil, fmt.Errorf("photo %q: %w", filepath.Base(path), err)
	}
	blob, err := b.store.Put(ctx, f.Reader(ctx))
	if err != nil {
		return nil, fmt.Errorf("photo %q: %w", filepath.Base(path), err)
	}
	if err := b.store.PutView(ctx, blob.Hash, archive.Preview, views.Preview.JPEG); err != nil {
		return nil, fmt.Errorf("preview of photo %q: %w", filepath.Base(path), err)
	}
	if err := b.store.PutView(ctx, blob.Hash, archive.Thumbnail, views.Thumbnail.JPEG); err != nil {
		return nil, fmt.Errorf("thumbnail of photo %q: %w", filepath.Base(path), err)
	}
	info := f.Info()
	if info.Format == photo.HEIC {
		// Decoding it once more for looking closely would take longer than this.
		if err := b.keepTiles(ctx, blob.Hash, picture, func() {}); err != nil {
			return nil, fmt.Errorf("tiles of photo %q: %w", filepath.Base(path), err)
		}
	}
	return &record.Photo{
		File: string(blob.Hash), Name: strings.ToValidUTF8(info.Name, "�"), Size: info.Bytes,
		Width: info.Width, Height: info.Height, Orientation: int(info.Orientation),
		Taken:  taken(info.Taken),
		Camera: strings.TrimSpace(info.Make + " " + info.Model), Focal35: int(info.Focal35),
	}, nil
}

// taken gives the camera's clock to the second. When a program last wrote the
// file is not when the photo was taken, and is left out.
func taken(t photo.CameraTime) record.Taken {
	if t.IsZero() || t.Basis == photo.ByChange {
		return record.Taken{}
	}
	return record.Taken{Local: strings.Replace(t.Clock, " ", "T", 1), Zone: t.Zone}
}

// attach makes the one gesture: new entries for new files, subjects added to
// the entries of files that are there already.
func (n *Inspection) attach(ctx context.Context, t *TakeIn, subjects []record.Subject, photos []*record.Photo) error {
	if len(photos) == 0 {
		return nil
	}
	here := map[string]record.ID{}
	for id, p := range record.InOrder(n.Record().Photos) {
		here[p.File] = id
	}
	// Their numbers follow the order in which they were taken.
	photos = byTaken(photos, n.bench.zone(), func(p *record.Photo) record.Taken { return p.Taken })
	before := n.Record()
	var names []string
	var ids, taken, known []record.ID
	var fresh []record.Photo
	var gestures []record.Gesture
	for _, p := range photos {
		names = append(names, p.Name)
		if id, ok := here[p.File]; ok {
			taken, known = append(taken, id), append(known, id)
			gestures = append(gestures, record.ChangePhoto("", id, func(old *record.Photo) {
				for _, s := range subjects {
					old.Subjects = withSubject(old.Subjects, s)
				}
			}))
			continue
		}
		id := record.NewID()
		here[p.File] = id
		ids, fresh, taken = append(ids, id), append(fresh, *p), append(taken, id)
	}
	count := len(photos)
	if len(subjects) == 0 { // to those that were here already, nothing happens
		count = len(fresh)
	}
	says := n.saysPhotos(count, subjects)
	gestures = append([]record.Gesture{record.AddPhotos(says, ids, fresh)}, gestures...)
	if err := n.Do(record.Together(says, gestures...)); err != nil {
		return err
	}
	alike := n.alike(ctx, ids)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.alike = alike
	t.taken, t.known, t.gaps = taken, known, newGaps(before, n.Record(), names)
	return nil
}

func (n *Inspection) saysPhotos(count int, subjects []record.Subject) string {
	what := "a photo"
	if count > 1 {
		what = fmt.Sprintf("%d photos", count)
	}
	if len(subjects) == 0 {
		return what + " taken in"
	}
	return fmt.Sprintf("%s attached to %s", what, n.PartName(subjects[0].Part))
}

// PhotoEndings are the endings of files that may be photos, in lower case with
// their dots. What a file is, its content decides.
func PhotoEndings() []string { return photo.Extensions() }
