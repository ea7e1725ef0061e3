package inspection

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"

	"fettlebook/assess/archive"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
)

// Alike are two photos that show nearly the same: two shots of one thing, mostly.
type Alike struct {
	// New was just taken in, Other before it or with it.
	New, Other record.ID
}

// likenessOf tells what a photo looks like, and keeps it by the hash of its file.
func (b *Bench) likenessOf(ctx context.Context, hash record.Hash) (photo.Likeness, error) {
	b.mu.Lock()
	l, known := b.likenesses[hash]
	b.mu.Unlock()
	if known {
		return l, nil
	}
	small, err := b.viewBytes(ctx, hash, archive.Thumbnail)
	if err != nil {
		return l, err
	}
	img, err := jpeg.Decode(bytes.NewReader(small))
	if err != nil {
		return l, fmt.Errorf("a small picture is damaged: %w", err)
	}
	if l, err = photo.LikenessOf(ctx, img, photo.Normal); err != nil {
		return l, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.likenesses == nil {
		b.likenesses = map[record.Hash]photo.Likeness{}
	}
	b.likenesses[hash] = l
	return l, nil
}

// alike finds for each of the photos that were taken in the one among those before
// it that shows nearly the same, if there is one. Turned photos are compared as
// their files lie. What can't be looked at is passed over.
func (n *Inspection) alike(ctx context.Context, fresh []record.ID) []Alike {
	r := n.Record()
	isFresh := map[record.ID]bool{}
	for _, id := range fresh {
		isFresh[id] = true
	}
	type seen struct {
		id record.ID
		l  photo.Likeness
	}
	var before []seen
	var pairs []Alike
	look := func(id record.ID, p record.Photo) (seen, bool) {
		l, err := n.bench.likenessOf(ctx, record.Hash(p.File))
		return seen{id, l}, err == nil
	}
	for id, p := range record.InOrder(r.Photos) {
		if s, ok := look(id, p); ok && !isFresh[id] {
			before = append(before, s)
		}
	}
	for _, id := range fresh {
		s, ok := look(id, r.Photos[id])
		if !ok || ctx.Err() != nil {
			continue
		}
		at := -1
		for i := range before {
			if s.l.Near(before[i].l) && (at < 0 || s.l.Differs(before[i].l) < s.l.Differs(before[at].l)) {
				at = i
			}
		}
		if at >= 0 {
			pairs = append(pairs, Alike{New: id, Other: before[at].id})
		}
		before = append(before, s)
	}
	return pairs
}
