package photo_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"fettlebook/assess/photo"
)

// tiffSized is a grey TIFF without packing: its header says a size, and pixels stand
// behind it. More tags may be given, or others.
func tiffSized(w, h uint32, pixels []byte, more ...entry) []byte {
	all := map[uint16]entry{}
	for _, e := range append([]entry{{0x0100, 4, w}, {0x0101, 4, h}, {0x0102, 3, uint16(8)}, {0x0103, 3, uint16(1)},
		{0x0106, 3, uint16(1)}, {0x0111, 4, uint32(0)}, {0x0115, 3, uint16(1)}, {0x0116, 4, h}, {0x0117, 4, w * h}}, more...) {
		all[e.tag] = e
	}
	var sorted, camera []entry
	for _, tag := range slices.Sorted(maps.Keys(all)) {
		if tag >= 0x9000 && tag < 0xb000 {
			camera = append(camera, all[tag])
		} else {
			sorted = append(sorted, all[tag])
		}
	}
	block := exifBlock(binary.LittleEndian, sorted, camera)
	offset := bytes.Index(block, []byte{0x11, 0x01, 4, 0, 1, 0, 0, 0})
	binary.LittleEndian.PutUint32(block[offset+8:], uint32(len(block)))
	return append(block, pixels...)
}

func webpChunk(kind string, body []byte) []byte {
	b := append(binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body))), body...)
	return append(b, make([]byte, len(body)%2)...)
}

func webpOf(chunks ...[]byte) []byte {
	body := append([]byte("WEBP"), bytes.Join(chunks, nil)...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// webpWith is the fixture of 200 × 136 pixels with an EXIF block behind its picture.
func webpWith(t testing.TB, block []byte) []byte {
	const hasEXIF = 1 << 3
	return webpOf(webpChunk("VP8X", []byte{hasEXIF, 0, 0, 0, 199, 0, 0, 135, 0, 0}),
		fixture(t, "quarters-200x136.webp")[12:], webpChunk("EXIF", block))
}

// The camera's data is read from every format in which it may stand, with all eight
// orientations.
func TestEveryFormatHasItsEXIF(t *testing.T) {
	for o := photo.Normal; o <= photo.Turn270; o++ {
		first := []entry{turned(uint16(o)), str(tModel, "Phone 7")}
		camera := []entry{str(tOriginal, "2026:05:12 09:10:00"), str(tZoneOrig, "+02:00"), str(tSubsecOrig, "05"), {0xa405, 3, uint16(27)}}
		block := exifBlock(binary.BigEndian, first, camera)
		png := smallPNG(t)
		own := map[photo.Orientation][][]byte{photo.FlipH: {imir(0)}, photo.Turn180: {irot(2)}, photo.FlipV: {imir(1)},
			photo.Transpose: {irot(3), imir(0)}, photo.Turn90: {irot(3)}, photo.Transverse: {irot(1), imir(0)}, photo.Turn270: {irot(1)}}[o]
		for name, data := range map[string][]byte{
			"x.jpg":  jpegWith(t, block),
			"x.png":  append(append(bytes.Clone(png[:33]), chunk("eXIf", block)...), png[33:]...),
			"x.tif":  tiffSized(64, 48, make([]byte, 64*48), append(first, camera...)...),
			"x.webp": webpWith(t, block),
			"y.webp": webpWith(t, append([]byte("Exif\x00\x00"), block...)),
			"x.heic": rewrapped(t, "quarters-200x136.heic", 200, 136, own, block),
		} {
			f := open(t, name, data)
			info := f.Info()
			if info.Orientation != o || info.Model != "Phone 7" || info.Taken.String() != "2026-05-12 09:10:00.05 +02:00" || info.Focal35 != 27 || len(info.Notes) != 0 {
				t.Errorf("%s, orientation %d: %+v", name, o, info)
			}
			if _, err := f.Decode(t.Context()); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// oddFiles are damaged in ways that only TIFF and WebP know.
func oddFiles(t testing.TB) map[string]struct {
	data []byte
	kind photo.Kind
} {
	type bad = struct {
		data []byte
		kind photo.Kind
	}
	lossy, lossless := fixture(t, "quarters-200x136.webp"), fixture(t, "quarters-90x61.webp")
	sized := func(w, h int) []byte {
		return webpChunk("VP8X", []byte{0, 0, 0, 0, byte(w - 1), byte((w - 1) >> 8), 0, byte(h - 1), byte((h - 1) >> 8), 0})
	}
	pixels := make([]byte, 64*48)
	return map[string]bad{
		"cut pixels.tif":      {tiffSized(64, 48, pixels[:100]), photo.Truncated},
		"cut directory.tif":   {tiffSized(64, 48, pixels)[:40], photo.Truncated},
		"large.tif":           {tiffSized(60000, 60000, pixels), photo.TooLarge},
		"beyond numbers.tif":  {tiffSized(1<<32-1, 1<<32-1, pixels), photo.TooLarge},
		"no width.tif":        {tiffSized(0, 10, pixels), photo.BadShape},
		"a hair.tif":          {tiffSized(60000, 1, pixels), photo.BadShape},
		"costly.tif":          {tiffSized(12000, 12000, pixels, entry{0x0102, 3, uint16(16)}), photo.TooLarge},
		"raw.dng":             {tiffSized(64, 48, pixels, entry{0xc612, 4, uint32(1)}), photo.Unsupported},
		"raw.nef":             {tiffSized(64, 48, pixels, entry{0x00fe, 4, uint32(1)}), photo.Unsupported},
		"raw.cr2":             {[]byte("II*\x00\x10\x00\x00\x00CR\x02\x00"), photo.Unsupported},
		"large tiles.tif":     {tiffSized(64, 48, pixels, entry{0x0142, 4, uint32(1 << 30)}, entry{0x0143, 4, uint32(1 << 30)}), photo.Damaged},
		"many strips.tif":     {tiffSized(13000, 13000, pixels, entry{0x0116, 4, uint32(1)}), photo.Damaged},
		"strange packing.tif": {tiffSized(64, 48, pixels, entry{0x0103, 3, uint16(34712)}), photo.Unsupported},
		"film.webp":           {webpOf(webpChunk("VP8X", []byte{2, 0, 0, 0, 9, 0, 0, 9, 0, 0}), webpChunk("ANIM", make([]byte, 6))), photo.Damaged},
		"large.webp":          {webpOf(sized(32768, 32768)), photo.TooLarge},
		"two sizes.webp":      {webpOf(sized(10, 10), lossy[12:]), photo.Damaged},
		"two sizes, lossless": {webpOf(sized(10, 10), lossless[12:]), photo.Damaged},
		"cut.webp":            {lossy[:len(lossy)-60], photo.Truncated},
		"cut lossless.webp":   {lossless[:60], photo.Truncated},
		"mark only.webp":      {lossy[:12], photo.Truncated},
		"tiff as.webp":        {append([]byte("RIFF\x10\x00\x00\x00WEBP"), tiffSized(64, 48, pixels)...), photo.Damaged},
	}
}

// Everything that is refused is refused within 5 seconds and 200 MB, by its name and
// kind. (Seconds are bounded far above what it takes: the bound is for what hangs.)
func TestRefusalsAreQuickAndSmall(t *testing.T) {
	kinds := map[string]photo.Kind{}
	files := map[string][]byte{}
	for name, b := range badFiles(t) {
		files[name], kinds[name] = b.data, b.kind
	}
	for name, b := range oddFiles(t) {
		files[name], kinds[name] = b.data, b.kind
	}
	if len(files) < 60 {
		t.Fatalf("only %d files", len(files))
	}
	for name, data := range files {
		spent, mb, err := measured(t, name, data)
		if photo.KindOf(err) != kinds[name] {
			t.Errorf("%s: %v, want kind %q", name, err, kinds[name])
		}
		if spent > 5*time.Second || mb > 200 {
			t.Errorf("%s: %v and %d MB", name, spent, mb)
		}
	}
}

func measured(t *testing.T, name string, data []byte) (spent time.Duration, mb uint64, err error) {
	var was, is runtime.MemStats
	runtime.ReadMemStats(&was)
	started := time.Now()
	err = takeBytes(t.Context(), name, data)
	spent = time.Since(started)
	runtime.ReadMemStats(&is)
	return spent, (is.TotalAlloc - was.TotalAlloc) >> 20, err
}

// Good files with bits turned over, pieces cut out or doubled, and under names of
// other formats: whatever comes of it, it comes quickly, and never as a crash.
func TestSpoiltFilesNeverCrash(t *testing.T) {
	rnd := rand.New(rand.NewPCG(41, 2))
	whole := map[string][]byte{
		"jpeg": tellTale(t), "png": smallPNG(t), "tiff": tiffSized(64, 48, make([]byte, 64*48), turned(6)),
		"webp": webpWith(t, exifBlock(binary.BigEndian, []entry{turned(6)}, nil)), "lossless": fixture(t, "quarters-90x61.webp"),
		"heic": rewrapped(t, "quarters-90x61.heic", 90, 61, [][]byte{irot(3)}, exifBlock(binary.BigEndian, []entry{turned(6)}, nil)),
	}
	refused := 0
	for format, data := range whole {
		tries := 60
		if format == "heic" {
			tries = 25 // each takes a sandbox
		}
		for i := range tries {
			b := bytes.Clone(data)
			switch at := rnd.IntN(len(b)); i % 4 {
			case 0, 1:
				for range 1 + rnd.IntN(8) {
					b[rnd.IntN(len(b))] ^= 1 << rnd.IntN(8)
				}
			case 2:
				b = append(b[:at], b[min(len(b), at+1+rnd.IntN(40)):]...)
			case 3:
				b = slices.Insert(b, at, b[at:min(len(b), at+1+rnd.IntN(40))]...)
			}
			name := fmt.Sprintf("%s %d.jpg", format, i)
			spent, mb, err := measured(t, name, b)
			if err != nil {
				refused++
				if photo.KindOf(err) == "" {
					t.Errorf("%s: %v", name, err)
				}
			}
			if spent > 5*time.Second || err != nil && mb > 200 {
				t.Errorf("%s: %v and %d MB (%v)", name, spent, mb, err)
			}
		}
	}
	if refused < 50 {
		t.Errorf("only %d were refused: the spoiling does little", refused)
	}
}
