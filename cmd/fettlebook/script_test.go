package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fettlebook": main})
}

// Each file of testdata/script is a session at the command line.
func TestCommandLine(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("FETTLEBOOK_ARCHIVE", filepath.Join(env.WorkDir, "archive"))
			env.Setenv("HOME", env.WorkDir)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"photo": makePhoto, "hugepng": makeHugePNG, "cut": cutFile, "longname": makeLongName, "pick": pick,
		},
	})
}

// photo FILE writes a small JPEG whose pixels depend on its name.
func makePhoto(ts *testscript.TestScript, _ bool, args []string) {
	for _, name := range args {
		img := image.NewRGBA(image.Rect(0, 0, 320, 240))
		for x := range 320 {
			for y := range 240 {
				img.Set(x, y, color.RGBA{uint8(x), uint8(y), uint8(crc32.ChecksumIEEE([]byte(name))), 255})
			}
		}
		var b bytes.Buffer
		ts.Check(jpeg.Encode(&b, img, nil))
		ts.Check(os.WriteFile(ts.MkAbs(name), b.Bytes(), 0o644))
	}
}

// hugepng FILE writes the head of a PNG of 60,000 × 60,000 pixels.
func makeHugePNG(ts *testscript.TestScript, _ bool, args []string) {
	head := []byte("IHDR\x00\x00\xea\x60\x00\x00\xea\x60\x08\x02\x00\x00\x00")
	b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	b = binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(head))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b, 0o644))
}

// cut FROM TO writes the first half of a file.
func cutFile(ts *testscript.TestScript, _ bool, args []string) {
	b, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), b[:len(b)/2], 0o644))
}

// longname FILE VAR copies a file to a name of 255 bytes and puts that name
// into a variable.
func makeLongName(ts *testscript.TestScript, _ bool, args []string) {
	b, err := os.ReadFile(ts.MkAbs(args[0]))
	ts.Check(err)
	name := strings.Repeat("n", 251) + ".jpg"
	ts.Check(os.WriteFile(ts.MkAbs(name), b, 0o644))
	ts.Setenv(args[1], name)
}

// pick VAR puts the last word of the last output into a variable.
func pick(ts *testscript.TestScript, _ bool, args []string) {
	words := strings.Fields(ts.ReadFile("stdout"))
	if len(words) == 0 {
		ts.Fatalf("there is no output to pick from")
	}
	ts.Setenv(args[0], words[len(words)-1])
}
