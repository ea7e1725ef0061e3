package archive

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"fettlebook/assess/record"
)

func viewPath(dir string, hash record.Hash, view View) string {
	return filepath.Join(dir, viewsName, string(hash[:2]), fmt.Sprintf("%s.%s.jpg", hash, view))
}

func checkView(hash record.Hash, view View) error {
	switch {
	case !isHash(hash):
		return fmt.Errorf("%q is not the hash of an original", hash)
	case !view.Known():
		return fmt.Errorf("there is no view %q", view)
	}
	return nil
}

// PutView keeps a view of an original. It does not wait for the disk: a view
// that a power cut has spoilt is not given out (see GetView) and is made again.
func (f *folder) PutView(ctx context.Context, hash record.Hash, view View, jpeg []byte) error {
	return f.explain(fmt.Sprintf("keep a %s of %s", view, hash), f.putView(ctx, hash, view, jpeg))
}

func (f *folder) putView(ctx context.Context, hash record.Hash, view View, jpeg []byte) error {
	if err := f.writable(ctx); err != nil {
		return err
	}
	if err := checkView(hash, view); err != nil {
		return err
	}
	if !isWholeJPEG(jpeg) {
		return errors.New("it is not a whole JPEG")
	}
	d, err := newDraft(f.path(viewsName), 0o666)
	if err != nil {
		return err
	}
	defer d.drop()
	if _, err := d.Write(jpeg); err != nil {
		return err
	}
	if err := d.Close(); err != nil {
		return err
	}
	path := viewPath(f.dir, hash, view)
	if _, err := makeFolder(filepath.Dir(path)); err != nil {
		return err
	}
	return replace(d.Name(), path)
}

// GetView gives a view. One that is not there or is spoilt gives ErrNotFound.
func (f *folder) GetView(ctx context.Context, hash record.Hash, view View) ([]byte, error) {
	what := fmt.Sprintf("get a %s of %s", view, hash)
	if err := f.readable(ctx); err != nil {
		return nil, f.explain(what, err)
	}
	if err := checkView(hash, view); err != nil {
		return nil, f.explain(what, err)
	}
	jpeg, err := os.ReadFile(viewPath(f.dir, hash, view))
	if errors.Is(err, fs.ErrNotExist) || err == nil && !isWholeJPEG(jpeg) {
		return nil, f.explain(what, fmt.Errorf("the view %w", ErrNotFound))
	}
	return jpeg, f.explain(what, err)
}

// isWholeJPEG looks at both ends: a file whose end never reached the disk reads
// as zeros there.
func isWholeJPEG(b []byte) bool {
	return bytes.HasPrefix(b, []byte{0xff, 0xd8}) && bytes.HasSuffix(b, []byte{0xff, 0xd9})
}
