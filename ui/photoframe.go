package ui

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"fettlebook/assess/drawing"
	"fettlebook/assess/plane"
)

// Widths in units of the window.
const (
	outlineWidth = 2.6 // of an ordinary verdict's line
	outlineRim   = 1.3 // of the casing, to either side
	selectedMore = 1.3 // times as wide
	faintWidth   = 1.3
	handleSide   = 15
	cornerSide   = 9
	crossReach   = 17
	crossGap     = 4
)

// faintStrength is how much of its ink a faint outline has, of 256.
const faintStrength = 190

// outlineCasing is the ground on which the inks of verdicts are told apart, on
// bright metal and on dark.
var outlineCasing = color.RGBA{R: 0xff, G: 0xff, B: 0xff, A: 0xff}

// photoFrame composes what the view shows, photo and outlines, in one buffer that
// is used again. The photo alone is kept beside it while only what lies over it
// changes.
type photoFrame struct {
	v     *PhotoView
	image *image.RGBA
	// images and badges are those of whole frames and of coarse ones.
	images [coarsely]*image.RGBA
	badges [coarsely]outlineBadges
	coarse int
	base   []byte
	// drawn is what the photo was last drawn as; kept whether base holds it.
	drawn frameBase
	kept  bool
	// missing is how many tiles the photo misses; those of the magnifier follow.
	missing int

	blit  photoBlit
	light photoLight
	glass *image.RGBA // what the magnifier shows
	pen   outlinePen

	// left, top and scale place the photo, density is that of the frame: all in
	// pixels of the frame.
	left, top, scale, density float64
	line, handles             []plane.Point

	mat, accent color.RGBA
	typeface    fyne.Resource
}

// frameBase is all that the photo below the outlines depends on.
type frameBase struct {
	width, height    int
	left, top, scale float64
	picture          *photoPicture
	came             int // tiles, so far
	mat              color.RGBA
	light            Light
}

// dress takes the theme's colours over, which is too slow for every frame.
func (f *photoFrame) dress(th fyne.Theme, variant fyne.ThemeVariant) {
	f.accent = opaque(th.Color(theme.ColorNamePrimary, variant))
	f.mat = opaque(th.Color(colorMat, variant))
	f.typeface = th.Font(fyne.TextStyle{Bold: true})
}

func opaque(c color.Color) color.RGBA {
	rgba := color.RGBAModel.Convert(c).(color.RGBA)
	rgba.A = 0xff
	return rgba
}

// Compose draws a frame of width × height pixels over the view's whole size. The
// picture is used again for the next one.
func (v *PhotoView) Compose(width, height int) image.Image {
	return v.compose(width, height, 1)
}

// compose draws a frame of which one pixel takes so many of the window, across.
func (v *PhotoView) compose(width, height, coarse int) image.Image {
	f := &v.frame
	f.v, f.coarse = v, coarse
	size := image.Pt((width+coarse-1)/coarse, (height+coarse-1)/coarse)
	if f.image = f.images[coarse-1]; f.image == nil || f.image.Rect.Size() != size {
		f.image = image.NewRGBA(image.Rectangle{Max: size})
		f.images[coarse-1] = f.image
	}
	f.pen.to, f.pen.strength = f.image, 256
	f.look(width)
	f.photo()
	if v.HasPhoto() {
		f.outlines()
		v.hand().draw(f)
		f.cross()
		f.lens()
		f.wantTiles()
	}
	return f.image
}

// look finds where the photo lies in the frame. It lies on whole pixels, so that
// one to one is not smoothed.
func (f *photoFrame) look(width int) {
	v := f.v
	size := v.Size()
	f.density = 1
	if size.Width > 0 {
		f.density = float64(width) / float64(size.Width)
	}
	// The frame is cut to whole pixels; the scale of the canvas is the true one.
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		if scale := float64(c.Scale()); math.Abs(scale-f.density)*float64(size.Width) < 1.5 {
			f.density = scale
		}
	}
	v.view.SetView(float64(size.Width), float64(size.Height), f.density)
	f.density /= float64(f.coarse)
	x, y := v.view.ToView(plane.Point{})
	f.left, f.top, f.scale = math.Round(x*f.density), math.Round(y*f.density), v.view.Scale()*f.density
}

// photo draws the mat and the photo, or takes them from the frame before.
func (f *photoFrame) photo() {
	want := frameBase{
		width: f.image.Rect.Dx(), height: f.image.Rect.Dy(),
		left: f.left, top: f.top, scale: f.scale, picture: f.v.picture, came: f.v.came, mat: f.mat, light: f.v.light,
	}
	if want == f.drawn && f.kept {
		f.blit.missing = f.blit.missing[:f.missing]
		copy(f.image.Pix, f.base)
		return
	}
	f.blit.missing = f.blit.missing[:0]
	f.ground(want.picture)
	f.missing = len(f.blit.missing)
	// Kept only once it is needed a second time: a frame of panning is not.
	if f.kept = want == f.drawn; f.kept {
		f.base = grown(f.base, len(f.image.Pix))
		copy(f.base, f.image.Pix)
	}
	f.drawn = want
}

// ground draws the photo, in the light in which it is looked at, and the mat where
// it does not reach.
func (f *photoFrame) ground(picture *photoPicture) {
	covered := image.Rectangle{}
	if picture != nil && f.v.view.Ready() {
		covered = f.blit.draw(f.image, picture, f.left, f.top, f.scale)
		f.light.lay(f.image, covered, f.v.light)
	}
	f.fillRound(covered)
}

// wantTiles tells what the frame would have been drawn from.
func (f *photoFrame) wantTiles() {
	if tiles := f.v.tiles; tiles != nil {
		tiles.Want(f.blit.missing)
	}
}

// fillRound fills with the mat what the photo does not cover.
func (f *photoFrame) fillRound(covered image.Rectangle) {
	all := f.image.Rect
	if covered.Empty() {
		f.fill(all)
		return
	}
	f.fill(image.Rect(0, 0, all.Max.X, covered.Min.Y))
	f.fill(image.Rect(0, covered.Max.Y, all.Max.X, all.Max.Y))
	f.fill(image.Rect(0, covered.Min.Y, covered.Min.X, covered.Max.Y))
	f.fill(image.Rect(covered.Max.X, covered.Min.Y, all.Max.X, covered.Max.Y))
}

func (f *photoFrame) fill(area image.Rectangle) {
	if area.Empty() {
		return
	}
	mat := uint32(f.mat.R) | uint32(f.mat.G)<<8 | uint32(f.mat.B)<<16 | 0xff000000
	first := f.image.Pix[f.image.PixOffset(area.Min.X, area.Min.Y):][:4*area.Dx()]
	for i := 0; i < len(first); i += 4 {
		binary.LittleEndian.PutUint32(first[i:], mat)
	}
	for y := area.Min.Y + 1; y < area.Max.Y; y++ {
		copy(f.image.Pix[f.image.PixOffset(area.Min.X, y):], first)
	}
}

// to maps a place of the photo to the frame.
func (f *photoFrame) to(p plane.Point) plane.Point {
	return plane.Point{X: f.left + p.X*f.scale, Y: f.top + p.Y*f.scale}
}

// mapped maps corners into a slice that is used again for the next ones.
func (f *photoFrame) mapped(corners []plane.Point) []plane.Point {
	f.line = f.line[:0]
	for _, c := range corners {
		f.line = append(f.line, f.to(c))
	}
	return f.line
}

func (f *photoFrame) oval(a, b plane.Point) []plane.Point {
	f.line = plane.AppendOval(f.line[:0], f.to(a), f.to(b), 0.25)
	return f.line
}

// outlines draws them all: the faint ones below, the selected one on top, the
// numbers over all lines.
func (f *photoFrame) outlines() {
	v := f.v
	for i := range v.outlines {
		if s := &v.outlines[i]; s.Faint && s.ID != v.selected {
			f.outline(s)
		}
	}
	for i := range v.outlines {
		if s := &v.outlines[i]; !s.Faint && s.ID != v.selected {
			f.outline(s)
		}
	}
	for i := range v.outlines {
		if s := &v.outlines[i]; !s.Faint && s.ID != v.selected {
			f.badge(s, s.corners)
		}
	}
	if s := v.current(); s != nil {
		f.outline(s)
		if v.reshapes() {
			f.reshaping(s)
		}
		f.badge(s, v.cornersOf(s))
	}
}

func (f *photoFrame) outline(s *outlineShape) {
	corners := f.v.cornersOf(s)
	var line []plane.Point
	switch {
	case s.oval():
		line = f.oval(corners[0], corners[1])
	case s.spot():
		line = f.ring(corners[0])
	default:
		line = f.mapped(s.rim(corners))
	}
	band := drawing.BandOf(s.Verdict)
	ink := inkOf(band.Ink)
	width, rim := outlineWidth*band.Width, outlineRim
	switch {
	case s.ID == f.v.selected:
		width *= selectedMore
	case s.Faint:
		width, rim = faintWidth, outlineRim/2
		f.pen.strength = faintStrength
	}
	f.pen.cased(line, s.closed(), width*f.density, rim*f.density, ink, band.Dash)
	f.pen.strength = 256
}

func inkOf(rgb uint32) color.RGBA {
	return color.RGBA{R: uint8(rgb >> 16), G: uint8(rgb >> 8), B: uint8(rgb), A: 0xff}
}

// reshaping draws the handles of the selected outline, and the box round an oval.
func (f *photoFrame) reshaping(s *outlineShape) {
	now := outlineShape{ShownOutline: s.ShownOutline, corners: f.v.cornersOf(s)}
	f.handles = now.handles(f.handles[:0])
	if now.oval() {
		f.pen.strength = faintStrength
		line := f.mapped(f.handles)
		f.pen.stroke(line, true, 2.4*f.density, outlineCasing, nil)
		f.pen.stroke(line, true, 1*f.density, handleInk, boxDash)
		f.pen.strength = 256
	}
	side := float64(handleSide)
	if f.v.crowded(s) {
		side = cornerSide
	}
	for i, h := range f.handles {
		inside := outlineCasing
		if i == f.v.keys.corner || i == f.v.mouse.handle {
			inside = f.accent
		}
		f.handle(f.to(h), side, inside)
	}
}

var (
	handleInk  = color.RGBA{R: 0x16, G: 0x16, B: 0x16, A: 0xff}
	boxDash    = []float64{5, 4}
	rubberDash = []float64{3, 2}
)

func (f *photoFrame) handle(at plane.Point, side float64, inside color.RGBA) {
	rim := max(int(math.Round(1.6*f.density)), 1)
	whole := int(math.Round(side * f.density))
	f.pen.square(at, whole+2, outlineCasing)
	f.pen.square(at, whole, handleInk)
	f.pen.square(at, whole-2*rim, inside)
}

func (f *photoFrame) badge(s *outlineShape, corners []plane.Point) {
	if s.Number <= 0 {
		return
	}
	now := outlineShape{ShownOutline: s.ShownOutline, corners: corners, line: corners}
	x, y := f.v.badgeAt(&now)
	key := badgeKey{number: s.Number, ink: inkOf(drawing.BandOf(s.Verdict).Ink), filled: s.ID == f.v.selected}
	f.pen.stamp(plane.Point{X: x * f.density, Y: y * f.density}, f.badges[f.coarse-1].badge(key, f.typeface, f.density))
}

// begunLine draws the corners that are set and the line that follows the pointer.
func (f *photoFrame) begunLine(corners []plane.Point, pointer plane.Point) {
	width := outlineWidth * f.density
	rim := 2 * outlineRim * f.density
	last, to, first := f.to(corners[len(corners)-1]), f.to(pointer), f.to(corners[0])
	follow := [3]plane.Point{last, to, first}
	line := f.mapped(corners)
	f.pen.stroke(line, false, width+rim, outlineCasing, nil)
	f.pen.strength = faintStrength
	f.pen.stroke(follow[:2], false, width+rim, outlineCasing, nil)
	f.pen.strength = 256
	f.pen.stroke(line, false, width, f.accent, nil)
	f.pen.stroke(follow[:2], false, width, f.accent, rubberDash)
	if len(corners) >= leastCorners-1 {
		f.pen.strength = faintStrength / 2
		f.pen.stroke(follow[1:], false, width/2+rim/2, outlineCasing, nil)
		f.pen.strength = faintStrength
		f.pen.stroke(follow[1:], false, width/2, f.accent, rubberDash)
		f.pen.strength = 256
	}
}

// corner marks a corner that is set; a large one closes the outline.
func (f *photoFrame) corner(at plane.Point, large, hot bool) {
	side, inside := float64(cornerSide), outlineCasing
	if large {
		side = handleSide
	}
	if hot {
		inside = f.accent
	}
	f.handle(f.to(at), side, inside)
}

// begunShape draws what is being drawn, closed or open.
func (f *photoFrame) begunShape(corners []plane.Point, closed bool) {
	if len(corners) == 0 {
		return
	}
	width := outlineWidth * f.density
	line := f.mapped(corners)
	f.pen.cased(line, closed, width, outlineRim*f.density, f.accent, nil)
}

func (f *photoFrame) begunOval(a, b plane.Point) {
	width := outlineWidth * f.density
	line := f.oval(a, b)
	f.pen.cased(line, true, width, outlineRim*f.density, f.accent, nil)
}

// cross draws the pointer of the keys; its middle is left free.
func (f *photoFrame) cross() {
	if !f.v.keys.cross {
		return
	}
	at := f.to(f.v.keys.at)
	for _, stroke := range []struct {
		width float64
		ink   color.RGBA
	}{{4.6, outlineCasing}, {2, f.accent}} {
		for _, way := range [4]plane.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
			f.pen.capsule(at.Plus(way.Times(crossGap*f.density)), way, (crossReach-crossGap)*f.density,
				stroke.width/2*f.density, true, true, stroke.ink)
		}
	}
}
