package ui

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"fettlebook/assess/inspection"
	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// Tool is what the mouse does on the photo.
type Tool int

// The tools. With PointTool one looks, selects, moves and reshapes; with the others
// one draws: corner by corner, freehand, an oval, a box, a line, a spot, four edges.
const (
	PointTool Tool = iota
	CornersTool
	PencilTool
	OvalTool
	BoxTool
	LineTool
	SpotTool
	EdgesTool

	toolCount
)

var (
	_ fyne.Focusable      = (*PhotoView)(nil)
	_ fyne.Tabbable       = (*PhotoView)(nil)
	_ fyne.Draggable      = (*PhotoView)(nil)
	_ fyne.Scrollable     = (*PhotoView)(nil)
	_ fyne.DoubleTappable = (*PhotoView)(nil)
	_ desktop.Mouseable   = (*PhotoView)(nil)
	_ desktop.Hoverable   = (*PhotoView)(nil)
	_ desktop.Keyable     = (*PhotoView)(nil)
	_ desktop.Cursorable  = (*PhotoView)(nil)
)

// PhotoView shows one photo with its outlines, zooms and pans, and draws new
// outlines. It is one widget with the focus and the keys for all of it; Tab leaves
// it, and Escape leads out of every state.
//
// What a person does is told by the callbacks, on Fyne's own thread. What the
// program sets is not told, except that OnTool follows every change of the tool.
type PhotoView struct {
	widget.BaseWidget

	// OnDrawn is called with a finished outline: the corners of a polygon, two opposite
	// corners of the box round an oval, the ends of a line, or the place of a spot.
	OnDrawn func(shape record.Shape, points []record.Point) `json:"-"`
	// OnReshaped is called when an outline was moved or reshaped: once for a drag,
	// once for a key held down.
	OnReshaped func(id record.ID, points []record.Point) `json:"-"`
	// OnSelected is called with the outline that was chosen, "" for none.
	OnSelected func(id record.ID) `json:"-"`
	// OnRemove is called with an outline that is to go.
	OnRemove func(id record.ID) `json:"-"`
	OnTool   func(Tool)         `json:"-"`
	// OnKey takes keys that the view does not use itself: a name, or a rune.
	OnKey func(name fyne.KeyName, r rune) bool `json:"-"`

	photo   record.Photo
	message string
	// told is what the view says of the last thing that was done, until the next.
	told string
	// picture is what is drawn: the preview, after the tiles if there are any.
	preview, picture *photoPicture
	tiles            PhotoTiles
	// came counts the tiles that came.
	came int

	view     Viewport
	light    Light
	lens     photoLens
	partner  *PhotoView
	outlines []outlineShape
	selected record.ID
	edit     outlineEdit
	readOnly bool

	tool  Tool
	tools [toolCount]photoTool
	mouse photoMouse
	keys  photoKeys

	raster *canvas.Raster
	motion photoMotion
	frame  photoFrame
}

// outlineEdit is the outline that is being moved or reshaped. Its corners count in
// place of the record's until that is told.
type outlineEdit struct {
	id      record.ID
	corners []plane.Point
}

// NewPhotoView makes an empty view.
func NewPhotoView() *PhotoView {
	v := &PhotoView{}
	v.keys.corner, v.mouse.handle = noCorner, noCorner
	v.tools = [toolCount]photoTool{
		PointTool: &pointTool{v: v}, CornersTool: &cornersTool{v: v}, PencilTool: &pencilTool{v: v},
		OvalTool: &spanTool{v: v, shape: record.Oval}, BoxTool: &spanTool{v: v, shape: record.Polygon}, LineTool: &spanTool{v: v, shape: record.Line},
		SpotTool: &spotTool{v: v}, EdgesTool: &edgesTool{v: v},
	}
	v.ExtendBaseWidget(v)
	return v
}

// SetPhoto shows a photo. The picture is upright and of any size; nil while it is
// being fetched. The same photo with another picture stays as it is looked at;
// another photo is fitted, without outlines and tiles until they are set. A zero photo
// empties the view.
func (v *PhotoView) SetPhoto(p record.Photo, picture image.Image) {
	if samePhoto(v.photo, p) {
		v.photo, v.message = p, ""
		if picture != nil {
			v.preview = newPhotoPicture(picture)
		}
		v.join()
		v.Refresh()
		return
	}
	v.dropDrawing()
	v.settle()
	v.photo, v.message = p, ""
	v.preview = newPhotoPicture(picture)
	v.dropTiles()
	v.outlines, v.selected, v.edit = nil, "", outlineEdit{}
	width, height := inspection.ShownSize(p)
	if width <= 0 || height <= 0 {
		width, height = 0, 0
		if v.preview != nil {
			width, height = v.preview.levels[0].width, v.preview.levels[0].height
		}
	}
	v.view.SetPhoto(width, height)
	v.join()
	v.Refresh()
}

// join puts what is drawn together.
func (v *PhotoView) join() {
	v.picture = nil
	if size := v.view.PhotoSize(); v.preview != nil && size.X > 0 {
		v.picture = v.preview.withTiles(v.tiles, size.X, size.Y)
	}
}

// SetTiles gives a photo in sizes that show more than its picture. They are dropped
// if another photo is shown by then.
func (v *PhotoView) SetTiles(p record.Photo, tiles PhotoTiles) {
	if !samePhoto(v.photo, p) {
		return
	}
	v.dropTiles()
	v.tiles = tiles
	v.join()
	v.redraw()
}

func (v *PhotoView) dropTiles() {
	if v.tiles != nil {
		v.tiles.Want(nil)
	}
	v.tiles = nil
}

// TilesCame has the photo drawn anew: tiles that it missed are there now.
func (v *PhotoView) TilesCame() {
	v.came++
	v.redraw()
}

// samePhoto tells whether two entries show the same picture the same way round.
func samePhoto(a, b record.Photo) bool {
	return a.File == b.File && a.Number == b.Number && a.Turned == b.Turned &&
		a.Orientation == b.Orientation && a.Width == b.Width && a.Height == b.Height
}

// SetMessage shows words in place of a photo: that it can't be read, and why.
func (v *PhotoView) SetMessage(text string) {
	v.SetPhoto(record.Photo{}, nil)
	v.message = text
	v.Refresh()
}

// HasPhoto tells whether there is a photo to draw on.
func (v *PhotoView) HasPhoto() bool { return v.preview != nil && v.view.Ready() }

// SetOutlines shows the photo's outlines. One that is being moved stays under the
// mouse; the selection stays if its outline does.
func (v *PhotoView) SetOutlines(outlines []ShownOutline) {
	v.outlines = make([]outlineShape, len(outlines))
	for i, o := range outlines {
		v.outlines[i] = newOutlineShape(o, v.photo)
	}
	if v.shape(v.edit.id) == nil {
		v.edit = outlineEdit{}
	}
	if v.shape(v.selected) == nil {
		v.selected = ""
		v.keys.corner = noCorner
	}
	v.redraw()
}

// SetDisabled lets a person look and select only.
func (v *PhotoView) SetDisabled(disabled bool) {
	v.readOnly = disabled
	if disabled {
		v.edit = outlineEdit{}
		v.SetTool(PointTool)
	}
	v.redraw()
}

// Tool returns what the mouse does at the moment.
func (v *PhotoView) Tool() Tool { return v.tool }

// SetTool changes what the mouse does. What was being drawn is dropped.
func (v *PhotoView) SetTool(t Tool) {
	if v.readOnly || t < 0 || int(t) >= len(v.tools) {
		t = PointTool
	}
	if t == v.tool {
		return
	}
	v.dropDrawing()
	v.settle()
	v.tool = t
	if v.OnTool != nil {
		v.OnTool(t)
	}
	v.Refresh()
}

// dropDrawing ends what the mouse and the tool were about.
func (v *PhotoView) dropDrawing() {
	v.hand().cancel()
	v.mouse.press, v.mouse.handle = photoPress{}, noCorner
	v.keys.cross, v.keys.corner = false, noCorner
}

// Selected returns the chosen outline, "" for none.
func (v *PhotoView) Selected() record.ID { return v.selected }

// Select chooses an outline that is shown, or none.
func (v *PhotoView) Select(id record.ID) {
	if id == v.selected {
		return
	}
	v.settle()
	v.keys.corner = noCorner
	v.selected = ""
	if v.shape(id) != nil {
		v.selected = id
	}
	v.redraw()
}

// choose selects for the person.
func (v *PhotoView) choose(id record.ID) {
	if id == v.selected {
		return
	}
	v.Select(id)
	if v.OnSelected != nil {
		v.OnSelected(id)
	}
}

// Fit shows the whole photo.
func (v *PhotoView) Fit() {
	v.view.Fit()
	if p := v.follows(); p != nil {
		p.view.Fit()
		p.redraw()
	}
	v.redraw()
}

// Actual shows a pixel of the photo as a pixel of the screen.
func (v *PhotoView) Actual() {
	x, y := v.zoomPlace()
	v.zoom(x, y, func() { v.view.OneToOne(x, y) })
}

// ZoomBy magnifies by a factor about the pointer, or about the middle of the view
// if it is elsewhere.
func (v *PhotoView) ZoomBy(factor float64) {
	x, y := v.zoomPlace()
	v.zoom(x, y, func() { v.view.ZoomBy(factor, x, y) })
}

// Zoom returns how many pixels of the screen a pixel of the photo takes.
func (v *PhotoView) Zoom() float64 { return v.view.Zoom() }

func (v *PhotoView) zoomPlace() (x, y float64) {
	if v.keys.cross {
		return v.view.ToView(v.keys.at)
	}
	size := v.Size()
	if v.mouse.over {
		return float64(v.mouse.at.X), float64(v.mouse.at.Y)
	}
	return float64(size.Width) / 2, float64(size.Height) / 2
}

// shape returns an outline that is shown, nil for any other id.
func (v *PhotoView) shape(id record.ID) *outlineShape {
	if id == "" {
		return nil
	}
	for i := range v.outlines {
		if v.outlines[i].ID == id {
			return &v.outlines[i]
		}
	}
	return nil
}

// current returns the selected outline as it is at the moment, even while it is
// being moved.
func (v *PhotoView) current() *outlineShape { return v.shape(v.selected) }

// reshape gives the selected outline other corners until they are told or dropped.
func (v *PhotoView) reshape(corners []plane.Point) {
	v.edit = outlineEdit{id: v.selected, corners: corners}
	v.redraw()
}

// cornersOf returns where an outline's corners are at the moment.
func (v *PhotoView) cornersOf(s *outlineShape) []plane.Point {
	if s.ID == v.edit.id && v.edit.corners != nil {
		return v.edit.corners
	}
	return s.corners
}

// settle tells of what was moved, as one gesture; not before a drag has ended.
func (v *PhotoView) settle() {
	if v.mouse.press.held && v.mouse.press.moved {
		return
	}
	edit := v.edit
	v.edit = outlineEdit{}
	s := v.shape(edit.id)
	if s == nil || edit.corners == nil {
		return
	}
	if s.Outline.Shape == record.Polygon && plane.Polygon(edit.corners).Crosses() && !plane.Polygon(s.corners).Crosses() {
		v.tell("An outline must not cross itself; it is left as it was.")
		v.redraw()
		return
	}
	if s.Outline.Shape == record.Edges && len(s.rim(edit.corners)) != 4 && len(s.rim(s.corners)) == 4 {
		v.tell("The four edges must meet round the card; they are left as they were.")
		v.redraw()
		return
	}
	// It stays where it is until the record's outlines come.
	s.setCorners(edit.corners)
	if v.OnReshaped != nil {
		v.OnReshaped(edit.id, v.stored(edit.corners))
	}
}

// finish tells of an outline that was drawn.
func (v *PhotoView) finish(shape record.Shape, corners []plane.Point) {
	points := v.stored(corners)
	v.hand().cancel()
	v.keys.cross = false
	v.redraw()
	if v.OnDrawn != nil {
		v.OnDrawn(shape, points)
	}
}

// TakeBack takes back the last corner of an outline that is being drawn, or all of
// it where it has no corners yet, and reports whether one was being drawn.
func (v *PhotoView) TakeBack() bool {
	if !v.hand().begun() || v.mouse.press.held {
		return false
	}
	v.hand().key(fyne.KeyBackspace)
	v.Refresh()
	return true
}

// stored turns places on the shown photo into those that a record holds.
func (v *PhotoView) stored(corners []plane.Point) []record.Point {
	points := make([]record.Point, len(corners))
	for i, c := range corners {
		points[i] = inspection.StoredPoint(v.photo, c.X, c.Y)
	}
	return points
}

// Cursor shows whether a click draws or takes hold of a corner.
func (v *PhotoView) Cursor() desktop.Cursor {
	switch {
	case v.tool != PointTool:
		return desktop.CrosshairCursor
	case v.mouse.handle >= 0:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}
