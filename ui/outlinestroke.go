package ui

import (
	"image"
	"image/color"
	"math"

	"fettlebook/assess/plane"
)

// outlinePen draws smooth lines and discs into a frame. All places and widths are
// in pixels of the frame. It visits only the pixels near what it draws, allocates
// nothing, and leaves alone what lies outside.
type outlinePen struct {
	to *image.RGBA
	// strength is how much of the ink is laid on.
	strength uint32 // at most 256
}

// stroke draws a line through corners, closed or open. A dash pattern runs on from
// edge to edge; none makes a solid line. Strokes meet in round joints.
func (p *outlinePen) stroke(corners []plane.Point, closed bool, width float64, ink color.RGBA, dash []float64) {
	edges := len(corners) - 1
	if closed {
		edges = len(corners)
	}
	d := dasher{dash: dash, unit: width}
	for i := range max(edges, 0) {
		p.edge(corners[i], corners[(i+1)%len(corners)], width/2, ink, &d)
	}
}

// edge draws the part of one edge that can be seen.
func (p *outlinePen) edge(a, b plane.Point, half float64, ink color.RGBA, d *dasher) {
	length := a.Distance(b)
	from, to, seen := clipEdge(a, b, p.to.Rect, half+1)
	if !seen {
		d.skip(length)
		return
	}
	along := b.Minus(a)
	if len(d.dash) == 0 || length == 0 {
		p.capsule(a.Plus(along.Times(from)), a.Plus(along.Times(to)), half, true, true, ink)
		return
	}
	d.skip(from * length)
	at, end := from*length, to*length
	for at < end {
		stroke, step := d.next(end - at)
		if stroke {
			// A stroke that goes on round a corner is round there, else it ends flat.
			p.capsule(a.Plus(along.Times(at/length)), a.Plus(along.Times((at+step)/length)), half, at == 0, at+step >= length, ink)
		}
		at += step
	}
	d.skip(length - end)
}

// clipEdge returns which part of an edge, from 0 to 1, comes within reach of the
// frame.
func clipEdge(a, b plane.Point, frame image.Rectangle, reach float64) (from, to float64, seen bool) {
	from, to = 0, 1
	clip := func(at, way, low, high float64) bool {
		if way == 0 {
			return low <= at && at <= high
		}
		first, second := (low-at)/way, (high-at)/way
		if first > second {
			first, second = second, first
		}
		from, to = max(from, first), min(to, second)
		return from <= to
	}
	seen = clip(a.X, b.X-a.X, float64(frame.Min.X)-reach, float64(frame.Max.X)+reach) &&
		clip(a.Y, b.Y-a.Y, float64(frame.Min.Y)-reach, float64(frame.Max.Y)+reach)
	return from, to, seen
}

// dasher cuts a line into strokes and gaps, in turn.
type dasher struct {
	dash []float64 // as multiples of unit
	unit float64
	at   float64 // along the pattern
}

func (d *dasher) whole() float64 {
	sum := 0.0
	for _, part := range d.dash {
		sum += part * d.unit
	}
	return sum
}

func (d *dasher) skip(length float64) {
	if whole := d.whole(); whole > 0 {
		d.at = math.Mod(d.at+length, whole)
	}
}

// next returns whether ink comes next, and for how long, at most most.
func (d *dasher) next(most float64) (ink bool, length float64) {
	at := d.at
	for i, part := range d.dash {
		if part *= d.unit; at < part-1e-6 {
			length = min(part-at, most)
			d.skip(length)
			return i%2 == 0, length
		}
		at -= part
	}
	d.at = 0
	return true, min(d.dash[0]*d.unit, most)
}

// capsule draws a straight stroke from a to b with round or flat ends.
func (p *outlinePen) capsule(a, b plane.Point, half float64, roundA, roundB bool, ink color.RGBA) {
	length := a.Distance(b)
	way := plane.Point{X: 1}
	if length > 0 {
		way = b.Minus(a).Times(1 / length)
	} else if !roundA && !roundB {
		return
	}
	laid, full, strength := inkLanes(ink), uint64(p.strength), float64(p.strength)
	reach := half + 0.5
	top, bottom := rowsWithin(min(a.Y, b.Y)-reach, max(a.Y, b.Y)+reach, p.to.Rect)
	for y := top; y < bottom; y++ {
		left, right := p.columnsNear(a, way, length, reach, float64(y)+0.5)
		if left >= right {
			continue
		}
		// Along the stroke and across it, for the middle of each pixel of the row.
		x0, y0 := float64(left)+0.5-a.X, float64(y)+0.5-a.Y
		along, across := x0*way.X+y0*way.Y, y0*way.X-x0*way.Y
		pix := p.to.Pix[p.to.PixOffset(left, y):][:4*(right-left)]
		for ; len(pix) >= 4; pix = pix[4:] {
			cover := half + 0.5 - math.Abs(across)
			if along < 0.5 {
				cover = endCover(cover, -along, across, half, roundA)
			}
			if along > length-0.5 {
				cover = endCover(cover, along-length, across, half, roundB)
			}
			if cover >= 1 {
				packLanes(pix, mixLanes(lanes(pix), laid, full))
			} else if cover > 0 {
				packLanes(pix, mixLanes(lanes(pix), laid, uint64(cover*strength)))
			}
			along += way.X
			across -= way.Y
		}
	}
}

// endCover is how much of a pixel is covered about an end of a stroke, so far beyond
// it or, less than nothing, before it.
func endCover(cover, beyond, across, half float64, round bool) float64 {
	switch {
	case !round:
		return min(cover, 0.5-beyond)
	case beyond <= 0:
		return cover
	}
	return half + 0.5 - math.Sqrt(beyond*beyond+across*across)
}

func rowsWithin(low, high float64, frame image.Rectangle) (top, bottom int) {
	return max(int(math.Floor(max(low, -1))), frame.Min.Y), min(int(math.Ceil(min(high, 1e6))), frame.Max.Y)
}

// columnsNear bounds the pixels of a row that a stroke may touch: those no further
// than reach from its line, and no further than that beyond its ends.
func (p *outlinePen) columnsNear(a, way plane.Point, length, reach, y float64) (left, right int) {
	low, high := float64(p.to.Rect.Min.X), float64(p.to.Rect.Max.X)
	dy := y - a.Y
	if way.Y > 1e-6 || way.Y < -1e-6 {
		middle, half := a.X+dy*way.X/way.Y, reach/math.Abs(way.Y)
		low, high = max(low, middle-half), min(high, middle+half)
	}
	if way.X > 1e-6 || way.X < -1e-6 {
		first, last := a.X+(-reach-dy*way.Y)/way.X, a.X+(length+reach-dy*way.Y)/way.X
		low, high = max(low, min(first, last)), min(high, max(first, last))
	}
	// The middles of pixels lie between low and high.
	return int(math.Ceil(low - 0.5)), int(math.Floor(high + 0.5))
}

// inkLanes spreads a colour as lanes spreads a pixel.
func inkLanes(ink color.RGBA) uint64 {
	return uint64(ink.R) | uint64(ink.B)<<16 | uint64(ink.G)<<32 | 0xff<<48
}

// square fills a square about a place, on whole pixels.
func (p *outlinePen) square(at plane.Point, side int, ink color.RGBA) {
	x, y := int(math.Round(at.X-float64(side)/2)), int(math.Round(at.Y-float64(side)/2))
	area := image.Rect(x, y, x+side, y+side).Intersect(p.to.Rect)
	laid := inkLanes(ink)
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for row := p.to.Pix[p.to.PixOffset(area.Min.X, y):][:4*area.Dx()]; len(row) >= 4; row = row[4:] {
			packLanes(row, mixLanes(lanes(row), laid, uint64(p.strength)))
		}
	}
}

// stamp lays a small picture over the frame, its middle at a place.
func (p *outlinePen) stamp(at plane.Point, picture *image.RGBA) {
	size := picture.Rect.Size()
	x, y := int(math.Round(at.X-float64(size.X)/2)), int(math.Round(at.Y-float64(size.Y)/2))
	area := image.Rect(x, y, x+size.X, y+size.Y).Intersect(p.to.Rect)
	strength := uint64(p.strength)
	for row := area.Min.Y; row < area.Max.Y; row++ {
		from := picture.Pix[picture.PixOffset(area.Min.X-x, row-y):][:4*area.Dx()]
		to := p.to.Pix[p.to.PixOffset(area.Min.X, row):][:4*area.Dx()]
		for i := 0; i < len(from); i += 4 {
			// The picture's colours are multiplied by its alpha already.
			rest := 256 - (uint64(from[i+3])*strength+254)/255
			sum := lanes(from[i:i+4])*strength + lanes(to[i:i+4])*rest + 0x0080008000800080
			packLanes(to[i:i+4], sum>>8&laneMask)
		}
	}
}
