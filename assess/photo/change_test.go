package photo_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"fettlebook/assess/photo"
)

func TestFileThatChangesWhileOpen(t *testing.T) {
	data := encodeJPEG(t, noisy(640, 480))
	for name, c := range map[string]struct {
		change func(path string) error
		says   string
	}{
		"grows": {func(p string) error {
			h, err := os.OpenFile(p, os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				return err
			}
			defer h.Close()
			_, err = h.Write([]byte("more"))
			return err
		}, "wait until it is completely copied"},
		"shrinks": {func(p string) error { return os.Truncate(p, int64(len(data)/2)) }, "wait until"},
		"empties": {func(p string) error { return os.Truncate(p, 0) }, "wait until"},
		"rewritten": {func(p string) error {
			same := bytes.Clone(data) // in size, not in content
			same[len(same)/2] ^= 1
			if err := os.WriteFile(p, same, 0o644); err != nil {
				return err
			}
			return os.Chtimes(p, time.Time{}, time.Date(2026, 5, 12, 9, 0, 0, 0, time.UTC))
		}, "wait until"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "IMG 12.jpg")
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
			f, err := photo.Open(t.Context(), path, photo.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := c.change(path); err != nil {
				t.Fatal(err)
			}
			_, err = f.Decode(t.Context())
			checkRefusal(t, err, "IMG 12.jpg", photo.Changed, c.says)
			_, err = f.Hash(t.Context())
			checkRefusal(t, err, "IMG 12.jpg", photo.Changed, c.says)
			_, err = io.ReadAll(f.Reader(t.Context()))
			checkRefusal(t, err, "IMG 12.jpg", photo.Changed, c.says)
		})
	}
}

func TestFileThatVanishes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file cannot be deleted there")
	}
	path := filepath.Join(t.TempDir(), "IMG 13.jpg")
	if err := os.WriteFile(path, smallPhoto(t), 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := photo.Open(t.Context(), path, photo.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	// What is open is whole: a good photo is not lost.
	if _, err := f.Decode(t.Context()); err != nil {
		t.Error(err)
	}
	checkRefusal(t, take(t.Context(), path), "IMG 13.jpg", photo.Missing, "no such file")
}

// oddReader stands for a failing card or a file that changes at one byte.
type oddReader struct {
	data []byte
	at   int64
	fail func() (int, error)
}

func (r *oddReader) ReadAt(p []byte, off int64) (int, error) {
	if r.fail != nil && off+int64(len(p)) > r.at {
		return r.fail()
	}
	return bytes.NewReader(r.data).ReadAt(p, off)
}

func TestReaderThatFails(t *testing.T) {
	data := encodeJPEG(t, noisy(800, 600)) // larger than what the header's reading buffers
	if len(data) < 130<<10 {
		t.Fatalf("only %d bytes", len(data))
	}
	panicked := false
	io5 := errors.New("input/output error")
	for name, c := range map[string]struct {
		fail func() (int, error)
		kind photo.Kind
		says string
	}{
		"card":    {func() (int, error) { return 0, io5 }, photo.Unreadable, "cannot be read (input/output error); check the card"},
		"shorter": {func() (int, error) { return 0, io.EOF }, photo.Changed, "became shorter"},
		"stuck":   {func() (int, error) { return 0, nil }, photo.Damaged, "damaged"},
		"panics": {func() (int, error) { // stands for a decoder that does, once
			if !panicked {
				panicked = true
				panic("a library failed")
			}
			return 0, io.EOF
		}, photo.Damaged, "a library failed"},
	} {
		t.Run(name, func(t *testing.T) {
			r := &oddReader{data: data, at: 130 << 10}
			f, err := photo.New(t.Context(), "card/IMG 14.jpg", r, int64(len(data)), photo.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			r.fail = c.fail
			img, err := f.Decode(t.Context())
			checkRefusal(t, err, "IMG 14.jpg", c.kind, c.says)
			if img != nil {
				t.Error("a picture came beside the error")
			}
		})
	}
	r := &oddReader{data: append(bytes.Clone(data), 'x')}
	f, err := photo.New(t.Context(), "IMG 15.jpg", r, int64(len(data)), photo.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Decode(t.Context())
	checkRefusal(t, err, "IMG 15.jpg", photo.Changed, "grew")
}

// TestAnotherPictureInItsPlace: bytes that become another good photo of the
// same length, where there is no clock that would tell.
func TestAnotherPictureInItsPlace(t *testing.T) {
	first, second := smallPhoto(t), encodeJPEG(t, noisy(48, 64))
	n := max(len(first), len(second))
	first = append(first, make([]byte, n-len(first))...)
	second = append(second, make([]byte, n-len(second))...)
	r := &oddReader{data: first}
	f, err := photo.New(t.Context(), "IMG 16.jpg", r, int64(n), photo.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	r.data = second
	img, err := f.Decode(t.Context())
	checkRefusal(t, err, "IMG 16.jpg", photo.Changed, "48 × 64")
	if img != nil {
		t.Error("a picture came beside the error")
	}
}

// cancelReader cancels when its byte at is read.
type cancelReader struct {
	oddReader
	cancel context.CancelFunc
}

func (r *cancelReader) ReadAt(p []byte, off int64) (int, error) {
	if off >= r.at {
		r.cancel()
	}
	return r.oddReader.ReadAt(p, off)
}

func TestCancelling(t *testing.T) {
	data := encodeJPEG(t, noisy(800, 600))
	isStopped := func(err error) {
		t.Helper()
		if !errors.Is(err, context.Canceled) || photo.KindOf(err) != "" {
			t.Errorf("%v, want a cancelled work and no refusal", err)
		}
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	for _, b := range [][]byte{data, smallPNG(t)} {
		_, err := photo.New(gone, "x", bytes.NewReader(b), int64(len(b)), photo.Limits{})
		isStopped(err)
		f := open(t, "x", b)
		_, err = f.Decode(gone)
		isStopped(err)
		_, err = f.Hash(gone)
		isStopped(err)
	}
	_, err := photo.MakeViews(gone, noisy(640, 480))
	isStopped(err)
	_, _, err = photo.HashOf(gone, bytes.NewReader(data))
	isStopped(err)

	// In the middle of the pixels.
	ctx, cancel := context.WithCancel(t.Context())
	r := &cancelReader{oddReader{data: data, at: 64 << 10}, cancel}
	f, err := photo.New(context.WithoutCancel(ctx), "x", r, int64(len(data)), photo.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Decode(ctx)
	isStopped(err)
}
