package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// heifPicture is what the boxes of a HEIC file tell of its main picture, without
// decoding a pixel.
type heifPicture struct {
	width, height int         // before its own turn
	turn          Orientation // its own turn
	cropped       bool        // it shows a part only; the decoder knows which
	deep          bool        // more than 8 bits a channel
	exif          []byte
	hasEXIF       bool
}

// Bounds of what is read of a file's boxes, far above what cameras write.
const (
	maxMeta      = 8 << 20
	maxBoxes     = 1000
	maxItems     = 20_000
	maxHEIFProps = 5_000
)

var errHEIF = errors.New("heic: its boxes are damaged")

// box is one box of a file: its type and what is in it.
type box struct {
	kind string
	body []byte
	// word is where the kind stands.
	word []byte
}

// boxes splits bytes into boxes. What does not fit is an error.
func boxes(b []byte) ([]box, error) {
	var all []box
	for len(b) > 0 {
		if len(b) < 8 || len(all) == maxBoxes+maxHEIFProps {
			return nil, errHEIF
		}
		size, head := uint64(binary.BigEndian.Uint32(b)), uint64(8)
		switch size {
		case 0:
			size = uint64(len(b))
		case 1:
			if len(b) < 16 {
				return nil, errHEIF
			}
			size, head = binary.BigEndian.Uint64(b[8:]), 16
		}
		if size < head || size > uint64(len(b)) {
			return nil, errHEIF
		}
		all = append(all, box{string(b[4:8]), b[head:size], b[4:8]})
		b = b[size:]
	}
	return all, nil
}

func find(all []box, kind string) ([]byte, bool) {
	for _, b := range all {
		if b.kind == kind {
			return b.body, true
		}
	}
	return nil, false
}

// metaSpan finds the box that describes the file's items: where what is in it
// begins, without version and flags, and how long that is.
func metaSpan(at io.ReaderAt, fileSize int64) (start, length int64, err error) {
	off := int64(0)
	for range maxBoxes {
		var head [16]byte
		if _, err := at.ReadAt(head[:8], off); err != nil {
			return 0, 0, err
		}
		size, start := uint64(binary.BigEndian.Uint32(head[:])), off+8
		if size == 1 {
			if _, err := at.ReadAt(head[8:], off+8); err != nil {
				return 0, 0, err
			}
			size, start = binary.BigEndian.Uint64(head[8:]), off+16
		}
		if size == 0 {
			size = uint64(fileSize - off)
		}
		if size < uint64(start-off) || size > math.MaxInt64-uint64(off) {
			return 0, 0, errHEIF
		}
		if string(head[4:8]) == "meta" {
			n := int64(size) - (start - off)
			if n < 4 || n > maxMeta {
				return 0, 0, errHEIF
			}
			return start + 4, n - 4, nil
		}
		off += int64(size)
	}
	return 0, 0, errHEIF
}

func readMeta(src *source) ([]byte, error) {
	start, n, err := metaSpan(src.at(), src.f.info.Bytes)
	if err != nil {
		return nil, err
	}
	body := make([]byte, n)
	if n == 0 {
		return body, nil
	}
	_, err = src.at().ReadAt(body, start)
	return body, err
}

// withoutTurns makes every turn and every mirroring of a whole file in memory one
// that does nothing: turning is done with the other formats' turns, and the
// decoder mirrors the colours of a picture wrongly.
func withoutTurns(data []byte) error {
	start, n, err := metaSpan(bytes.NewReader(data), int64(len(data)))
	if err != nil || start+n > int64(len(data)) {
		return errors.Join(errHEIF, err)
	}
	inner := data[start : start+n]
	for _, kind := range []string{"iprp", "ipco"} {
		all, err := boxes(inner)
		if err != nil {
			return err
		}
		inner, _ = find(all, kind)
	}
	properties, err := boxes(inner)
	if err != nil {
		return err
	}
	for _, p := range properties {
		if (p.kind == "irot" || p.kind == "imir") && len(p.body) > 0 {
			copy(p.word, "irot")
			p.body[0] = 0
		}
	}
	return nil
}

// fields reads numbers one after the other and remembers when they end too early.
type fields struct {
	b   []byte
	bad bool
}

func (f *fields) uint(n int) uint64 {
	if n > len(f.b) || n > 8 {
		f.bad, f.b = true, nil
		return 0
	}
	var v uint64
	for _, c := range f.b[:n] {
		v = v<<8 | uint64(c)
	}
	f.b = f.b[n:]
	return v
}

// readHEIF reads what the boxes tell of the main picture.
func readHEIF(src *source) (heifPicture, error) {
	meta, err := readMeta(src)
	if err != nil {
		return heifPicture{}, err
	}
	all, err := boxes(meta)
	if err != nil {
		return heifPicture{}, err
	}
	main, err := primaryItem(all)
	if err != nil {
		return heifPicture{}, err
	}
	p := heifPicture{turn: Normal}
	if err := p.useProperties(all, main); err != nil {
		return heifPicture{}, err
	}
	if id, ok := exifItem(all); ok {
		p.hasEXIF = true
		p.exif = exifOf(src, all, id)
	}
	return p, nil
}

func primaryItem(all []box) (uint64, error) {
	body, ok := find(all, "pitm")
	f := fields{b: body}
	id := f.uint(idSize(f.uint(4)>>24 == 0))
	if !ok || f.bad {
		return 0, fmt.Errorf("%w: no main picture is named", errHEIF)
	}
	return id, nil
}

func idSize(short bool) int {
	if short {
		return 2
	}
	return 4
}

// useProperties applies the properties of one item in their order.
func (p *heifPicture) useProperties(all []box, item uint64) error {
	iprp, ok := find(all, "iprp")
	if !ok {
		return errHEIF
	}
	parts, err := boxes(iprp)
	if err != nil {
		return err
	}
	ipco, _ := find(parts, "ipco")
	properties, err := boxes(ipco)
	if err != nil {
		return err
	}
	for _, b := range parts {
		if b.kind != "ipma" {
			continue
		}
		numbers, err := propertiesOf(b.body, item)
		if err != nil {
			return err
		}
		for _, n := range numbers {
			if n >= 1 && n <= uint64(len(properties)) {
				p.use(properties[n-1])
			}
		}
	}
	if p.width <= 0 || p.height <= 0 {
		return fmt.Errorf("%w: the size of its picture is not told", errHEIF)
	}
	return nil
}

// propertiesOf returns the numbers, from 1, of the properties of an item.
func propertiesOf(ipma []byte, item uint64) ([]uint64, error) {
	f := fields{b: ipma}
	versionFlags := f.uint(4)
	count := f.uint(4)
	if count > maxItems {
		return nil, errHEIF
	}
	var numbers []uint64
	for range count {
		id := f.uint(idSize(versionFlags>>24 == 0))
		for range f.uint(1) {
			n := f.uint(1)
			if versionFlags&1 != 0 {
				n = (n<<8 | f.uint(1)) & 0x7fff
			} else {
				n &= 0x7f
			}
			if id == item {
				numbers = append(numbers, n)
			}
		}
		if f.bad {
			return nil, errHEIF
		}
	}
	return numbers, nil
}

// use applies one property. Turns come after the size and in their order.
func (p *heifPicture) use(b box) {
	f := fields{b: b.body}
	switch b.kind {
	case "ispe":
		f.uint(4)
		w, h := f.uint(4), f.uint(4)
		if !f.bad {
			p.width, p.height = int(min(w, math.MaxInt32)), int(min(h, math.MaxInt32))
		}
	case "clap":
		p.cropped = true
	case "pixi":
		f.uint(4)
		for range f.uint(1) {
			p.deep = p.deep || f.uint(1) > 8
		}
	case "irot": // quarter turns anticlockwise
		turn := []Orientation{Normal, Turn270, Turn180, Turn90}[f.uint(1)&3]
		p.turn = p.turn.matrix().then(turn.matrix()).orientation()
	case "imir": // 0: left and right change places, 1: top and bottom
		flip := []Orientation{FlipH, FlipV}[f.uint(1)&1]
		p.turn = p.turn.matrix().then(flip.matrix()).orientation()
	}
}

// exifItem names the item that holds the camera's data.
func exifItem(all []box) (uint64, bool) {
	iinf, ok := find(all, "iinf")
	if !ok {
		return 0, false
	}
	f := fields{b: iinf}
	f.uint(idSize(f.uint(4)>>24 == 0)) // how many: the boxes themselves tell
	entries, err := boxes(f.b)
	if err != nil {
		return 0, false
	}
	for _, b := range entries {
		g := fields{b: b.body}
		version := g.uint(4) >> 24
		if b.kind != "infe" || version < 2 {
			continue
		}
		id := g.uint(idSize(version == 2))
		g.uint(2)
		if len(g.b) >= 4 && string(g.b[:4]) == "Exif" {
			return id, true
		}
	}
	return 0, false
}

// exifOf reads the camera's data; nil where it is not where it should be.
func exifOf(src *source, all []box, item uint64) []byte {
	iloc, _ := find(all, "iloc")
	f := fields{b: iloc}
	version := f.uint(4) >> 24
	sizes := f.uint(2)
	offsetSize, lengthSize, baseSize, indexSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	count := f.uint(idSize(version < 2))
	if count > maxItems {
		return nil
	}
	for range count {
		id := f.uint(idSize(version < 2))
		method := uint64(0)
		if version >= 1 {
			method = f.uint(2) & 15
		}
		f.uint(2)
		base := f.uint(baseSize)
		extents := f.uint(2)
		var data []byte
		for range extents {
			if version >= 1 {
				f.uint(indexSize)
			}
			offset, length := base+f.uint(offsetSize), f.uint(lengthSize)
			if f.bad {
				return nil
			}
			if id == item {
				data = append(data, extent(src, all, method, offset, length, maxEXIF-len(data))...)
			}
		}
		if id == item {
			return afterOffset(data)
		}
	}
	return nil
}

// extent reads one piece of an item: of the file (method 0) or of the box for small
// ones (method 1).
func extent(src *source, all []box, method, offset, length uint64, most int) []byte {
	if length == 0 || length > uint64(most) || offset > math.MaxInt64-length {
		return nil
	}
	switch method {
	case 0:
		b := make([]byte, length)
		if _, err := src.at().ReadAt(b, int64(offset)); err != nil {
			return nil
		}
		return b
	case 1:
		if idat, _ := find(all, "idat"); offset+length <= uint64(len(idat)) {
			return idat[offset : offset+length]
		}
	}
	return nil
}

// afterOffset drops what stands in front of the block; its length is told first.
func afterOffset(data []byte) []byte {
	if len(data) < 4 {
		return nil
	}
	skip := uint64(binary.BigEndian.Uint32(data))
	if skip > uint64(len(data)-4) {
		return nil
	}
	return data[4+skip:]
}
