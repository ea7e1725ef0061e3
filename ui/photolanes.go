package ui

import "encoding/binary"

// The four channels of a pixel, spread over a word with 16 bits each, so that one
// multiplication weighs them all.
const (
	laneMask  = 0x00FF00FF00FF00FF
	laneRound = 0x0080008000800080
)

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

// mixLanes weighs two pixels; right is of 256. What a difference borrows from the
// next channel, the sum gives back.
func mixLanes(a, b, right uint64) uint64 {
	return (a<<8 + (b-a)*right + laneRound) >> 8 & laneMask
}

// blendRows weighs two rows of pixels and spreads them. It takes two pixels at a
// time, so to has room for an even number of them.
func blendRows(to []uint64, upper, lower []byte, weight uint64) {
	lower = lower[:len(upper)]
	for len(upper) >= 8 && len(lower) >= 8 && len(to) >= 2 {
		a, b := binary.LittleEndian.Uint64(upper), binary.LittleEndian.Uint64(lower)
		even := mixLanes(a&laneMask, b&laneMask, weight)
		odd := mixLanes(a>>8&laneMask, b>>8&laneMask, weight)
		to[0] = even&0xFFFFFFFF | odd<<32
		to[1] = even>>32 | odd&0xFFFFFFFF00000000
		upper, lower, to = upper[8:], lower[8:], to[2:]
	}
	if len(upper) >= 4 && len(lower) >= 4 && len(to) >= 1 {
		to[0] = mixLanes(lanes(upper), lanes(lower), weight)
	}
}

// mixColumns makes a row of the frame out of one of the source.
func mixColumns(out []byte, columns []blitColumn, mixed []uint64) {
	for _, c := range columns {
		at := int(c.at)
		if at < 0 || at+1 >= len(mixed) || len(out) < 4 {
			return
		}
		packLanes(out, mixLanes(mixed[at], mixed[at+1], uint64(c.right)))
		out = out[4:]
	}
}
