package inspection

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"path/filepath"
	"slices"
	"strings"

	"fettlebook/assess/archive"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
)

// keptFrom is from how many pixels on a photo's tiles are kept in the archive. Those
// of smaller photos are cut out of the decoded original: that is done by the time
// one has moved the mouse.
const keptFrom = 16_000_000

// ErrUncut says that the tiles of a photo that keeps them are not made yet, or that
// one of them is spoilt: see [Bench.Cut].
var ErrUncut = errors.New("its tiles are not made yet")

// KeepsTiles tells whether the tiles of a photo are kept in the archive: it is large,
// or takes seconds to decode.
func KeepsTiles(p record.Photo) bool {
	return p.Width*p.Height > keptFrom || slices.Contains(photo.HEIC.Extensions(), strings.ToLower(filepath.Ext(p.Name)))
}

// TileLevel is one size of a photo as it is shown, upright and turned, cut into
// tiles. Columns and Rows are where the tiles begin, and last where they end, in
// pixels of the level: 0 is first, Width and Height are last.
type TileLevel struct {
	Width, Height int
	Columns, Rows []int
}

// TileLevels returns the sizes of a photo that can be had tile by tile: its own
// first, each further one about half as large. Tiles are cut from the photo as it is
// stored, so that on a turned one the smaller ones may come first.
func TileLevels(p record.Photo) []TileLevel {
	o, pyramid := orientation(p), photo.PyramidOf(p.Width, p.Height)
	levels := make([]TileLevel, pyramid.Levels())
	for i := range levels {
		w, h := pyramid.Size(i)
		l := &levels[i]
		l.Width, l.Height = o.Size(w, h)
		x, y := o.Upright(0, 0, w, h)
		l.Columns, l.Rows = tileEdges(l.Width, x > 0), tileEdges(l.Height, y > 0)
	}
	return levels
}

// tileEdges counts from the far side where a turned photo does.
func tileEdges(size int, far bool) []int {
	var edges []int
	for at := 0; at < size; at += photo.TileSide {
		edges = append(edges, at)
	}
	edges = append(edges, size)
	if far {
		slices.Reverse(edges)
		for i, at := range edges {
			edges[i] = size - at
		}
	}
	return edges
}

// Tile returns one tile of a photo, upright and turned. The error wraps [ErrUncut]
// where the photo's tiles must be made first.
func (b *Bench) Tile(ctx context.Context, p record.Photo, level, column, row int) (*image.RGBA, error) {
	o, pyramid := orientation(p), photo.PyramidOf(p.Width, p.Height)
	columns, rows := pyramid.Grid(level)
	if columns == 0 {
		return nil, fmt.Errorf("photo %d has no size %d", p.Number, level)
	}
	// A grid turns as a picture does: a tile is a pixel of it, and its middle is
	// half a pixel in.
	x, y := o.Stored(100*column+50, 100*row+50, columns, rows)
	tile, err := b.storedTile(ctx, p, level, x/100, y/100)
	if err != nil {
		return nil, fmt.Errorf("photo %d: %w", p.Number, err)
	}
	return photo.UprightRGBA(tile, o), nil
}

// storedTile returns a tile by its place on the photo as it is stored.
func (b *Bench) storedTile(ctx context.Context, p record.Photo, level, column, row int) (image.Image, error) {
	hash, view := record.Hash(p.File), archive.Tile(level, column, row)
	if tile := b.cut.loose(hash, view); tile != nil {
		return jpeg.Decode(bytes.NewReader(tile))
	}
	if stored, err := b.store.GetView(ctx, hash, view); err == nil {
		if tile, err := jpeg.Decode(bytes.NewReader(stored)); err == nil {
			return tile, nil
		}
	} else if !errors.Is(err, archive.ErrNotFound) {
		return nil, err
	}
	if KeepsTiles(p) {
		return nil, ErrUncut
	}
	levels, err := b.cut.levels(ctx, hash, func() ([]image.Image, error) {
		img, err := b.decode(ctx, hash, p.Name)
		if err != nil {
			return nil, err
		}
		return photo.MakeLevels(ctx, img)
	})
	if err != nil {
		return nil, err
	}
	// A record that was written elsewhere may tell another size.
	if size := levels[0].Bounds().Size(); size != image.Pt(p.Width, p.Height) {
		return nil, fmt.Errorf("its file has %d × %d pixels and the record says %d × %d; attach it anew", size.X, size.Y, p.Width, p.Height)
	}
	return photo.TileOf(levels[level], column, row), nil
}

// hasTiles tells whether a photo's tiles were made: the last one is kept last.
func (b *Bench) hasTiles(ctx context.Context, p record.Photo) bool {
	hash, last := record.Hash(p.File), archive.Tile(photo.PyramidOf(p.Width, p.Height).Levels()-1, 0, 0)
	if b.cut.loose(hash, last) != nil {
		return true
	}
	_, err := b.store.GetView(ctx, hash, last)
	return err == nil
}

// makeTiles cuts a photo and tells of each row of tiles that can be had.
func (b *Bench) makeTiles(ctx context.Context, p record.Photo, tell func()) error {
	hash := record.Hash(p.File)
	img, err := b.decode(ctx, hash, p.Name)
	if err != nil {
		return err
	}
	return b.keepTiles(ctx, hash, img, tell)
}

// keepTiles cuts a decoded photo. In an archive for reading only the tiles stay in
// memory.
func (b *Bench) keepTiles(ctx context.Context, hash record.Hash, img image.Image, tell func()) error {
	if b.ReadOnly() {
		tiles := map[archive.View][]byte{}
		err := photo.MakeTiles(ctx, img, func(t photo.Tile) error {
			tiles[archive.Tile(t.Level, t.Column, t.Row)] = t.JPEG
			return nil
		})
		if err == nil {
			b.cut.keepLoose(hash, tiles)
		}
		return err
	}
	return photo.MakeTiles(ctx, img, func(t photo.Tile) error {
		if t.Column == 0 {
			tell()
		}
		return b.store.PutView(ctx, hash, archive.Tile(t.Level, t.Column, t.Row), t.JPEG)
	})
}
