package inspection

import (
	"context"
	"fmt"
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
)

// Partner is a part that another may be tried with by hand.
type Partner struct {
	record.PartOf
	// Name is the part's, Core its unit's with the serial, and Grade its headline.
	Name, Core, Grade string
	// Tag is what is written on its tray.
	Tag string
}

// PartnersHere returns the parts of this core that may stand on a side of a
// kind of trial fit with a part: first those that run with it in the unit, then
// the others in the order in which the unit is laid out.
func (n *Inspection) PartnersHere(part record.ID, pair *spec.Pair, side string) []Partner {
	r := n.Record()
	found := partners(r, n.Assessment(), pair, side)
	unit, ok := n.bench.specs.Unit(r.Unit.Type)
	_, surface, takes := pair.Side(r.Parts[part].Kind)
	if !ok || !takes {
		return found
	}
	mates := unit.MatesOf(r.Parts[part].Place, surface)
	apart := func(p Partner) int {
		place := r.Parts[p.Part].Place
		if slices.ContainsFunc(mates, func(e spec.End) bool { return e.Place == place }) {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(found, func(x, y Partner) int { return apart(x) - apart(y) })
	return found
}

// partnerCores is how many other cores are looked through for partners.
const partnerCores = 60

// PartnersElsewhere returns such parts of other cores of the same unit type: of
// those that fit the words, or of the newest where there are none. It looks
// through a few dozen cores; more than that is what words are for.
func (n *Inspection) PartnersElsewhere(ctx context.Context, pair *spec.Pair, side string, words []string) ([]Partner, error) {
	page, err := n.bench.Find(ctx, Query{Words: words, Limit: partnerCores})
	if err != nil {
		return nil, err
	}
	own := n.Record()
	var found []Partner
	for _, row := range page.Rows {
		if row.Record == own.ID {
			continue
		}
		other, err := n.bench.lookAt(ctx, row.Record)
		if err != nil {
			return nil, err
		}
		if r := other.Record(); r.Unit.Type == own.Unit.Type {
			found = append(found, partners(r, other.Assessment(), pair, side)...)
			for _, p := range found {
				n.call(p.PartOf, p.Name, p.Core)
			}
		}
	}
	return found, nil
}

// lookAt gives a record of the archive to look at, without its history.
func (b *Bench) lookAt(ctx context.Context, id record.ID) (*Inspection, error) {
	r, err := b.kept(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("record %s: %w", id, err)
	}
	n := &Inspection{bench: b, state: record.State{Record: r}}
	n.assess()
	return n, nil
}

func partners(r *record.Record, a *Assessment, pair *spec.Pair, side string) []Partner {
	var found []Partner
	for i := range a.Parts {
		p := &a.Parts[i]
		entry := r.Parts[p.ID]
		if entry.State != term.InHand || !pair.Takes(side, p.Kind) {
			continue
		}
		found = append(found, Partner{
			PartOf: record.PartOf{Record: r.ID, Part: p.ID},
			Name:   p.Name, Core: r.Unit.Says(), Grade: p.Grade, Tag: entry.Tag,
		})
	}
	return found
}
