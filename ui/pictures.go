package ui

import (
	"container/list"
	"context"
	"image"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// pictures decodes stored views beside the window and keeps the ones used last.
// All but the decoding itself happens on Fyne's thread.
type pictures struct {
	bench *inspection.Bench
	later func(func())
	ctx   context.Context
	slots chan struct{}

	cache   *list.List
	found   map[pictureKey]*list.Element
	bytes   int
	waiting map[pictureKey][]func(image.Image, error)

	// tiled are the tiles of which views miss some, fetching those that are on their
	// way.
	tiled    []*storedTiles
	fetching map[pictureKey]bool
}

// size of a picture that is wanted.
type pictureSize uint8

const (
	thumbSize pictureSize = iota
	previewSize
	tileSize
	rowSize
)

// pictureKey tells pictures apart: a photo that was turned has another one.
type pictureKey struct {
	file   string
	turned int
	size   pictureSize
	tile   TilePlace
}

type picture struct {
	key   pictureKey
	image image.Image
	bytes int
}

const (
	// pictureBytes bounds the memory that decoded pictures take, previews, thumbnails
	// and tiles of all photos together.
	pictureBytes = 160 << 20
	// frameBytes bounds what the tiles of one frame take of it, so that two photos
	// side by side and their previews have room.
	frameBytes = 96 << 20
	// pictureSlots is how many are decoded at a time.
	pictureSlots = 2
)

func newPictures(ctx context.Context, bench *inspection.Bench, later func(func())) *pictures {
	return &pictures{
		bench: bench, later: later, ctx: ctx, slots: make(chan struct{}, pictureSlots),
		cache: list.New(), found: map[pictureKey]*list.Element{}, waiting: map[pictureKey][]func(image.Image, error){},
		fetching: map[pictureKey]bool{},
	}
}

func keyOf(p record.Photo, size pictureSize) pictureKey {
	return pictureKey{file: p.File, turned: p.Turned, size: size}
}

// have returns a picture that is there already, nil otherwise.
func (p *pictures) have(key pictureKey) image.Image {
	if at, ok := p.found[key]; ok {
		p.cache.MoveToFront(at)
		return at.Value.(*picture).image
	}
	return nil
}

// want has a photo's picture decoded and calls back on Fyne's thread, at once if
// it is there already. Whoever asks checks in the call whether the answer is still
// of use.
func (p *pictures) want(photo record.Photo, size pictureSize, answer func(image.Image, error)) {
	p.ask(keyOf(photo, size), answer, func(ctx context.Context) (image.Image, error) {
		if size == thumbSize {
			return p.bench.Thumbnail(ctx, photo)
		}
		return p.bench.Preview(ctx, photo)
	})
}

// wantRow has the picture decoded that stands for a record in the register.
func (p *pictures) wantRow(row inspection.Row, answer func(image.Image, error)) {
	p.ask(rowKey(row), answer, func(ctx context.Context) (image.Image, error) {
		return p.bench.RowThumbnail(ctx, row)
	})
}

func rowKey(row inspection.Row) pictureKey {
	return pictureKey{file: string(row.Photo), turned: row.Turned, size: rowSize}
}

func (p *pictures) ask(key pictureKey, answer func(image.Image, error), decode func(context.Context) (image.Image, error)) {
	if img := p.have(key); img != nil {
		answer(img, nil)
		return
	}
	others, asked := p.waiting[key]
	p.waiting[key] = append(others, answer)
	if asked {
		return
	}
	go func() {
		select {
		case p.slots <- struct{}{}:
			defer func() { <-p.slots }()
		case <-p.ctx.Done():
			return
		}
		img, err := decode(p.ctx)
		if err == nil && key.size == previewSize {
			img = PreparePicture(img)
		}
		p.later(func() { p.settle(key, img, err) })
	}()
}

func (p *pictures) settle(key pictureKey, img image.Image, err error) {
	answers := p.waiting[key]
	delete(p.waiting, key)
	if err == nil {
		p.keep(&picture{key: key, image: img, bytes: bytesOf(img)})
	}
	for _, answer := range answers {
		answer(img, err)
	}
}

func (p *pictures) keep(pic *picture) {
	if _, ok := p.found[pic.key]; ok {
		return
	}
	p.found[pic.key] = p.cache.PushFront(pic)
	p.bytes += pic.bytes
	for p.bytes > pictureBytes && p.cache.Len() > 1 {
		oldest := p.cache.Remove(p.cache.Back()).(*picture)
		delete(p.found, oldest.key)
		p.bytes -= oldest.bytes
	}
}

// bytesOf estimates what a decoded picture takes; one that is prepared has smaller
// ones of itself.
func bytesOf(img image.Image) int {
	pixels := img.Bounds().Dx() * img.Bounds().Dy()
	switch img.(type) {
	case *image.YCbCr:
		return pixels * 2
	case *photoPicture:
		return pixels * 16 / 3
	}
	return pixels * 4
}
