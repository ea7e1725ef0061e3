package pdf

// Paths draws many lines in one paint, as one shape: where they are filled, they
// are so together, by the non-zero rule. A line that repeats its first point is
// closed, and so is every line that is filled.
func (p *Page) Paths(paths [][]Point, paint Paint) {
	drawn := false
	for _, path := range paths {
		if !p.readyPoints("shape", path) {
			return
		}
		drawn = drawn || len(path) > 1
	}
	if !drawn {
		return
	}
	p.painted(paint, func(op string) {
		f := p.d.f
		for _, path := range paths {
			n := len(path)
			if n < 2 {
				continue
			}
			ring := n > 2 && path[0] == path[n-1]
			if ring {
				path = path[:n-1]
			}
			f.MoveTo(path[0].X, path[0].Y)
			for _, q := range path[1:] {
				f.LineTo(q.X, q.Y)
			}
			if ring || paint.Fill.on {
				f.ClosePath()
			}
		}
		switch op {
		case "f*":
			op = "f"
		case "B*":
			op = "B"
		}
		f.RawWriteStr(op)
	})
}
