package photo

import (
	"encoding/binary"
	"errors"
	"io"
)

// directory is one directory of a TIFF file or an EXIF block: its entries by tag,
// each with its 12 bytes.
type directory struct {
	order   binary.ByteOrder
	entries map[uint16][12]byte
}

// maxEntries bounds a directory: cameras write under a hundred entries, and one of
// more than this is no camera's.
const maxEntries = 4096

var errNoDirectory = errors.New("tiff: the file has no directory where its header says")

// firstDirectory reads the directory that the header points to.
func firstDirectory(r io.ReaderAt) (directory, error) {
	var head [8]byte
	if _, err := r.ReadAt(head[:], 0); err != nil {
		return directory{}, err
	}
	var d directory
	switch string(head[:4]) {
	case "II*\x00":
		d.order = binary.LittleEndian
	case "MM\x00*":
		d.order = binary.BigEndian
	default:
		return directory{}, errNoDirectory
	}
	return d.at(r, int64(d.order.Uint32(head[4:])))
}

// at reads another directory of the same file.
func (d directory) at(r io.ReaderAt, offset int64) (directory, error) {
	var count [2]byte
	if _, err := r.ReadAt(count[:], offset); err != nil {
		return directory{}, err
	}
	n := int(d.order.Uint16(count[:]))
	if n == 0 || n > maxEntries {
		return directory{}, errNoDirectory
	}
	raw := make([]byte, 12*n)
	if _, err := r.ReadAt(raw, offset+2); err != nil {
		return directory{}, err
	}
	next := directory{order: d.order, entries: make(map[uint16][12]byte, n)}
	for i := range n {
		entry := [12]byte(raw[12*i:])
		tag := d.order.Uint16(entry[:])
		if _, twice := next.entries[tag]; !twice {
			next.entries[tag] = entry
		}
	}
	return next, nil
}

// number returns the first value of an entry of bytes, shorts or longs that stands
// in the entry itself.
func (d directory) number(tag uint16) (uint32, bool) {
	entry, ok := d.entries[tag]
	if !ok || d.order.Uint32(entry[4:]) == 0 {
		return 0, false
	}
	switch d.order.Uint16(entry[2:]) {
	case 1:
		return uint32(entry[8]), true
	case 3:
		return uint32(d.order.Uint16(entry[8:])), true
	case 4:
		return d.order.Uint32(entry[8:]), true
	}
	return 0, false
}

// text returns an entry of letters of at most 64 bytes, as it is written.
func (d directory) text(r io.ReaderAt, tag uint16) string {
	const ascii, most = 2, 64
	entry, ok := d.entries[tag]
	n := d.order.Uint32(entry[4:])
	if !ok || d.order.Uint16(entry[2:]) != ascii || n > most {
		return ""
	}
	value := make([]byte, n)
	if n <= 4 {
		copy(value, entry[8:])
	} else if _, err := r.ReadAt(value, int64(d.order.Uint32(entry[8:]))); err != nil {
		return ""
	}
	return string(value)
}
