package ui

import (
	"image"
	"image/color"
	"image/draw"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// boxScanner fills paths on a picture within the box that each of them takes up.
// The library's own scanner goes over the whole picture for every path, which for
// the thousands of hatching lines of a unit takes seconds.
type boxScanner struct {
	on     *image.RGBA
	ink    image.Uniform
	raster vector.Rasterizer
	points []fixed.Point26_6
	starts []int // in points
	extent fixed.Rectangle26_6
}

var _ rasterx.Scanner = (*boxScanner)(nil)

// SetColor sets the ink, a color.Color.
func (s *boxScanner) SetColor(c any) {
	if ink, ok := c.(color.Color); ok {
		s.ink.C = ink
	}
}

// Start begins a path.
func (s *boxScanner) Start(p fixed.Point26_6) {
	s.starts = append(s.starts, len(s.points))
	s.add(p)
}

// Line goes on with it.
func (s *boxScanner) Line(p fixed.Point26_6) { s.add(p) }

func (s *boxScanner) add(p fixed.Point26_6) {
	at := fixed.Rectangle26_6{Min: p, Max: p}
	if len(s.points) == 0 {
		s.extent = at
	}
	s.extent.Min.X, s.extent.Min.Y = min(s.extent.Min.X, p.X), min(s.extent.Min.Y, p.Y)
	s.extent.Max.X, s.extent.Max.Y = max(s.extent.Max.X, p.X), max(s.extent.Max.Y, p.Y)
	s.points = append(s.points, p)
}

// Draw fills what was traced.
func (s *boxScanner) Draw() {
	box := image.Rect(s.extent.Min.X.Floor(), s.extent.Min.Y.Floor(), s.extent.Max.X.Ceil(), s.extent.Max.Y.Ceil()).Intersect(s.on.Bounds())
	if box.Empty() || len(s.points) == 0 {
		return
	}
	s.raster.Reset(box.Dx(), box.Dy())
	s.raster.DrawOp = draw.Over
	next := 0
	for i, p := range s.points {
		x, y := float32(p.X)/64-float32(box.Min.X), float32(p.Y)/64-float32(box.Min.Y)
		if next < len(s.starts) && s.starts[next] == i {
			s.raster.MoveTo(x, y)
			next++
		} else {
			s.raster.LineTo(x, y)
		}
	}
	s.raster.Draw(s.on, box, &s.ink, image.Point{})
}

// Clear forgets what was traced.
func (s *boxScanner) Clear() { s.points, s.starts = s.points[:0], s.starts[:0] }

// GetPathExtent is the box of what was traced.
func (s *boxScanner) GetPathExtent() fixed.Rectangle26_6 { return s.extent }

// SetBounds does nothing: the picture has its bounds.
func (s *boxScanner) SetBounds(int, int) {}

// SetWinding does nothing: the winding rule is all that the rasteriser knows.
func (s *boxScanner) SetWinding(bool) {}

// SetClip does nothing: paths are clipped in the drawing.
func (s *boxScanner) SetClip(image.Rectangle) {}
