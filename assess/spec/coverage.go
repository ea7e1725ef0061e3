package spec

import (
	"slices"

	"fettlebook/assess/term"
)

// Coverage counts the cases of all kinds: each damage, severity and zone on
// each surface, whatever share of the working face it takes.
type Coverage struct {
	// Covered cases have a row that speaks of them; Reviewed of these have one
	// that somebody reviewed. CannotOccur are those of damage that the surface
	// does not list.
	Covered, Reviewed, CannotOccur int
	// Gaps are the cases that may occur and of which no row speaks.
	Gaps []Case
}

// Coverage tells how far the rows speak of what may occur. Where none does, the
// verdict is undecided: that is no mistake, but it should be known.
func (s *Set) Coverage() Coverage {
	var v Coverage
	for _, k := range s.Kinds() {
		for i := range k.Surfaces {
			f := &k.Surfaces[i]
			for _, d := range term.Damages {
				severities := d.Scale().Severities()
				if !slices.Contains(f.Damages, d) {
					v.CannotOccur += len(severities) * len(f.Zones)
					continue
				}
				for _, z := range f.Zones {
					for _, severity := range severities {
						v.count(s, Case{Kind: k.ID, Surface: f.ID, Role: f.Role, Damage: d, Severity: severity, Zone: z, Share: -1})
					}
				}
			}
		}
	}
	return v
}

func (v *Coverage) count(s *Set, c Case) {
	r := s.Decide(c)
	switch {
	case r == nil:
		v.Gaps = append(v.Gaps, c)
	case r.Reviewed != "":
		v.Covered++
		v.Reviewed++
	default:
		v.Covered++
	}
}
