package ui

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fettlebook/assess/plane"
	"fettlebook/assess/record"
)

// edgesTool takes a card by its four edges: a drag along each, or a click near each
// of its ends. The corners, which may be rounded, are where the edges meet.
type edgesTool struct {
	v *PhotoView
	// places are two of each edge, one after the other round the card.
	places  []plane.Point
	pointer plane.Point
	// began is whether the press that is held has set the first place of an edge.
	began bool
}

// allEdges is how many places four edges have; leastSide how long an edge must be,
// in units of the window, to have been meant.
const (
	allEdges  = 8
	leastSide = 12
)

// half tells whether an edge has its first place only.
func (t *edgesTool) half() bool { return len(t.places)%2 == 1 }

func (t *edgesTool) press(at photoPlace) bool {
	t.pointer, t.began = at.photo, false
	if !t.half() && len(t.places) < allEdges {
		t.places, t.began = append(t.places, at.photo), true
	}
	return true
}

func (t *edgesTool) drag(_, at photoPlace) { t.pointer = at.photo }

// release ends an edge: that of a drag, or of a second click. A first click waits for
// the second.
func (t *edgesTool) release(at photoPlace, moved bool) {
	t.pointer = at.photo
	if t.half() && (moved || !t.began) {
		t.end(at.photo)
	}
	t.began = false
}

// end sets the second place of an edge, if it is far enough from the first.
func (t *edgesTool) end(at plane.Point) {
	if at.Distance(t.places[len(t.places)-1])*t.v.view.Scale() < leastSide {
		return
	}
	t.places = append(t.places, at)
	if len(t.places) < allEdges {
		return
	}
	if _, err := plane.CornersOf(edgesOf(t.places)); err != nil {
		t.v.tell("These four edges do not meet round a card. Backspace takes the last one back, Esc drops all.")
		return
	}
	t.v.finish(record.Edges, t.places)
}

func edgesOf(places []plane.Point) [4][]plane.Point {
	return [4][]plane.Point{places[0:2], places[2:4], places[4:6], places[6:8]}
}

func (t *edgesTool) hover(at plane.Point) { t.pointer = at }

func (t *edgesTool) double(photoPlace) {}

// set is a click of the keys.
func (t *edgesTool) set(at plane.Point) {
	t.pointer = at
	switch {
	case t.half():
		t.end(at)
	case len(t.places) < allEdges:
		t.places = append(t.places, at)
	}
}

func (t *edgesTool) key(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyReturn, fyne.KeyEnter:
		t.v.showCross()
		t.set(t.v.keys.at)
		return true
	case fyne.KeyBackspace:
		// A whole edge at once: half of one can't be set again by a drag.
		t.places = t.places[:max(0, (len(t.places)-1)/2*2)]
		return true
	}
	return false
}

func (t *edgesTool) begun() bool { return len(t.places) > 0 }

func (t *edgesTool) cancel() { t.places, t.began = t.places[:0], false }

func (t *edgesTool) hint() string {
	edge := len(t.places) / 2
	switch {
	case t.half():
		return "Let go, or click, near the other end of this edge · keep off rounded corners"
	case edge == 0:
		return "Drag along one edge of a card or square, its width · then along the others in turn · Esc leads out"
	case edge == 4:
		return "Backspace takes the last edge back · Esc drops all"
	}
	return fmt.Sprintf("Drag along the next edge round the card: %d of 4 · Backspace takes one back", edge+1)
}

func (t *edgesTool) draw(f *photoFrame) {
	for i := 0; i+1 < len(t.places); i += 2 {
		f.begunShape(t.places[i:i+2], false)
	}
	if t.half() {
		last := len(t.places) - 1
		f.begunLine(t.places[last:], t.pointer)
		f.corner(t.places[last], false, false)
	}
	for i := 2; i+1 < len(t.places); i += 2 {
		before, err := plane.FitEdge(t.places[i-2 : i])
		edge, other := plane.FitEdge(t.places[i : i+2])
		if err != nil || other != nil {
			continue
		}
		if corner, err := before.Meet(edge); err == nil {
			f.corner(corner, false, false)
		}
	}
}
