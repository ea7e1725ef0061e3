package inspection

import (
	"context"
	"fmt"
	"io"

	"fettlebook/assess"
	"fettlebook/assess/gauge"
	"fettlebook/assess/record"
	"fettlebook/assess/spec"
	"fettlebook/assess/term"
	"fettlebook/report"
)

// Cards writes the bench cards of the record's parts: paper to be filled in with
// greasy hands and typed in later. They ask what the specs ask.
func (n *Inspection) Cards(ctx context.Context, o ReportOrder) *Job {
	return start(ctx, func(ctx context.Context, j *Job) error {
		paper, err := paperOf(o.Paper)
		if err != nil {
			return err
		}
		fonts, err := loadFonts()
		if err != nil {
			return err
		}
		order := report.CardOrder{
			Paper: paper, Fonts: fonts, Creator: "Fettlebook " + Version, Created: n.bench.now(),
			Unit: n.Record().Unit.Says(), Hold: n.Record().Hold, Cards: n.cards(),
		}
		if len(order.Cards) == 0 {
			return fmt.Errorf("there is no part in this record that is looked at; lay it out from its unit's spec first")
		}
		return writeWhole(o.Path, func(w io.Writer) error { return report.WriteCards(ctx, w, order) })
	})
}

// cardDamages is how many kinds of damage of a surface stand on its card; the
// rarer ones are written by hand.
const cardDamages = 6

func (n *Inspection) cards() []report.Card {
	r, a := n.Record(), n.Assessment()
	unit, _ := n.bench.specs.Unit(r.Unit.Type)
	var cards []report.Card
	for i := range a.Parts {
		p := &a.Parts[i]
		kind, ok := n.bench.specs.Kind(p.Kind)
		if !ok || p.Consumable {
			continue
		}
		entry := r.Parts[p.ID]
		card := report.Card{Name: p.Name, Place: p.Place, Tag: entry.Tag}
		if unit != nil {
			if place, _, ok := unit.Place(p.Place); ok {
				card.Loose = place.Count > 0
			}
		}
		for k := range kind.Surfaces {
			card.Surfaces = append(card.Surfaces, n.cardSurface(&kind.Surfaces[k], k+1, unit, p.ID))
		}
		cards = append(cards, card)
	}
	return cards
}

func (n *Inspection) cardSurface(f *spec.Surface, number int, unit *spec.Unit, part record.ID) report.CardSurface {
	s := report.CardSurface{Number: number, Name: f.Name, Felt: f.Feel != "" || f.Hidden != ""}
	for _, d := range f.Damages[:min(len(f.Damages), cardDamages)] {
		steps := 3
		if d.Scale() == term.ByPresence {
			steps = 2
		}
		s.Damages = append(s.Damages, report.CardDamage{Name: term.Plain(d), Steps: steps})
	}
	for _, d := range f.Dimensions {
		s.Dimensions = append(s.Dimensions, report.CardDimension{Name: d.Name, Limit: limitOf(unit, n.Record(), part, f.ID, d.ID)})
	}
	return s
}

// limitOf returns the wear limit of a dimension with its unit: the newest that was
// typed in, else that of the unit's spec. It is the one that readings are held to.
func limitOf(unit *spec.Unit, r *record.Record, id record.ID, surface, dimension string) string {
	if typed, ok := assess.TypedLimit(r, id, surface, dimension); ok {
		return gauge.WithUnit(r.Limits[typed].Discard, gauge.Millimetre)
	}
	if unit == nil {
		return ""
	}
	part := r.Parts[id]
	variant := firstOf(part.Variant, r.Unit.Variant)
	for _, l := range unit.Limits {
		if l.Place == part.Place && l.Surface == surface && l.Dimension == dimension && (l.Variant == "" || l.Variant == variant) {
			return gauge.WithUnit(l.Discard, gauge.Millimetre)
		}
	}
	return ""
}
