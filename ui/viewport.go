package ui

// viewport maps between a photo, in pixels of the original as it is shown, and
// the area in which it is looked at, in the window's own units. It is a value
// without a widget.
type viewport struct {
	// scale is the window's units per pixel of the photo.
	scale float64
	// left and top are where the photo's corner lies in the area.
	left, top float64
	// width and height are the area's; photoWidth and photoHeight the photo's.
	width, height           float64
	photoWidth, photoHeight float64
	// fitted keeps the whole photo in view when the area changes.
	fitted bool
}

// The bounds of the scale: a pixel is never larger than mostScale units, and the
// photo never smaller than this share of what fits.
const (
	mostScale    = 16.0
	leastOfFit   = 0.5
	keepsInView  = 48.0
	fitMargin    = 0.0
	zoomStep     = 1.25
	wheelPerStep = 25.0
)

func newViewport(photoWidth, photoHeight int) viewport {
	return viewport{photoWidth: float64(photoWidth), photoHeight: float64(photoHeight), fitted: true, scale: 1}
}

// resize gives the photo another area. What is in the middle stays there.
func (v *viewport) resize(width, height float64) {
	if width == v.width && height == v.height {
		return
	}
	x, y := v.toPhoto(v.width/2, v.height/2)
	v.width, v.height = width, height
	if v.fitted {
		v.fit()
		return
	}
	v.left, v.top = width/2-x*v.scale, height/2-y*v.scale
	v.clamp()
}

func (v *viewport) fitScale() float64 {
	if v.photoWidth <= 0 || v.photoHeight <= 0 || v.width <= 0 || v.height <= 0 {
		return 1
	}
	return min((v.width-2*fitMargin)/v.photoWidth, (v.height-2*fitMargin)/v.photoHeight)
}

// fit shows the whole photo.
func (v *viewport) fit() {
	v.scale, v.fitted = v.fitScale(), true
	v.left, v.top = (v.width-v.photoWidth*v.scale)/2, (v.height-v.photoHeight*v.scale)/2
}

// zoom changes the scale about a place of the area, which stays where it is.
func (v *viewport) zoom(scale, x, y float64) {
	px, py := v.toPhoto(x, y)
	v.scale = min(max(scale, v.fitScale()*leastOfFit), mostScale)
	v.fitted = false
	v.left, v.top = x-px*v.scale, y-py*v.scale
	v.clamp()
}

// pan moves the photo.
func (v *viewport) pan(dx, dy float64) {
	v.left, v.top, v.fitted = v.left+dx, v.top+dy, false
	v.clamp()
}

// clamp never lets the photo be lost from view: a photo smaller than the area
// lies in it, a larger one keeps a good piece in it.
func (v *viewport) clamp() {
	v.left = clampEdge(v.left, v.photoWidth*v.scale, v.width)
	v.top = clampEdge(v.top, v.photoHeight*v.scale, v.height)
}

func clampEdge(at, size, room float64) float64 {
	if size <= room {
		return min(max(at, 0), room-size)
	}
	keep := min(keepsInView, room)
	return min(max(at, keep-size), room-keep)
}

func (v *viewport) toPhoto(x, y float64) (px, py float64) {
	return (x - v.left) / v.scale, (y - v.top) / v.scale
}

func (v *viewport) toView(px, py float64) (x, y float64) {
	return px*v.scale + v.left, py*v.scale + v.top
}
