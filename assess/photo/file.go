package photo

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Info is what a photo file tells without decoding a pixel.
type Info struct {
	// Name is the file's name without its folders.
	Name string
	// Format is what the content is, whatever the name says.
	Format Format
	// Bytes is the size of the file.
	Bytes int64
	// Width and Height are the size in pixels as stored, before any turn.
	Width, Height int
	// Orientation says how to turn the decoded picture to see it upright. It is
	// always valid; Normal where nothing (or nonsense) is recorded. For HEIC it is
	// the picture's own turn, which other programs apply while they decode; the
	// camera's word for it does not count there.
	Orientation Orientation
	// Taken is the time by the camera's own clock; the zero value when none
	// is recorded.
	Taken CameraTime
	// Make and Model name the camera, "" when not recorded. They are cleaned
	// of everything unprintable.
	Make, Model string
	// Focal35 is the focal length of a 35 mm camera with the same view, in
	// millimetres; 0 when not recorded.
	Focal35 float64
	// Notes are sentences about what the file should have told and could not,
	// for the person who attached it; usually none.
	Notes []string
}

// File is an open photo file whose header was found good.
type File struct {
	r       io.ReaderAt
	codec   codec
	header  header
	info    Info
	stamp   stamp
	stamped bool
	close   func() error
}

// Open opens the photo at path and reads its header. Close it after use.
// The error is an [*Error], or wraps ctx's.
func Open(ctx context.Context, path string, lim Limits) (*File, error) {
	// Asked before opening: to open a pipe would wait for its writer, and a
	// folder opens well on one system and badly on another.
	fi, err := os.Stat(path)
	if err != nil {
		return nil, cannotRead(path, err)
	}
	if err := checkMode(path, fi); err != nil {
		return nil, err
	}
	h, err := os.Open(path)
	if err != nil {
		return nil, cannotRead(path, err)
	}
	f, err := openHandle(ctx, path, h, lim)
	if err != nil {
		h.Close() // only read from: nothing can be lost
		return nil, err
	}
	return f, nil
}

func openHandle(ctx context.Context, path string, h *os.File, lim Limits) (*File, error) {
	fi, err := h.Stat() // again: the size must be that of the opened file
	if err != nil {
		return nil, cannotRead(path, err)
	}
	if err := checkMode(path, fi); err != nil {
		return nil, err
	}
	f := &File{r: h, stamp: stampOf(fi), stamped: true, close: h.Close}
	return f, f.probe(ctx, path, fi.Size(), lim)
}

func checkMode(path string, fi os.FileInfo) error {
	switch {
	case fi.IsDir():
		return refuse(path, IsFolder, nil, "choose the photos inside it", "this is a folder")
	// Not "is regular": files kept in a cloud are called irregular on some systems.
	case fi.Mode()&(os.ModeNamedPipe|os.ModeSocket|os.ModeDevice|os.ModeCharDevice) != 0:
		return refuse(path, NotAPhoto, nil, "choose a photo file", "this is a device or a pipe, not a file")
	}
	return nil
}

// New reads the header of a photo whose size bytes are in r. The name is for
// messages and [Info] only. The error is an [*Error], or wraps ctx's.
func New(ctx context.Context, name string, r io.ReaderAt, size int64, lim Limits) (*File, error) {
	f := &File{r: r, close: func() error { return nil }}
	if err := f.probe(ctx, name, size, lim); err != nil {
		return nil, err
	}
	return f, nil
}

// Probe tells what the photo at path is, reading no more than its header.
// The error is an [*Error], or wraps ctx's.
func Probe(ctx context.Context, path string, lim Limits) (Info, error) {
	f, err := Open(ctx, path, lim)
	if err != nil {
		return Info{}, err
	}
	defer f.Close()
	return f.Info(), nil
}

func (f *File) probe(ctx context.Context, name string, size int64, lim Limits) error {
	f.info = Info{Name: filepath.Base(name), Bytes: size, Orientation: Normal}
	lim = lim.withDefaults()
	if size <= 0 {
		return refuse(name, Empty, nil, copyAgain, "the file is empty")
	}
	if err := lim.checkFile(name, size); err != nil {
		return err
	}
	var err error
	if f.codec, err = f.sniff(ctx); err != nil {
		return err
	}
	f.info.Format = f.codec.format()
	var h header
	src := &source{ctx: ctx, f: f}
	if err := guard(func() (err error) { h, err = f.codec.header(src); return }); err != nil {
		return f.explain(src, err)
	}
	if err := lim.checkSize(name, h); err != nil {
		return err
	}
	f.info.Width, f.info.Height = h.width, h.height
	f.info.useEXIF(h)
	f.header = header{width: h.width, height: h.height, bytesPerPixel: h.bytesPerPixel, heavy: h.heavy}
	return src.err
}

// Info returns what the header told.
func (f *File) Info() Info { return f.info }

// Reader returns the original bytes from the first to the last. Its Read
// fails with an [*Error] when the file is written to meanwhile, and with
// ctx's error when ctx is done.
func (f *File) Reader(ctx context.Context) io.Reader { return &source{ctx: ctx, f: f} }

// Hash reads the whole file and returns the hash of its original bytes. The
// error is an [*Error], or wraps ctx's.
func (f *File) Hash(ctx context.Context) (Hash, error) {
	h, n, err := HashOf(ctx, f.Reader(ctx))
	if err != nil {
		if KindOf(err) == "" {
			err = fmt.Errorf("photo %q: %w", f.info.Name, err)
		}
		return "", err
	}
	if n != f.info.Bytes {
		return "", changed(f.info.Name, "changed its size")
	}
	return h, nil
}

// Close closes the file. Bytes given to [New] stay open.
func (f *File) Close() error { return f.close() }
