package photo_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"testing"

	"pgregory.net/rapid"

	"fettlebook/assess/photo"
)

func tiles(t testing.TB, img image.Image) map[[3]int]image.Image {
	t.Helper()
	all := map[[3]int]image.Image{}
	err := photo.MakeTiles(t.Context(), img, func(tile photo.Tile) error {
		got, err := jpeg.Decode(bytes.NewReader(tile.JPEG))
		if err != nil {
			return err
		}
		all[[3]int{tile.Level, tile.Column, tile.Row}] = got
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestTilesShowThePictureOnEveryLevel(t *testing.T) {
	const w, h = 1700, 1100
	colours := fourQuarters(w, h)
	grey := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			grey.Set(x, y, quarter(x, y, w, h))
		}
	}
	for name, img := range map[string]image.Image{
		"RGBA": colours, "grey": grey, "YCbCr": decode(t, encodeJPEG(t, colours)),
		"part": colours.(*image.RGBA).SubImage(image.Rect(0, 0, w, h)), "four channels": photo.UprightImage(colours, photo.FlipH),
	} {
		all, p := tiles(t, img), photo.PyramidOf(w, h)
		if p.Levels() != 3 {
			t.Fatalf("%d levels", p.Levels())
		}
		count := 0
		for level := range p.Levels() {
			lw, lh := p.Size(level)
			columns, rows := p.Grid(level)
			count += columns * rows
			for _, at := range [][2]int{{3, 3}, {lw - 4, 3}, {3, lh - 4}, {lw - 4, lh - 4}, {lw/2 - 30, lh/2 - 30}, {lw/2 + 30, lh/2 + 30}} {
				tile := all[[3]int{level, at[0] / photo.TileSide, at[1] / photo.TileSide}]
				if tile == nil {
					t.Fatalf("%s: no tile at %v of level %d", name, at, level)
				}
				want := img.ColorModel().Convert(quarter(at[0], at[1], lw, lh))
				if name == "four channels" {
					want = quarter(lw-1-at[0], at[1], lw, lh)
				}
				if got := tile.At(at[0]%photo.TileSide, at[1]%photo.TileSide); !nearly(got, want, 14) {
					t.Errorf("%s, level %d at %v: %v, want %v", name, level, at, got, want)
				}
			}
		}
		if len(all) != count {
			t.Errorf("%s: %d tiles, want %d", name, len(all), count)
		}
	}
}

// The tiles of a level cover it without a gap and without overlap, whatever the size.
func TestPyramidCoversThePicture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 20_000).Draw(t, "w"), rapid.IntRange(1, 20_000).Draw(t, "h")
		p := photo.PyramidOf(w, h)
		for level := range p.Levels() {
			lw, lh := p.Size(level)
			columns, rows := p.Grid(level)
			if columns*photo.TileSide < lw || (columns-1)*photo.TileSide >= lw || rows*photo.TileSide < lh || (rows-1)*photo.TileSide >= lh {
				t.Fatalf("%d × %d, level %d of %d × %d: %d × %d tiles", w, h, level, lw, lh, columns, rows)
			}
			if last := level == p.Levels()-1; last != (columns*rows == 1) {
				t.Fatalf("level %d has %d tiles", level, columns*rows)
			}
		}
		if aw, ah := p.Size(0); aw != w || ah != h {
			t.Fatalf("level 0 is %d × %d", aw, ah)
		}
	})
	if photo.PyramidOf(0, 5).Levels() != 0 || photo.PyramidOf(5, -1).Levels() != 0 {
		t.Error("a picture without pixels has levels")
	}
}

func TestTilesStop(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	none := func(photo.Tile) error { t.Error("a tile was handed out"); return nil }
	if err := photo.MakeTiles(ctx, noisy(600, 600), none); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if err := photo.MakeTiles(t.Context(), nil, none); err == nil {
		t.Error("no picture: no error")
	}
	full := errors.New("the disk is full")
	if err := photo.MakeTiles(t.Context(), noisy(600, 600), func(photo.Tile) error { return full }); !errors.Is(err, full) {
		t.Errorf("the keeper's error: %v", err)
	}
}

// BenchmarkTiles48MP cuts one photo of 48 megapixels, decoded already.
func BenchmarkTiles48MP(b *testing.B) {
	img := noisy(8000, 6000)
	b.ReportAllocs()
	for b.Loop() {
		size, n := 0, 0
		if err := photo.MakeTiles(b.Context(), img, func(t photo.Tile) error { size += len(t.JPEG); n++; return nil }); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(n), "tiles")
		b.ReportMetric(float64(size)/1e6, "MB")
	}
}
