package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// pageSplit lays a page out as a wide left and a right of bounded width.
// Where that is hidden, the left has all of it.
type pageSplit struct{ gap float32 }

// The right side takes this share of the width, within these bounds. On a low
// window a photo can't use all of the width, and the words can.
const (
	sideShare    = 0.345
	lowSideShare = 0.42
	sideLeast    = 420
	sideMost     = 640
	// lowPage is how high the body of a low window is at the most.
	lowPage = 700
)

func (b pageSplit) side(size fyne.Size) float32 {
	share := float32(sideShare)
	if size.Height < lowPage {
		share = lowSideShare
	}
	return min(max(size.Width*share, sideLeast), sideMost)
}

func (b pageSplit) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	side := b.side(size)
	left := max(size.Width-side-b.gap, 0)
	if !objects[1].Visible() {
		left = size.Width
	}
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(left, size.Height))
	objects[1].Move(fyne.NewPos(left+b.gap, 0))
	objects[1].Resize(fyne.NewSize(side, size.Height))
}

func (b pageSplit) MinSize(objects []fyne.CanvasObject) fyne.Size {
	l, r := objects[0].MinSize(), objects[1].MinSize()
	return fyne.NewSize(l.Width+b.gap+sideLeast, max(l.Height, r.Height))
}

// padded puts room around an object: top, bottom, left, right.
func padded(object fyne.CanvasObject, top, bottom, left, right float32) *fyne.Container {
	return container.New(layout.NewCustomPaddedLayout(top, bottom, left, right), object)
}

// column is a vertical box with its own gap.
func column(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(layout.NewCustomPaddedVBoxLayout(gap), objects...)
}

// line is a horizontal box with its own gap.
func line(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(layout.NewCustomPaddedHBoxLayout(gap), objects...)
}

// atLeast keeps an object from being smaller than a size.
func atLeast(object fyne.CanvasObject, width, height float32) *fyne.Container {
	room := canvas.NewRectangle(nil)
	room.SetMinSize(fyne.NewSize(width, height))
	return container.NewStack(room, object)
}

// hug lays a second object close behind a first one that may be squeezed, of
// which the captions are as wide as their text.
type hug struct{}

func (hug) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	behind := objects[1].MinSize()
	width := min(natural(objects[0]), size.Width-behind.Width-4)
	objects[0].Move(fyne.NewPos(0, 0))
	objects[0].Resize(fyne.NewSize(width, size.Height))
	objects[1].Move(fyne.NewPos(width+4, (size.Height-behind.Height)/2))
	objects[1].Resize(behind)
}

func (hug) MinSize(objects []fyne.CanvasObject) fyne.Size {
	a, b := objects[0].MinSize(), objects[1].MinSize()
	return fyne.NewSize(a.Width+b.Width+4, max(a.Height, b.Height))
}

// natural is how wide the widest caption within an object wants to be.
func natural(o fyne.CanvasObject) float32 {
	switch o := o.(type) {
	case *caption:
		return o.Natural()
	case *fyne.Container:
		widest := float32(0)
		for _, in := range o.Objects {
			widest = max(widest, natural(in))
		}
		return widest
	}
	return 0
}

// upright centres an object vertically and gives it the whole width.
func upright(object fyne.CanvasObject) *fyne.Container {
	return container.NewBorder(nil, nil, nil, nil, container.NewVBox(layout.NewSpacer(), object, layout.NewSpacer()))
}

// ground is a plain area in a colour of the theme, with an edge below or above
// if it is asked for.
type ground struct {
	widget.BaseWidget

	Color fyne.ThemeColorName
	Edge  fyne.ThemeColorName
	// Radius rounds the corners.
	Radius float32
}

func newGround(color fyne.ThemeColorName) *ground {
	g := &ground{Color: color}
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer draws the ground.
func (g *ground) CreateRenderer() fyne.WidgetRenderer {
	g.ExtendBaseWidget(g)
	r := &groundRenderer{g: g, area: canvas.NewRectangle(nil)}
	r.Refresh()
	return r
}

type groundRenderer struct {
	g    *ground
	area *canvas.Rectangle
}

func (r *groundRenderer) Layout(size fyne.Size) { r.area.Resize(size) }
func (r *groundRenderer) MinSize() fyne.Size    { return fyne.Size{} }
func (r *groundRenderer) Refresh() {
	variant := fyne.CurrentApp().Settings().ThemeVariant()
	r.area.FillColor = r.g.Theme().Color(r.g.Color, variant)
	r.area.CornerRadius = r.g.Radius
	r.area.StrokeWidth = 0
	if r.g.Edge != "" {
		r.area.StrokeColor, r.area.StrokeWidth = r.g.Theme().Color(r.g.Edge, variant), 1
	}
	r.area.Refresh()
}
func (r *groundRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.area} }
func (r *groundRenderer) Destroy()                     {}

// onGround puts an object on a ground.
func onGround(color fyne.ThemeColorName, object fyne.CanvasObject) *fyne.Container {
	return container.NewStack(newGround(color), object)
}

// givingWay lays the first object out at the left, no wider than it wants to be, and
// the second at the right; where there is no room for both, the first is narrower, and
// where it can't be told from one that is narrower still, the second stands below it.
type givingWay struct {
	gap     float32
	stacked bool // as it was laid out
}

func (g *givingWay) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left, right := objects[0].MinSize(), objects[1].MinSize()
	beside := size.Width - right.Width - g.gap
	g.stacked = false
	if least, ok := objects[0].(interface{ leastWidth() float32 }); ok {
		g.stacked = beside < least.leastWidth()-0.5
	}
	if g.stacked {
		objects[0].Resize(fyne.NewSize(min(left.Width, size.Width), left.Height))
		objects[1].Resize(right)
		objects[1].Move(fyne.NewPos(size.Width-right.Width, left.Height+g.gap))
	} else {
		objects[0].Resize(fyne.NewSize(max(min(left.Width, beside), 0), size.Height))
		objects[1].Resize(fyne.NewSize(right.Width, size.Height))
		objects[1].Move(fyne.NewPos(size.Width-right.Width, 0))
	}
	objects[0].Move(fyne.NewPos(0, 0))
}

func (g *givingWay) MinSize(objects []fyne.CanvasObject) fyne.Size {
	left, right := objects[0].MinSize(), objects[1].MinSize()
	if g.stacked {
		return fyne.NewSize(right.Width+g.gap, left.Height+g.gap+right.Height)
	}
	return fyne.NewSize(right.Width+g.gap, max(left.Height, right.Height))
}
