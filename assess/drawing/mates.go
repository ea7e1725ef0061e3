package drawing

import "fettlebook/assess/spec"

// Mate is a part that runs on one being drawn: Surface is the one of the part
// that is drawn, Its the mate's own.
type Mate struct {
	Surface, Its string
	Profile      *spec.Profile
	// Meshes says that the two turn on axes of their own, tooth in tooth.
	Meshes bool
}

// mates draws the outlines of the mates faintly at their places, inside a box of
// the paper.
func (d *draft) mates(p *spec.Profile, mates []Mate, in box) {
	for _, m := range mates {
		if m.Profile == nil || !p.Turned() || !m.Profile.Turned() {
			continue
		}
		own, ok := featureOf(p, m.Surface)
		its, there := featureOf(m.Profile, m.Its)
		if !ok || !there {
			continue
		}
		dx := (own.X0+own.X1)/2 - (its.X0+its.X1)/2
		dy := 0.0
		if m.Meshes {
			dy = -(pitchRadius(own) + pitchRadius(its))
		}
		var lines [][]Point
		for _, line := range silhouette(m.Profile) {
			for i := range line {
				line[i] = d.at(line[i].X+dx, line[i].Y+dy)
			}
			lines = append(lines, clip(line, in)...)
		}
		d.list.stroke(Faint, d.thin, m.Surface, lines...)
	}
}

func pitchRadius(f spec.Placed) float64 { return (f.R0 + f.Root0) / 2 }

// featureOf returns the longest feature that shows a surface.
func featureOf(p *spec.Profile, surface string) (spec.Placed, bool) {
	var found spec.Placed
	ok := false
	for _, f := range append(p.Outside(), p.Inside()...) {
		if f.Surface == surface && surface != "" && (!ok || f.Length > found.Length) {
			found, ok = f, true
		}
	}
	return found, ok
}

// silhouette is the outline of a turned part, and that of its bores.
func silhouette(p *spec.Profile) [][]Point {
	var lines [][]Point
	for _, features := range [][]spec.Placed{p.Outside(), p.Inside()} {
		var up, down []Point
		for _, f := range features {
			if f.Shape == spec.Shoulder {
				continue
			}
			up = append(up, Point{f.X0, -f.R0}, Point{f.X1, -f.R1})
			down = append(down, Point{f.X0, f.R0}, Point{f.X1, f.R1})
		}
		if len(up) == 0 {
			continue
		}
		if features[0].Bore == "" {
			lines = append(lines, append(append(up, reversed(down)...), up[0]))
		} else {
			lines = append(lines, up, down)
		}
	}
	return lines
}
