package ui

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Tool is what the mouse does on the photo.
type Tool int

// The tools. With PointTool one looks, selects, moves and reshapes.
const (
	PointTool Tool = iota
	CornersTool
	OvalTool
)

// ShownOutline is one outline over the photo.
type ShownOutline struct {
	ID      record.ID
	Number  int
	Outline record.Outline
	Verdict term.Verdict
	// Faint draws the outline thinly: it shows another part's finding.
	Faint bool
}

var (
	_ fyne.Focusable     = (*PhotoView)(nil)
	_ fyne.Draggable     = (*PhotoView)(nil)
	_ fyne.Scrollable    = (*PhotoView)(nil)
	_ desktop.Mouseable  = (*PhotoView)(nil)
	_ desktop.Hoverable  = (*PhotoView)(nil)
	_ desktop.Keyable    = (*PhotoView)(nil)
	_ desktop.Cursorable = (*PhotoView)(nil)
)

// PhotoView shows one photo with its outlines, zooms and pans, and draws new
// outlines. It is one widget with the focus for all of it; Tab leaves it, and
// Escape leads out of every state.
type PhotoView struct {
	widget.BaseWidget

	// OnDrawn is called with a finished outline, OnReshaped with a changed one.
	OnDrawn    func(shape record.Shape, points []record.Point)
	OnReshaped func(id record.ID, points []record.Point)
	OnSelected func(id record.ID)
	OnRemove   func(id record.ID)
	OnTool     func(Tool)
	// OnWantSharper is called once for a photo that is magnified beyond what its
	// preview shows.
	OnWantSharper func()
	// OnKey takes keys that the view does not use itself: a name, or a rune.
	OnKey func(name fyne.KeyName, r rune) bool

	photo    record.Photo
	message  string
	preview  *image.RGBA
	sharper  *image.RGBA
	asked    bool
	outlines []drawnOutline
	selected record.ID
	tool     Tool
	disabled bool
	focused  bool

	at      viewport
	pointer plane.Point // on the photo, moved by the mouse and by the arrows
	hand    hand
	corners []plane.Point // of the outline that is being drawn
	shift   bool
	click   lastClick
	unsaved bool // the selected outline was moved by keys and not told yet
}

// drawnOutline is an outline with its corners on the shown photo.
type drawnOutline struct {
	ShownOutline
	corners []plane.Point // handles: of a polygon, or two opposite ones of an oval
}

// hand is what the pressed mouse is doing.
type hand struct {
	does   handDoes
	corner int
	last   fyne.Position
	from   plane.Point
	moved  bool
}

type handDoes int

const (
	handRests handDoes = iota
	handPans
	handMoves
	handReshapes
	handOvals
)

type lastClick struct {
	when time.Time
	at   fyne.Position
}

// NewPhotoView makes an empty view.
func NewPhotoView() *PhotoView {
	v := &PhotoView{}
	v.ExtendBaseWidget(v)
	return v
}

// SetPhoto shows another photo. The picture is upright, of any size; nil while it
// is being fetched.
func (v *PhotoView) SetPhoto(p record.Photo, picture image.Image) {
	same := v.photo.File == p.File && v.photo.Number == p.Number && v.photo.Turned == p.Turned
	if !same {
		v.settle()
		w, h := inspection.ShownSize(p)
		old := v.at
		v.at = newViewport(w, h)
		v.at.resize(old.width, old.height)
		v.at.fit()
		v.sharper, v.asked, v.corners, v.hand, v.selected = nil, false, nil, hand{}, ""
		v.outlines = nil
		v.pointer = plane.Point{X: float64(w) / 2, Y: float64(h) / 2}
	}
	v.photo, v.message = p, ""
	if picture != nil || !same {
		v.preview = rgba(picture)
	}
	v.Refresh()
}

// SetSharper gives the original of the photo at its full size.
func (v *PhotoView) SetSharper(p record.Photo, picture image.Image) {
	if v.photo.File != p.File || v.photo.Turned != p.Turned {
		return
	}
	v.sharper = rgba(picture)
	v.Refresh()
}

// SetMessage shows words in place of a photo.
func (v *PhotoView) SetMessage(text string) {
	v.SetPhoto(record.Photo{}, nil)
	v.message = text
	v.Refresh()
}

// HasPhoto reports whether there is a photo to draw on.
func (v *PhotoView) HasPhoto() bool { return v.photo.File != "" }

// SetOutlines shows the photo's outlines.
func (v *PhotoView) SetOutlines(outlines []ShownOutline) {
	v.outlines = v.outlines[:0]
	found := false
	for _, o := range outlines {
		d := drawnOutline{ShownOutline: o}
		for _, p := range o.Outline.Points {
			x, y := inspection.Shown(v.photo, p)
			d.corners = append(d.corners, plane.Point{X: x, Y: y})
		}
		v.outlines = append(v.outlines, d)
		found = found || o.ID == v.selected
	}
	if !found {
		v.selected = ""
	}
	v.Refresh()
}

// SetDisabled lets the person look only.
func (v *PhotoView) SetDisabled(disabled bool) {
	v.disabled = disabled
	if disabled {
		v.SetTool(PointTool)
	}
}

// Tool is what the mouse does at the moment.
func (v *PhotoView) Tool() Tool { return v.tool }

// SetTool changes what the mouse does. What was being drawn is dropped.
func (v *PhotoView) SetTool(t Tool) {
	if v.disabled {
		t = PointTool
	}
	v.settle()
	v.corners, v.hand = nil, hand{}
	if t != PointTool {
		v.Select("")
	}
	if t == v.tool {
		v.Refresh()
		return
	}
	v.tool = t
	if v.OnTool != nil {
		v.OnTool(t)
	}
	v.Refresh()
}

// Selected is the chosen outline, empty for none.
func (v *PhotoView) Selected() record.ID { return v.selected }

// Select chooses an outline.
func (v *PhotoView) Select(id record.ID) {
	if id == v.selected {
		return
	}
	v.settle()
	v.selected = id
	v.Refresh()
}

func (v *PhotoView) choose(id record.ID) {
	if id == v.selected {
		return
	}
	v.Select(id)
	if v.OnSelected != nil {
		v.OnSelected(id)
	}
}

// Fit shows the whole photo; Actual one pixel of it as one of the screen.
func (v *PhotoView) Fit() { v.at.fit(); v.Refresh() }

// Actual shows a pixel of the photo as a pixel of the screen.
func (v *PhotoView) Actual() { v.zoomTo(1 / v.pixelScale()) }

// ZoomBy magnifies about the pointer.
func (v *PhotoView) ZoomBy(factor float64) { v.zoomTo(v.at.scale * factor) }

func (v *PhotoView) zoomTo(scale float64) {
	x, y := v.at.toView(v.pointer.X, v.pointer.Y)
	if x < 0 || y < 0 || x > v.at.width || y > v.at.height {
		x, y = v.at.width/2, v.at.height/2
	}
	v.at.zoom(scale, x, y)
	v.changed()
}

// changed draws the photo anew and asks for a sharper one if it is magnified.
func (v *PhotoView) changed() {
	if v.preview != nil && v.sharper == nil && !v.asked {
		w, _ := inspection.ShownSize(v.photo)
		shown := v.at.scale * v.pixelScale() * float64(w) / float64(v.preview.Rect.Dx())
		if shown > 1.15 && v.preview.Rect.Dx() < w && v.OnWantSharper != nil {
			v.asked = true
			v.OnWantSharper()
		}
	}
	v.Refresh()
}

func (v *PhotoView) pixelScale() float64 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		return float64(c.Scale())
	}
	return 1
}

// chosen returns the selected outline.
func (v *PhotoView) chosen() *drawnOutline {
	for i := range v.outlines {
		if v.outlines[i].ID == v.selected {
			return &v.outlines[i]
		}
	}
	return nil
}

// stored turns corners on the shown photo into those that a record holds.
func (v *PhotoView) stored(corners []plane.Point) []record.Point {
	points := make([]record.Point, len(corners))
	for i, c := range corners {
		points[i] = inspection.StoredPoint(v.photo, c.X, c.Y)
	}
	return points
}

// settle tells of a change by keys that was not told yet: the next act ends it.
func (v *PhotoView) settle() {
	if !v.unsaved {
		return
	}
	v.unsaved = false
	if o := v.chosen(); o != nil && v.OnReshaped != nil {
		v.OnReshaped(o.ID, v.stored(o.corners))
	}
}

// Cursor shows whether a click draws.
func (v *PhotoView) Cursor() desktop.Cursor {
	if v.tool != PointTool {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}

// FocusGained shows that keys go to the photo.
func (v *PhotoView) FocusGained() { v.focused = true; v.Refresh() }

// FocusLost shows that they no longer do.
func (v *PhotoView) FocusLost() {
	v.settle()
	v.focused = false
	v.Refresh()
}
