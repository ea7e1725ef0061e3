package plane

// Untangled returns the largest loop of an outline that crosses itself: a line
// drawn by hand often runs over its own beginning, or makes a small loop at a
// corner. One that does not cross itself is returned as it is, without corners
// that repeat the one before. It returns [ErrFewCorners] or [ErrNotFinite] as
// [Polygon.Check] does, and [ErrCrosses] for a line that is so entangled that no
// loop of it is clear.
func (g Polygon) Untangled() (Polygon, error) {
	for _, p := range g {
		if !p.finite() {
			return nil, ErrNotFinite
		}
	}
	if len(g) < 3 {
		return nil, ErrFewCorners
	}
	// Every cut takes away a crossing; a line has at most so many of them.
	cuts := len(g) * len(g)
	best := Polygon{}
	loops := []Polygon{g.withoutRepeats()}
	for len(loops) > 0 {
		loop := loops[len(loops)-1]
		loops = loops[:len(loops)-1]
		one, other, crosses := loop.cut()
		switch {
		case !crosses && loop.Area() > best.Area():
			best = loop
		case crosses && cuts > 0:
			cuts--
			loops = append(loops, one, other)
		}
	}
	switch {
	case best.Area() > 0:
		return best, nil
	case cuts <= 0:
		return nil, ErrCrosses
	}
	return nil, ErrFewCorners
}

// cut divides a polygon that crosses itself into two where it first does.
func (g Polygon) cut() (one, other Polygon, crosses bool) {
	n := len(g)
	for i := range n {
		a, b := g[i], g[(i+1)%n]
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue // neighbours through the first corner
			}
			c, d := g[j], g[(j+1)%n]
			if !touch(a, b, c, d) {
				continue
			}
			at := meeting(a, b, c, d)
			one = append(append(Polygon{}, at), g[i+1:j+1]...)
			other = append(append(append(Polygon{}, g[:i+1]...), at), g[j+1:]...)
			return one.withoutRepeats(), other.withoutRepeats(), true
		}
	}
	return nil, nil, false
}

// meeting is the place that the edges ab and cd have in common: where they cross,
// or the end of one that lies on the other.
func meeting(a, b, c, d Point) Point {
	ab, cd := b.Minus(a), d.Minus(c)
	if across := cross(ab, cd); across != 0 {
		return a.Plus(ab.Times(cross(c.Minus(a), cd) / across))
	}
	for _, end := range []Point{c, d} {
		if boxed(a, b, end) {
			return end
		}
	}
	return a
}
