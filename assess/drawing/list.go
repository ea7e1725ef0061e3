package drawing

// Point is a place on the drawing in millimetres of paper: X to the right, Y
// down from the upper left corner.
type Point struct{ X, Y float64 }

// List is a finished drawing: what is painted, in order, and what can be
// pointed at. It is not changed once it is made, so many may read it at once.
type List struct {
	// Width and Height are the size of the drawing in millimetres of paper.
	Width, Height float64
	// Scale is how many millimetres of paper stand for one of the part.
	Scale float64
	Items []Item
	// Areas can be pointed at; of two over each other the later one lies on top.
	Areas []Area
	// Walk names the surfaces, or places, in the order in which they stand along
	// the axis.
	Walk []string
	// Listed names those whose number stands in the list below, since there was
	// no room for a leader, or since nothing in the picture shows them.
	Listed []string
}

// Op is what an item does.
type Op uint8

// The operations of a drawing; there are no others.
const (
	// Stroke draws each path as a line of the item's width with flat ends, its
	// corners mitred. Dashes are paths of their own.
	Stroke Op = iota
	// Fill fills the paths together by the non-zero rule; each closes by itself.
	Fill
	// Text writes the item's text on a baseline that At begins, halves or ends.
	Text
)

// Anchor is which point of a text stands at its place.
type Anchor uint8

// The anchors of a text.
const (
	Start Anchor = iota
	Middle
	End
)

// Item is one thing that is painted.
type Item struct {
	Op  Op
	Ink Ink
	// Paths are those of a stroke or a fill. A closed stroke repeats its first
	// point.
	Paths [][]Point
	// Width is that of a stroke, in mm.
	Width float64
	// Of is the surface, or the place, that the item belongs to.
	Of string
	// Text, At, Size (the type size in mm), Anchor and Bold are those of a text.
	Text   string
	At     Point
	Size   float64
	Anchor Anchor
	Bold   bool
}

// Area is where a surface, or a place, can be pointed at.
type Area struct {
	Of      string
	Polygon []Point
}

func (l *List) stroke(ink Ink, width float64, of string, paths ...[]Point) {
	if len(paths) > 0 {
		l.Items = append(l.Items, Item{Op: Stroke, Ink: ink, Width: width, Of: of, Paths: paths})
	}
}

func (l *List) fill(ink Ink, of string, paths ...[]Point) {
	if len(paths) > 0 {
		l.Items = append(l.Items, Item{Op: Fill, Ink: ink, Of: of, Paths: paths})
	}
}

func (l *List) text(ink Ink, of string, at Point, size float64, anchor Anchor, bold bool, text string) {
	if text != "" {
		l.Items = append(l.Items, Item{Op: Text, Ink: ink, Of: of, At: at, Size: size, Anchor: anchor, Bold: bold, Text: text})
	}
}
