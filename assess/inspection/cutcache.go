package inspection

import (
	"context"
	"image"
	"slices"
	"sync"

	"fettlebook/assess/archive"
	"fettlebook/assess/record"
)

// cutCache keeps in memory what tiles are cut from and can't be read again at once:
// the photos that were last looked at closely, as many as two can stand side by
// side.
type cutCache struct {
	mu      sync.Mutex
	decoded []*decodedPhoto
	// tiles are those of large photos in an archive for reading only.
	tiles []looseTiles
}

// cutKept is how many photos are kept. One of 16 megapixels takes 32 MB as a JPEG
// decoder leaves it.
const cutKept = 2

// decodedPhoto is decoded once, by whoever asks first.
type decodedPhoto struct {
	hash   record.Hash
	once   sync.Once
	levels []image.Image
	err    error
}

type looseTiles struct {
	hash  record.Hash
	tiles map[archive.View][]byte
}

// levels returns a photo's pyramid. One that can't be made is tried again when it
// is asked for the next time.
func (c *cutCache) levels(ctx context.Context, hash record.Hash, decode func() ([]image.Image, error)) ([]image.Image, error) {
	d := c.photo(hash)
	d.once.Do(func() { d.levels, d.err = decode() })
	if d.err != nil {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.decoded = slices.DeleteFunc(c.decoded, func(o *decodedPhoto) bool { return o == d })
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	return d.levels, d.err
}

// photo brings a photo to the end of the line, of which the first goes.
func (c *cutCache) photo(hash record.Hash) *decodedPhoto {
	c.mu.Lock()
	defer c.mu.Unlock()
	d := &decodedPhoto{hash: hash}
	if at := slices.IndexFunc(c.decoded, func(o *decodedPhoto) bool { return o.hash == hash }); at >= 0 {
		d = c.decoded[at]
		c.decoded = slices.Delete(c.decoded, at, at+1)
	}
	c.decoded = append(c.decoded, d)
	if len(c.decoded) > cutKept {
		c.decoded = slices.Delete(c.decoded, 0, 1)
	}
	return d
}

// loose returns a tile of a large photo that could not be stored, nil for none.
func (c *cutCache) loose(hash record.Hash, view archive.View) []byte {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, l := range c.tiles {
		if l.hash == hash {
			return l.tiles[view]
		}
	}
	return nil
}

func (c *cutCache) keepLoose(hash record.Hash, tiles map[archive.View][]byte) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.tiles = slices.DeleteFunc(c.tiles, func(l looseTiles) bool { return l.hash == hash })
	c.tiles = append(c.tiles, looseTiles{hash, tiles})
	if len(c.tiles) > cutKept {
		c.tiles = slices.Delete(c.tiles, 0, 1)
	}
}
