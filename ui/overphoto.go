package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// overPhoto lays what is told of a photo into its lower left corner and buttons
// into the lower right one, each on a ground of its own, so that neither makes the
// window wider nor covers the other.
// On a low photo the buttons stand in several columns.
func overPhoto(chip *fyne.Container, buttons ...fyne.CanvasObject) *fyne.Container {
	ground := func(o fyne.CanvasObject) *fyne.Container {
		g := newGround(colorChip)
		g.Radius = 3
		return container.NewStack(g, o)
	}
	stands := &columns{rows: len(buttons)}
	return container.New(&cornersOver{chip: chip, buttons: stands}, ground(padded(chip, 3, 3, 8, 8)), ground(container.New(stands, buttons...)))
}

type cornersOver struct {
	chip    *fyne.Container
	buttons *columns
}

const (
	overMargin = 8
	// leastRows is how many buttons stand below one another however low the photo.
	leastRows = 4
)

// columns lays objects of one size out in columns of so many rows.
type columns struct{ rows int }

// fit finds the fewest columns for a height, and fills them evenly.
func (c *columns) fit(objects []fyne.CanvasObject, height float32) {
	most := max(int(height/largest(objects).Height), leastRows)
	count := (len(objects) + most - 1) / most
	c.rows = (len(objects) + count - 1) / count
}

func (c *columns) Layout(objects []fyne.CanvasObject, _ fyne.Size) {
	each := largest(objects)
	for i, o := range objects {
		o.Resize(each)
		o.Move(fyne.NewPos(float32(i/c.rows)*each.Width, float32(i%c.rows)*each.Height))
	}
}

func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	each := largest(objects)
	return fyne.NewSize(float32((len(objects)+c.rows-1)/c.rows)*each.Width, float32(min(c.rows, len(objects)))*each.Height)
}

func largest(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		size = size.Max(o.MinSize())
	}
	return size
}

func (c *cornersOver) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	chip, buttons := objects[0], objects[1]
	tools := c.tools(objects)
	c.buttons.fit(tools, size.Height-2*overMargin)
	right := c.buttons.MinSize(tools)
	buttons.Resize(right)
	buttons.Move(fyne.NewPos(size.Width-right.Width-overMargin, size.Height-right.Height-overMargin))
	wide, shown := float32(0), c.chip.Visible()
	for _, o := range c.chip.Objects {
		if words, ok := o.(*caption); ok && words.Visible() {
			wide = max(wide, words.Natural())
		}
	}
	least := chip.MinSize()
	chip.Resize(fyne.NewSize(min(wide+18, size.Width-right.Width-3*overMargin), least.Height))
	chip.Move(fyne.NewPos(overMargin, size.Height-least.Height-overMargin))
	if shown && wide > 0 {
		chip.Show()
	} else {
		chip.Hide()
	}
}

// tools are the buttons themselves, within their ground.
func (c *cornersOver) tools(objects []fyne.CanvasObject) []fyne.CanvasObject {
	return objects[1].(*fyne.Container).Objects[1].(*fyne.Container).Objects
}

func (c *cornersOver) MinSize(objects []fyne.CanvasObject) fyne.Size {
	tools := c.tools(objects)
	low := columns{}
	low.fit(tools, 0)
	right := low.MinSize(tools)
	return fyne.NewSize(right.Width+60, right.Height+2*overMargin)
}
