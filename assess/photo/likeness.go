package photo

import (
	"context"
	"errors"
	"image"
	"math/bits"
)

// Likeness is a small fingerprint of what a picture looks like: of 16 × 16 places,
// whether each is brighter than the one to its left. Pictures that were scaled,
// packed anew or brightened have nearly the same; those of one burst have a like
// one. It says nothing of who made which, and two unlike pictures may have a like
// one: it only points something out to a person.
type Likeness [4]uint64

const (
	likenessSide = 16
	// mostUnlike is how many of the 256 places may differ in near-duplicates: copies
	// differ in under 10, other views of the same bench in 60 and more.
	mostUnlike = 20
)

// LikenessOf returns the fingerprint of a picture, turned upright first so that a
// copy that a program has turned is found too. A thumbnail will do and is quicker.
func LikenessOf(ctx context.Context, img image.Image, o Orientation) (Likeness, error) {
	if img == nil || img.Bounds().Empty() {
		return Likeness{}, errors.New("likeness: the picture has no pixels; decode a photo first")
	}
	small, err := reduce(ctx, img, ThumbnailSide)
	if err != nil {
		return Likeness{}, err
	}
	small = UprightImage(small, o)
	b := small.Bounds()
	grey := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			grey.Set(x, y, small.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	var places [(likenessSide + 1) * likenessSide]byte
	squeezed := newPlane(grey.Pix, grey.Stride, b.Dx(), b.Dy(), likenessSide+1)
	if err := shrink(ctx, squeezed, likenessSide, places[:]); err != nil {
		return Likeness{}, err
	}
	var l Likeness
	for y := range likenessSide {
		row := places[y*(likenessSide+1):]
		for x := range likenessSide {
			if bit := y*likenessSide + x; row[x+1] > row[x] {
				l[bit/64] |= 1 << (bit % 64)
			}
		}
	}
	return l, nil
}

// Differs returns in how many of 256 places two fingerprints differ.
func (l Likeness) Differs(o Likeness) int {
	n := 0
	for i := range l {
		n += bits.OnesCount64(l[i] ^ o[i])
	}
	return n
}

// Near tells whether two pictures look so much alike that one may be a copy of the
// other, or the next one of a burst. A picture without any detail is near to none.
func (l Likeness) Near(o Likeness) bool {
	return l != Likeness{} && o != Likeness{} && l.Differs(o) <= mostUnlike
}
