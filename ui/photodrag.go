package ui

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/record"
)

// photoDrag carries photos from the strip to a part, or to a surface of the chosen
// one. The window knows no targets of a drag between widgets, so it looks itself what
// lies under the pointer.
type photoDrag struct {
	p *inspectionPlace
	// layer lies over the whole place; it holds the ghost and takes no mouse.
	layer   *fyne.Container
	ghost   *fyne.Container
	picture *canvas.Image
	says    *caption
	chip    *fyne.Container

	ids []record.ID
	// over is what lies under the pointer, the zero value for nothing.
	over record.Subject
	at   fyne.Position
	// walks is whether the row of parts is on its way under the pointer.
	walks bool
}

// How a drag looks: the ghost hangs below the pointer, so that the tile is seen.
const (
	ghostWidth, ghostHeight = 84, 60
	ghostAside              = 14
	// laneEdge is how near to the end of the row the pointer makes it move, laneStep
	// by how much each time, in units of the window.
	laneEdge, laneStep = 46, 14
	laneEvery          = 30 * time.Millisecond
)

func newPhotoDrag(p *inspectionPlace) *photoDrag {
	d := &photoDrag{p: p, picture: canvas.NewImageFromImage(nil), says: newCaption("", theme.ColorNameForeground).small().bold().whole()}
	d.picture.FillMode = canvas.ImageFillContain
	d.picture.Translucency = 0.15
	ground := newGround(colorChip)
	ground.Radius = 3
	d.chip = container.NewStack(ground, padded(d.says, 3, 3, 8, 8))
	mat := newGround(colorMat)
	mat.Edge = theme.ColorNamePrimary
	d.ghost = container.NewWithoutLayout(container.NewStack(mat, padded(d.picture, 2, 2, 2, 2)), d.chip)
	d.ghost.Objects[0].Resize(fyne.NewSize(ghostWidth, ghostHeight))
	d.ghost.Hide()
	d.layer = container.NewWithoutLayout(d.ghost)
	return d
}

// move follows photos that are dragged; at is in the window.
func (d *photoDrag) move(ids []string, at fyne.Position, picture image.Image) {
	if !d.p.editable() {
		return
	}
	d.at = at
	d.ids = d.ids[:0]
	for _, id := range ids {
		d.ids = append(d.ids, record.ID(id))
	}
	if d.picture.Image != picture {
		d.picture.Image = picture
		d.picture.Refresh()
	}
	d.look()
	d.walk()
}

// look finds what lies under the pointer and shows what would happen.
func (d *photoDrag) look() {
	d.over = record.Subject{Part: d.partAt(d.at)}
	if surface := d.surfaceAt(d.at); surface != "" {
		d.over = record.Subject{Part: d.p.part, Surface: surface}
	}
	d.light()
	says := countOf(len(d.ids), "photo", "photos")
	switch {
	case d.over.Part == "":
		says += " · drop on a part or a surface"
	default:
		says += " → " + d.p.saysSubject(d.over)
	}
	d.says.SetText(says)
	driver := fyne.CurrentApp().Driver()
	at := d.at.Subtract(driver.AbsolutePositionForObject(d.layer)).AddXY(ghostAside, ghostAside)
	size, chip := d.layer.Size(), d.chip.MinSize()
	at.X = min(at.X, size.Width-max(ghostWidth, chip.Width))
	at.Y = min(at.Y, size.Height-ghostHeight-chip.Height-4)
	d.ghost.Move(at)
	d.chip.Move(fyne.NewPos(0, ghostHeight+4))
	d.chip.Resize(chip)
	d.ghost.Show()
	d.ghost.Refresh()
}

// partAt returns the part whose tile lies at a place of the window.
func (d *photoDrag) partAt(at fyne.Position) record.ID {
	if _, in := d.inLane(at); !in {
		return ""
	}
	inside := at.Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(d.p.tiles))
	return record.ID(d.p.tiles.At(inside))
}

// light lights up what the photos would be dropped on.
func (d *photoDrag) light() {
	tile := d.over.Part
	if d.over.Surface != "" {
		tile = ""
	}
	d.p.tiles.SetTarget(string(tile))
	d.p.side.surfaces.setTarget(d.over.Surface)
}

// surfaceAt returns the surface of the chosen part that lies at a place of the window:
// in the list, or on the drawing.
func (d *photoDrag) surfaceAt(at fyne.Position) string {
	if d.p.side.open() || !d.p.side.object.Visible() {
		return ""
	}
	s := d.p.side.surfaces
	if _, in := placeIn(s.scroll, at); !in {
		return ""
	}
	if inside, in := placeIn(s.picture, at); in && s.picture.Visible() {
		return s.picture.at(inside)
	}
	if inside, in := placeIn(s.list, at); in {
		return s.list.At(inside)
	}
	return ""
}

// placeIn tells where in an object a place of the window is, and whether it is in it.
func placeIn(o fyne.CanvasObject, at fyne.Position) (fyne.Position, bool) {
	in := at.Subtract(fyne.CurrentApp().Driver().AbsolutePositionForObject(o))
	size := o.Size()
	return in, in.X >= 0 && in.Y >= 0 && in.X < size.Width && in.Y < size.Height
}

// inLane tells where in the row of parts, as it is seen, a place of the window is.
func (d *photoDrag) inLane(at fyne.Position) (fyne.Position, bool) {
	return placeIn(d.p.lane, at)
}

// walk moves the row while photos are held near its end: it is longer than the
// window.
func (d *photoDrag) walk() {
	if d.walks || d.step() == 0 {
		return
	}
	d.walks = true
	time.AfterFunc(laneEvery, func() {
		d.p.f.later(func() {
			d.walks = false
			by := d.step()
			if by == 0 {
				return
			}
			lane := d.p.lane
			offset := lane.Offset
			offset.X = min(max(offset.X+by, 0), max(lane.Content.MinSize().Width-lane.Size().Width, 0))
			if offset != lane.Offset {
				lane.ScrollToOffset(offset)
				d.look()
				d.walk()
			}
		})
	})
}

func (d *photoDrag) step() float32 {
	at, in := d.inLane(d.at)
	switch {
	case len(d.ids) == 0 || !in:
		return 0
	case at.X < laneEdge:
		return -laneStep
	case at.X > d.p.lane.Size().Width-laneEdge:
		return laneStep
	}
	return 0
}

// drop assigns the photos to what lies under the pointer, if anything does.
func (d *photoDrag) drop() {
	ids, over := append([]record.ID(nil), d.ids...), d.over
	d.end()
	if over.Part != "" && len(ids) > 0 {
		d.p.viewer.assign(ids, over, false)
	}
}

// end takes the ghost away; nothing is assigned.
func (d *photoDrag) end() {
	d.ids, d.over = d.ids[:0], record.Subject{}
	d.ghost.Hide()
	d.light()
}
