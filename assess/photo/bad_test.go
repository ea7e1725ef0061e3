package photo_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fettlebook/assess/photo"
)

// take does what taking in a photo does: open, hash, decode, views.
func take(ctx context.Context, path string) error {
	f, err := photo.Open(ctx, path, photo.Limits{})
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err := f.Hash(ctx); err != nil {
		return err
	}
	img, err := f.Decode(ctx)
	if err != nil {
		return err
	}
	_, err = photo.MakeViews(ctx, img)
	return err
}

// badFiles are files that must be refused, by content.
func badFiles(t testing.TB) map[string]struct {
	data []byte
	kind photo.Kind
	says string
} {
	good, goodPNG := smallPhoto(t), smallPNG(t)
	flip := bytes.Clone(goodPNG)
	flip[len(flip)-20] ^= 0x55
	twoFrames := afterSOI(good, jpegSegment(0xc0, []byte{8, 0, 8, 0, 8, 1, 1, 0x11, 0}))
	sos := bytes.Index(good, []byte{0xff, 0xda})
	endless := bytes.Clone(good[:len(good)-2])
	for range 600 {
		endless = append(endless, good[sos:len(good)-2]...)
	}
	endless = append(endless, 0xff, 0xd9)
	costly := patchFrame(t, good, func(sof []byte) { // progressive, no subsampling
		sof[1] = 0xc2
		withSize(15000, 12000)(sof)
		sof[11], sof[14], sof[17] = 0x11, 0x11, 0x11
	})
	type bad = struct {
		data []byte
		kind photo.Kind
		says string
	}
	return map[string]bad{
		"empty.jpg":            {nil, photo.Empty, "the file is empty; copy it from the camera again"},
		"one byte.jpg":         {[]byte{0xff}, photo.NotAPhoto, "not a picture"},
		"text.jpg":             {[]byte("BM is how this letter about gear oil begins.\n"), photo.NotAPhoto, "whatever its name says; choose a JPEG, PNG, TIFF, WEBP or HEIC photo"},
		"zeros.jpg":            {make([]byte, 5000), photo.NotAPhoto, "not a picture"},
		"two bytes.jpg":        {good[:2], photo.Truncated, "ends in the middle"},
		"cut header.jpg":       {good[:100], photo.Truncated, "ends in the middle of the picture (truncated); copy it from the camera again"},
		"cut.jpg":              {good[:len(good)*2/3], photo.Truncated, "truncated"},
		"cut end mark.jpg":     {good[:len(good)-2], photo.Truncated, "truncated"},
		"cut magic.png":        {goodPNG[:5], photo.Truncated, "truncated"},
		"cut header.png":       {goodPNG[:20], photo.Truncated, "truncated"},
		"cut.png":              {goodPNG[:len(goodPNG)/2], photo.Truncated, "truncated"},
		"no end chunk.png":     {goodPNG[:len(goodPNG)-12], photo.Truncated, "truncated"},
		"flipped bits.png":     {flip, photo.Damaged, "the file is damaged ("},
		"noise.jpg":            {append(bytes.Clone(good[:sos+14]), bytes.Repeat([]byte{0x5a, 0xff, 0xd9}, 400)...), photo.Damaged, "damaged"},
		"two frames.jpg":       {twoFrames, photo.Damaged, "damaged"},
		"no picture.jpg":       {[]byte{0xff, 0xd8, 0xff, 0xd9}, photo.Damaged, "damaged"},
		"endless.jpg":          {endless, photo.Damaged, "500 passes"},
		"no pixel data.png":    {pngOf(64, 64, 8, 2, 0, chunk("IEND", nil)), photo.Damaged, "damaged"},
		"sixty thousand.png":   {pngOf(60000, 60000, 8, 6, 0, chunk("IEND", nil)), photo.TooLarge, "60000 × 60000 pixels (3600 megapixels), the limit is 200 megapixels"},
		"beyond 31 bits.png":   {pngOf(1<<31-1, 1<<31-1, 1, 0, 0), photo.TooLarge, "megapixels"},
		"large.jpg":            {patchFrame(t, good, withSize(65000, 65000)), photo.TooLarge, "65000 × 65000"},
		"costly.jpg":           {costly, photo.TooLarge, "MB of memory to decode"},
		"costly.png":           {pngOf(14000, 14000, 16, 6, 1), photo.TooLarge, "MB of memory to decode"},
		"no height.jpg":        {patchFrame(t, good, withSize(64, 0)), photo.BadShape, "64 × 0 pixels"},
		"no width.png":         {pngOf(0, 10, 8, 2, 0), photo.BadShape, "0 × 10 pixels"},
		"negative.png":         {pngOf(1<<31, 10, 8, 2, 0), photo.BadShape, "pixels"},
		"a hair.png":           {pngOf(60000, 1, 8, 2, 0), photo.BadShape, "too long and narrow"},
		"a thread.jpg":         {patchFrame(t, good, withSize(3, 65000)), photo.BadShape, "3 × 65000"},
		"arithmetic.jpg":       {patchFrame(t, good, func(b []byte) { b[1] = 0xc9 }), photo.Unsupported, "rare way"},
		"twelve bits.jpg":      {patchFrame(t, good, func(b []byte) { b[4] = 12 }), photo.Unsupported, "save it as an ordinary JPEG"},
		"phone.heic":           {[]byte("\x00\x00\x00\x24ftypheic\x00\x00\x00\x00mif1heic"), photo.Truncated, "truncated"},
		"phone.avif":           {[]byte("\x00\x00\x00\x24ftypavif\x00\x00\x00\x00mif1avif"), photo.Unsupported, "AVIF"},
		"web.jpg":              {[]byte("RIFF\x24\x00\x00\x00WEBPVP8 \x18\x00\x00\x00"), photo.Truncated, "truncated"},
		"scan.tif":             {[]byte("II*\x00\x08\x00\x00\x00\x00\x00"), photo.Damaged, "no directory"},
		"old.bmp":              {[]byte("BM\x46\x00\x00\x00\x00\x00\x00\x00\x36\x00\x00\x00"), photo.Unsupported, "save it as JPEG"},
		"nameless 12.jpg":      {[]byte("%PDF-1.7\n"), photo.NotAPhoto, "choose a JPEG, PNG, TIFF, WEBP or HEIC photo"},
		"claims much.png":      {append(pngOf(64, 64, 8, 2, 0), 0x7f, 0xff, 0xff, 0xff, 'I', 'D', 'A', 'T', 0x78, 0x9c, 3), photo.Truncated, "truncated"},
		"claims too much.png":  {append(pngOf(64, 64, 8, 2, 0), 0xff, 0xff, 0xff, 0xff, 'I', 'D', 'A', 'T', 1, 2, 3), photo.Damaged, "damaged"},
		"palette of none.png":  {pngOf(64, 64, 8, 3, 0, chunk("IDAT", []byte("x"))), photo.Damaged, "damaged"},
		"segment of minus.jpg": {append([]byte("\xff\xd8\xff\xe0\x00\x01"), good[2:]...), photo.Damaged, "damaged"},
	}
}

func TestBadFilesAreRefusedWithAClearSentence(t *testing.T) {
	bad := badFiles(t)
	if len(bad) < 30 {
		t.Fatalf("only %d bad files", len(bad))
	}
	for name, c := range bad {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), name)
			if err := os.WriteFile(path, c.data, 0o644); err != nil {
				t.Fatal(err)
			}
			checkRefusal(t, take(t.Context(), path), name, c.kind, c.says)
		})
	}
}

func checkRefusal(t *testing.T, err error, name string, kind photo.Kind, says string) {
	t.Helper()
	var e *photo.Error
	if !errors.As(err, &e) {
		t.Fatalf("error %v (%T), want a *photo.Error", err, err)
	}
	if e.Kind != kind || photo.KindOf(err) != kind {
		t.Errorf("kind %q, want %q (%v)", e.Kind, kind, err)
	}
	if !slices.Contains(photo.Kinds(), e.Kind) {
		t.Errorf("kind %q is not in the closed set", e.Kind)
	}
	if e.Name != name {
		t.Errorf("name %q, want %q", e.Name, name)
	}
	msg := err.Error()
	if !strings.HasPrefix(msg, "photo "+strconv.Quote(name)+": ") {
		t.Errorf("message does not begin with the file: %s", msg)
	}
	if !strings.Contains(msg, says) {
		t.Errorf("message lacks %q: %s", says, msg)
	}
	if e.Do == "" || !strings.HasSuffix(msg, "; "+e.Do) {
		t.Errorf("message does not end with what to do: %s", msg)
	}
	if strings.ContainsAny(msg, "\n\r\t") || strings.HasSuffix(msg, ".") {
		t.Errorf("message is not one plain line: %q", msg)
	}
}

func TestFolderAndMissingFile(t *testing.T) {
	dir := t.TempDir()
	sub := filepath.Join(dir, "DCIM 100.jpg")
	if err := os.Mkdir(sub, 0o755); err != nil {
		t.Fatal(err)
	}
	checkRefusal(t, take(t.Context(), sub), "DCIM 100.jpg", photo.IsFolder, "this is a folder; choose the photos inside it")
	gone := filepath.Join(dir, "gone.jpg")
	checkRefusal(t, take(t.Context(), gone), "gone.jpg", photo.Missing, "no such file")
	if _, err := photo.Probe(t.Context(), gone, photo.Limits{}); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the cause is lost: %v", err)
	}
}

func TestAnyNameIsTakenAndQuoted(t *testing.T) {
	names := []string{
		"with some spaces .jpg", "it's Wren's.jpg", "worn gear 🔧⚙️.jpg", strings.Repeat("ü", 125) + "x.jpg",
		"no ending", "wrong ending.png", "-rf.jpg", "العربية.jpg", "齿轮.jpg",
	}
	if runtime.GOOS != "windows" {
		names = append(names, `say "ok".jpg`, "two\nlines.jpg", "not utf-8 \xff.jpg", `back\slash.jpg`)
	}
	if n := len(names[3]); n != 255 {
		t.Fatalf("the long name has %d bytes", n)
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), name)
			if err := os.WriteFile(path, smallPhoto(t), 0o644); err != nil {
				if runtime.GOOS == "darwin" && strings.Contains(name, "\xff") {
					return // that file system refuses such a name itself
				}
				t.Fatal(err)
			}
			info, err := photo.Probe(t.Context(), path, photo.Limits{})
			if err != nil || info.Name != name || info.Format != photo.JPEG {
				t.Errorf("Probe = %+v, %v", info, err)
			}
			if err := take(t.Context(), path); err != nil {
				t.Error(err)
			}
			if err := os.WriteFile(path, smallPhoto(t)[:300], 0o644); err != nil {
				t.Fatal(err)
			}
			checkRefusal(t, take(t.Context(), path), name, photo.Truncated, "truncated")
		})
	}
}

func TestLimitsCanBeSet(t *testing.T) {
	data := smallPNG(t) // 64 × 48
	for name, c := range map[string]struct {
		lim  photo.Limits
		kind photo.Kind
	}{
		"defaults":   {photo.Limits{}, ""},
		"negative":   {photo.Limits{Megapixels: -1, AspectRatio: -1, FileBytes: -1, MemoryBytes: -1}, ""},
		"bytes":      {photo.Limits{FileBytes: int64(len(data))}, ""},
		"bytes-1":    {photo.Limits{FileBytes: int64(len(data)) - 1}, photo.TooLarge},
		"memory":     {photo.Limits{MemoryBytes: 64 * 48 * 4}, ""},
		"memory-1":   {photo.Limits{MemoryBytes: 64*48*4 - 1}, photo.TooLarge},
		"aspect":     {photo.Limits{AspectRatio: 2}, ""},
		"aspect one": {photo.Limits{AspectRatio: 1}, photo.BadShape},
	} {
		_, err := photo.New(t.Context(), "x.png", bytes.NewReader(data), int64(len(data)), c.lim)
		if photo.KindOf(err) != c.kind || (err == nil) != (c.kind == "") {
			t.Errorf("%s: %v, want kind %q", name, err, c.kind)
		}
	}
	for mp, want := range map[int]photo.Kind{12: "", 11: photo.TooLarge} {
		b := pngOf(4000, 3000, 8, 2, 0)
		_, err := photo.New(t.Context(), "x.png", bytes.NewReader(b), int64(len(b)), photo.Limits{Megapixels: mp})
		if photo.KindOf(err) != want {
			t.Errorf("limit of %d megapixels: %v, want kind %q", mp, err, want)
		}
	}
}
