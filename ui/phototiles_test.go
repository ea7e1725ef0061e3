package ui_test

import (
	"fmt"
	"image"
	"image/color"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"fettlebook/assess/inspection"
	"fettlebook/assess/record"
	"fettlebook/ui"
)

// handCut gives the tiles of a picture, but for those that are held back.
type handCut struct {
	levels  []inspection.TileLevel
	pixels  []*image.RGBA
	held    map[ui.TilePlace]bool
	missing []ui.TilePlace
}

func (c *handCut) Levels() []inspection.TileLevel { return c.levels }

func (c *handCut) Want(missing []ui.TilePlace) { c.missing = append(c.missing[:0], missing...) }

func (c *handCut) Tile(level, column, row int) *image.RGBA {
	if c.held[ui.TilePlace{Level: level, Column: column, Row: row}] {
		return nil
	}
	l := c.levels[level]
	part := c.pixels[level].SubImage(image.Rect(l.Columns[column], l.Rows[row], l.Columns[column+1], l.Rows[row+1])).(*image.RGBA)
	return &image.RGBA{Pix: part.Pix, Stride: part.Stride, Rect: image.Rect(0, 0, part.Rect.Dx(), part.Rect.Dy())}
}

// cutByHand cuts an upright picture as the photo is.
func cutByHand(p record.Photo, img *image.RGBA) *handCut {
	c := &handCut{levels: inspection.TileLevels(p), held: map[ui.TilePlace]bool{}}
	for range c.levels {
		c.pixels = append(c.pixels, img)
		img = halved(img)
	}
	return c
}

// halved is a picture of even size with each pixel the mean of four.
func halved(img *image.RGBA) *image.RGBA {
	half := image.NewRGBA(image.Rect(0, 0, img.Rect.Dx()/2, img.Rect.Dy()/2))
	for y := range half.Rect.Dy() {
		for x := range half.Rect.Dx() {
			for c := range 4 {
				at := func(dx, dy int) int { return int(img.Pix[img.PixOffset(2*x+dx, 2*y+dy)+c]) }
				half.Pix[half.PixOffset(x, y)+c] = uint8((at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1) + 2) / 4)
			}
		}
	}
	return half
}

// grained is a picture with something to see at every pixel.
func grained(width, height int) *image.RGBA {
	img, rnd := image.NewRGBA(image.Rect(0, 0, width, height)), rand.New(rand.NewPCG(1, 2))
	for y := range height {
		for x := range width {
			img.SetRGBA(x, y, color.RGBA{R: uint8(x/9) + uint8(rnd.IntN(40)), G: uint8(y/7) + uint8(rnd.IntN(40)), B: uint8(rnd.IntN(256)), A: 255})
		}
	}
	return img
}

// tiledPhotos are shown 1760 × 1200 pixels, however they are stored.
func tiledPhotos() map[string]record.Photo {
	photos := map[string]record.Photo{}
	for o := 1; o <= 8; o++ {
		p := record.Photo{File: fmt.Sprint("t", o), Number: o, Width: 1760, Height: 1200, Orientation: o}
		if o > 4 {
			p.Width, p.Height = p.Height, p.Width
		}
		photos[fmt.Sprint("orientation ", o)] = p
	}
	return photos
}

// views of one photo in a small window, once from one picture, once from tiles and
// a preview of a quarter of the size.
func wholeAndTiled(t *testing.T, p record.Photo) (whole, tiled *photoHand, cut *handCut) {
	img := grained(1760, 1200)
	whole, tiled, cut = lookAt(t, p), lookAt(t, p), cutByHand(p, img)
	whole.SetPhoto(p, img)
	tiled.SetPhoto(p, halved(halved(img)))
	tiled.SetTiles(p, cut)
	return whole, tiled, cut
}

// Tiles are seen as one picture at every zoom and place, to the last bit.
func TestPhotoTilesHaveNoSeams(t *testing.T) {
	for name, p := range tiledPhotos() {
		t.Run(name, func(t *testing.T) {
			whole, tiled, cut := wholeAndTiled(t, p)
			fromTiles := 0
			for _, script := range []string{"", "type 1", "wheel up", "wheel up", "wheel down wheel down wheel down", "middle 300,200 drag 120,90 up",
				"move 220,120 wheel up", "wheel up", "wheel up", "wheel up wheel up wheel up", "wheel up wheel up wheel up"} {
				whole.does(script)
				tiled.does(script)
				if shot(whole) != shot(tiled) {
					t.Errorf("after %q, at a zoom of %v, the tiles show something else", script, tiled.Zoom())
				}
				if len(cut.missing) > 0 {
					t.Errorf("at a zoom of %v it misses %v", tiled.Zoom(), cut.missing)
				}
				if tiled.Zoom() > 0.4 {
					fromTiles++
				}
			}
			if fromTiles < 5 {
				t.Errorf("only %d frames were drawn from tiles", fromTiles)
			}
		})
	}
}

// A tile that is not there is drawn from the next level, and that from the preview;
// what is there stays as it is.
func TestPhotoTileThatIsMissing(t *testing.T) {
	for name, p := range tiledPhotos() {
		t.Run(name, func(t *testing.T) {
			_, tiled, cut := wholeAndTiled(t, p)
			tiled.does("move 200,150 wheel up wheel up wheel up wheel up wheel up wheel up")
			zoom := tiled.Zoom()
			if zoom < 0.7 || zoom > 1.3 {
				t.Fatalf("the zoom is %v", zoom)
			}
			l := cut.levels[0]
			frame := func(held ...ui.TilePlace) *image.RGBA {
				clear(cut.held)
				for _, place := range held {
					cut.held[place] = true
				}
				tiled.TilesCame()
				img := *compose(tiled)
				img.Pix = slices.Clone(img.Pix)
				return &img
			}
			level := func(n int) (all []ui.TilePlace) {
				for c := range len(cut.levels[n].Columns) - 1 {
					for r := range len(cut.levels[n].Rows) - 1 {
						all = append(all, ui.TilePlace{Level: n, Column: c, Row: r})
					}
				}
				return all
			}
			full, above, preview := frame(), frame(level(0)...), frame(slices.Concat(level(0), level(1))...)
			if want := len(cut.missing); want == 0 || cut.missing[0].Level != 0 {
				t.Errorf("it wants %v", cut.missing)
			}
			if slices.Equal(full.Pix, above.Pix) || slices.Equal(above.Pix, preview.Pix) {
				t.Fatal("the levels can't be told apart")
			}
			// The tile in the middle of the photo, and where it lies in the frame.
			one := ui.TilePlace{Level: 0, Column: (len(l.Columns) - 1) / 2, Row: (len(l.Rows) - 1) / 2}
			for what, c := range map[string]struct {
				got, inside *image.RGBA
			}{
				"one tile":             {frame(one), above},
				"and all of the next":  {frame(append(level(1), one)...), preview},
				"and nothing for long": {frame(), full},
			} {
				inside, outside := 0, 0
				for y := range c.got.Rect.Dy() {
					for x := range c.got.Rect.Dx() {
						px, py := onPhoto(tiled, x, y)
						const rim = 3
						in := px > float64(l.Columns[one.Column]+rim) && px < float64(l.Columns[one.Column+1]-rim) &&
							py > float64(l.Rows[one.Row]+rim) && py < float64(l.Rows[one.Row+1]-rim)
						out := px < float64(l.Columns[one.Column]-rim) || px > float64(l.Columns[one.Column+1]+rim) ||
							py < float64(l.Rows[one.Row]-rim) || py > float64(l.Rows[one.Row+1]+rim)
						if got := c.got.RGBAAt(x, y); in && !close4(got, c.inside.RGBAAt(x, y), 0) {
							inside++
						} else if out && got != full.RGBAAt(x, y) {
							outside++
						}
					}
				}
				if inside > 0 || outside > 0 {
					t.Errorf("%s missing: %d pixels in it and %d round it are wrong", what, inside, outside)
				}
			}
			frame(one)
			if !slices.Equal(cut.missing, []ui.TilePlace{one}) {
				t.Errorf("it misses %v, want %v", cut.missing, one)
			}
		})
	}
}

// onPhoto is the place on the photo that a pixel of the frame shows.
func onPhoto(h *photoHand, x, y int) (px, py float64) {
	size := h.Size()
	w, ht := 1760*h.Zoom(), 1200*h.Zoom()
	return (float64(x) + 0.5 - float64(size.Width)/2 + w/2) / h.Zoom(), (float64(y) + 0.5 - float64(size.Height)/2 + ht/2) / h.Zoom()
}

func TestPhotoTilesAreTakenForTheirOwnPhotoOnly(t *testing.T) {
	p := tiledPhotos()["orientation 1"]
	_, tiled, cut := wholeAndTiled(t, p)
	cut.held[ui.TilePlace{}] = true
	tiled.does("type 1")
	before := shot(tiled)
	other := p
	other.File = "other"
	tiled.SetTiles(other, cutByHand(other, grained(1760, 1200)))
	if shot(tiled) != before {
		t.Error("another photo's tiles are shown")
	}
	middle := strings.Repeat("middle 10,10 drag 390,290 up ", 5)
	tiled.does(middle)
	shot(tiled)
	if len(cut.missing) != 1 {
		t.Fatalf("it misses %v", cut.missing)
	}
	tiled.SetPhoto(other, plain(400, 300, 9))
	if len(cut.missing) != 0 {
		t.Error("another photo is shown, and it still wants tiles of the one before")
	}
}

func TestPhotoLensWantsTiles(t *testing.T) {
	_, tiled, cut := wholeAndTiled(t, tiledPhotos()["orientation 1"])
	for c := range 4 {
		for r := range 3 {
			cut.held[ui.TilePlace{Column: c, Row: r}] = true
		}
	}
	shot(tiled)
	if len(cut.missing) != 0 {
		t.Errorf("fitted, it wants %v", cut.missing)
	}
	tiled.does("move 174,188 type 3")
	shot(tiled)
	shot(tiled)
	if !slices.Contains(cut.missing, ui.TilePlace{Column: 1, Row: 1}) || len(cut.missing) > 2 {
		t.Errorf("through the magnifier it wants %v", cut.missing)
	}
}

func TestPhotoFrameOfTilesDoesNotAllocate(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(ui.PhotoTheme(false))
	v, tiles := largePhoto(fyne.NewSize(428, 328))
	v.Actual()
	turn := 1
	frame := func() {
		turn = -turn
		v.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(float32(50*turn), 0)})
		v.Compose(428, 328)
	}
	frame()
	frame()
	if n := testing.AllocsPerRun(20, frame); n > 1 { // the event's
		t.Errorf("%v allocations a frame", n)
	}
	if len(tiles.missing) > 0 {
		t.Errorf("it misses %v", tiles.missing)
	}
}
