package photo_test

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"fettlebook/assess/photo"
)

// The published value for "abc" (FIPS 180-2, B.1) and that of no bytes.
const (
	abcHash   = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	emptyHash = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
)

func TestHashOf(t *testing.T) {
	for in, want := range map[string]photo.Hash{"abc": abcHash, "": emptyHash} {
		for _, r := range []io.Reader{strings.NewReader(in), iotest.OneByteReader(strings.NewReader(in)), iotest.DataErrReader(strings.NewReader(in))} {
			got, n, err := photo.HashOf(t.Context(), r)
			if got != want || n != int64(len(in)) || err != nil {
				t.Errorf("HashOf(%q) = %s, %d, %v", in, got, n, err)
			}
		}
	}
	if h, _, err := photo.HashOf(t.Context(), iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader("abc")))); h != "" || !errors.Is(err, iotest.ErrTimeout) {
		t.Errorf("a failing reader gave %q, %v", h, err)
	}
}

func TestParseHash(t *testing.T) {
	if h, err := photo.ParseHash(abcHash); err != nil || h != abcHash {
		t.Errorf("%q, %v", h, err)
	}
	for _, bad := range []string{"", "abc", strings.ToUpper(abcHash), abcHash + "0", abcHash[1:], abcHash[:63] + "g", abcHash[:63] + "\x00", " " + abcHash[1:]} {
		if h, err := photo.ParseHash(bad); err == nil || h != "" {
			t.Errorf("ParseHash(%q) = %q", bad, h)
		}
	}
}

// TestOriginalIsWholeAndUntouched: the hash covers every byte, also those
// behind the picture, and reading changes none.
func TestOriginalIsWholeAndUntouched(t *testing.T) {
	data := append(smallPhoto(t), "bytes behind the picture"...)
	path := filepath.Join(t.TempDir(), "IMG 1.jpg")
	if err := os.WriteFile(path, data, 0o444); err != nil {
		t.Fatal(err)
	}
	f, err := photo.Open(t.Context(), path, photo.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	want, _, _ := photo.HashOf(t.Context(), bytes.NewReader(data))
	for range 2 {
		if _, err := f.Decode(t.Context()); err != nil {
			t.Fatal(err)
		}
		if got, err := f.Hash(t.Context()); got != want || err != nil {
			t.Errorf("Hash = %s, %v, want %s", got, err, want)
		}
	}
	read, err := io.ReadAll(f.Reader(t.Context()))
	if err != nil || !bytes.Equal(read, data) {
		t.Errorf("Reader gave %d of %d bytes, %v", len(read), len(data), err)
	}
	if err := f.Close(); err != nil {
		t.Error(err)
	}
	if now, _ := os.ReadFile(path); !bytes.Equal(now, data) {
		t.Error("the original was changed")
	}
	info := f.Info()
	if info.Name != "IMG 1.jpg" || info.Bytes != int64(len(data)) || info.Width != 64 || info.Height != 48 || info.Format != photo.JPEG {
		t.Errorf("%+v", info)
	}
}

func TestFormats(t *testing.T) {
	for _, f := range []photo.Format{photo.JPEG, photo.PNG} {
		for _, e := range f.Extensions() {
			if !slices.Contains(photo.Extensions(), e) || !strings.HasPrefix(e, ".") {
				t.Errorf("%s: %q", f, e)
			}
		}
		if len(f.Extensions()) == 0 || f.MediaType() != "image/"+string(f) {
			t.Errorf("%s: %q", f, f.MediaType())
		}
	}
	if photo.Format("film").Extensions() != nil {
		t.Error("an unknown format has an ending")
	}
	// By content, not by name.
	for name, data := range map[string][]byte{"a.png": smallPhoto(t), "b.txt": smallPhoto(t)} {
		if got := open(t, name, data).Info().Format; got != photo.JPEG {
			t.Errorf("%s: %s", name, got)
		}
	}
	if got := open(t, "c.jpg", smallPNG(t)).Info().Format; got != photo.PNG {
		t.Errorf("c.jpg: %s", got)
	}
}
