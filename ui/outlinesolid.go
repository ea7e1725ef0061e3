package ui

import (
	"image/color"
	"math"

	"fettlebook/assess/plane"
)

// leastEdge is how long the edges of a line are at least, in pixels: corners that
// lie closer can't be told apart.
const leastEdge = 0.5

// roundFrom is the cosine of the turn from which a joint is made round; at a smaller
// one the strokes meet in the line that halves the angle.
const roundFrom = 0.87

// thinned leaves out the corners of a line that lie closer than can be seen.
func (p *outlinePen) thinned(corners []plane.Point) []plane.Point {
	p.corners = p.corners[:0]
	for i, c := range corners {
		if i > 0 && i < len(corners)-1 {
			if way := c.Minus(p.corners[len(p.corners)-1]); way.X*way.X+way.Y*way.Y < leastEdge*leastEdge {
				continue
			}
		}
		p.corners = append(p.corners, c)
	}
	return p.corners
}

// lineEdge is an edge of a line: where it begins, its direction with a length
// of 1, and how long it is.
type lineEdge struct {
	at, way plane.Point
	length  float64
}

func edgeOf(a, b plane.Point) lineEdge {
	way := b.Minus(a)
	length := math.Sqrt(way.X*way.X + way.Y*way.Y)
	if length == 0 {
		return lineEdge{a, plane.Point{X: 1}, 0}
	}
	return lineEdge{a, way.Times(1 / length), length}
}

// solid draws a line without gaps. Each pixel is laid on once, but where a joint is
// round.
func (p *outlinePen) solid(corners []plane.Point, closed bool, half float64, ink color.RGBA) {
	edges := len(corners) - 1
	if closed && len(corners) > 1 {
		edges = len(corners)
	}
	if edges < 1 {
		if len(corners) == 1 {
			p.disc(corners[0], half, ink)
		}
		return
	}
	corner := func(i int) plane.Point { return corners[i%len(corners)] }
	now := edgeOf(corner(0), corner(1))
	begin, round := now.way, true
	if closed {
		_, begin, round = jointOf(edgeOf(corner(edges-1), corner(edges)), now, half)
	}
	for i := range edges {
		if round {
			p.disc(now.at, half, ink)
		}
		next, end, onward := now, now.way, now.way
		round = true
		if i+1 < edges || closed {
			next = edgeOf(corner(i+1), corner(i+2))
			end, onward, round = jointOf(now, next, half)
		}
		p.band(now, begin, end, half, ink)
		now, begin = next, onward
	}
	if !closed {
		p.disc(corners[edges], half, ink)
	}
}

// jointOf says across which direction the first edge ends and the second begins, and
// whether a disc is to join them.
func jointOf(a, b lineEdge, half float64) (end, begin plane.Point, round bool) {
	if a.way.X*b.way.X+a.way.Y*b.way.Y < roundFrom || min(a.length, b.length) < half/2 {
		return a.way, b.way, true
	}
	both := a.way.Plus(b.way)
	return both, both, false
}

func (p *outlinePen) disc(at plane.Point, half float64, ink color.RGBA) {
	p.capsule(at, plane.Point{X: 1}, 0, half, true, true, ink)
}

// band draws an edge between the lines through its ends that lie across begin and
// end. A pixel belongs to it by its middle, so that the next edge goes on where it
// ends.
func (p *outlinePen) band(e lineEdge, begin, end plane.Point, half float64, ink color.RGBA) {
	frame, reach := p.to.Rect, half+0.5
	far := e.at.Plus(e.way.Times(e.length))
	const slanting = 1.05 // how much further a slanting end reaches
	margin := reach * slanting
	if max(e.at.X, far.X) < float64(frame.Min.X)-margin || min(e.at.X, far.X) > float64(frame.Max.X)+margin {
		return
	}
	top, bottom := rowsWithin(min(e.at.Y, far.Y)-margin, max(e.at.Y, far.Y)+margin, frame)
	steep := math.Abs(e.way.Y) > 1e-6
	lean, wide := 0.0, 0.0
	if steep {
		lean, wide = e.way.X/e.way.Y, reach/math.Abs(e.way.Y)
	}
	from, to := endLineAt(e.at, begin), endLineAt(far, end)
	laid, strength, most := inkLanes(ink), float64(p.strength), int64(p.strength)
	for y := top; y < bottom; y++ {
		row := float64(y) + 0.5
		dy := row - e.at.Y
		left, right := frame.Min.X, frame.Max.X
		if steep {
			middle := e.at.X + dy*lean
			left = int(math.Ceil(max(middle-wide, float64(left)) - 0.5))
			right = int(math.Floor(min(middle+wide, float64(right)) + 0.5))
		}
		left, right = from.cut(row, left, right, true)
		left, right = to.cut(row, left, right, false)
		if left >= right {
			continue
		}
		across := dy*e.way.X - (float64(left)+0.5-e.at.X)*e.way.Y
		pix := p.to.Pix[p.to.PixOffset(left, y):][:4*(right-left)]
		for ; len(pix) >= 4; pix = pix[4:] {
			cover := int64((reach - math.Abs(across)) * strength)
			across -= e.way.Y
			packLanes(pix, mixLanes(lanes(pix), laid, uint64(min(max(cover, 0), most))))
		}
	}
}

// endLine parts the pixels of an edge from those of the next.
type endLine struct {
	at, way plane.Point
	slant   float64
	upright bool
}

func endLineAt(at, way plane.Point) endLine {
	l := endLine{at: at, way: way}
	if l.upright = math.Abs(way.X) > 1e-6; l.upright {
		l.slant = way.Y / way.X
	}
	return l
}

// cut returns what of a row lies beyond the line, or before it.
func (l *endLine) cut(row float64, left, right int, beyond bool) (int, int) {
	dy := row - l.at.Y
	if !l.upright {
		if (dy*l.way.Y >= 0) != beyond {
			return right, right
		}
		return left, right
	}
	at := l.at.X - dy*l.slant - 0.5
	if at <= float64(left)-1 || at >= float64(right)+1 { // all of it on one side
		if (at < float64(left)) == (l.way.X > 0) == beyond {
			return left, right
		}
		return right, right
	}
	middle := int(math.Ceil(at))
	if (l.way.X > 0) == beyond {
		return max(left, middle), right
	}
	return left, min(right, middle)
}
