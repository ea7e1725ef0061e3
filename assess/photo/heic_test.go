package photo_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"fettlebook/assess/photo"
)

func fixture(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// checkQuarters holds a picture of the four quarters, turned by o, against them.
func checkQuarters(t *testing.T, what string, img image.Image, o photo.Orientation, w, h int) {
	t.Helper()
	uw, uh := o.Size(w, h)
	if img.Bounds() != image.Rect(0, 0, uw, uh) {
		t.Fatalf("%s: %v, want %d × %d", what, img.Bounds(), uw, uh)
	}
	for _, at := range [][2]int{{2, 2}, {w - 3, 2}, {2, h - 3}, {w - 3, h - 3}, {w/2 - 8, h/2 - 8}, {w/2 + 8, h/2 + 8}} {
		ux, uy := o.Upright(at[0]*100+50, at[1]*100+50, w, h)
		if got, want := img.At(ux/100, uy/100), quarter(at[0], at[1], w, h); !nearly(got, want, 16) {
			t.Errorf("%s: stored %v, shown at (%d, %d): %v, want %v", what, at, ux/100, uy/100, got, want)
		}
	}
}

func TestHEICIsDecoded(t *testing.T) {
	for name, size := range map[string][2]int{
		"quarters-200x136.heic": {200, 136}, "quarters-90x61.heic": {90, 61},
		"quarters-130x131.heic": {130, 131}, "quarters-444-90x61.heic": {90, 61},
	} {
		f := open(t, name, fixture(t, name))
		info := f.Info()
		if info.Format != photo.HEIC || info.Width != size[0] || info.Height != size[1] || info.Orientation != photo.Normal || len(info.Notes) != 0 {
			t.Errorf("%s: %+v", name, info)
		}
		img, err := f.Decode(t.Context())
		if err != nil {
			t.Fatal(name, err)
		}
		checkQuarters(t, name, img, photo.Normal, size[0], size[1])
		views(t, img)
	}
}

func bx(kind string, parts ...[]byte) []byte {
	body := bytes.Join(parts, nil)
	return append(append(binary.BigEndian.AppendUint32(nil, uint32(len(body)+8)), kind...), body...)
}

func be16(v ...int) (b []byte) {
	for _, n := range v {
		b = binary.BigEndian.AppendUint16(b, uint16(n))
	}
	return b
}

func be32(v ...int) (b []byte) {
	for _, n := range v {
		b = binary.BigEndian.AppendUint32(b, uint32(n))
	}
	return b
}

// cut takes the named box out of a file, wherever it stands.
func cut(t testing.TB, data []byte, kind string) []byte {
	t.Helper()
	i := bytes.Index(data, []byte(kind))
	if i < 4 {
		t.Fatalf("no %s in the file", kind)
	}
	n := int(binary.BigEndian.Uint32(data[i-4:]))
	return data[i-4 : i-4+n]
}

// rewrapped puts the coded picture of a fixture into a file of its own, with more
// properties (in their order) and an EXIF block, and the size that is told.
func rewrapped(t testing.TB, name string, w, h int, properties [][]byte, exif []byte) []byte {
	t.Helper()
	data := fixture(t, name)
	coded := cut(t, data, "mdat")[8:]
	all := append([][]byte{cut(t, data, "hvcC"), bx("ispe", be32(0, w, h))}, properties...)
	var ipma []byte
	for i := range all {
		ipma = append(ipma, byte(i+1)|0x80)
	}
	exifItem := append(be32(0), exif...)
	build := func(at int) []byte {
		ftyp := bx("ftyp", []byte("heic"), be32(0), []byte("mif1heic"))
		iloc := bx("iloc", be32(0), []byte{0x44, 0x00}, be16(2),
			be16(1, 0, 1), be32(at, len(coded)), be16(2, 0, 1), be32(at+len(coded), len(exifItem)))
		meta := bx("meta", be32(0),
			bx("hdlr", be32(0, 0), []byte("pict"), be32(0, 0, 0), []byte{0}),
			bx("pitm", be32(0), be16(1)), iloc,
			bx("iinf", be32(0), be16(2), bx("infe", be32(2<<24), be16(1, 0), []byte("hvc1\x00")), bx("infe", be32(2<<24), be16(2, 0), []byte("Exif\x00"))),
			bx("iref", be32(0), bx("cdsc", be16(2, 1, 1))),
			bx("iprp", bx("ipco", all...), bx("ipma", be32(0, 1), be16(1), []byte{byte(len(all))}, ipma)))
		head := append(ftyp, meta...)
		return append(head, bx("mdat", coded, exifItem)...)
	}
	return build(len(build(0)) - len(coded) - len(exifItem))
}

func irot(n byte) []byte { return bx("irot", []byte{n}) }
func imir(n byte) []byte { return bx("imir", []byte{n}) }

// A HEIC picture is turned by its own properties, which every decoder applies. What
// the camera's data says as well must not turn it a second time.
func TestHEICIsTurnedOnce(t *testing.T) {
	const name, w, h = "quarters-200x136.heic", 200, 136
	for what, c := range map[string]struct {
		properties [][]byte
		exif       uint16
		want       photo.Orientation
		notes      int
	}{
		"as stored":                     {nil, 1, photo.Normal, 0},
		"as phones do, 6":               {[][]byte{irot(3)}, 6, photo.Turn90, 0},
		"as phones do, 3":               {[][]byte{irot(2)}, 3, photo.Turn180, 0},
		"as phones do, 8":               {[][]byte{irot(1)}, 8, photo.Turn270, 0},
		"turned, EXIF silent":           {[][]byte{irot(3)}, 1, photo.Turn90, 0},
		"EXIF only: it does not count":  {nil, 6, photo.Normal, 1},
		"EXIF another":                  {[][]byte{irot(3)}, 8, photo.Turn90, 1},
		"mirrored left and right":       {[][]byte{imir(0)}, 2, photo.FlipH, 0},
		"mirrored top and bottom":       {[][]byte{imir(1)}, 4, photo.FlipV, 0},
		"turned, then mirrored":         {[][]byte{irot(3), imir(0)}, 5, photo.Transpose, 0},
		"turned, then mirrored, other":  {[][]byte{irot(1), imir(0)}, 7, photo.Transverse, 0},
		"a property that is not known":  {[][]byte{bx("free", []byte{1})}, 1, photo.Normal, 0},
		"EXIF that says nonsense of it": {[][]byte{irot(3)}, 9, photo.Turn90, 1},
	} {
		block := exifBlock(binary.BigEndian, []entry{turned(c.exif), str(tModel, "Phone 7")}, []entry{str(tOriginal, "2026:05:12 09:10:00"), str(tZoneOrig, "+02:00"), str(tSubsecOrig, "05")})
		f := open(t, what, rewrapped(t, name, w, h, c.properties, block))
		info := f.Info()
		if info.Orientation != c.want || info.Width != w || info.Height != h || len(info.Notes) != c.notes {
			t.Errorf("%s: %+v", what, info)
		}
		if info.Model != "Phone 7" || info.Taken.String() != "2026-05-12 09:10:00.05 +02:00" {
			t.Errorf("%s: the camera's data: %+v", what, info)
		}
		img, err := f.Decode(t.Context())
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		checkQuarters(t, what, photo.UprightImage(img, info.Orientation), c.want, w, h)
	}
}

// hostileHEIC are files that must be refused, and quickly.
func hostileHEIC(t testing.TB) map[string][]byte {
	const name = "quarters-200x136.heic"
	good := rewrapped(t, name, 200, 136, nil, nil)
	files := map[string][]byte{
		"only a mark.heic":       []byte("\x00\x00\x00\x24ftypheic\x00\x00\x00\x00mif1heic"),
		"no meta.heic":           append([]byte("\x00\x00\x00\x14ftypheic\x00\x00\x00\x00mif1"), bx("mdat", make([]byte, 99))...),
		"endless box.heic":       append([]byte("\x00\x00\x00\x14ftypheic\x00\x00\x00\x00mif1"), "\x00\x00\x00\x01free\xff\xff\xff\xff\xff\xff\xff\xf0"...),
		"box of nothing.heic":    append([]byte("\x00\x00\x00\x14ftypheic\x00\x00\x00\x00mif1"), "\x00\x00\x00\x04free"...),
		"larger than said.heic":  rewrapped(t, name, 20, 14, nil, nil),
		"smaller than said.heic": rewrapped(t, name, 4000, 3000, nil, nil),
		"huge.heic":              rewrapped(t, name, 60000, 60000, nil, nil),
		"beyond numbers.heic":    rewrapped(t, name, 1<<32-1, 1<<32-1, nil, nil),
		"no size.heic":           rewrapped(t, name, 0, 136, nil, nil),
	}
	for i := 1; i < 8; i++ {
		files["cut "+string(rune('0'+i))+".heic"] = good[:len(good)*i/8]
	}
	return files
}

func TestHostileHEICIsRefusedWithinBounds(t *testing.T) {
	open(t, "warm.heic", fixture(t, "quarters-90x61.heic")).Decode(t.Context()) // compile once
	before := runtime.NumGoroutine()
	for name, data := range hostileHEIC(t) {
		var was, is runtime.MemStats
		runtime.ReadMemStats(&was)
		started := time.Now()
		err := takeBytes(t.Context(), name, data)
		spent := time.Since(started)
		runtime.ReadMemStats(&is)
		var e *photo.Error
		if !errors.As(err, &e) || e.Name != name || strings.ContainsAny(err.Error(), "\n\t") {
			t.Errorf("%s: %v", name, err)
		}
		if grew := (is.TotalAlloc - was.TotalAlloc) >> 20; grew > 200 {
			t.Errorf("%s: %d MB", name, grew)
		}
		if spent > 5*time.Second {
			t.Errorf("%s: %v", name, spent)
		}
	}
	for i := 0; runtime.NumGoroutine() > before && i < 1000; i++ {
		runtime.Gosched()
	}
	if now := runtime.NumGoroutine(); now > before {
		t.Errorf("%d goroutines before, %d after", before, now)
	}
}

func takeBytes(ctx context.Context, name string, data []byte) error {
	f, err := photo.New(ctx, name, bytes.NewReader(data), int64(len(data)), photo.Limits{})
	if err != nil {
		return err
	}
	img, err := f.Decode(ctx)
	if err != nil {
		return err
	}
	_, err = photo.MakeViews(ctx, img)
	return err
}

func TestHEICStopsWhenTold(t *testing.T) {
	f := open(t, "x.heic", fixture(t, "quarters-200x136.heic"))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := f.Decode(ctx); !errors.Is(err, context.Canceled) || photo.KindOf(err) != "" {
		t.Errorf("cancelled: %v", err)
	}
	if _, err := f.Decode(t.Context()); err != nil {
		t.Errorf("afterwards: %v", err)
	}
}

// Nothing that could load a library of the system may be in this room, whatever
// tags it is built with.
func TestHEICNeedsNoLibraryOfTheSystem(t *testing.T) {
	for _, tags := range []string{"", "nodynamic", "headless"} {
		out, err := exec.Command("go", "list", "-deps", "-tags", tags, "fettlebook/assess/photo").CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if !strings.Contains(string(out), "github.com/tetratelabs/wazero") {
			t.Errorf("tags %q: the sandbox is not in the list: it shows nothing", tags)
		}
		for _, loader := range []string{"purego", "gen2brain/heic"} {
			for line := range strings.Lines(string(out)) {
				if strings.Contains(line, loader) {
					t.Errorf("tags %q: %s is in it", tags, strings.TrimSpace(line))
				}
			}
		}
	}
}

// What would never end, or take all memory, is stopped from outside.
func TestHEICBudgetIsKept(t *testing.T) {
	data := fixture(t, "quarters-200x136.heic")
	const enough, minute = 64 << 20, time.Minute
	if err := photo.DecodeHEICWithin(t.Context(), data, enough, minute); err != nil {
		t.Fatalf("with enough of both: %v", err)
	}
	if err := photo.DecodeHEICWithin(t.Context(), data, enough, time.Microsecond); !photo.TookTooLong(err) {
		t.Errorf("without time: %v", err)
	}
	if err := photo.DecodeHEICWithin(t.Context(), data, 256<<10, minute); err == nil || photo.TookTooLong(err) {
		t.Errorf("without memory: %v", err)
	}
}
