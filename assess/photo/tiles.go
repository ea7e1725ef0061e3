package photo

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
)

const (
	// TileSide is how many pixels a tile has on a side; at the right and at the
	// bottom there are smaller ones.
	TileSide = 512
	// TileQuality is the quality of a tile's JPEG.
	TileQuality = 88
)

// Pyramid is how a picture is cut into tiles. Level 0 is the whole picture; each
// further one has half the size, rounded up; the last one is a single tile. The zero
// value has no level.
type Pyramid struct{ width, height int }

// PyramidOf returns the pyramid of a picture by its size in pixels as stored.
func PyramidOf(width, height int) Pyramid {
	if width <= 0 || height <= 0 {
		return Pyramid{}
	}
	return Pyramid{width, height}
}

// Levels returns how many levels there are.
func (p Pyramid) Levels() int {
	if p.width == 0 {
		return 0
	}
	n := 1
	for w, h := p.width, p.height; max(w, h) > TileSide; n++ {
		w, h = (w+1)/2, (h+1)/2
	}
	return n
}

// Size returns the size of a level in pixels; 0 where there is no such level.
func (p Pyramid) Size(level int) (width, height int) {
	if level < 0 || level >= p.Levels() {
		return 0, 0
	}
	w, h := p.width, p.height
	for range level {
		w, h = (w+1)/2, (h+1)/2
	}
	return w, h
}

// Grid returns how many tiles lie side by side and below one another on a level.
func (p Pyramid) Grid(level int) (columns, rows int) {
	w, h := p.Size(level)
	return (w + TileSide - 1) / TileSide, (h + TileSide - 1) / TileSide
}

// Tile is one tile of a level, as a JPEG, not turned. Its left upper corner is
// TileSide times column and row.
type Tile struct {
	Level, Column, Row int
	JPEG               []byte
}

// MakeTiles cuts a decoded picture into tiles and hands each to keep, level 0 first
// and the single tile of the last level last: where that one is kept, all are. A
// colour JPEG keeps its planes, so it takes a third of its pixels' bytes more. An
// error of keep ends it; else the error wraps ctx's, or names what is wrong.
func MakeTiles(ctx context.Context, img image.Image, keep func(Tile) error) error {
	return eachLevel(ctx, img, func(level int, img image.Image) error {
		columns, rows := PyramidOf(img.Bounds().Dx(), img.Bounds().Dy()).Grid(0)
		for row := range rows {
			for column := range columns {
				if err := ctx.Err(); err != nil {
					return fmt.Errorf("tiles: stopped before they were finished: %w", err)
				}
				tile := Tile{Level: level, Column: column, Row: row}
				var b bytes.Buffer
				if err := jpeg.Encode(&b, TileOf(img, column, row), &jpeg.Options{Quality: TileQuality}); err != nil {
					return fmt.Errorf("tiles: %w", err)
				}
				tile.JPEG = b.Bytes()
				if err := keep(tile); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// MakeLevels returns a decoded picture and all further levels of its pyramid. It
// takes a third of the picture's bytes more.
func MakeLevels(ctx context.Context, img image.Image) ([]image.Image, error) {
	var levels []image.Image
	err := eachLevel(ctx, img, func(_ int, img image.Image) error {
		levels = append(levels, img)
		return nil
	})
	return levels, err
}

func eachLevel(ctx context.Context, img image.Image, work func(level int, img image.Image) error) error {
	if img == nil || img.Bounds().Empty() {
		return errors.New("tiles: the picture has no pixels; decode a photo first")
	}
	p := PyramidOf(img.Bounds().Dx(), img.Bounds().Dy())
	for level := range p.Levels() {
		if level > 0 {
			w, h := p.Size(level)
			var err error
			if img, err = resize(ctx, img, w, h); err != nil {
				return err
			}
		}
		if err := work(level, img); err != nil {
			return err
		}
	}
	return nil
}

type subImager interface {
	SubImage(image.Rectangle) image.Image
}

// TileOf returns the part of a level's picture that is one tile, opaque: what is
// transparent becomes white. It may share the picture's pixels.
func TileOf(img image.Image, column, row int) image.Image {
	x, y := column*TileSide, row*TileSide
	r := image.Rect(x, y, x+TileSide, y+TileSide).Add(img.Bounds().Min).Intersect(img.Bounds())
	part := img
	switch img.(type) {
	case *image.YCbCr, *image.Gray, *image.RGBA:
		part = img.(subImager).SubImage(r)
	}
	if o, ok := part.(interface{ Opaque() bool }); part == img || ok && !o.Opaque() {
		// Whatever else it is becomes four channels over white, a tile at a time.
		flat := image.NewRGBA(image.Rect(0, 0, r.Dx(), r.Dy()))
		draw.Draw(flat, flat.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
		draw.Draw(flat, flat.Rect, img, r.Min, draw.Over)
		part = flat
	}
	return part
}
