package drawing

import (
	"cmp"
	"math"
	"slices"
)

// reach is how far off a thin surface a pointer may be, in mm of paper.
const reach = 1.2

// At returns the surface, or the place, at a point of the paper: the one that
// lies on top, else the nearest within 1.2 mm.
func (l *List) At(p Point) (string, bool) {
	for _, a := range slices.Backward(l.Areas) {
		if inside(a.Polygon, p) {
			return a.Of, true
		}
	}
	of, least := "", reach
	for _, a := range slices.Backward(l.Areas) {
		if d := distance(a.Polygon, p); d < least {
			of, least = a.Of, d
		}
	}
	return of, of != ""
}

// Step returns the surface, or the place, that stands by so many steps further
// along the axis, or before it where by is below 0; it stops at the ends. From
// one that is not there it begins at the end it comes from.
func (l *List) Step(from string, by int) (string, bool) {
	if len(l.Walk) == 0 {
		return "", false
	}
	i := slices.Index(l.Walk, from)
	switch {
	case i >= 0:
		i += by
	case by < 0:
		i = len(l.Walk) + by
	default:
		i = by - 1
	}
	return l.Walk[max(0, min(i, len(l.Walk)-1))], true
}

// Highlight is the drawing of what is pointed at alone, to be laid over the
// drawing itself: the outline of the areas of one surface or place.
func (l *List) Highlight(of string) *List {
	over := &List{Width: l.Width, Height: l.Height, Scale: l.Scale}
	for _, a := range l.Areas {
		if a.Of == of && len(a.Polygon) > 2 {
			over.stroke(Accent, 0.5, of, closed(a.Polygon))
		}
	}
	return over
}

// walk puts the surfaces into the order in which they stand along the axis.
func walk(marks []mark) []string {
	best := best(marks)
	slices.SortStableFunc(best, func(a, b mark) int {
		return cmp.Or(cmp.Compare(math.Round((a.x0+a.x1)*5), math.Round((b.x0+b.x1)*5)), cmp.Compare(a.y, b.y))
	})
	names := make([]string, len(best))
	for i, m := range best {
		names[i] = m.surface
	}
	return names
}

// best keeps of each surface the mark that shows the most of it, the first of
// those that show as much.
func best(marks []mark) []mark {
	var kept []mark
	for _, m := range marks {
		i := slices.IndexFunc(kept, func(k mark) bool { return k.surface == m.surface })
		switch {
		case i < 0:
			kept = append(kept, m)
		case m.size > kept[i].size*1.001:
			kept[i] = m
		}
	}
	return kept
}
