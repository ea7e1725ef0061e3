package photo

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
)

// StrippedCopy is a copy of a JPEG that tells neither where it was taken nor with
// which very camera. The picture itself is the same byte for byte.
type StrippedCopy struct {
	JPEG []byte
	// Hash is that of the copy, Original that of the file it was made from: the two
	// together show later that one belongs to the other.
	Hash, Original Hash
	// Kept are the words for what is left of the camera's data.
	Kept []string
}

// maxStripped bounds the files that are copied in memory.
const maxStripped = 256 << 20

// errNotStripped says that the picture data can't be told from the rest.
var errNotStripped = errors.New("jpeg: its segments are out of order")

// Stripped makes a copy to hand out. Only what is known to be harmless is taken
// over: how the picture is stored, its colour profile, its orientation, when it was
// taken and the camera's make and model. Place, serial numbers, owner, maker's
// notes, XMP, IPTC, comments, the thumbnail (which may show what was cut off later)
// and whatever stands behind the picture are left out. Only a JPEG can be stripped;
// the error is an [*Error], or wraps ctx's.
func (f *File) Stripped(ctx context.Context) (StrippedCopy, error) {
	if f.info.Format != JPEG {
		return StrippedCopy{}, refuse(f.info.Name, Unsupported, nil, "export it as JPEG and hand that out",
			"only a JPEG can be stripped of place and serial")
	}
	if f.info.Bytes > maxStripped {
		return StrippedCopy{}, refuse(f.info.Name, TooLarge, nil, "hand out a smaller copy",
			"the file has %d MB, and %d MB can be stripped", f.info.Bytes>>20, maxStripped>>20)
	}
	src := &source{ctx: ctx, f: f}
	original := sha256.New()
	whole, err := io.ReadAll(io.TeeReader(src, original))
	if err != nil {
		return StrippedCopy{}, f.explain(src, err)
	}
	src.pastEnd = false // to read all is to read to the end
	block, kept := f.info.harmless()
	var to bytes.Buffer
	to.Grow(len(whole))
	to.WriteString("\xff\xd8")
	if block != nil {
		writeSegment(&to, 0xe1, append([]byte("Exif\x00\x00"), block...))
	}
	if err := copyPicture(&to, whole); err != nil {
		return StrippedCopy{}, f.explain(src, err)
	}
	sum := sha256.Sum256(to.Bytes())
	return StrippedCopy{
		JPEG: to.Bytes(), Kept: kept,
		Hash: Hash(hex.EncodeToString(sum[:])), Original: Hash(hex.EncodeToString(original.Sum(nil))),
	}, nil
}

func writeSegment(to *bytes.Buffer, marker byte, body []byte) {
	n := len(body) + 2
	to.Write([]byte{0xff, marker, byte(n >> 8), byte(n)})
	to.Write(body)
}

// copyPicture copies the segments that the picture needs, up to its end mark.
func copyPicture(to *bytes.Buffer, whole []byte) error {
	r := bufio.NewReader(bytes.NewReader(whole[2:]))
	seen := false
	for {
		marker, ok := nextMarker(r)
		if !ok {
			return errNotStripped
		}
		if marker == 0xd9 {
			if !seen {
				return errNotStripped
			}
			to.WriteString("\xff\xd9")
			return nil
		}
		var size [2]byte
		if _, err := io.ReadFull(r, size[:]); err != nil {
			return err
		}
		n := int(size[0])<<8 + int(size[1]) - 2
		if n < 0 {
			return errNotStripped
		}
		body := make([]byte, n)
		if _, err := io.ReadFull(r, body); err != nil {
			return err
		}
		if harmlessSegment(marker, body) {
			writeSegment(to, marker, body)
		}
		if marker == 0xda {
			seen = true
			if err := copyScan(to, r); err != nil {
				return err
			}
		}
	}
}

// harmlessSegment tells whether a segment belongs to the picture: tables, frames,
// scans, and of the programs' own segments those that say how colours are meant.
func harmlessSegment(marker byte, body []byte) bool {
	switch {
	case marker == 0xe0:
		return bytes.HasPrefix(body, []byte("JFIF\x00")) && len(body) == 14 // one with a thumbnail is longer
	case marker == 0xe2:
		return bytes.HasPrefix(body, []byte("ICC_PROFILE\x00"))
	case marker == 0xee:
		return bytes.HasPrefix(body, []byte("Adobe")) && len(body) == 12
	case marker >= 0xe0 && marker <= 0xef, marker == 0xfe:
		return false
	}
	return true
}

// copyScan copies picture data and leaves the reader before the marker that ends it.
func copyScan(to *bytes.Buffer, r *bufio.Reader) error {
	for {
		pair, err := r.Peek(2)
		if err != nil {
			return errNotStripped
		}
		if pair[0] == 0xff && pair[1] != 0 && pair[1] != 0xff && (pair[1] < 0xd0 || pair[1] > 0xd7) {
			return nil
		}
		to.WriteByte(pair[0])
		if _, err := r.Discard(1); err != nil {
			return err
		}
	}
}

// harmless writes what may be told of a photo as a new block, nil where there is
// nothing to tell.
func (i Info) harmless() (block []byte, kept []string) {
	var first, camera []exifEntry
	if i.Orientation != Normal {
		first = append(first, shortEntry(0x0112, uint16(i.Orientation)))
		kept = append(kept, "orientation")
	}
	if i.Make != "" || i.Model != "" {
		first = append(first, textEntry(0x010f, i.Make), textEntry(0x0110, i.Model))
		kept = append(kept, "make and model")
	}
	if !i.Taken.IsZero() {
		clock := exifClock(i.Taken.Clock)
		for _, t := range timeTags {
			if t.basis != i.Taken.Basis {
				continue
			}
			if t.basis == ByChange {
				first = append(first, textEntry(t.clockID, clock))
			} else {
				camera = append(camera, textEntry(t.clockID, clock))
			}
			camera = append(camera, textEntry(t.zoneID, i.Taken.Zone), textEntry(t.subsecID, i.Taken.Subsecond))
		}
		kept = append(kept, fmt.Sprintf("time (%s)", i.Taken.Basis))
	}
	if kept == nil {
		return nil, nil
	}
	return exifBlockOf(first, camera), kept
}
