package ui

import (
	"image"
	"math"
)

// photoBlit puts pictures of any size into a frame at any scale: four neighbours
// weighed where it magnifies or shrinks a little, single pixels as they are where
// it magnifies much. It allocates only when a frame is larger than all before.
type photoBlit struct {
	to  *image.RGBA
	pic *photoPicture
	// left, top and scale place the picture: a pixel of its full size takes scale
	// pixels of the frame.
	left, top, scale float64

	columns []blitColumn
	mixed   []uint64 // a row of the source, between two of its rows
	// rows are the last two that were asked for: a row of the frame mostly lies
	// between the same two as the one above, or shares one of them.
	rows [2]blitRow
	turn int

	grid tileGrid
	// missing are the tiles that a frame would have been drawn from.
	missing []TilePlace
}

// blitRow is a row of the source, and the room for one that must be put together.
type blitRow struct {
	at        int
	pix, room []byte
}

// blitColumn is where a column of the frame comes from: a column of the source,
// and the weight of the next one, of 256.
type blitColumn struct{ at, right int32 }

// crispFrom is the magnification from which single pixels are shown as squares.
const crispFrom = 4

// draw puts p into the frame with its corner at (left, top) and each of its pixels
// scale pixels of the frame wide. It returns the part of the frame that is covered.
func (b *photoBlit) draw(to *image.RGBA, p *photoPicture, left, top, scale float64) image.Rectangle {
	covered := image.Rect(
		int(math.Round(left)), int(math.Round(top)),
		int(math.Round(left+p.width*scale)), int(math.Round(top+p.height*scale)),
	).Intersect(to.Rect)
	if covered.Empty() {
		return covered
	}
	b.to, b.pic, b.left, b.top, b.scale = to, p, left, top, scale
	b.drawFrom(p.level(scale, covered.Size()), covered, true)
	b.grid.drop()
	return covered
}

// drawFrom draws a part of the frame from a level. Where one of its tiles is missing
// it is drawn from the next one; the last ones are whole.
func (b *photoBlit) drawFrom(level int, area image.Rectangle, wanted bool) {
	l := &b.pic.levels[level]
	if l.columns == nil {
		b.paint(l, area)
		return
	}
	x0, x1 := b.source(area.Min.X, area.Max.X, b.left, l.factorX, l.width)
	y0, y1 := b.source(area.Min.Y, area.Max.Y, b.top, l.factorY, l.height)
	if b.grid.look(b.pic.tiles, l, x0, x1, y0, y1) {
		b.paint(l, area)
		return
	}
	grid := b.grid // the levels after this one have their own
	if wanted {
		b.missing = grid.appendMissing(b.missing)
	}
	for row := grid.row; row < grid.row+grid.rows; row++ {
		top, bottom := b.within(l.rows, row, area.Min.Y, area.Max.Y, b.top, l.factorY, l.height)
		for column := grid.column; column < grid.column+grid.columns; column++ {
			left, right := b.within(l.columns, column, area.Min.X, area.Max.X, b.left, l.factorX, l.width)
			cell := image.Rect(left, top, right, bottom)
			if cell.Empty() {
				continue
			}
			if b.pic.tiles.Tile(l.at, column, row) == nil {
				b.drawFrom(level+1, cell, false)
				continue
			}
			x0, x1 := b.source(left, right, b.left, l.factorX, l.width)
			y0, y1 := b.source(top, bottom, b.top, l.factorY, l.height)
			b.grid.look(b.pic.tiles, l, x0, x1, y0, y1)
			b.paint(l, cell)
		}
	}
}

// source returns from which to which pixel of a level a stretch of the frame is
// drawn.
func (b *photoBlit) source(from, to int, edge, factor float64, size int) (first, last int) {
	a, z := blitSource(from, edge, b.scale*factor, size), blitSource(to-1, edge, b.scale*factor, size)
	last = int(z.at)
	if z.right > 0 {
		last++
	}
	return int(a.at), last
}

// within returns which stretch of the frame a tile fills.
func (b *photoBlit) within(edges []int, tile, from, to int, edge, factor float64, size int) (first, last int) {
	begin := func(pixel int) int {
		if pixel <= 0 {
			return from
		}
		// The first pixel of the frame whose source is this one.
		at := min(max(int(edge+float64(pixel)*b.scale*factor)-2, from), to)
		for at < to && int(blitSource(at, edge, b.scale*factor, size).at) < pixel {
			at++
		}
		return at
	}
	first = begin(edges[tile])
	if last = to; edges[tile+1] < size {
		last = begin(edges[tile+1])
	}
	return first, last
}

// paint draws a part of the frame from a level whose tiles are there.
func (b *photoBlit) paint(l *photoLevel, area image.Rectangle) {
	first, last := b.plan(area, l)
	whole := b.whole(last - first)
	before := blitColumn{at: -1}
	for y := area.Min.Y; y < area.Max.Y; y++ {
		out := b.to.Pix[b.to.PixOffset(area.Min.X, y):][:4*area.Dx()]
		from := blitSource(y, b.top, b.scale*l.factorY, l.height)
		if from == before {
			copy(out, b.to.Pix[b.to.PixOffset(area.Min.X, y-1):][:len(out)])
			continue
		}
		before = from
		if whole && from.right == 0 {
			copy(out, b.row(l, int(from.at), first, last))
			makeOpaque(out)
			continue
		}
		b.mixRows(l, from, first, last)
		mixColumns(out, b.columns, b.mixed)
	}
}

// plan finds where the columns come from and returns the columns of the source that
// are needed. The places are counted from the first of them.
func (b *photoBlit) plan(area image.Rectangle, l *photoLevel) (first, last int) {
	b.columns = grown(b.columns, area.Dx())
	for i := range b.columns {
		b.columns[i] = blitSource(area.Min.X+i, b.left, b.scale*l.factorX, l.width)
	}
	first = int(b.columns[0].at)
	last = min(int(b.columns[len(b.columns)-1].at)+2, l.width)
	for i := range b.columns {
		b.columns[i].at -= int32(first)
	}
	b.mixed = grown(b.mixed, last-first+2)
	for i := range b.rows {
		row := &b.rows[i]
		row.at = -1
		if l.columns != nil {
			row.room = grown(row.room, 4*(last-first))
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
func (b *photoBlit) row(l *photoLevel, at, first, last int) []byte {
	for i := range b.rows {
		if b.rows[i].at == at {
			b.turn = i
			return b.rows[i].pix
		}
	}
	b.turn = 1 - b.turn // the one that was not used last
	row := &b.rows[b.turn]
	row.at = at
	if l.columns == nil {
		row.pix = l.pix[at*l.stride+4*first : at*l.stride+4*last]
	} else {
		row.pix = b.grid.gather(row.room, l, at, first, last)
	}
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
func (b *photoBlit) mixRows(l *photoLevel, from blitColumn, first, last int) {
	upper := b.row(l, int(from.at), first, last)
	lower := upper
	if from.right > 0 {
		lower = b.row(l, min(int(from.at)+1, l.height-1), first, last)
	}
	n := last - first
	blendRows(b.mixed, upper, lower, uint64(from.right))
	b.mixed[n] = b.mixed[n-1] // the last column has no next one
}

// grown returns a slice of a length, the same one where it has room.
func grown[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
