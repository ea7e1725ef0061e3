package spec

import "fettlebook/assess/term"

// Speaking returns all rows that speak of a case, the one that decides it first
// and the others in the order in which they gave way to it; nil for none.
func (s *Set) Speaking(c Case) []*Rule {
	severity, zone, role := bit(term.Severities, c.Severity), bit(term.Zones, c.Zone), bit(term.Roles, c.Role)
	var found []*Rule
	rows := s.byDamage[c.Damage]
	for i := range rows {
		r := &rows[i]
		if r.severities&severity == 0 || r.zones&zone == 0 || r.roles&role == 0 {
			continue
		}
		if covers(r.Kind, c.Kind) && covers(r.Surface, c.Surface) && covers(r.Unit, c.Unit) && r.withinShare(c.Share) {
			found = append(found, r.Rule)
		}
	}
	return found
}

// GivesWay says why a row gave way to the one that decided: what makes the other
// the narrower of the two, as the end of "it gave way, since …".
func (r *Rule) GivesWay(to *Rule) string {
	switch {
	case len(to.Unit) > 0 && len(r.Unit) == 0:
		return "the other is for this unit type"
	case len(to.Surface) > 0 && len(r.Surface) == 0:
		return "the other is for this very surface"
	case len(to.Kind) > 0 && len(r.Kind) == 0:
		return "the other is for this kind of part"
	case to.bound() < r.bound():
		return "the other is for so small a share of the working face"
	}
	return "the other covers fewer cases"
}

// AllMates returns what runs on each surface of the unit, by place and surface.
func (u *Unit) AllMates() map[End][]End {
	mates := make(map[End][]End, 2*len(u.Mates))
	for _, m := range u.Mates {
		a, b := split(m.A), split(m.B)
		mates[a] = append(mates[a], b)
		if a != b {
			mates[b] = append(mates[b], a)
		}
	}
	return mates
}
