package archive

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"fettlebook/assess/record"
)

// An original stands at originals/ab/abcd… by its whole hash: anyone can check
// it with a tool that prints SHA-256, even when it was moved.
func originalPath(dir string, hash record.Hash) string {
	return filepath.Join(dir, originalsName, string(hash[:2]), string(hash))
}

var hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

func isHash(hash record.Hash) bool { return hashForm.MatchString(string(hash)) }

// Put stores an original byte for byte and returns its hash. One that is there
// already and sound is kept as it is; one that was damaged is replaced.
func (f *folder) Put(ctx context.Context, original io.Reader) (Blob, error) {
	blob, err := f.put(ctx, original)
	if err != nil {
		return Blob{}, f.explain("keep an original", err)
	}
	return blob, nil
}

func (f *folder) put(ctx context.Context, original io.Reader) (Blob, error) {
	if err := f.writable(ctx); err != nil {
		return Blob{}, err
	}
	d, err := newDraft(f.path(originalsName), 0o444)
	if err != nil {
		return Blob{}, err
	}
	defer d.drop()
	sum := newSum()
	size, err := io.Copy(io.MultiWriter(d, sum), until(ctx, original))
	if err != nil {
		return Blob{}, err
	}
	blob := Blob{Hash: sum.hash(), Size: size}

	f.placing.Lock()
	defer f.placing.Unlock()
	path := originalPath(f.dir, blob.Hash)
	if f.sound(path, blob) {
		return blob, nil
	}
	if err := d.keep(path); err != nil {
		return Blob{}, err
	}
	f.notes.Lock()
	defer f.notes.Unlock()
	f.originals = append(f.originals, blob)
	return blob, nil
}

// sound reports whether an original stands there with the bytes that it should
// have.
func (f *folder) sound(path string, want Blob) bool {
	got, err := hashFile(context.Background(), path)
	return err == nil && got == want
}

// hashFile reads a file and tells its hash and size.
func hashFile(ctx context.Context, path string) (Blob, error) {
	file, err := os.Open(path)
	if err != nil {
		return Blob{}, err
	}
	defer file.Close()
	sum := newSum()
	size, err := io.Copy(sum, until(ctx, file))
	if err != nil {
		return Blob{}, err
	}
	return Blob{Hash: sum.hash(), Size: size}, nil
}

// sum is a hash in the making.
type sum struct{ hash.Hash }

func newSum() sum { return sum{sha256.New()} }

func (s sum) hash() record.Hash { return record.Hash(hex.EncodeToString(s.Sum(nil))) }

// until reads as long as a context lasts.
func until(ctx context.Context, r io.Reader) io.Reader {
	return readerFunc(func(p []byte) (int, error) {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		return r.Read(p)
	})
}

// Get opens an original.
func (f *folder) Get(ctx context.Context, hash record.Hash) (io.ReadSeekCloser, error) {
	file, err := f.get(ctx, hash)
	if err != nil {
		return nil, f.explain("open an original", err)
	}
	return file, nil
}

func (f *folder) get(ctx context.Context, hash record.Hash) (*os.File, error) {
	if err := f.readable(ctx); err != nil {
		return nil, err
	}
	if !isHash(hash) {
		return nil, fmt.Errorf("original %q %w", hash, ErrNotFound)
	}
	file, err := os.Open(originalPath(f.dir, hash))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("original %s %w", hash, ErrNotFound)
	}
	return file, err
}

// writable and readable guard what needs no turn.
func (f *folder) writable(ctx context.Context) error {
	if f.mode == Read {
		return ErrReadOnly
	}
	return f.readable(ctx)
}

func (f *folder) readable(ctx context.Context) error {
	select {
	case <-f.ended:
		return ErrClosed
	default:
		return ctx.Err()
	}
}
