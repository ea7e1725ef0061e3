package photo_test

import (
	"bytes"
	"context"
	"image"
	"image/draw"
	"testing"

	"fettlebook/assess/photo"
)

// BenchmarkViews12MP takes in one photo of 12 megapixels the whole way:
// header, hash, decoding, both views.
func BenchmarkViews12MP(b *testing.B) {
	data := encodeJPEG(b, noisy(4000, 3000))
	ctx := context.Background()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		f, err := photo.New(ctx, "x.jpg", bytes.NewReader(data), int64(len(data)), photo.Limits{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Hash(ctx); err != nil {
			b.Fatal(err)
		}
		img, err := f.Decode(ctx)
		if err != nil {
			b.Fatal(err)
		}
		views(b, img)
	}
}

// BenchmarkSteps12MP shows where that time goes.
func BenchmarkSteps12MP(b *testing.B) {
	ctx := context.Background()
	data := encodeJPEG(b, noisy(4000, 3000))
	f := open(b, "x.jpg", data)
	img := decode(b, data)
	rgb := image.NewNRGBA(img.Bounds())
	draw.Draw(rgb, rgb.Rect, img, image.Point{}, draw.Src)
	b.Run("header", func(b *testing.B) {
		for range b.N {
			open(b, "x.jpg", data)
		}
	})
	b.Run("hash", func(b *testing.B) {
		for range b.N {
			f.Hash(ctx)
		}
	})
	b.Run("decode", func(b *testing.B) {
		for range b.N {
			f.Decode(ctx)
		}
	})
	b.Run("views", func(b *testing.B) {
		for range b.N {
			views(b, img)
		}
	})
	b.Run("views of NRGBA", func(b *testing.B) {
		for range b.N {
			views(b, rgb)
		}
	})
}
