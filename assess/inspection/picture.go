package inspection

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"io"

	"fettlebook/assess/archive"
	"fettlebook/assess/photo"
	"fettlebook/assess/record"
)

// orientation joins the file's own orientation with the user's turning.
func orientation(p record.Photo) photo.Orientation {
	o, err := photo.Orientation(p.Orientation).Turned(p.Turned)
	if err != nil {
		return photo.Normal
	}
	return o
}

// ShownSize returns the size of a photo as it is shown, upright and turned, in
// pixels of the original.
func ShownSize(p record.Photo) (width, height int) { return orientation(p).Size(p.Width, p.Height) }

// Shown maps a stored point to the shown photo, in pixels of the original.
func Shown(p record.Photo, at record.Point) (x, y float64) {
	ux, uy := orientation(p).Upright(at[0], at[1], p.Width, p.Height)
	return float64(ux) / 100, float64(uy) / 100
}

// StoredPoint maps a point of the shown photo, in pixels of the original, to the
// hundredths of a pixel that a record holds. Points outside are brought to the
// edge.
func StoredPoint(p record.Photo, x, y float64) record.Point {
	w, h := ShownSize(p)
	ux := min(max(int(x*100+0.5), 0), w*100)
	uy := min(max(int(y*100+0.5), 0), h*100)
	sx, sy := orientation(p).Stored(ux, uy, p.Width, p.Height)
	return record.Point{sx, sy}
}

// Thumbnail returns the small picture of a photo, upright.
func (b *Bench) Thumbnail(ctx context.Context, p record.Photo) (image.Image, error) {
	return b.view(ctx, p, archive.Thumbnail)
}

// Preview returns a picture of a photo, upright, 1600 pixels on its long side.
func (b *Bench) Preview(ctx context.Context, p record.Photo) (image.Image, error) {
	return b.view(ctx, p, archive.Preview)
}

// RowThumbnail returns the small picture that stands for a record in the register,
// upright.
func (b *Bench) RowThumbnail(ctx context.Context, row Row) (image.Image, error) {
	return b.Thumbnail(ctx, record.Photo{File: string(row.Photo), Orientation: row.Orientation, Turned: row.Turned})
}

func (b *Bench) view(ctx context.Context, p record.Photo, view archive.View) (image.Image, error) {
	jpegBytes, err := b.viewBytes(ctx, record.Hash(p.File), view)
	if err != nil {
		return nil, fmt.Errorf("photo %d: %w", p.Number, err)
	}
	img, err := jpeg.Decode(bytes.NewReader(jpegBytes))
	if err != nil {
		return nil, fmt.Errorf("photo %d: its stored %s is damaged: %w", p.Number, view, err)
	}
	return photo.UprightImage(img, orientation(p)), nil
}

// viewBytes returns a stored view, made again from the original if it is gone.
func (b *Bench) viewBytes(ctx context.Context, hash record.Hash, view archive.View) ([]byte, error) {
	if stored, err := b.store.GetView(ctx, hash, view); err == nil {
		return stored, nil
	}
	img, err := b.decode(ctx, hash, "original")
	if err != nil {
		return nil, err
	}
	views, err := photo.MakeViews(ctx, img)
	if err != nil {
		return nil, err
	}
	made := map[archive.View][]byte{archive.Preview: views.Preview.JPEG, archive.Thumbnail: views.Thumbnail.JPEG}
	if !b.ReadOnly() {
		// A view that can't be kept is made again next time.
		for name, jpegBytes := range made {
			_ = b.store.PutView(ctx, hash, name, jpegBytes)
		}
	}
	return made[view], nil
}

// Original decodes the original of a photo, upright, at its full size.
func (b *Bench) Original(ctx context.Context, p record.Photo) (image.Image, error) {
	img, err := b.decode(ctx, record.Hash(p.File), p.Name)
	if err != nil {
		return nil, fmt.Errorf("photo %d: %w", p.Number, err)
	}
	return photo.UprightImage(img, orientation(p)), nil
}

// Stripped makes a copy of a photo to hand out, without the place where it was taken
// and the serial of the camera. Only a JPEG has one.
func (b *Bench) Stripped(ctx context.Context, p record.Photo) (photo.StrippedCopy, error) {
	f, err := b.file(ctx, record.Hash(p.File), p.Name)
	if err != nil {
		return photo.StrippedCopy{}, fmt.Errorf("photo %d: %w", p.Number, err)
	}
	return f.Stripped(ctx)
}

func (b *Bench) decode(ctx context.Context, hash record.Hash, name string) (image.Image, error) {
	f, err := b.file(ctx, hash, name)
	if err != nil {
		return nil, err
	}
	return f.Decode(ctx)
}

func (b *Bench) file(ctx context.Context, hash record.Hash, name string) (*photo.File, error) {
	original, err := b.store.Get(ctx, hash)
	if err != nil {
		return nil, fmt.Errorf("its original: %w", err)
	}
	defer original.Close()
	whole, err := io.ReadAll(original)
	if err != nil {
		return nil, fmt.Errorf("its original can't be read: %w", err)
	}
	return photo.New(ctx, name, bytes.NewReader(whole), int64(len(whole)), b.limits)
}
