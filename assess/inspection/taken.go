package inspection

import (
	"slices"
	"time"

	"fettlebook/assess/record"
)

// ByTaken puts photos of the record in the order in which they were taken, across the
// zones of their cameras. A camera that recorded none is taken to have shown the
// shop's time. Photos without a time come last; those of one moment, and those
// without one, stay in the order in which they are given.
func (n *Inspection) ByTaken(ids []record.ID) []record.ID {
	r := n.Record()
	return byTaken(ids, n.bench.zone(), func(id record.ID) record.Taken { return r.Photos[id].Taken })
}

// zone is that of the clock on the shop's wall.
func (b *Bench) zone() *time.Location { return b.now().Location() }

func byTaken[T any](photos []T, shop *time.Location, taken func(T) record.Taken) []T {
	type moment struct {
		of    T
		at    time.Time
		known bool
	}
	moments := make([]moment, len(photos))
	for i, p := range photos {
		at, known := taken(p).Instant(shop)
		moments[i] = moment{p, at, known}
	}
	slices.SortStableFunc(moments, func(a, b moment) int {
		switch {
		case a.known && b.known:
			return a.at.Compare(b.at)
		case a.known:
			return -1
		case b.known:
			return 1
		}
		return 0
	})
	sorted := make([]T, len(photos))
	for i, m := range moments {
		sorted[i] = m.of
	}
	return sorted
}
