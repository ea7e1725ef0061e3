package spec

import (
	"fmt"

	"fettlebook/assess/gauge"
)

// Limit is a wear limit out of the unit's manual. Lengths are texts with their
// unit: "18.35 mm", "0.725 in".
type Limit struct {
	Place     string `toml:"place"`
	Surface   string `toml:"surface"`
	Dimension string `toml:"dimension"`
	Variant   string `toml:"variant"`
	// Nominal is the size by design, New the worst that a new part may have, Reuse
	// where a part is no longer sound, Discard where it is condemned. Only Discard
	// must be given.
	Nominal string `toml:"nominal"`
	New     string `toml:"new"`
	Reuse   string `toml:"reuse"`
	Discard string `toml:"discard"`
	Source  string `toml:"source"`
}

// Lengths reads the limit's lengths and checks that they stand in the order in
// which the part wears.
func (l Limit) Lengths(grows bool) (gauge.Limit, error) {
	out := gauge.Limit{Grows: grows}
	for _, one := range []struct {
		name, text string
		into       *gauge.Length
	}{{"nominal", l.Nominal, &out.Nominal}, {"new", l.New, &out.New}, {"reuse", l.Reuse, &out.Reuse}, {"discard", l.Discard, &out.Discard}} {
		if one.text == "" {
			continue
		}
		var err error
		if *one.into, err = gauge.ParseLength(one.text, gauge.Millimetre); err != nil {
			return gauge.Limit{}, fmt.Errorf("%s: %w", one.name, err)
		}
		if *one.into <= 0 {
			return gauge.Limit{}, fmt.Errorf("%s: %q is no length of a part", one.name, one.text)
		}
	}
	return out, out.Check()
}
