package plane

// Simplify returns the polygon with as few of its corners as keep every one that
// is left out within tolerance of the new line (Douglas and Peucker's way). Three
// corners are kept where there were three. The polygon itself is not changed.
//
// It may make a polygon cross itself where two stretches of its line are nearer to
// one another than the tolerance.
func (g Polygon) Simplify(tolerance float64) Polygon {
	if len(g) <= 3 {
		return append(Polygon(nil), g...)
	}
	// Two corners that surely stay: the first, and the one farthest from it.
	far := 0
	for i, p := range g {
		if p.Distance(g[0]) > g[far].Distance(g[0]) {
			far = i
		}
	}
	keep := make([]bool, len(g))
	keep[0], keep[far] = true, true
	g.keepBetween(0, far, tolerance, keep)
	g.keepBetween(far, len(g), tolerance, keep)
	var kept Polygon
	for i, p := range g {
		if keep[i] {
			kept = append(kept, p)
		}
	}
	if len(kept) < 3 {
		kept = g.threeOf(0, far)
	}
	return kept
}

// keepBetween marks what must stay between the corners from and to, which stay.
func (g Polygon) keepBetween(from, to int, tolerance float64, keep []bool) {
	farthest, distance := -1, tolerance
	for i := from + 1; i < to; i++ {
		at := nearestBetween(g[from], g[to%len(g)], g[i])
		if d := at.Distance(g[i]); d > distance {
			farthest, distance = i, d
		}
	}
	if farthest < 0 {
		return
	}
	keep[farthest] = true
	g.keepBetween(from, farthest, tolerance, keep)
	g.keepBetween(farthest, to, tolerance, keep)
}

// threeOf adds to two corners the one that is farthest from their line.
func (g Polygon) threeOf(i, j int) Polygon {
	third, distance := -1, -1.0
	for k, p := range g {
		if k == i || k == j {
			continue
		}
		if d := nearestBetween(g[i], g[j], p).Distance(p); d > distance {
			third, distance = k, d
		}
	}
	if third < 0 {
		return append(Polygon(nil), g...)
	}
	three := Polygon{g[i], g[j], g[third]}
	if third < max(i, j) && third > min(i, j) {
		three = Polygon{g[i], g[third], g[j]}
	}
	return three
}
