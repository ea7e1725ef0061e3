package assess

import (
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// Cause is something that the findings are consistent with. Causes stand in no
// order of likelihood; whether one of them it was, a person signs.
type Cause struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Plain string `json:"plain,omitzero"`
	// For and Against are findings that speak for it and against it.
	For     []record.ID `json:"for"`
	Against []record.ID `json:"against,omitempty"`
	// Apart says what would tell it from the others.
	Apart string `json:"apart,omitzero"`
}

// causes gathers what the findings are consistent with, in the order of the
// causes' ids. Damage that was looked for and not found speaks for nothing.
func (a *assessor) causes(out *Assessment) {
	for _, known := range a.specs.Causes() {
		c := Cause{ID: known.ID, Name: known.Name, Plain: known.Plain, Apart: known.Apart}
		for i := range a.seen {
			f := &a.seen[i]
			if f.severity == term.NotFound {
				continue
			}
			if d, ok := a.specs.Damage(f.damage); ok && slices.Contains(d.Consistent, known.ID) {
				c.For = append(c.For, f.id)
			}
			if slices.Contains(known.Against, f.damage) {
				c.Against = append(c.Against, f.id)
			}
		}
		if len(c.For) > 0 {
			out.Causes = append(out.Causes, c)
		}
	}
}
