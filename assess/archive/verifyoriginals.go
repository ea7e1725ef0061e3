package archive

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fettlebook/assess/record"
)

// originalFiles lists the files among the originals.
func (v *verifier) originalFiles() ([]string, error) {
	var files []string
	root := v.f.path(originalsName)
	folders, err := os.ReadDir(root)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	for _, folder := range folders {
		if !folder.IsDir() {
			files = append(files, filepath.Join(root, folder.Name()))
			continue
		}
		if folder.Name() == incoming {
			continue
		}
		names, err := os.ReadDir(filepath.Join(root, folder.Name()))
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			files = append(files, filepath.Join(root, folder.Name(), name.Name()))
		}
	}
	return files, nil
}

// originals hashes every original and misses those that are not there.
func (v *verifier) originals(ctx context.Context, files []string) error {
	if err := v.tolerate(ctx, v.wantKnown(ctx)); err != nil {
		return err
	}
	for _, path := range files {
		if err := v.original(ctx, path); err != nil {
			return err
		}
		v.step()
	}
	for _, hash := range slices.Sorted(maps.Keys(v.wanted)) {
		id := v.wanted[hash]
		// It may have come in after the files were listed.
		if _, err := os.Stat(originalPath(v.f.dir, hash)); err == nil {
			if err := v.original(ctx, originalPath(v.f.dir, hash)); err != nil {
				return err
			}
			continue
		}
		v.report(Damage{Kind: DamageOriginalMissing, Record: id, Hash: hash}, "original %s is missing", hash)
	}
	return nil
}

// wantKnown adds the originals that were ever taken in.
func (v *verifier) wantKnown(ctx context.Context) error {
	known, err := column[record.Hash](ctx, v.f.read, `SELECT hash FROM original`)
	for _, hash := range known {
		if isHash(hash) && v.wanted[hash] == "" {
			v.wanted[hash] = ""
		}
	}
	return err
}

// original checks one file; what it finds is no longer wanted.
func (v *verifier) original(ctx context.Context, path string) error {
	name := filepath.Base(path)
	hash := record.Hash(name)
	if !isHash(hash) || path != originalPath(v.f.dir, hash) {
		if !clutter[name] && !strings.HasPrefix(name, "._") {
			v.report(Damage{Kind: DamageUnknown}, "%s is not an original by its name", path)
		}
		return nil
	}
	id := v.wanted[hash]
	delete(v.wanted, hash)
	got, err := hashFile(ctx, path)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		v.report(Damage{Kind: DamageOriginalMissing, Record: id, Hash: hash}, "original %s is missing", hash)
	case err != nil:
		v.report(Damage{Kind: DamageOriginalChanged, Record: id, Hash: hash}, "original %s can't be read: %v", hash, err)
	case got.Hash != hash:
		v.report(Damage{Kind: DamageOriginalChanged, Record: id, Hash: hash}, "original %s holds other bytes than those that were taken in: %d of them, with hash %s", hash, got.Size, got.Hash)
	}
	return nil
}
