package spec

import "slices"

// Outcome returns one of the pair's outcomes.
func (p *Pair) Outcome(id string) (*Outcome, bool) {
	i := slices.IndexFunc(p.Outcomes, func(o Outcome) bool { return o.ID == id })
	if i < 0 {
		return nil, false
	}
	return &p.Outcomes[i], true
}

// Side returns the side, "a" or "b", on which a part kind takes part in the
// trial fit, and by which surface; ok is false where it takes none.
func (p *Pair) Side(kind string) (side, surface string, ok bool) {
	for _, side := range []string{"a", "b"} {
		for _, end := range p.Ends(side) {
			if end.Place == kind {
				return side, end.Surface, true
			}
		}
	}
	return "", "", false
}

// Ends returns the kinds and surfaces of one side, "a" or "b". The Place of an
// end is a kind here.
func (p *Pair) Ends(side string) []End {
	names := p.A
	if side == "b" {
		names = p.B
	}
	ends := make([]End, len(names))
	for i, name := range names {
		ends[i] = split(name)
	}
	return ends
}

// Takes reports whether a part kind may stand on a side.
func (p *Pair) Takes(side, kind string) bool {
	return slices.ContainsFunc(p.Ends(side), func(e End) bool { return e.Place == kind })
}
