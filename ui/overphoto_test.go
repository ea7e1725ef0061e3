package ui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// A low window keeps all buttons of the photo, and no notice pushes it off the screen.
func TestALowWindowHoldsThePhotosButtons(t *testing.T) {
	h := atWork(t)
	h.attach(photoFile(t, "a.jpg", inkOf(0x336699)))
	p := h.place()
	if got := p.page.MinSize().Height; got > 620 {
		t.Errorf("the inspection wants %v of height", got)
	}
	p.notices.put(notice{ID: "attach", Warns: true, words: words{Title: "Six were not attached."}, List: []string{"a", "b", "c", "d", "e", "f"}})
	if got := p.page.MinSize().Height; got > 768 {
		t.Errorf("with a long notice the inspection wants %v of height", got)
	}
}

// However low, each button stands inside the ground, and none over another.
func TestButtonsOverAPhotoStandInColumns(t *testing.T) {
	atWork(t)
	for height, want := range map[float32]int{40: 2, 200: 2, 330: 1, 900: 1} {
		buttons := make([]fyne.CanvasObject, 8)
		for i := range buttons {
			buttons[i] = newButton(nil, "", theme.SearchIcon(), func() {})
		}
		over := overPhoto(column(0, newCaption("Photo 1", theme.ColorNameForeground)), buttons...)
		over.Resize(fyne.NewSize(400, height))
		stand := over.Objects[1].(*fyne.Container).Objects[1].(*fyne.Container)
		var lefts []float32
		for i, b := range buttons {
			if b.Position().X+b.Size().Width > stand.Size().Width || b.Position().Y+b.Size().Height > stand.Size().Height+0.1 {
				t.Errorf("at %v button %d sticks out", height, i)
			}
			for k := range i {
				if buttons[k].Position() == b.Position() {
					t.Errorf("at %v buttons %d and %d stand in one place", height, k, i)
				}
			}
			if !slices.Contains(lefts, b.Position().X) {
				lefts = append(lefts, b.Position().X)
			}
		}
		if len(lefts) != want {
			t.Errorf("at %v they stand in %d columns, want %d", height, len(lefts), want)
		}
	}
}
