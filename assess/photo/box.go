package photo

import (
	"context"
	"fmt"
)

// span is the stretch of source samples first..last that one sample of the
// result averages. With src samples made into dst, let a source sample be
// dst units wide; then a sample of the result is src units wide, and all
// weights are whole numbers with the sum src.
type span struct {
	first, last   int
	wFirst, wLast uint64
}

func spans(src, dst int) []span {
	s := make([]span, dst)
	for i := range s {
		from, to := i*src, (i+1)*src
		first, last := from/dst, (to-1)/dst
		s[i] = span{first: first, last: last, wFirst: uint64((first+1)*dst - from), wLast: uint64(to - last*dst)}
		if first == last {
			s[i].wFirst, s[i].wLast = uint64(src), uint64(src)
		}
	}
	return s
}

// weight returns the weight of source sample x of the span; full is that of
// one which lies in it whole.
func (s span) weight(x, full int) uint64 {
	switch x {
	case s.first:
		return s.wFirst
	case s.last:
		return s.wLast
	default:
		return uint64(full)
	}
}

// inverse8 is 256/n with 32 binary places: a sum of n bytes times it is
// their mean with 8 binary places. For the sizes that are let in, the
// rounding never moves a flat picture.
func inverse8(n int) uint64 { return (256 << 32) / uint64(n) }

// rows is a picture that can be asked for its rows already squeezed to the
// width of the result, each sample 256 times its value.
type rows interface {
	height() int
	samples() int
	squeeze(y int, out []uint32)
}

// shrink averages the rows of src into h rows of dst, which has no gaps
// between its rows.
func shrink(ctx context.Context, src rows, h int, dst []byte) error {
	n, sh := src.samples(), src.height()
	acc, row := make([]uint64, n), make([]uint32, n)
	have := -1 // neighbours share a row: squeeze it once
	inv := (1 << 32) / uint64(sh)
	for j, s := range spans(sh, h) {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("views: stopped before they were finished: %w", err)
		}
		clear(acc)
		for y := s.first; y <= s.last; y++ {
			if y != have {
				src.squeeze(y, row)
				have = y
			}
			w := s.weight(y, h)
			for i, v := range row {
				acc[i] += w * uint64(v)
			}
		}
		out := dst[j*n : (j+1)*n]
		for i, v := range acc {
			out[i] = byte((v*inv + 1<<39) >> 40)
		}
	}
	return nil
}

// plane is one channel of a picture, a byte a sample.
type plane struct {
	pix    []byte
	stride int
	w, h   int
	xs     []span
}

func newPlane(pix []byte, stride, w, h, toWidth int) *plane {
	return &plane{pix, stride, w, h, spans(w, toWidth)}
}

func (p *plane) height() int  { return p.h }
func (p *plane) samples() int { return len(p.xs) }

func (p *plane) squeeze(y int, out []uint32) {
	row := p.pix[y*p.stride : y*p.stride+p.w]
	if len(p.xs) == p.w {
		for i, v := range row {
			out[i] = uint32(v) << 8
		}
		return
	}
	full, inv := uint64(len(p.xs)), inverse8(p.w)
	for i, s := range p.xs {
		sum := s.wLast * uint64(row[s.last])
		if s.first != s.last {
			var inner uint64
			for _, v := range row[s.first+1 : s.last] {
				inner += uint64(v)
			}
			sum += s.wFirst*uint64(row[s.first]) + full*inner
		}
		out[i] = uint32((sum*inv + 1<<31) >> 32)
	}
}
