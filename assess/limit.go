package assess

import (
	"fmt"
	"strings"

	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
)

// TypedLimit finds the limit that holds of those that were typed in for a dimension
// of a part: the newest that was not withdrawn.
func TypedLimit(r *record.Record, part record.ID, surface, dimension string) (newest record.ID, ok bool) {
	for id, l := range r.Limits {
		if l.Part == part && l.Surface == surface && l.Dimension == dimension && l.Withdrawn == "" && id > newest {
			newest, ok = id, true
		}
	}
	return newest, ok
}

// LimitSource says where a typed-in limit comes from, and by whose hand.
func LimitSource(r *record.Record, l record.Limit) string {
	says := []string{l.Manual}
	if l.Edition != "" {
		says = append(says, l.Edition)
	}
	if l.Page != "" {
		says = append(says, "p. "+l.Page)
	}
	if page, ok := r.Photos[l.Photo]; ok {
		says = append(says, fmt.Sprintf("photo %d", page.Number))
	}
	hand := "typed in by " + l.By
	if l.Checked != "" {
		hand += ", checked by " + l.Checked
	}
	return strings.Join(says, ", ") + " (" + hand + ")"
}

// LimitSays tells the lengths of a typed-in limit, each with its unit.
func LimitSays(l record.Limit) string {
	says := []string{gauge.WithUnit(l.Discard, gauge.Millimetre)}
	for _, one := range [...][2]string{{"nominal", l.Nominal}, {"new", l.New}, {"reuse", l.Reuse}} {
		if one[1] != "" {
			says = append(says, one[0]+" "+gauge.WithUnit(one[1], gauge.Millimetre))
		}
	}
	return strings.Join(says, ", ")
}
