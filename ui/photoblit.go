package ui

import (
	"encoding/binary"
	"image"
)

// blit draws a picture at any scale into a buffer without allocating: by the
// nearest pixel where it is magnified much, so that pixels are seen as they are,
// else by weighing the four around. Its tables are used again.
type blit struct {
	column []int32  // of the source's byte in its row
	weight []uint16 // of the pixel to the right, 0 to 256
}

// crispFrom is the magnification from which single pixels are shown.
const crispFrom = 4.0

// draw puts src into dst with its corner at left and top, in pixels of dst, each
// pixel of src scale pixels wide.
func (b *blit) draw(dst, src *image.RGBA, left, top, scale float64) {
	sw, sh := src.Rect.Dx(), src.Rect.Dy()
	x0, x1 := span(left, float64(sw)*scale, dst.Rect.Dx())
	y0, y1 := span(top, float64(sh)*scale, dst.Rect.Dy())
	if x0 >= x1 || y0 >= y1 {
		return
	}
	crisp := scale >= crispFrom
	b.columns(x0, x1, sw, left, scale, crisp)
	for y := y0; y < y1; y++ {
		row, below, weight := source(float64(y)+0.5-top, scale, sh, crisp)
		out := dst.Pix[dst.PixOffset(x0, y) : dst.PixOffset(x1-1, y)+4]
		upper := src.Pix[row*src.Stride : row*src.Stride+sw*4]
		if crisp {
			b.nearest(out, upper)
			continue
		}
		b.mixed(out, upper, src.Pix[below*src.Stride:below*src.Stride+sw*4], uint32(weight))
	}
}

func span(at, size float64, room int) (from, to int) {
	return max(int(at+0.5), 0), min(int(at+size+0.5), room)
}

// source finds the pixel that a place lies in, its neighbour, and the
// neighbour's weight.
func source(at, scale float64, size int, crisp bool) (first, second int, weight uint16) {
	p := at / scale
	if crisp {
		i := min(max(int(p), 0), size-1)
		return i, i, 0
	}
	p = min(max(p-0.5, 0), float64(size-1))
	first = int(p)
	second = min(first+1, size-1)
	return first, second, uint16((p - float64(first)) * 256)
}

func (b *blit) columns(x0, x1, sw int, left, scale float64, crisp bool) {
	n := x1 - x0
	if cap(b.column) < n {
		b.column, b.weight = make([]int32, n), make([]uint16, n)
	}
	b.column, b.weight = b.column[:n], b.weight[:n]
	for i := range b.column {
		first, second, weight := source(float64(x0+i)+0.5-left, scale, sw, crisp)
		if first == second {
			weight = 0
		}
		b.column[i], b.weight[i] = int32(first*4), weight
	}
}

func (b *blit) nearest(out, row []byte) {
	for i, c := range b.column {
		copy(out[i*4:i*4+4], row[c:c+4])
	}
}

// mixed weighs four pixels, two channels at a time in one word.
func (b *blit) mixed(out, upper, lower []byte, down uint32) {
	up := 256 - down
	for i, c := range b.column {
		right := c
		w := uint32(b.weight[i])
		if w > 0 {
			right += 4
		}
		p := binary.LittleEndian.Uint32(upper[c:])
		q := binary.LittleEndian.Uint32(upper[right:])
		r := binary.LittleEndian.Uint32(lower[c:])
		s := binary.LittleEndian.Uint32(lower[right:])
		const even = 0x00FF00FF
		l := 256 - w
		tb := ((p&even)*l + (q&even)*w) >> 8 & even
		ta := ((p>>8&even)*l + (q>>8&even)*w) >> 8 & even
		bb := ((r&even)*l + (s&even)*w) >> 8 & even
		ba := ((r>>8&even)*l + (s>>8&even)*w) >> 8 & even
		rb := (tb*up + bb*down) >> 8 & even
		ga := (ta*up + ba*down) & (even << 8)
		binary.LittleEndian.PutUint32(out[i*4:], rb|ga|0xFF000000)
	}
}
