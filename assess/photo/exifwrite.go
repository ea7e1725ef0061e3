package photo

import (
	"encoding/binary"
	"slices"
	"strings"
)

// exifEntry is one tag to be written: its type, how many values, and their bytes.
type exifEntry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func shortEntry(tag, v uint16) exifEntry {
	return exifEntry{tag, 3, 1, binary.BigEndian.AppendUint16(nil, v)}
}

func textEntry(tag uint16, s string) exifEntry {
	return exifEntry{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

// exifClock is a clock as EXIF writes it.
func exifClock(clock string) string { return strings.Replace(clock, "-", ":", 2) }

// exifBlockOf writes a block of two directories: the first, and the camera's. A text
// without letters is left out.
func exifBlockOf(first, camera []exifEntry) []byte {
	keep := func(all []exifEntry) []exifEntry {
		all = slices.DeleteFunc(all, func(e exifEntry) bool { return e.kind == 2 && e.count == 1 })
		slices.SortFunc(all, func(a, b exifEntry) int { return int(a.tag) - int(b.tag) })
		return all
	}
	first, camera = keep(first), keep(camera)
	if len(camera) > 0 {
		first = append(first, exifEntry{tagEXIF, 4, 1, make([]byte, 4)})
	}
	block := appendDirectory([]byte("MM\x00*\x00\x00\x00\x08"), first)
	if len(camera) > 0 {
		// The pointer is the last entry of the first directory.
		pointer := 8 + 2 + 12*(len(first)-1) + 8
		binary.BigEndian.PutUint32(block[pointer:], uint32(len(block)))
		block = appendDirectory(block, camera)
	}
	return block
}

func appendDirectory(block []byte, entries []exifEntry) []byte {
	order := binary.BigEndian
	behind := uint32(len(block) + 2 + 12*len(entries) + 4)
	block = order.AppendUint16(block, uint16(len(entries)))
	var values []byte
	for _, e := range entries {
		block = order.AppendUint32(order.AppendUint16(order.AppendUint16(block, e.tag), e.kind), e.count)
		if len(e.value) <= 4 {
			block = append(append(block, e.value...), make([]byte, 4-len(e.value))...)
			continue
		}
		block = order.AppendUint32(block, behind+uint32(len(values)))
		values = append(values, e.value...)
		values = append(values, make([]byte, len(e.value)%2)...) // values begin at even places
	}
	return append(append(block, 0, 0, 0, 0), values...)
}
