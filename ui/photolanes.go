package ui

import "encoding/binary"

// The four channels of a pixel, spread over a word with 16 bits each, so that one
// multiplication weighs them all.
const (
	laneMask  = 0x00FF00FF00FF00FF
	laneRound = 0x0080008000800080
)

// opaqueBytes is the fourth byte of two pixels. It is no constant, for then the compiler
// stores the bytes beside it one by one.
var opaqueBytes uint64 = 0xFF000000FF000000

// lanes spreads the first four bytes.
func lanes(pixel []byte) uint64 {
	p := uint64(binary.LittleEndian.Uint32(pixel))
	return p&0x00FF00FF | p<<24&0x00FF00FF00000000
}

// packLanes puts what lanes has spread back into four bytes, the last of them
// opaque.
func packLanes(to []byte, p uint64) {
	binary.LittleEndian.PutUint32(to, uint32(p)|uint32(p>>24)|uint32(opaqueBytes))
}

// mixLanes weighs two pixels; right is of 256. What a difference borrows from the
// next channel, the sum gives back.
func mixLanes(a, b, right uint64) uint64 {
	return (a<<8 + (b-a)*right + laneRound) >> 8 & laneMask
}

// blendRows weighs two rows of pixels and spreads them. It takes two pixels at a
// time, so to has room for an even number of them.
func blendRows(to []uint64, upper, lower []byte, weight uint64) {
	n := len(upper) / 4
	i := 0
	for ; i+4 <= n; i += 4 {
		u, l, t := upper[4*i:4*i+16:4*i+16], lower[4*i:4*i+16:4*i+16], to[i:i+4:i+4]
		a, b := binary.LittleEndian.Uint64(u), binary.LittleEndian.Uint64(l)
		even := mixLanes(a&laneMask, b&laneMask, weight)
		odd := mixLanes(a>>8&laneMask, b>>8&laneMask, weight)
		t[0] = even&0xFFFFFFFF | odd<<32
		t[1] = even>>32 | odd&0xFFFFFFFF00000000
		a, b = binary.LittleEndian.Uint64(u[8:]), binary.LittleEndian.Uint64(l[8:])
		even = mixLanes(a&laneMask, b&laneMask, weight)
		odd = mixLanes(a>>8&laneMask, b>>8&laneMask, weight)
		t[2] = even&0xFFFFFFFF | odd<<32
		t[3] = even>>32 | odd&0xFFFFFFFF00000000
	}
	for ; i < n; i++ {
		to[i] = mixLanes(lanes(upper[4*i:]), lanes(lower[4*i:]), weight)
	}
}

// mixColumns makes a row of the frame out of one of the source, two pixels at a time.
func mixColumns(out []byte, columns []blitColumn, mixed []uint64) {
	i, fourth := 0, opaqueBytes
	for ; i+2 <= len(columns); i += 2 {
		c, d := columns[i], columns[i+1]
		p := mixLanes(mixed[c.at], mixed[c.at+1], uint64(c.right))
		q := mixLanes(mixed[d.at], mixed[d.at+1], uint64(d.right))
		even, odd := p&0xFFFFFFFF|q<<32, p>>32|q&0xFFFFFFFF00000000
		binary.LittleEndian.PutUint64(out[4*i:4*i+8:4*i+8], even|odd<<8|fourth)
	}
	if i < len(columns) {
		c := columns[i]
		packLanes(out[4*i:], mixLanes(mixed[c.at], mixed[c.at+1], uint64(c.right)))
	}
}
