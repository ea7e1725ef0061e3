package archive

import (
	"context"
	"sync"
	"time"

	"fettlebook/assess/record"
)

// pollEvery is how often a reader looks for what another program has kept.
const pollEvery = time.Second

// Watch tells the ids of records that change, until ctx or the archive ends:
// then the channel is closed. The writer is told by its own commits; a reader
// asks the database about once a second.
func (f *folder) Watch(ctx context.Context) (<-chan record.ID, error) {
	if err := f.readable(ctx); err != nil {
		return nil, f.explain("watch the archive", err)
	}
	w := &watcher{news: make(chan struct{}, 1)}
	ids := make(chan record.ID)
	if f.mode == Write {
		f.watchers.add(w)
		go func() {
			defer f.watchers.remove(w)
			w.pass(ctx, f.ended, ids)
		}()
		return ids, nil
	}
	last, err := f.lastSeq(ctx)
	if err != nil {
		return nil, f.explain("watch the archive", err)
	}
	ctx, stop := context.WithCancel(ctx)
	go func() {
		defer stop()
		w.pass(ctx, f.ended, ids)
	}()
	go f.poll(ctx, w, last)
	return ids, nil
}

func (f *folder) lastSeq(ctx context.Context) (last int64, err error) {
	err = f.read.QueryRowContext(ctx, `SELECT coalesce(max(seq), 0) FROM entry`).Scan(&last)
	return last, err
}

// poll asks for entries behind the last one seen: a look at the end of one
// table, which costs as little as asking whether anything changed at all, and
// needs no connection of its own. A look that fails is tried again.
func (f *folder) poll(ctx context.Context, w *watcher, last int64) {
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now, err := f.lastSeq(ctx)
		if err != nil || now == last {
			continue
		}
		ids, err := column[record.ID](ctx, f.read, `SELECT DISTINCT record FROM entry WHERE seq > ? AND seq <= ?`, last, now)
		if err != nil {
			continue
		}
		last = now
		for _, id := range ids {
			w.tell(id)
		}
	}
}

// watchers are those to be told of changes.
type watchers struct {
	mu  sync.Mutex
	all map[*watcher]bool
}

func (s *watchers) add(w *watcher) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.all == nil {
		s.all = map[*watcher]bool{}
	}
	s.all[w] = true
}

func (s *watchers) remove(w *watcher) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.all, w)
}

func (s *watchers) tell(id record.ID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for w := range s.all {
		w.tell(id)
	}
}

// watcher holds what its reader has not been told yet: each id once, so that a
// slow reader never holds up a change and never fills the memory.
type watcher struct {
	mu      sync.Mutex
	waiting []record.ID
	news    chan struct{}
}

func (w *watcher) tell(id record.ID) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, there := range w.waiting {
		if there == id {
			return
		}
	}
	w.waiting = append(w.waiting, id)
	select {
	case w.news <- struct{}{}:
	default:
	}
}

func (w *watcher) next() (record.ID, bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.waiting) == 0 {
		return "", false
	}
	id := w.waiting[0]
	w.waiting = w.waiting[1:]
	return id, true
}

// pass hands the ids on until ctx or the archive ends.
func (w *watcher) pass(ctx context.Context, ended <-chan struct{}, ids chan<- record.ID) {
	defer close(ids)
	for {
		id, ok := w.next()
		if !ok {
			select {
			case <-w.news:
				continue
			case <-ctx.Done():
				return
			case <-ended:
				return
			}
		}
		select {
		case ids <- id:
		case <-ctx.Done():
			return
		case <-ended:
			return
		}
	}
}
