package inspection

import (
	"context"
	"maps"
	"slices"
	"strings"

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

// learnNames remembers what the parts of other cores are called that this
// record's trial fits name, and those of others that touch its parts. One that
// can't be read stays a part of another core.
func (n *Inspection) learnNames(ctx context.Context) {
	for _, end := range n.nameless() {
		other, err := n.bench.lookAt(ctx, end.Record)
		if err != nil {
			continue
		}
		if p, ok := other.Assessment().Part(end.Part); ok {
			n.call(end, p.Name, other.Record().Unit.Says())
		}
	}
}

// nameless are the ends of trial fits in other cores of which no name is known yet.
func (n *Inspection) nameless() []record.PartOf {
	n.mu.Lock()
	defer n.mu.Unlock()
	ends := map[record.PartOf]bool{}
	for _, f := range slices.Concat(slices.Collect(maps.Values(n.state.Record.TrialFits)), n.elsewhere) {
		for _, end := range []record.PartOf{f.A, f.B} {
			if n.names[end] == "" && end.Record != n.state.Record.ID && end.Record != "" {
				ends[end] = true
			}
		}
	}
	return slices.Collect(maps.Keys(ends))
}

// call remembers what a part of another core is called.
func (n *Inspection) call(end record.PartOf, name, core string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.names == nil {
		n.names = map[record.PartOf]string{}
	}
	n.names[end] = strings.ToLower(name) + " of " + core
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
