package inspection

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"fettlebook/assess/photo"
)

// FolderWatch finds the photos that appear in a folder, such as the one a phone
// puts its photos into. It looks when it is told to: a folder on a phone or on the
// network tells of no changes. What lay in the folder from the beginning is left
// alone. A file is ready once it was found the same twice and is no longer empty at
// its end, so that none is taken half written.
//
// It is safe for use by several goroutines.
type FolderWatch struct {
	dir string

	mu    sync.Mutex
	files map[string]*watchedFile
}

// watchedFile is a photo file as it was found last.
type watchedFile struct {
	size int64
	at   time.Time
	// same counts how often it was found unchanged.
	same int
	// handed is whether it was given out, or was there from the beginning.
	handed bool
}

const (
	// readyAfter is how often a file must be found unchanged to be ready; the first
	// look at it does not count.
	readyAfter = 1
	// watchDepth is how many folders below are looked into: DCIM holds one for each
	// camera.
	watchDepth = 2
	// mostWatched bounds the files of a folder that are looked at.
	mostWatched = 50_000
	// tailBytes is how much of a file's end is looked at.
	tailBytes = 4096
)

// WatchFolder begins to watch a folder. What is in it now will not be given out.
func WatchFolder(ctx context.Context, dir string) (*FolderWatch, error) {
	w := &FolderWatch{dir: dir, files: map[string]*watchedFile{}}
	found, err := w.list(ctx)
	if err != nil {
		return nil, err
	}
	for path, info := range found {
		w.files[path] = &watchedFile{size: info.Size(), at: info.ModTime(), handed: true}
	}
	return w, nil
}

// Dir is the folder that is watched.
func (w *FolderWatch) Dir() string { return w.dir }

// Look returns the photos that have appeared and are complete, by name; each once,
// and again if it changes later. The folder may be away for a while: that is an
// error, after which looking goes on.
func (w *FolderWatch) Look(ctx context.Context) ([]string, error) {
	found, err := w.list(ctx)
	if err != nil {
		return nil, err
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	var ready []string
	for path, info := range found {
		f, known := w.files[path]
		switch {
		case !known:
			w.files[path] = &watchedFile{size: info.Size(), at: info.ModTime()}
		case f.size != info.Size() || !f.at.Equal(info.ModTime()):
			*f = watchedFile{size: info.Size(), at: info.ModTime()}
		case !f.handed:
			f.same++
			if f.same >= readyAfter && f.size > 0 && written(path, f.size) {
				f.handed = true
				ready = append(ready, path)
			}
		}
	}
	for path := range w.files {
		if _, there := found[path]; !there {
			delete(w.files, path)
		}
	}
	slices.Sort(ready)
	return ready, nil
}

// list finds the photo files in the folder and a little below.
func (w *FolderWatch) list(ctx context.Context) (map[string]fs.FileInfo, error) {
	found := map[string]fs.FileInfo{}
	err := filepath.WalkDir(w.dir, func(path string, e fs.DirEntry, err error) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		below, _ := filepath.Rel(w.dir, path)
		switch {
		case err != nil && path == w.dir:
			return fmt.Errorf("the folder %q can't be read: %w", w.dir, err)
		case err != nil:
			return nil // it went while it was read, or is closed to us
		case path != w.dir && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		case e.IsDir():
			if below != "." && strings.Count(below, string(os.PathSeparator)) >= watchDepth {
				return fs.SkipDir
			}
			return nil
		case len(found) >= mostWatched:
			return fs.SkipAll
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && isPhotoName(e.Name()) {
			found[path] = info
		}
		return nil
	})
	return found, err
}

func isPhotoName(name string) bool {
	return slices.Contains(photo.Extensions(), strings.ToLower(filepath.Ext(name)))
}

// written tells whether a file has something at its end: some copies reserve the
// whole file first and fill it afterwards.
func written(path string, size int64) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	tail := make([]byte, min(size, tailBytes))
	if _, err := f.ReadAt(tail, size-int64(len(tail))); err != nil && err != io.EOF {
		return false
	}
	return slices.ContainsFunc(tail, func(b byte) bool { return b != 0 })
}
