package ui

import (
	"context"
	"errors"
	"image"
	"slices"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
)

// storedTiles are the tiles of one photo in one view: those that were looked at last
// are among the pictures that are kept, and what is missing is fetched beside the
// window.
type storedTiles struct {
	of     *pictures
	photo  record.Photo
	key    pictureKey // of a tile, but for its place
	levels []inspection.TileLevel
	view   *PhotoView
	// cut has the tiles made, if they are not there yet.
	cut func(*storedTiles)

	missing []TilePlace
	// uncut is whether they must be made first, tried whether that was done; failed
	// is whether there will be none.
	uncut, tried, failed bool
}

// tilesFor makes the tiles of a photo for a view.
func (p *pictures) tilesFor(photo record.Photo, view *PhotoView, cut func(*storedTiles)) *storedTiles {
	return &storedTiles{of: p, photo: photo, key: keyOf(photo, tileSize), levels: inspection.TileLevels(photo), view: view, cut: cut}
}

// Levels are the sizes, the photo's own first.
func (s *storedTiles) Levels() []inspection.TileLevel { return s.levels }

// Tile returns a tile that is in memory.
func (s *storedTiles) Tile(level, column, row int) *image.RGBA {
	tile, _ := s.of.have(s.at(TilePlace{level, column, row})).(*image.RGBA)
	return tile
}

func (s *storedTiles) at(place TilePlace) pictureKey {
	key := s.key
	key.tile = place
	return key
}

// Want has the tiles fetched that the view misses.
func (s *storedTiles) Want(missing []TilePlace) {
	s.missing = append(s.missing[:0], missing...)
	at := slices.Index(s.of.tiled, s)
	switch {
	case len(missing) == 0 && at >= 0:
		s.of.tiled = slices.Delete(s.of.tiled, at, at+1)
	case len(missing) > 0 && at < 0:
		s.of.tiled = append(s.of.tiled, s)
	}
	s.of.fetchTiles()
}

// again has the view try once more: the tiles may have been made.
func (s *storedTiles) again() {
	if s.uncut {
		s.uncut = false
		s.of.fetchTiles()
	}
}

// next returns the tile to fetch, as soon as it can be had.
func (s *storedTiles) next() (place TilePlace, ok bool) {
	if s.uncut || s.failed {
		return place, false
	}
	for _, place := range s.missing {
		key := s.at(place)
		if _, there := s.of.found[key]; !there && !s.of.fetching[key] {
			return place, true
		}
	}
	return place, false
}

// tileSlots is how many tiles are fetched at a time.
const tileSlots = 2

// fetchTiles starts as many fetches as there may be, for the views in turn.
func (p *pictures) fetchTiles() {
	for len(p.fetching) < tileSlots {
		began := false
		for _, s := range p.tiled {
			if place, ok := s.next(); ok && len(p.fetching) < tileSlots {
				p.fetchTile(s, place)
				began = true
			}
		}
		if !began {
			return
		}
	}
}

func (p *pictures) fetchTile(s *storedTiles, place TilePlace) {
	key := s.at(place)
	p.fetching[key] = true
	fetch := func(ctx context.Context) (*image.RGBA, error) {
		return p.bench.Tile(ctx, s.photo, place.Level, place.Column, place.Row)
	}
	go func() {
		tile, err := fetch(p.ctx)
		p.later(func() {
			delete(p.fetching, key)
			if err != nil {
				s.refused(err)
			} else {
				p.keep(&picture{key: key, image: tile, bytes: bytesOf(tile)})
				p.tileCame(key)
			}
			p.fetchTiles()
		})
	}()
}

// tileCame has the views drawn anew that miss a tile.
func (p *pictures) tileCame(key pictureKey) {
	for _, s := range p.tiled {
		if s.at(key.tile) == key && slices.Contains(s.missing, key.tile) {
			s.view.TilesCame()
		}
	}
}

// refused has the tiles made, or leaves the photo as it is.
func (s *storedTiles) refused(err error) {
	if errors.Is(err, inspection.ErrUncut) && !s.tried {
		s.uncut = true
		s.cut(s)
		return
	}
	s.failed = true
}
