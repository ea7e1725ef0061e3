package inspection

import (
	"testing"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
)

// The limit on a bench card is the one by which the reading will be judged.
func TestTheLimitOnACard(t *testing.T) {
	unit := &spec.Unit{Limits: []spec.Limit{{Place: "input", Surface: "pilot", Dimension: "diameter", Discard: "18.415"}}}
	r := &record.Record{Parts: map[record.ID]record.Part{"p": {Place: "input"}}}
	if got := limitOf(unit, r, "p", "pilot", "diameter"); got != "18.415 mm" {
		t.Errorf("of the spec it is %q", got)
	}
	r.Limits = map[record.ID]record.Limit{
		"a": {Part: "p", Surface: "pilot", Dimension: "diameter", Discard: "0.724 in"},
		"b": {Part: "p", Surface: "pilot", Dimension: "diameter", Discard: "0.7", Withdrawn: "by mistake"},
	}
	for _, u := range []*spec.Unit{unit, nil} {
		if got := limitOf(u, r, "p", "pilot", "diameter"); got != "0.724 in" {
			t.Errorf("typed in it is %q", got)
		}
	}
}
