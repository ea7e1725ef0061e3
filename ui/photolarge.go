package ui

import "fyne.io/fyne/v2"

// setLarge gives the photo the room of the parts, the strip and the surfaces: on a
// low window it is small beside them, and marking is done up close.
func (p *inspectionPlace) setLarge(on bool) {
	p.large = on
	p.makeRoom()
	p.viewer.show()
	p.f.focus(p.viewer.photoView)
}

// makeRoom hides what stands round a large photo. A sheet that is open stays beside
// it, since what is marked is named there.
func (p *inspectionPlace) makeRoom() {
	for object, shown := range map[fyne.CanvasObject]bool{
		p.parts: !p.large, p.viewer.below: !p.large, p.side.object: !p.large || p.side.open(),
	} {
		if shown {
			object.Show()
		} else {
			object.Hide()
		}
	}
	p.page.Refresh()
}

// among leaves the large photo for what it hides, and gives that the keys.
func (p *inspectionPlace) among(hidden fyne.Focusable) {
	if p.large {
		p.setLarge(false)
	}
	p.f.focus(hidden)
}
