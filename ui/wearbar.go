package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/gauge"
)

// wearBar draws how much of an allowance is used: nominal at the left, the limit
// at the right, the reading as a mark with the width of its uncertainty.
type wearBar struct {
	widget.BaseWidget

	bar            gauge.Bar
	nominal, limit string
	shown          bool
}

func newWearBar() *wearBar {
	w := &wearBar{}
	w.ExtendBaseWidget(w)
	w.Hide()
	return w
}

// Set shows a reading; the texts stand under the ends.
func (w *wearBar) Set(bar gauge.Bar, nominal, limit string) {
	w.bar, w.nominal, w.limit, w.shown = bar, nominal, limit, true
	w.Show()
	w.Refresh()
}

// Clear shows nothing.
func (w *wearBar) Clear() {
	w.shown = false
	w.Hide()
}

// CreateRenderer draws the bar.
func (w *wearBar) CreateRenderer() fyne.WidgetRenderer {
	w.ExtendBaseWidget(w)
	r := &wearBarRenderer{w: w, left: newCaption("", colorQuiet).small(), right: newCaption("", colorQuiet).small().toEnd()}
	for range 6 {
		r.strokes = append(r.strokes, canvas.NewRectangle(nil))
	}
	r.Refresh()
	return r
}

type wearBarRenderer struct {
	w           *wearBar
	strokes     []*canvas.Rectangle
	left, right *caption
}

// The strokes of the bar, in the order in which they lie over each other.
const (
	barGround = iota
	barSpread
	barEnd
	barReuse
	barMark
	barStart
)

// barMargin is how far the ends stand from the edges, so that what lies beyond a
// limit can be seen.
const barMargin = 0.12

func (r *wearBarRenderer) Layout(size fyne.Size) {
	const top, thick = 9, 6
	at := func(share float64) float32 {
		x := barMargin + share*(1-2*barMargin)
		return float32(min(max(x, 0), 1)) * size.Width
	}
	put := func(i int, from, to, y, height float32) {
		r.strokes[i].Move(fyne.NewPos(from, y))
		r.strokes[i].Resize(fyne.NewSize(max(to-from, 2), height))
	}
	put(barGround, 0, size.Width, top, thick)
	put(barSpread, at(r.w.bar.Low), at(r.w.bar.High), top, thick)
	put(barStart, at(0)-1, at(0)+1, top-5, thick+10)
	put(barEnd, at(1)-1.5, at(1)+1.5, top-8, thick+16)
	r.strokes[barReuse].Hidden = r.w.bar.Reuse == nil
	if r.w.bar.Reuse != nil {
		put(barReuse, at(*r.w.bar.Reuse)-1, at(*r.w.bar.Reuse)+1, top-5, thick+10)
	}
	put(barMark, at(r.w.bar.Reading)-2, at(r.w.bar.Reading)+2, top-6, thick+12)
	r.left.Move(fyne.NewPos(at(0)-40, top+thick+9))
	r.left.Resize(fyne.NewSize(size.Width/2, r.left.MinSize().Height))
	r.right.Move(fyne.NewPos(size.Width/2, top+thick+9))
	r.right.Resize(fyne.NewSize(at(1)-size.Width/2+40, r.right.MinSize().Height))
}

func (r *wearBarRenderer) MinSize() fyne.Size {
	return fyne.NewSize(160, 26+r.left.MinSize().Height)
}

func (r *wearBarRenderer) Refresh() {
	th, variant := r.w.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	for i, name := range map[int]fyne.ThemeColorName{
		barGround: theme.ColorNameSeparator, barSpread: theme.ColorNamePrimary, barEnd: theme.ColorNameForeground,
		barReuse: colorQuiet, barMark: theme.ColorNamePrimary, barStart: colorQuiet,
	} {
		r.strokes[i].FillColor = th.Color(name, variant)
	}
	r.left.Text, r.right.Text = r.w.nominal, r.w.limit
	r.left.Refresh()
	r.right.Refresh()
	r.Layout(r.w.Size())
	canvas.Refresh(r.w)
}

func (r *wearBarRenderer) Objects() []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, 0, len(r.strokes)+2)
	for _, s := range r.strokes {
		objects = append(objects, s)
	}
	return append(objects, r.left, r.right)
}

func (r *wearBarRenderer) Destroy() {}
