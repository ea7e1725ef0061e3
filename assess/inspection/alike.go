package inspection

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"math/bits"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// Alike are two photos that show nearly the same: two shots of one thing, mostly.
type Alike struct {
	// New was just taken in, Other before it or with it.
	New, Other record.ID
}

// likeness tells roughly what a picture looks like: for each of 16 × 16 places
// whether it is brighter there than to the right. Light, size and the strength of
// the JPEG hardly change it.
type likeness [4]uint64

// likenessSide is how many places a side has.
const likenessSide = 16

// mostUnlike is in how many places of 256 two photos may differ and still be nearly
// the same.
const mostUnlike = 10

func (l likeness) unlike(o likeness) int {
	n := 0
	for i := range l {
		n += bits.OnesCount64(l[i] ^ o[i])
	}
	return n
}

func likenessOf(img image.Image) likeness {
	var l likeness
	b := img.Bounds()
	bright := func(x, y int) uint64 {
		r, g, bl, _ := img.At(x, y).RGBA()
		return uint64(299*r+587*g+114*bl) / 1000
	}
	if planes, ok := img.(*image.YCbCr); ok {
		bright = func(x, y int) uint64 { return uint64(planes.Y[planes.YOffset(x, y)]) }
	}
	mean := func(x, y int) uint64 {
		x0, x1 := b.Min.X+b.Dx()*x/(likenessSide+1), b.Min.X+b.Dx()*(x+1)/(likenessSide+1)
		y0, y1 := b.Min.Y+b.Dy()*y/likenessSide, b.Min.Y+b.Dy()*(y+1)/likenessSide
		sum, count := uint64(0), uint64(0)
		for py := y0; py < max(y1, y0+1); py++ {
			for px := x0; px < max(x1, x0+1); px++ {
				sum += bright(px, py)
				count++
			}
		}
		return sum / count
	}
	for y := range likenessSide {
		left := mean(0, y)
		for x := range likenessSide {
			right := mean(x+1, y)
			if left > right {
				at := y*likenessSide + x
				l[at/64] |= 1 << (at % 64)
			}
			left = right
		}
	}
	return l
}

// likenessOf tells what a photo looks like, and keeps it by the hash of its file.
func (b *Bench) likenessOf(ctx context.Context, hash record.Hash) (likeness, error) {
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
	l = likenessOf(img)
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.likenesses == nil {
		b.likenesses = map[record.Hash]likeness{}
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
		l  likeness
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
		best, at := mostUnlike+1, -1
		for i := range before {
			if d := s.l.unlike(before[i].l); d < best {
				best, at = d, i
			}
		}
		if at >= 0 {
			pairs = append(pairs, Alike{New: id, Other: before[at].id})
		}
		before = append(before, s)
	}
	return pairs
}
