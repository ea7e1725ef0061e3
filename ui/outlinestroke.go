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

	corners []plane.Point // of the line that is drawn
}

// cased draws a line on a casing that is rim wider to either side.
func (p *outlinePen) cased(corners []plane.Point, closed bool, width, rim float64, ink color.RGBA, dash []float64) {
	p.stroke(corners, closed, width+2*rim, outlineCasing, nil)
	p.stroke(corners, closed, width, ink, dash)
}

// stroke draws a line through corners, closed or open. A dash pattern runs on from
// edge to edge; none makes a solid line. Strokes meet in round joints.
func (p *outlinePen) stroke(corners []plane.Point, closed bool, width float64, ink color.RGBA, dash []float64) {
	corners = p.thinned(corners)
	if len(dash) == 0 {
		p.solid(corners, closed, width/2, ink)
		return
	}
	edges := len(corners) - 1
	if closed {
		edges = len(corners)
	}
	d := dasher{dash: dash, unit: width}
	for i := range max(edges, 0) {
		p.dashed(edgeOf(corners[i], corners[(i+1)%len(corners)]), width/2, ink, &d)
	}
}

// dashed draws the strokes of one edge that can be seen.
func (p *outlinePen) dashed(e lineEdge, half float64, ink color.RGBA, d *dasher) {
	from, to, seen := clipEdge(e.at, e.at.Plus(e.way.Times(e.length)), p.to.Rect, half+1)
	if !seen || e.length == 0 {
		d.skip(e.length)
		return
	}
	d.skip(from * e.length)
	at, end := from*e.length, to*e.length
	for at < end {
		stroke, step := d.next(end - at)
		if stroke {
			// A stroke that goes on round a corner is round there, else it ends flat.
			p.capsule(e.at.Plus(e.way.Times(at)), e.way, step, half, at == 0, at+step >= e.length, ink)
		}
		at += step
	}
	d.skip(e.length - end)
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

// capsule draws a straight stroke from a, so long in a direction whose length is 1,
// with round or flat ends.
func (p *outlinePen) capsule(a, way plane.Point, length, half float64, roundA, roundB bool, ink color.RGBA) {
	if length <= 0 {
		if !roundA && !roundB {
			return
		}
		way = plane.Point{X: 1}
	}
	reach := half + 0.5
	near := nearStroke{a: a, way: way, length: length, reach: reach}
	near.prepare()
	laid, strength, most := inkLanes(ink), float64(p.strength), int64(p.strength)
	end := length * way.Y
	top, bottom := rowsWithin(a.Y+min(end, 0)-reach, a.Y+max(end, 0)+reach, p.to.Rect)
	for y := top; y < bottom; y++ {
		left, right := near.columns(float64(y)+0.5, p.to.Rect)
		if left >= right {
			continue
		}
		// Along the stroke and across it, for the middle of each pixel of the row.
		x0, y0 := float64(left)+0.5-a.X, float64(y)+0.5-a.Y
		along, across := x0*way.X+y0*way.Y, y0*way.X-x0*way.Y
		pix := p.to.Pix[p.to.PixOffset(left, y):][:4*(right-left)]
		for ; len(pix) >= 4; pix = pix[4:] {
			cover := reach - math.Abs(across)
			if along < 0.5 {
				cover = endCover(cover, -along, across, half, roundA)
			}
			if along > length-0.5 {
				cover = endCover(cover, along-length, across, half, roundB)
			}
			along += way.X
			across -= way.Y
			// Without a branch: the edge of a line comes at every other pixel.
			packLanes(pix, mixLanes(lanes(pix), laid, uint64(min(max(int64(cover*strength), 0), most))))
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

// nearStroke bounds the pixels of a row that a stroke may touch: those no further
// than reach from its line, and no further than that beyond its ends.
type nearStroke struct {
	a, way        plane.Point
	length, reach float64

	// lean is how far the line moves sideways from row to row, wide half its width
	// in a row; slant is the same as lean for the lines across its ends.
	lean, wide, slant, first, last float64
	steep, flat                    bool
}

func (n *nearStroke) prepare() {
	if n.steep = math.Abs(n.way.Y) > 1e-6; n.steep {
		n.lean, n.wide = n.way.X/n.way.Y, n.reach/math.Abs(n.way.Y)
	}
	if n.flat = math.Abs(n.way.X) > 1e-6; n.flat {
		n.slant = -n.way.Y / n.way.X
		n.first, n.last = -n.reach/n.way.X, (n.length+n.reach)/n.way.X
		if n.first > n.last {
			n.first, n.last = n.last, n.first
		}
	}
}

func (n *nearStroke) columns(y float64, frame image.Rectangle) (left, right int) {
	low, high := float64(frame.Min.X), float64(frame.Max.X)
	dy := y - n.a.Y
	if n.steep {
		middle := n.a.X + dy*n.lean
		low, high = max(low, middle-n.wide), min(high, middle+n.wide)
	}
	if n.flat {
		middle := n.a.X + dy*n.slant
		low, high = max(low, middle+n.first), min(high, middle+n.last)
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
			if from[i+3] == 0 {
				continue
			}
			// The picture's colours are multiplied by its alpha already.
			rest := 256 - (uint64(from[i+3])*strength+254)/255
			sum := lanes(from[i:i+4])*strength + lanes(to[i:i+4])*rest + 0x0080008000800080
			packLanes(to[i:i+4], sum>>8&laneMask)
		}
	}
}
