package ui

import (
	"encoding/binary"
	"image"
	"math"
)

// The four channels of a pixel, spread over a word with 16 bits each, so that one
// multiplication weighs them all.
const laneMask = 0x00FF00FF00FF00FF

// lanes spreads the first four bytes.
func lanes(pixel []byte) uint64 {
	p := uint64(binary.LittleEndian.Uint32(pixel))
	return p&0x00FF00FF | p<<24&0x00FF00FF00000000
}

// packLanes puts what lanes has spread back into four bytes, the last of them
// opaque.
func packLanes(to []byte, p uint64) {
	binary.LittleEndian.PutUint32(to, uint32(p)|uint32(p>>24)|0xFF000000)
}

// mixLanes weighs two pixels; right is of 256.
func mixLanes(a, b, right uint64) uint64 {
	return (a*(256-right) + b*right + 0x0080008000800080) >> 8 & laneMask
}

// photoBlit puts pictures of any size into a frame at any scale: four neighbours
// weighed where it magnifies or shrinks a little, single pixels as they are where
// it magnifies much. It allocates only when a frame is larger than all before.
type photoBlit struct {
	columns []blitColumn
	mixed   []uint64 // a row of the source, between two of its rows
	// rows are the last two that were asked for: a row of the frame mostly lies
	// between the same two as the one above, or shares one of them.
	rows [2]blitRow
	turn int
}

// blitRow is a row of the source, and the room for one that must be converted.
type blitRow struct {
	at   int
	pix  []byte
	room *image.RGBA
}

// blitColumn is where a column of the frame comes from: a column of the source,
// and the weight of the next one, of 256.
type blitColumn struct{ at, right int32 }

// crispFrom is the magnification from which single pixels are shown as squares.
const crispFrom = 4

// draw puts p into the frame with its corner at (left, top) and each of its pixels
// scale pixels of the frame wide. It returns the part of the frame that is covered.
func (b *photoBlit) draw(to *image.RGBA, p *photoPicture, left, top, scale float64) image.Rectangle {
	level := p.level(scale)
	size := p.levels[0]
	covered := image.Rect(
		int(math.Round(left)), int(math.Round(top)),
		int(math.Round(left+float64(size.width)*scale)), int(math.Round(top+float64(size.height)*scale)),
	).Intersect(to.Rect)
	if covered.Empty() {
		return covered
	}
	scale *= level.factor
	first, last := b.plan(covered, level.width, left, scale)
	whole := b.whole(last - first)
	before := blitColumn{at: -1}
	for y := covered.Min.Y; y < covered.Max.Y; y++ {
		out := to.Pix[to.PixOffset(covered.Min.X, y):][:4*covered.Dx()]
		from := blitSource(y, top, scale, level.height)
		if from == before {
			copy(out, to.Pix[to.PixOffset(covered.Min.X, y-1):][:len(out)])
			continue
		}
		before = from
		if whole && from.right == 0 {
			copy(out, b.row(level, int(from.at), first, last))
			makeOpaque(out)
			continue
		}
		b.mixRows(level, from, first, last)
		b.mixColumns(out)
	}
	return covered
}

// plan finds where the columns come from and returns the columns of the source that
// are needed. The places are counted from the first of them.
func (b *photoBlit) plan(covered image.Rectangle, width int, left, scale float64) (first, last int) {
	b.columns = grown(b.columns, covered.Dx())
	for i := range b.columns {
		b.columns[i] = blitSource(covered.Min.X+i, left, scale, width)
	}
	first = int(b.columns[0].at)
	last = min(int(b.columns[len(b.columns)-1].at)+2, width)
	for i := range b.columns {
		b.columns[i].at -= int32(first)
	}
	b.mixed = grown(b.mixed, last-first+1)
	for i := range b.rows {
		row := &b.rows[i]
		row.at = -1
		if row.room == nil || row.room.Rect.Dx() < last-first {
			row.room = image.NewRGBA(image.Rect(0, 0, last-first, 1))
		}
	}
	return first, last
}

// whole tells whether each column is one of the source, one after the other: pixel
// for pixel, nothing needs weighing.
func (b *photoBlit) whole(width int) bool {
	if width < len(b.columns) {
		return false
	}
	for i, c := range b.columns {
		if c.at != int32(i) || c.right != 0 {
			return false
		}
	}
	return true
}

// makeOpaque sets the fourth byte of each pixel, which a source need not have set.
func makeOpaque(row []byte) {
	for i := 3; i < len(row); i += 4 {
		row[i] = 0xff
	}
}

// row returns the needed part of a row of the source.
func (b *photoBlit) row(level *photoLevel, at, first, last int) []byte {
	for i := range b.rows {
		if b.rows[i].at == at {
			b.turn = i
			return b.rows[i].pix
		}
	}
	b.turn = 1 - b.turn // the one that was not used last
	row := &b.rows[b.turn]
	row.at, row.pix = at, level.row(at, first, last, row.room)
	return row.pix
}

// blitSource finds the pixels of the source that a pixel of the frame shows.
func blitSource(at int, edge, scale float64, size int) blitColumn {
	place := (float64(at) + 0.5 - edge) / scale
	if scale >= crispFrom {
		return blitColumn{at: int32(min(max(int(place), 0), size-1))}
	}
	place = min(max(place-0.5, 0), float64(size-1))
	pixel := int32(place)
	return blitColumn{at: pixel, right: int32((place - float64(pixel)) * 256)}
}

// mixRows makes one row of the source out of the two that a row of the frame lies
// between.
func (b *photoBlit) mixRows(level *photoLevel, from blitColumn, first, last int) {
	upper := b.row(level, int(from.at), first, last)
	n := last - first
	mixed := b.mixed[:n+1]
	if from.right == 0 {
		for i := range n {
			mixed[i] = lanes(upper[4*i:])
		}
	} else {
		lower := b.row(level, min(int(from.at)+1, level.height-1), first, last)
		weight := uint64(from.right)
		for i := range n {
			mixed[i] = mixLanes(lanes(upper[4*i:]), lanes(lower[4*i:]), weight)
		}
	}
	mixed[n] = mixed[n-1] // the last column has no next one
}

func (b *photoBlit) mixColumns(out []byte) {
	mixed := b.mixed
	for i, c := range b.columns {
		packLanes(out[4*i:4*i+4], mixLanes(mixed[c.at], mixed[c.at+1], uint64(c.right)))
	}
}

// grown returns a slice of a length, the same one where it has room.
func grown[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
