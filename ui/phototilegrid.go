package ui

import "image"

// tileGrid is the part of a level's tiles that something is drawn from.
type tileGrid struct {
	level                      int
	column, row, columns, rows int
	tiles                      []*image.RGBA
}

// look takes the tiles that hold pixels x0 to x1 and y0 to y1 of a level, and
// reports whether all are there.
func (g *tileGrid) look(tiles PhotoTiles, l *photoLevel, x0, x1, y0, y1 int) bool {
	g.level = l.at
	g.column, g.row = tileAt(l.columns, x0), tileAt(l.rows, y0)
	g.columns, g.rows = tileAt(l.columns, x1)-g.column+1, tileAt(l.rows, y1)-g.row+1
	g.tiles = grown(g.tiles, g.columns*g.rows)
	all := true
	for i := range g.tiles {
		column, row := g.column+i%g.columns, g.row+i/g.columns
		t := tiles.Tile(l.at, column, row)
		if t != nil && (t.Rect.Dx() < l.columns[column+1]-l.columns[column] || t.Rect.Dy() < l.rows[row+1]-l.rows[row]) {
			t = nil // not of this photo
		}
		g.tiles[i] = t
		all = all && t != nil
	}
	return all
}

// tileAt returns the tile that holds a pixel.
func tileAt(edges []int, pixel int) int {
	at := 0
	for at+2 < len(edges) && edges[at+1] <= pixel {
		at++
	}
	return at
}

// appendMissing adds the tiles that are not there, from the middle outwards.
func (g *tileGrid) appendMissing(to []TilePlace) []TilePlace {
	from := len(to)
	for i, t := range g.tiles {
		if t == nil {
			to = append(to, TilePlace{g.level, g.column + i%g.columns, g.row + i/g.columns})
		}
	}
	far := func(p TilePlace) int {
		x, y := 2*(p.Column-g.column)+1-g.columns, 2*(p.Row-g.row)+1-g.rows
		return x*x + y*y
	}
	for i := from + 1; i < len(to); i++ {
		for j := i; j > from && far(to[j]) < far(to[j-1]); j-- {
			to[j], to[j-1] = to[j-1], to[j]
		}
	}
	return to
}

// gather puts a row of pixels of the level together, from column first to last. Past
// the tiles that are there the nearest pixel goes on.
func (g *tileGrid) gather(room []byte, l *photoLevel, y, first, last int) []byte {
	row := min(max(tileAt(l.rows, y)-g.row, 0), g.rows-1)
	room = room[:0]
	for x := first; x < last; {
		column := min(tileAt(l.columns, x)-g.column, g.columns-1)
		until := last
		if column+1 < g.columns {
			until = min(l.columns[g.column+column+1], last)
		}
		t, top := g.tiles[row*g.columns+column], l.rows[g.row+row]
		if t == nil && row > 0 {
			t, top = g.tiles[(row-1)*g.columns+column], l.rows[g.row+row-1]
		}
		if t != nil {
			from := x - l.columns[g.column+column]
			pix := t.Pix[min(max(y-top, 0), t.Rect.Dy()-1)*t.Stride:][:4*t.Rect.Dx()]
			pix = pix[min(4*from, len(pix)):]
			pix = pix[:min(4*(until-x), len(pix))]
			room = append(room, pix...)
			x += len(pix) / 4
		}
		for ; x < until; x++ {
			if len(room) < 4 {
				room = append(room, 0, 0, 0, 0)
				continue
			}
			room = append(room, room[len(room)-4:]...)
		}
	}
	return room
}

// drop lets go of the tiles, so that the ones that are looked at no more make room.
func (g *tileGrid) drop() { clear(g.tiles) }
