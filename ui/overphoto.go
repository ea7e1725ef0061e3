package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// overPhoto lays what is told of a photo into its lower left corner and buttons
// into the lower right one, each on a ground of its own, so that neither makes the
// window wider nor covers the other.
func overPhoto(chip, buttons *fyne.Container) *fyne.Container {
	ground := func(o fyne.CanvasObject) *fyne.Container {
		g := newGround(colorChip)
		g.Radius = 3
		return container.NewStack(g, o)
	}
	return container.New(&cornersOver{chip: chip}, ground(padded(chip, 3, 3, 8, 8)), ground(buttons))
}

type cornersOver struct{ chip *fyne.Container }

const overMargin = 8

func (c *cornersOver) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	chip, buttons := objects[0], objects[1]
	right := buttons.MinSize()
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

func (c *cornersOver) MinSize(objects []fyne.CanvasObject) fyne.Size {
	right := objects[1].MinSize()
	return fyne.NewSize(right.Width+60, right.Height+2*overMargin)
}
