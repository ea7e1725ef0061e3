package plane

// Overlap is the area that two outlines have in common, as [Scale.ShareOf] finds it.
func Overlap(a, b Polygon) (area float64, err error) {
	asTheyAre := func(g, to Polygon) error { copy(to, g); return nil }
	err = shareOnce([]Polygon{a, b}, asTheyAre, func(v [3]float64) { area = v[0] })
	return area, err
}
