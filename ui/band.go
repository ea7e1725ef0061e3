package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/drawing"
	"fettlebook/assess/term"
)

// band is a stroke that tells a verdict by its pattern and its ink. It never
// stands without the word.
type band struct {
	widget.BaseWidget

	Verdict term.Verdict
	// Least is how wide the band is at least.
	Least float32
	// Unit is the width of an ordinary band; 0 means bandWidth. A short band needs
	// a small one to show its pattern.
	Unit float32
}

// bandWidth is the width of an ordinary band; the verdict's own is a multiple.
const bandWidth = 4

func (b *band) unit() float64 {
	if b.Unit > 0 {
		return float64(b.Unit)
	}
	return bandWidth
}

func newBand(v term.Verdict, least float32) *band {
	b := &band{Verdict: v, Least: least}
	b.ExtendBaseWidget(b)
	return b
}

// SetVerdict shows another verdict.
func (b *band) SetVerdict(v term.Verdict) {
	if v == b.Verdict {
		return
	}
	b.Verdict = v
	b.Refresh()
}

// CreateRenderer draws the band.
func (b *band) CreateRenderer() fyne.WidgetRenderer {
	b.ExtendBaseWidget(b)
	return &bandRenderer{b: b}
}

type bandRenderer struct {
	b       *band
	strokes []*canvas.Rectangle
	used    int
}

func (r *bandRenderer) Layout(size fyne.Size) {
	kind := drawing.BandOf(r.b.Verdict)
	thick := float32(kind.Width * r.b.unit())
	ink := r.b.Theme().Color(verdictColor(r.b.Verdict), fyne.CurrentApp().Settings().ThemeVariant())
	r.used = 0
	put := func(from, to float32) {
		if r.used == len(r.strokes) {
			r.strokes = append(r.strokes, canvas.NewRectangle(ink))
		}
		s := r.strokes[r.used]
		s.FillColor = ink
		s.Move(fyne.NewPos(from, (size.Height-thick)/2))
		s.Resize(fyne.NewSize(to-from, thick))
		r.used++
	}
	if len(kind.Dash) == 0 {
		put(0, size.Width)
		return
	}
	at := float32(0)
	for i := 0; at < size.Width; i++ {
		length := float32(kind.Dash[i%len(kind.Dash)] * r.b.unit())
		if i%2 == 0 {
			put(at, min(at+length, size.Width))
		}
		at += length
	}
}

func (r *bandRenderer) MinSize() fyne.Size { return fyne.NewSize(r.b.Least, 2*bandWidth) }

func (r *bandRenderer) Refresh() {
	r.Layout(r.b.Size())
	canvas.Refresh(r.b)
}

func (r *bandRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, r.used)
	for i := range objects {
		objects[i] = r.strokes[i]
	}
	return objects
}

func (r *bandRenderer) Destroy() {}
