package photo

import (
	"fmt"
	"io"
	"strings"
	"unicode"

	"github.com/bep/imagemeta"
)

// The tags that are read; all others (the place above all) are left alone.
// The library names times by the older names of EXIF.
const (
	tagOrientation = "Orientation"
	tagMake        = "Make"
	tagModel       = "Model"
	tagFocal35     = "FocalLengthIn35mmFormat"
)

// timeTags are the three times that EXIF knows, the best first, each with
// its own zone and decimals: the zone of one is not assumed for another.
var timeTags = []struct {
	clock, zone, subsec       string
	clockID, zoneID, subsecID uint16
	basis                     Basis
}{
	{"DateTimeOriginal", "OffsetTimeOriginal", "SubSecTimeOriginal", 0x9003, 0x9011, 0x9291, ByExposure},
	{"CreateDate", "OffsetTimeDigitized", "SubSecTimeDigitized", 0x9004, 0x9012, 0x9292, ByDigitizing},
	{"ModifyDate", "OffsetTime", "SubSecTime", 0x0132, 0x9010, 0x9290, ByChange},
}

var wantedTags = func() map[string]bool {
	m := map[string]bool{tagOrientation: true, tagMake: true, tagModel: true, tagFocal35: true}
	for _, t := range timeTags {
		m[t.clock], m[t.zone], m[t.subsec] = true, true, true
	}
	return m
}()

// useEXIF fills in what the camera recorded. Bad data is said in a note and
// never stops a photo from being taken in.
func (i *Info) useEXIF(h header) {
	if h.turn != 0 {
		i.Orientation = h.turn
	}
	if h.exif == nil {
		return
	}
	tags, err := readTags(h.exif, h.exifSize)
	if err != nil {
		i.note("the camera's data in the file is damaged; what could still be read of it is used")
	}
	i.useOrientation(tags)
	if h.turn != 0 {
		i.keepOwnTurn(h.turn)
	}
	i.Make, i.Model = cleanText(tags[tagMake]), cleanText(tags[tagModel])
	if mm, ok := tags[tagFocal35].(uint16); ok && mm >= 5 && mm <= 2000 {
		i.Focal35 = float64(mm)
	}
	i.useTime(tags, h.exif)
}

func (i *Info) useOrientation(tags map[string]any) {
	switch v := tags[tagOrientation].(type) {
	case nil:
	case uint16:
		if o := Orientation(v); o.Valid() {
			i.Orientation = o
		} else if v != 0 { // some programs write 0 for "not known"
			i.note("the recorded orientation %d is none of 1 to 8; the photo is shown as stored", v)
		}
	default:
		i.note("the recorded orientation is not a number; the photo is shown as stored")
	}
}

// keepOwnTurn lets the picture's own turn stand, as its format wants it. Where the
// camera's data says another, the person is told, since some other program may
// show the photo another way round.
func (i *Info) keepOwnTurn(own Orientation) {
	if i.Orientation != Normal && i.Orientation != own {
		i.note("the camera's data asks for another turn than the picture itself; the picture's own is used")
	}
	i.Orientation = own
}

func (i *Info) note(format string, args ...any) {
	i.Notes = append(i.Notes, fmt.Sprintf(format, args...))
}

func (i *Info) useTime(tags map[string]any, block io.ReaderAt) {
	for _, t := range timeTags {
		recorded := text(tags[t.clock])
		clock, ok := parseClock(recorded)
		if !ok {
			i.note("the recorded time %.40q is no time; it is not used", recorded)
		}
		if clock == "" {
			continue
		}
		zone, ok := parseZone(text(tags[t.zone]))
		if !ok {
			i.note("the recorded zone %.40q is no zone; it is not used", text(tags[t.zone]))
		}
		i.Taken = CameraTime{Clock: clock, Zone: zone, Basis: t.basis}
		if _, recorded := tags[t.subsec]; recorded {
			i.Taken.Subsecond = subsecond(block, t.subsecID)
		}
		return
	}
}

// readTags is the one place that calls the EXIF library. The library walks
// by panics, so what it lets through is caught here; how far it may walk is
// bounded by the number of reads, of tags, and the size of a tag.
func readTags(block io.ReaderAt, size int64) (map[string]any, error) {
	tags := map[string]any{}
	in := &endSpy{ReadSeeker: io.NewSectionReader(block, 0, size)}
	err := guard(func() error {
		_, err := imagemeta.Decode(imagemeta.Options{
			R:           in,
			ImageFormat: imagemeta.TIFF, // EXIF is a TIFF file without a picture
			Sources:     imagemeta.EXIF,
			ShouldHandleTag: func(t imagemeta.TagInfo) bool {
				// The others are the thumbnail's and the maker's own.
				return (t.Namespace == "IFD0" || t.Namespace == "IFD0/ExifIFDP") && wantedTags[t.Tag]
			},
			HandleTag: func(t imagemeta.TagInfo) error {
				if _, twice := tags[t.Tag]; !twice {
					tags[t.Tag] = t.Value
				}
				return nil
			},
			LimitNumTags: 2000,
			LimitTagSize: 512,
		})
		return err
	})
	if err == nil && in.pastEnd {
		err = io.ErrUnexpectedEOF
	}
	return tags, err
}

// endSpy notices a walk that leaves the block: the library keeps silent
// about it, and what it did not reach would pass for "not recorded". It also ends
// a walk in circles.
type endSpy struct {
	io.ReadSeeker
	reads   int
	pastEnd bool
}

// maxReads is far above what the tags of one photo take.
const maxReads = 20_000

func (s *endSpy) Read(p []byte) (int, error) {
	if s.reads++; s.reads > maxReads {
		s.pastEnd = true
		return 0, io.EOF
	}
	n, err := s.ReadSeeker.Read(p)
	s.pastEnd = s.pastEnd || err == io.EOF
	return n, err
}

// tagEXIF is the pointer to the camera's directory.
const tagEXIF = 0x8769

// subsecond looks up the decimals of the second as they are written. The
// library hands them on as a number, in which 05 and 5 are the same; as
// decimals they are 0.05 and 0.5.
func subsecond(block io.ReaderAt, id uint16) string {
	dir, err := firstDirectory(block)
	if err != nil {
		return ""
	}
	at, ok := dir.number(tagEXIF)
	if !ok {
		return ""
	}
	if dir, err = dir.at(block, int64(at)); err != nil {
		return ""
	}
	digits := strings.Trim(dir.text(block, id), " \x00")
	if digits == "" || len(digits) > 9 || strings.Trim(digits, "0123456789") != "" {
		return ""
	}
	return digits
}

func text(v any) string {
	s, _ := v.(string)
	return s
}

// cleanText makes a stranger's text safe to show and print: valid UTF-8,
// printable, one line, not endless.
func cleanText(v any) string {
	const most = 80
	var b strings.Builder
	n := 0
	for _, r := range text(v) {
		if n == most {
			break
		}
		if unicode.IsPrint(r) || r == ' ' {
			b.WriteRune(r)
			n++
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
