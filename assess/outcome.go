package assess

import (
	"cmp"
	"fmt"
	"slices"

	"fettlebook/assess/record"
	"fettlebook/assess/term"
)

// outcome says what becomes of the core, by the shares that the unit's spec
// gives to its places.
func (a *assessor) outcome(out *Assessment) {
	out.Outcome = NotDecided
	if a.unit == nil {
		out.Why = []string{fmt.Sprintf("No spec knows the unit type %q, so the core as a whole can't be judged.", a.record.Unit.Type)}
		return
	}
	t := a.tally(out)
	percent := func(share int) int { return (share*100 + t.total/2) / max(t.total, 1) }
	condemned, serves, open := percent(t.condemned), percent(t.serves), percent(t.open)
	limit, donor := a.unit.RebuildUpTo, a.unit.DonorFrom
	switch {
	case t.heartGone != "" || condemned > limit:
		why := fmt.Sprintf("%d %% of the unit's worth is condemned or missing; up to %d %% would be worth rebuilding.", condemned, limit)
		if t.heartGone != "" {
			why = fmt.Sprintf("Without its %s the unit can't be rebuilt.", t.heartGone)
		}
		out.Why = append(out.Why, why)
		switch {
		case serves >= donor:
			out.Outcome = Donor
			out.Why = append(out.Why, fmt.Sprintf("%d %% of its worth can still serve in another unit.", serves))
		case serves+open >= donor:
			out.Why = append(out.Why, "Whether it is a donor depends on parts that are still to be inspected.")
		default:
			out.Outcome = Scrap
			out.Why = append(out.Why, fmt.Sprintf("Only %d %% of its worth can still serve; from %d %% it would be a donor.", serves+open, donor))
		}
	case t.heartOpen != "":
		out.Why = append(out.Why, fmt.Sprintf("Its %s is still to be inspected, and decides.", t.heartOpen))
	case condemned+open > limit:
		out.Why = append(out.Why, fmt.Sprintf("%d %% of its worth is still to be inspected.", open))
	default:
		out.Outcome = WorthRebuilding
		out.Why = append(out.Why, fmt.Sprintf("%d %% of the unit's worth is condemned or missing; up to %d %% is worth rebuilding.", condemned, limit))
	}
}

type tally struct {
	total, condemned, serves, open int
	heartGone, heartOpen           string
}

func (a *assessor) tally(out *Assessment) tally {
	var t tally
	for i := range a.unit.Places {
		place := &a.unit.Places[i]
		kind, ok := a.specs.Kind(place.Kind)
		if ok && kind.Consumable {
			continue
		}
		t.total += place.Share
		verdict := term.Undecided
		if here := a.at[place.ID]; len(here) > 0 {
			verdict = here[0].Verdict
			for _, w := range here[1:] {
				verdict = term.Worst(verdict, w.Verdict)
			}
		} else {
			out.Unrecorded = append(out.Unrecorded, place.Name)
		}
		switch verdict {
		case term.Condemned:
			t.condemned += place.Share
			if place.Heart && t.heartGone == "" {
				t.heartGone = lowerFirst(place.Name)
			}
		case term.Undecided:
			t.open += place.Share
			if place.Heart && t.heartOpen == "" {
				t.heartOpen = lowerFirst(place.Name)
			}
		default:
			t.serves += place.Share
		}
	}
	return t
}

// order puts the parts that are still to be inspected into the order in which
// looking at them saves most work.
func (a *assessor) order(out *Assessment) {
	type open struct {
		id    record.ID
		heart bool
		share int
		steps int
	}
	var list []open
	for i := range a.works {
		w := &a.works[i]
		if len(w.Inspect) == 0 {
			continue
		}
		o := open{id: w.ID, steps: len(w.Inspect)}
		if w.place != nil {
			o.heart, o.share = w.place.Heart, w.place.Share
		}
		list = append(list, o)
	}
	slices.SortStableFunc(list, func(x, y open) int {
		return cmp.Or(cmp.Compare(b2i(y.heart), b2i(x.heart)), cmp.Compare(y.share, x.share), cmp.Compare(x.steps, y.steps))
	})
	for _, o := range list {
		out.Next = append(out.Next, o.id)
	}
}
