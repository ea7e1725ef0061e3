package inspection

import (
	"context"
	"maps"
	"slices"

	"fettlebook/assess/record"
)

// fitsElsewhere finds the trial fits of other records that touch a record's
// parts: of those that are being worked on as they stand, of the rest as they
// are kept. What can't be read is left out: it can be assessed again.
func (b *Bench) fitsElsewhere(ctx context.Context, id record.ID) []record.TrialFit {
	var fits []record.TrialFit
	add := func(r *record.Record) {
		for _, f := range record.InOrder(r.TrialFits) {
			if f.A.Record == id || f.B.Record == id {
				fits = append(fits, f)
			}
		}
	}
	atWork := map[record.ID]bool{id: true}
	for _, n := range b.atWork() {
		if r := n.Record(); !atWork[r.ID] {
			atWork[r.ID] = true
			add(r)
		}
	}
	q := Query{Words: []string{reference(id)}}
	for {
		page, err := b.store.Find(ctx, q)
		if err != nil {
			return fits
		}
		for _, row := range page.Rows {
			if atWork[row.Record] {
				continue
			}
			if r, err := b.kept(ctx, row.Record); err == nil {
				add(r)
			}
		}
		if page.Next == "" {
			return fits
		}
		q.After = page.Next
	}
}

// kept reads a record as the archive holds it.
func (b *Bench) kept(ctx context.Context, id record.ID) (*record.Record, error) {
	stored, err := b.store.Load(ctx, id, 0)
	if err != nil {
		return nil, err
	}
	return record.Read(stored.Record)
}

// atWork are the records that are being worked on, in the order of their ids.
func (b *Bench) atWork() []*Inspection {
	b.mu.Lock()
	defer b.mu.Unlock()
	all := make([]*Inspection, 0, len(b.open))
	for _, id := range slices.Sorted(maps.Keys(b.open)) {
		all = append(all, b.open[id])
	}
	return all
}
