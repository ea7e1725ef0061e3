package inspection

import (
	"context"
	"fmt"
	"sync"
	"time"

	"fettlebook/assess/archive"
)

// saver appends changes to the archive in their order, off the window's
// thread. A change that can't be saved stays at the head of the line and is
// tried again, so that nothing is lost while a disk is full or a folder gone.
type saver struct {
	of *Inspection

	mu      sync.Mutex
	base    archive.Revision
	waiting []archive.Commit
	at      time.Time
	err     error
	kick    chan struct{}
	ended   chan struct{}
	// idle is closed and made anew whenever the line empties or an attempt fails.
	turned chan struct{}
}

// retryAfter is how long a failed attempt rests before the next.
const retryAfter = 2 * time.Second

func (s *saver) begin(of *Inspection, base archive.Revision) {
	s.of, s.base = of, base
	s.kick, s.ended, s.turned = make(chan struct{}, 1), make(chan struct{}), make(chan struct{})
	go s.run()
}

func (s *saver) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	select {
	case <-s.ended:
	default:
		close(s.ended)
	}
}

func (s *saver) queue(c archive.Commit) {
	s.mu.Lock()
	s.waiting = append(s.waiting, c)
	s.mu.Unlock()
	s.poke()
}

func (s *saver) poke() {
	select {
	case s.kick <- struct{}{}:
	default:
	}
}

func (s *saver) run() {
	retry := time.NewTimer(retryAfter)
	defer retry.Stop()
	for {
		retry.Stop()
		if s.drain() != nil {
			retry.Reset(retryAfter)
		}
		select {
		case <-s.kick:
		case <-retry.C:
		case <-s.ended:
			return
		}
	}
}

// drain saves all that waits, until one can't be saved.
func (s *saver) drain() error {
	for {
		s.mu.Lock()
		if len(s.waiting) == 0 {
			s.mu.Unlock()
			return nil
		}
		next, base := s.waiting[0], s.base
		s.mu.Unlock()
		id := s.of.ID()
		saved, err := s.of.bench.store.Append(context.Background(), id, base, next)
		s.settle(saved, err)
		s.of.tell()
		if err != nil {
			return err
		}
	}
}

func (s *saver) settle(saved archive.Revision, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.err = err
	if err == nil {
		s.base, s.at = saved, s.of.bench.now()
		s.waiting = s.waiting[1:]
	}
	if err != nil || len(s.waiting) == 0 {
		close(s.turned)
		s.turned = make(chan struct{})
	}
}

func (s *saver) status() Status {
	s.mu.Lock()
	defer s.mu.Unlock()
	return Status{Unsaved: len(s.waiting), At: s.at, Err: s.err}
}

// flush waits until the line is empty. An attempt that fails meanwhile ends the
// waiting with its error.
func (s *saver) flush(ctx context.Context) error {
	for {
		s.mu.Lock()
		waiting, turned := len(s.waiting), s.turned
		s.mu.Unlock()
		if waiting == 0 {
			return nil
		}
		s.poke()
		select {
		case <-turned:
			if st := s.status(); st.Unsaved > 0 && st.Err != nil {
				return st.Err
			}
		case <-ctx.Done():
			return fmt.Errorf("%d changes are not saved yet: %w", waiting, ctx.Err())
		}
	}
}
